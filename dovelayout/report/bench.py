"""A job's bench sheet, filled from its verdict: cut list, numbers, findings, season and glue-up in short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from dovelayout.casework.drawer.cut_list import all_add_up, assumed_cases, cut_list
from dovelayout.checks.finding import MARKS, Finding, Level, worst_level
from dovelayout.drawing.bench.advice import how_to_use
from dovelayout.drawing.bench.content import all_settings, corners_alike, dividers_alike
from dovelayout.drawing.bench.drawer_lines import drawers_alike
from dovelayout.drawing.bench.sheet import BenchSheet, Cell, Figures, Number, Row, Section, figure, said_once
from dovelayout.drawing.picture.picture_book import Alike
from dovelayout.drawing.picture.picture_book import alike as look_alike
from dovelayout.errors import LayoutError, WoodError
from dovelayout.glueup import words as glue_words
from dovelayout.glueup.plan import GlueUp, plan_glue_up
from dovelayout.job.reader import Job
from dovelayout.joints.board import Board
from dovelayout.joints.moving import Axis, Movement
from dovelayout.planning.season import LEAST_MM, Fixing, SeasonPlan
from dovelayout.report.season import fitted_words, season_of
from dovelayout.units import Unit, with_inches
from dovelayout.verdict.verdict import Verdict
from dovelayout.words import listed, listed_by_kind

SAWN = {"flat": "flat-sawn", "quarter": "quarter-sawn", "rift": "rift-sawn"}

MOST_STEPS = 12
"""Steps of a glue-up that stand on the bench sheet; `glueup` prints any number on its own (ours)."""

SAID = {Level.STOP: ("stop", "stops"), Level.WARN: ("warning", "warnings"), Level.NOTE: ("note", "notes")}


def bench_sheet(judgement: Verdict, *, pictures: bool = True) -> BenchSheet:
    """All that the bench has to know of a job; `pictures` False leaves the first corner's out."""
    job, told = judgement.job, judgement.for_people
    looks = look_alike(job.joints, job.dividers) if pictures else ()
    parts: tuple[Section | Figures, ...] = (
        _parts(job),
        *said_once((*corners_alike(job.joints, job.unit, job.shop), *dividers_alike(job.dividers, job.unit))),
        *drawers_alike(job.drawers, job.unit),
        _findings(told),
        *_season(job),
        _glue_up(job),
        *how_to_use(),
    )
    return BenchSheet(
        gauges=all_settings(job.joints, job.dividers, job.unit),
        verdict=_verdict(told),
        first=looks[0].joint if looks else None,
        names=_pictured(looks[0]) if looks else "",
        parts=parts,
    )


def _pictured(group: Alike) -> str:
    """'Corner A, and 3 like it'."""
    title = replace(group, names=group.names[:1]).title
    return title if len(group.names) == 1 else f"{title}, and {len(group.names) - 1} like it"


def _verdict(findings: Sequence[Finding]) -> str:
    """'WARN: 1 warning, 2 notes; see What the checks say'."""
    counts = {level: sum(finding.level is level for finding in findings) for level in SAID}
    said = ", ".join(f"{count} {SAID[level][count > 1]}" for level, count in counts.items() if count)
    if not said:
        return "Clean: nothing stands against sawing."
    worst = worst_level(findings)
    mark = "Good" if worst is Level.NOTE else MARKS[worst.value]
    return f"{mark}: {said}; see 'What the checks say'."


def _parts(job: Job) -> Section:
    """Every part once: boards by name, drawers' parts that are equal in one row."""
    in_drawers = {part.board.name for drawer in job.drawers for part in drawer.parts}
    own = [board for board in job.boards if board.name not in in_drawers]
    rows = [_part(board.count, board.name, board, job.unit) for board in own]
    rows += [
        _part(row.count, f"{row.role}, for {listed_by_kind(row.drawers)}", row.board, job.unit)
        for row in cut_list(job.drawers)
    ]
    unit = job.unit.value
    return Section(
        title="Cut list",
        columns=("", "part", "wood", f"length, {unit}", f"width, {unit}", f"thick, {unit}"),
        shares=(1, 1.5, 1, 1, 1, 1),
        rows=tuple(rows),
        lines=(all_add_up(job.drawers), *assumed_cases(job.drawers)) if job.drawers else (),
    )


def _part(count: int, name: str, board: Board, unit: Unit) -> Row:
    sizes = (board.length_mm, board.width_mm, board.thickness_mm)
    wood = f"{board.wood.name}, {SAWN[board.rings.value]}"
    return (Number(text=f"{count} ×"), name, wood, *(figure(size_mm, unit) for size_mm in sizes))


def _findings(findings: Sequence[Finding]) -> Section:
    """Every finding with its level in words, and what would do."""
    title = "What the checks say"
    if not findings:
        return Section(title=title, lines=("Nothing stands against sawing.",))
    rows: list[Row] = []
    for finding in findings:
        said = (f"{finding.message}.", *([f"What would do: {finding.fix}."] if finding.fix else []))
        rows.append((Number(text=MARKS[finding.level.value]), finding.where, said))
    return Section(title=title, shares=(1, 1, 2.2), rows=tuple(rows))


