"""A job's bench sheet, filled from its verdict: cut list, numbers, findings, season and glue-up in short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.cut_list import all_add_up, cut_list
from dovelayout.checks.finding import MARKS, Finding, Level
from dovelayout.drawing.advice import how_to_use
from dovelayout.drawing.bench import all_gauges, corners_alike, dividers_alike
from dovelayout.drawing.bench_sheet import BenchSheet, Figures, Number, Row, Section, size
from dovelayout.drawing.drawer_lines import drawers_alike
from dovelayout.drawing.picture_book import alike as look_alike
from dovelayout.errors import LayoutError, WoodError
from dovelayout.job.reader import Job
from dovelayout.joints.board import Board
from dovelayout.joints.moving import Axis, Movement
from dovelayout.planning import glue_words
from dovelayout.planning.glue_up import GlueUp, plan_glue_up
from dovelayout.planning.season import Fixing, Season, season
from dovelayout.report.verdict import Verdict
from dovelayout.units import Unit, with_inches
from dovelayout.words import listed

SAWN = {"flat": "flat-sawn", "quarter": "quarter-sawn", "rift": "rift-sawn"}

MOST_STEPS = 12
"""Steps of a glue-up that stand on the bench sheet; `glueup` prints any number on its own (ours)."""

SAID = {Level.STOP: ("stop", "stops"), Level.WARN: ("warning", "warnings"), Level.NOTE: ("note", "notes")}


def bench_sheet(judgement: Verdict, *, pictures: bool = True) -> BenchSheet:
    """All that the bench has to know of a job; `pictures` False leaves the first corner's out."""
    job, told = judgement.job, judgement.told_once
    looks = look_alike(job.joints, job.dividers) if pictures else ()
    parts: tuple[Section | Figures, ...] = (
        _parts(job),
        *corners_alike(job.joints, job.unit, job.shop),
        *dividers_alike(job.dividers, job.unit),
        *drawers_alike(job.drawers, job.unit),
        _findings(told),
        *_season(job),
        _glue_up(job),
        *how_to_use(),
    )
    return BenchSheet(
        gauges=all_gauges(job.joints, job.dividers, job.unit),
        verdict=_verdict(told),
        first=looks[0].joint if looks else None,
        names=looks[0].title if looks else "",
        parts=parts,
    )


def _verdict(findings: Sequence[Finding]) -> str:
    """'WARN: 1 warning, 2 notes; they stand under What the checks say'."""
    counts = {level: sum(finding.level is level for finding in findings) for level in SAID}
    said = [f"{count} {SAID[level][count > 1]}" for level, count in counts.items() if count]
    if not said:
        return "Clean: nothing stands against sawing."
    worst = next(level for level, count in counts.items() if count)
    return f"{MARKS[worst.value]}: {', '.join(said)}; see 'What the checks say'."


def _parts(job: Job) -> Section:
    """Every part once: boards by name, drawers' parts that are equal in one row."""
    in_drawers = {part.board.name for drawer in job.drawers for part in drawer.parts}
    own = [board for board in job.boards if board.name not in in_drawers]
    rows = [_part(board.count, board.name, board, job.unit) for board in own]
    rows += [
        _part(row.count, f"{row.role}, for {listed(row.drawers)}", row.board, job.unit) for row in cut_list(job.drawers)
    ]
    unit = job.unit.value
    return Section(
        title="Cut list",
        columns=("", "part", f"length, {unit}", f"width, {unit}", f"thick, {unit}"),
        shares=(1, 1, 1, 1, 1),
        rows=tuple(rows),
        lines=(all_add_up(job.drawers),) if job.drawers else (),
    )


def _part(count: int, name: str, board: Board, unit: Unit) -> Row:
    sizes = (board.length_mm, board.width_mm, board.thickness_mm)
    words = f"{name}: {board.wood.name}, {SAWN[board.rings.value]}"
    return Row(cells=(Number(text=f"{count} ×"), words, *(size(size_mm, unit) for size_mm in sizes)))


def _findings(findings: Sequence[Finding]) -> Section:
    """Every finding with its level in words, and what would do."""
    title = "What the checks say"
    if not findings:
        return Section(title=title, lines=("Nothing stands against sawing.",))
    rows = []
    for finding in findings:
        level = Number(text=MARKS[finding.level.value])
        rows.append(Row(cells=(level, finding.where, f"{finding.message}.")))
        if finding.fix:
            rows.append(Row(cells=("", "what would do:", f"{finding.fix}."), joined=True))
    return Section(title=title, columns=("", "where", ""), shares=(1, 1, 2.2), rows=tuple(rows))


def _season(job: Job) -> Iterator[Section]:
    """How far widths move, and what that does to each fixing."""
    title = "Season: how far it moves"
    if job.shop.seen_pct is None:
        lines = (
            "Not reckoned: the job doesn't say how dry and how damp the room gets. [home] humidity = [35, 65] says it.",
        )
        yield Section(title=title, lines=lines)
        return
    plan = season(
        job.shop,
        boards=job.boards,
        across=job.across,
        panels=job.panels,
        dividers=job.dividers,
        joints=job.joints,
    )
    unit = job.unit.value
    yield Section(
        title=title,
        columns=("widths across the grain", f"as fitted, {unit}", f"driest, {unit}", f"dampest, {unit}", "moves, mm"),
        shares=(1, 1, 1, 1, 1),
        rows=tuple(_moving(plan, job.unit)),
        lines=(
            *(f"{name}: not known, because {because}." for name, because in plan.unmoved),
            *(() if plan.parts else ("Nothing in this job moves.",)),
        ),
    )
    if plan.fixings:
        rows = [row for fixing in plan.fixings for row in _fixing(fixing, job.unit)]
        yield Section(
            title="Season: what that does to each fixing",
            columns=("", "as it is, and what works", "moves, mm"),
            shares=(1, 1.8, 1),
            rows=tuple(rows),
        )


def _moving(plan: Season, unit: Unit) -> Iterator[Row]:
    """Boards that move alike in one row."""
    alike: dict[tuple[Number, ...], list[Movement]] = {}
    for part in plan.parts:
        if part.axis is Axis.WIDTH:
            sizes = [size(mm, unit) for mm in (part.dimension_mm, part.driest_mm, part.dampest_mm)]
            numbers = (*sizes, Number(text=f"{part.change_mm:.1f}"))
            alike.setdefault(numbers, []).append(part)
    for numbers, parts in alike.items():
        yield Row(cells=(listed(part.board.name for part in parts), *numbers))


def _fixing(fixing: Fixing, unit: Unit) -> Iterator[Row]:
    moves = "" if fixing.moves_mm is None else Number(text=f"{fixing.moves_mm:.1f}")
    now, works = (with_inches(text) if unit is Unit.IN else text for text in (fixing.now, fixing.works))
    yield Row(cells=(f"{fixing.name}, {fixing.what}", f"As it is: {now}.", moves))
    yield Row(cells=("", f"What works: {works}.", ""), joined=True)


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
        for finding in glue_words.told_once(plan.findings)
        if finding.level.rank >= Level.WARN.rank
    ]
    steps = glue_words.told_steps(plan, job.unit)
    if len(steps) <= MOST_STEPS:
        lines += [f"{count}. {words[:1].upper()}{words[1:]}." for count, (_, words) in enumerate(steps, 1)]
    else:
        lines.append(f"{len(steps)} steps; 'dovelayout glueup' prints them in their order.")
    lines += [glue_words.clamping(plan)[1], glue_words.LABEL_FIRST]
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
        yield Row(cells=(f"{each}{'; '.join(names)}", takes, opened))
