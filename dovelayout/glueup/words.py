"""What a glue-up plan says to the person at the bench; the sentences stand in `data/page.toml`. The glue's own maker comes
first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from dovelayout.checks.finding import Finding
from dovelayout.glueup.caul import Caul
from dovelayout.glueup.checks import CAUTIOUS
from dovelayout.glueup.plan import GlueUp
from dovelayout.glueup.squareness import LONG_THIN, Lean, length_over_width
from dovelayout.glueup.steps import Step
from dovelayout.glueup.timing import minutes_words, people
from dovelayout.texts import Texts
from dovelayout.units import Unit, with_inches
from dovelayout.words import capital, grouped

TEXTS = Texts("glueup", "page")


def cauls_by_shape(cauls: Sequence[Caul]) -> tuple[tuple[Caul, tuple[str, ...]], ...]:
    """Each caul once, with the names of all corners that it fits."""
    shapes = grouped((caul.shape, caul) for caul in cauls)
    return tuple((same[0], tuple(caul.corner for caul in same)) for same in shapes.values())


def grouped_findings(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Findings for people: stages that take equally long are one finding, which says how many more there are."""

    def key(finding: Finding) -> tuple[object, ...]:
        of_time = finding.check == CAUTIOUS.check and finding.measured is not None
        own = () if of_time else (finding.where, finding.message)
        return (finding.check, finding.level, finding.measured, finding.limit, *own)

    return tuple(
        same[0] if len(same) == 1 else replace(same[0], place=same[0].place.within(f"and {len(same) - 1} more like it"))
        for same in grouped((key(finding), finding) for finding in findings).values()
    )


def step_lines(plan: GlueUp, unit: Unit) -> tuple[tuple[Step, str], ...]:
    """Every step with its words, in a job in inches with the inches behind each length."""
    return tuple((step, with_inches(step.words) if unit is Unit.IN else step.words) for step in plan.steps)


def label_first() -> str:
    """The line above all others."""
    return TEXTS("label_first")


def conditions(plan: GlueUp) -> str:
    """Glue, temperature and people that the plan reckons with."""
    work = plan.work
    known = "wood_assumed" if work.temperature_c is None else "wood"
    wood = TEXTS(f"conditions.{known}", degrees=work.degrees_c)
    if work.glue is None or work.open_minutes is None:
        return TEXTS("conditions.no_glue", wood=wood, people=people(work.shop.hands))
    glue, minutes = capital(work.glue.name), minutes_words(work.open_minutes)
    return TEXTS("conditions.glue", glue=glue, minutes=minutes, wood=wood, people=people(work.shop.hands))


def clamping(plan: GlueUp) -> tuple[str, str]:
    """How the clamps go on, and how long they stay."""
    glue = plan.work.glue
    stay = TEXTS("clamps.stay")
    if glue is not None:
        times = dict.fromkeys(_span_of_time(minutes) for minutes in glue.clamp_minutes)
        stay = TEXTS("clamps.stay_glue", glue=capital(glue.name), time=" to ".join(times))
    return TEXTS("clamps.where", clamps=max((row.labour.clamps for row in plan.stages), default=0)), stay


def _span_of_time(minutes: float) -> str:
    return f"{minutes:g} min" if minutes < 120 else f"{minutes / 60:g} h"


def rehearsal() -> tuple[str, ...]:
    """The checklist of the dry rehearsal."""
    return TEXTS.rows("rehearsal")


def checking(plan: GlueUp) -> Iterator[str]:
    """What is looked at while the glue is still open."""
    if plan.diagonals:
        yield TEXTS("look.diagonals")
    yield TEXTS("look.wind")
    if any(LONG_THIN.breach(length_over_width(chain)) for chain in plan.assemblies):
        yield TEXTS("look.long_thin")


def habits(plan: GlueUp) -> Iterator[str]:
    """Where glue goes and where it doesn't, for what this job has."""
    yield TEXTS("glue.cheeks")
    if plan.work.dividers:
        yield TEXTS("glue.dividers")
    if plan.work.spec.captured:
        yield TEXTS("glue.captured")
    yield TEXTS("glue.squeeze_out")


def cautions(plan: GlueUp) -> tuple[str, ...]:
    """The glue's own cautions, then those of every glue-up."""
    glue = plan.work.glue
    own = () if glue is None else (f"{glue.name}: {caution}." for caution in glue.cautions)
    return (*own, *TEXTS.rows("cautions"))


def lean_words(lean: Lean) -> str:
    """What two measured diagonals say, in one sentence."""
    return TEXTS("lean", where=lean.diagonal.where, **lean.numbers)