def _season(job: Job) -> Iterator[Section]:
    """How far widths move, and what that does to each fixing."""
    title = "Season: how far it moves"
    if job.shop.home_humidity_pct is None:
        but = ", but for the drawers above" if job.drawers else ""
        why = "the job doesn't say how dry and how damp the room gets. [home] humidity = [35, 65] says it."
        yield Section(title=title, lines=(f"Not reckoned{but}: {why}",))
        return
    plan, fitted = season_of(job), fitted_words(job)
    unit = job.unit.value
    yield Section(
        title=title,
        columns=("widths across the grain", f"as fitted, {unit}", f"driest, {unit}", f"dampest, {unit}", "moves, mm"),
        shares=(1, 1, 1, 1, 1),
        rows=tuple(_moving(plan, job.unit)),
        lines=(
            f"{fitted[:1].upper()}{fitted[1:]}.",
            *(f"{name}: not known, because {because}." for name, because in plan.unmoved),
            *(() if plan.parts else ("Nothing in this job moves.",)),
        ),
    )
    if plan.fixings:
        yield Section(
            title="Season: what that does to each fixing",
            columns=("", "as it is, and what works", "moves, mm"),
            shares=(1, 1.8, 1),
            rows=tuple(_fixings(plan.fixings, job.unit)),
        )


def _moving(plan: SeasonPlan, unit: Unit) -> Iterator[Row]:
    """Boards that move alike in one row."""
    alike: dict[tuple[Number, ...], list[Movement]] = {}
    for part in plan.parts:
        if part.axis is Axis.WIDTH and part.change_mm >= LEAST_MM:
            sizes = [figure(mm, unit) for mm in (part.dimension_mm, part.driest_mm, part.dampest_mm)]
            numbers = (*sizes, Number(text=f"{part.change_mm:.1f}"))
            alike.setdefault(numbers, []).append(part)
    for numbers, parts in alike.items():
        yield (listed_by_kind(part.board.name for part in parts), *numbers)


def _fixings(fixings: Sequence[Fixing], unit: Unit) -> Iterator[Row]:
    """Fixings that ask for the same in one row."""
    alike: dict[tuple[Cell, Cell], list[Fixing]] = {}
    for fixing in fixings:
        moves = Number(text="?" if fixing.moves_mm is None else f"{fixing.moves_mm:.1f}")
        now, works = (with_inches(text) if unit is Unit.IN else text for text in (fixing.now, fixing.works))
        alike.setdefault(((f"As it is: {now}.", f"What works: {works}."), moves), []).append(fixing)
    for (said, most), same in alike.items():
        yield (
            f"{listed_by_kind(one.name for one in same)}: {'; '.join(dict.fromkeys(one.what for one in same))}",
            said,
            most,
        )


def _glue_up(job: Job) -> Section:
    """The glue, its open time against the minutes it takes, and the order."""
    title = "Glue-up"
    if not job.joints and not job.dividers:
        return Section(title=title, lines=("Nothing in this job is glued up.",))
    try:
        plan = plan_glue_up(joints=job.joints, dividers=job.dividers, wishes=job.glueup, shop=job.shop)
    except (LayoutError, WoodError) as error:
        return Section(title=title, lines=(f"Not planned, because {error}.",))
    lines = [glue_words.conditions(plan)]
    lines += [
        f"{MARKS[finding.level.value]}, {finding.where}: {finding.message}. {finding.fix[:1].upper()}{finding.fix[1:]}."
        for finding in glue_words.grouped_findings(plan.findings)
        if finding.level.rank >= Level.WARN.rank
    ]
    steps = glue_words.step_lines(plan, job.unit)
    if len(steps) <= MOST_STEPS:
        lines += [f"{count}. {words[:1].upper()}{words[1:]}." for count, (_, words) in enumerate(steps, 1)]
    else:
        lines.append(f"{len(steps)} steps; 'dovelayout glueup' prints them in their order.")
    lines += [glue_words.clamping(plan)[1], glue_words.label_first()]
    if job.unit is Unit.IN:
        lines = [with_inches(line) for line in lines]
    return Section(
        title=title,
        columns=("stage", "takes, min", "open, min"),
        shares=(1, 1, 1),
        rows=tuple(_stages(plan)),
        lines=tuple(lines),
    )


def _stages(plan: GlueUp) -> Iterator[Row]:
    """Stages that ask for the same in one row."""
    alike: dict[tuple[Number, Number], list[str]] = {}
    for row in plan.stages:
        opened = Number(text="?") if row.open_minutes is None else Number(text=f"{row.open_minutes[0]:.1f}")
        joins = listed(row.stage.joins)
        name = row.name if row.name.endswith(joins) else f"{row.name} ({joins})"
        alike.setdefault((Number(text=f"{row.minutes:.1f}"), opened), []).append(name)
    for (takes, opened), names in alike.items():
        each = "each of " if len(names) > 1 else ""
        yield (f"{each}{'; '.join(names)}", takes, opened)
