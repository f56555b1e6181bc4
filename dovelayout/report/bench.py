"""A job's bench sheet, filled from its verdict: cut list, numbers, findings, season and glue-up in short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.drawer.cut_list import all_add_up, assumed_cases, cut_list
from dovelayout.checks.finding import MARKS, Finding, Level, worst_level
from dovelayout.drawing.bench.content import how_to_use
from dovelayout.drawing.bench.corner_lines import corner_figures
from dovelayout.drawing.bench.divider_lines import divider_figures
from dovelayout.drawing.bench.drawer_lines import drawer_figures
from dovelayout.drawing.bench.settings import all_settings
from dovelayout.drawing.bench.sheet import (
    BenchSheet,
    Figures,
    Number,
    Section,
    TableCell,
    TableRow,
    figure,
    without_repeats,
)
from dovelayout.drawing.picture.picture_book import picture_groups
from dovelayout.errors import LayoutError, WoodError
from dovelayout.glueup import words as glue_words
from dovelayout.glueup.plan import GlueUp, plan_glue_up
from dovelayout.job.reader import Job
from dovelayout.joints.board import Board
from dovelayout.joints.moving import Axis, Movement
from dovelayout.planning.season import LEAST_MM, Fixing, SeasonPlan
from dovelayout.report.season import fitted_words, in_unit, season_of
from dovelayout.units import Unit, with_inches
from dovelayout.verdict.verdict import Verdict
from dovelayout.words import capital, grouped, listed, listed_by_kind

MOST_STEPS = 12
"""Steps of a glue-up that stand on the bench sheet; `glueup` prints any number on its own (ours)."""

LEVEL_WORDS = {Level.STOP: ("stop", "stops"), Level.WARN: ("warning", "warnings"), Level.NOTE: ("note", "notes")}


def bench_sheet(judgement: Verdict, *, pictures: bool = True) -> BenchSheet:
    """All that the bench has to know of a job; `pictures` False leaves the first corner's out."""
    job, findings = judgement.job, judgement.for_people
    groups = picture_groups(job.joints, job.dividers) if pictures else ()
    parts: tuple[Section | Figures, ...] = (
        _parts(job),
        *without_repeats((*corner_figures(job.joints, job.unit, job.shop), *divider_figures(job.dividers, job.unit))),
        *drawer_figures(job.drawers, job.unit),
        _findings(findings),
        *_season(job),
        _glue_up(job),
        *how_to_use(),
    )
    return BenchSheet(
        gauges=all_settings(job.joints, job.dividers, job.unit),
        verdict=_verdict(findings),
        first=groups[0].joint if groups else None,
        names=groups[0].short_title if groups else "",
        parts=parts,
    )


def _verdict(findings: Sequence[Finding]) -> str:
    """'WARN: 1 warning, 2 notes; see What the checks say'."""
    counts = {level: sum(finding.level is level for finding in findings) for level in LEVEL_WORDS}
    words = ", ".join(f"{count} {LEVEL_WORDS[level][count > 1]}" for level, count in counts.items() if count)
    if not words:
        return "Clean: nothing stands against sawing."
    worst = worst_level(findings)
    mark = "Good" if worst is Level.NOTE else MARKS[worst.value]
    return f"{mark}: {words}; see 'What the checks say'."


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


def _part(count: int, name: str, board: Board, unit: Unit) -> TableRow:
    sizes = (board.length_mm, board.width_mm, board.thickness_mm)
    wood = f"{board.wood.name}, {board.rings.sawn}"
    return (Number(text=f"{count} ×"), name, wood, *(figure(size_mm, unit) for size_mm in sizes))


def _findings(findings: Sequence[Finding]) -> Section:
    """Every finding with its level in words, and what would do."""
    title = "What the checks say"
    if not findings:
        return Section(title=title, lines=("Nothing stands against sawing.",))
    rows: list[TableRow] = []
    for finding in findings:
        words = (f"{finding.message}.", *([f"What would do: {finding.fix}."] if finding.fix else []))
        rows.append((Number(text=MARKS[finding.level.value]), finding.where, words))
    return Section(title=title, shares=(1, 1, 2.2), rows=tuple(rows))


def _season(job: Job) -> Iterator[Section]:
    """How far widths move, and what that does to each fixing."""
    title = "Season: how far it moves"
    if job.shop.home_humidity_pct is None:
        but = ", but for the drawers above" if job.drawers else ""
        why = "the job doesn't say how dry and how damp the air of its home gets."
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
            f"{capital(fitted)}.",
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


def _moving(plan: SeasonPlan, unit: Unit) -> Iterator[TableRow]:
    """Boards that move alike in one row."""
    moving = (part for part in plan.parts if part.axis is Axis.WIDTH and part.change_mm >= LEAST_MM)
    for numbers, names in grouped((_sizes(part, unit), part.board.name) for part in moving).items():
        yield (listed_by_kind(names), *numbers)


def _sizes(part: Movement, unit: Unit) -> tuple[Number, ...]:
    sizes = (figure(mm, unit) for mm in (part.dimension_mm, part.driest_mm, part.dampest_mm))
    return (*sizes, Number(text=f"{part.change_mm:.1f}"))


def _fixings(fixings: Sequence[Fixing], unit: Unit) -> Iterator[TableRow]:
    """Fixings that ask for the same in one row."""
    for cells, same in grouped((_fixing_cells(fixing, unit), fixing) for fixing in fixings).items():
        names = listed_by_kind(one.name for one in same)
        yield (f"{names}: {'; '.join(dict.fromkeys(one.what for one in same))}", *cells)


def _fixing_cells(fixing: Fixing, unit: Unit) -> tuple[TableCell, ...]:
    now, works = in_unit(unit, fixing.now, fixing.works)
    moves = Number(text="?" if fixing.moves_mm is None else f"{fixing.moves_mm:.1f}")
    return (f"As it is: {now}.", f"What works: {works}."), moves


def _glue_up(job: Job) -> Section:
    """The glue, its open time against the minutes it takes, and the order."""
    title = "Glue-up"
    if not job.joints and not job.dividers:
        return Section(title=title, lines=("Nothing in this job is glued up.",))
    try:
        plan = plan_glue_up(joints=job.joints, dividers=job.dividers, spec=job.glueup, shop=job.shop)
    except (LayoutError, WoodError) as error:
        return Section(title=title, lines=(f"Not planned, because {error}.",))
    lines = [glue_words.conditions(plan)]
    lines += [
        f"{MARKS[finding.level.value]}, {finding.where}: {finding.message}. {capital(finding.fix)}."
        for finding in glue_words.grouped_findings(plan.findings)
        if finding.level.rank >= Level.WARN.rank
    ]
    steps = glue_words.step_lines(plan, job.unit)
    if len(steps) <= MOST_STEPS:
        lines += [f"{count}. {capital(words)}." for count, (_, words) in enumerate(steps, 1)]
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


def _stages(plan: GlueUp) -> Iterator[TableRow]:
    """Stages that ask for the same in one row."""
    rows: list[tuple[tuple[Number, Number], str]] = []
    for row in plan.stages:
        open_time = Number(text="?") if row.open_minutes is None else Number(text=f"{row.open_minutes[0]:.1f}")
        joins = listed(row.stage.joins)
        name = row.name if row.name.endswith(joins) else f"{row.name} ({joins})"
        rows.append(((Number(text=f"{row.minutes:.1f}"), open_time), name))
    for numbers, names in grouped(rows).items():
        each = "each of " if len(names) > 1 else ""
        yield (f"{each}{'; '.join(names)}", *numbers)
