"""What a glue-up plan says to the person at the bench: preparation, rehearsal, checks, cautions. Common practice, no
source, unless a figure says otherwise; the glue's own maker comes first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from dovelayout.checks.finding import Finding
from dovelayout.glueup.caul import Caul
from dovelayout.glueup.checks import CHECK_OPEN
from dovelayout.glueup.plan import GlueUp
from dovelayout.glueup.squareness import LONG_THIN, Lean, length_over_width
from dovelayout.glueup.steps import Step
from dovelayout.glueup.timing import TABLE_C
from dovelayout.units import Unit, with_inches

LABEL_FIRST = "THE LABEL ON THE BOTTLE COMES FIRST: open time, temperature, clamping, gloves."

DRY_FITTING = (
    "Dry fitting, two schools: one never drives the joint right home dry, since it fits once and goes loose after; the other "
    "rehearses everything in full. Half-way in by hand tells the fit; whoever closes it in full does so once, with cauls."
)

SQUEEZE_OUT = (
    "Squeeze-out: leave it about half an hour till it is like leather, then pare it off; no wet rag on bare wood."
)

CAUTIONS = (
    "Clamps slip and spit cauls out: stand aside of their line, tighten in turn, never further than closed.",
    "Glue gives off vapour: open a window; keep it off skin and out of eyes. Oily rags: flat outdoors, or in water, lidded.",
    "The makers of glue and clamps, local rules and qualified people come before this sheet; what it says without naming a "
    "source is common practice of the trade.",
)


def alike(cauls: Sequence[Caul]) -> tuple[tuple[Caul, tuple[str, ...]], ...]:
    """Each caul once, with the names of all corners that it fits."""
    found: dict[tuple[object, ...], tuple[Caul, list[str]]] = {}
    for caul in cauls:
        found.setdefault(caul.shape, (caul, []))[1].append(caul.corner)
    return tuple((caul, tuple(names)) for caul, names in found.values())


def told_once(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Findings for people: stages alike that say the same are said once, with how many there are."""
    alike_: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        own = () if finding.check == CHECK_OPEN and finding.measured is not None else (finding.where, finding.message)
        alike_.setdefault((finding.check, finding.level, finding.measured, finding.limit, *own), []).append(finding)
    return tuple(
        rows[0] if len(rows) == 1 else replace(rows[0], place=rows[0].place.within(f"and {len(rows) - 1} more like it"))
        for rows in alike_.values()
    )


def told_steps(plan: GlueUp, unit: Unit) -> tuple[tuple[Step, str], ...]:
    """Every step with its words, in a job in inches with the inches behind each length."""
    return tuple((step, with_inches(step.words) if unit is Unit.IN else step.words) for step in plan.steps)


def conditions(plan: GlueUp) -> str:
    """Glue, temperature and people, as reckoned with."""
    work = plan.work
    hands = "one person" if work.shop.hands == 1 else f"{work.shop.hands} people"
    degrees = f"wood at {TABLE_C:g} °C, assumed" if work.temperature_c is None else f"wood at {work.temperature_c:g} °C"
    if work.glue is None or work.open_minutes is None:
        return f"No glue is named in the job, so no open time was reckoned with; {degrees}; {hands}."
    low, high = work.open_minutes
    opened = f"{low:.1f} min" if low == high else f"{low:.1f} to {high:.1f} min"
    return f"{work.glue.name[:1].upper()}{work.glue.name[1:]}, open {opened}; {degrees}; {hands} spreading."


def clamping(plan: GlueUp) -> tuple[str, ...]:
    """How the clamps go on, and how long they stay."""
    glue = plan.work.glue
    clamps = max((row.labour.clamps for row in plan.stages), default=0)
    stay = "Clamps stay on stressed work overnight."
    if glue is not None:
        low, high = (_span_of_time(minutes) for minutes in glue.clamp_minutes)
        stay = (
            f"{glue.name[:1].upper()}{glue.name[1:]}: {low if low == high else f'{low} to {high}'} in the clamps; "
            + ("stressed work stays in them overnight.")
        )
    return (
        f"Clamps on the tails only, in line with the pin boards, through relieved cauls; {clamps} at most at a time. Two on "
        "one joint are drawn up in turn. A joint that keeps closed by itself needs none, say some.",
        stay,
    )


def _span_of_time(minutes: float) -> str:
    return f"{minutes:g} min" if minutes < 120 else f"{minutes / 60:g} h"


def rehearsal() -> tuple[str, ...]:
    """The checklist of the dry rehearsal."""
    return (
        "Lay out, count and set every clamp, caul and spreader; mark each corner and each face edge.",
        "Go through every step with dry hands and a clock; over 60 % of the open time: fewer faces at a time, a slower glue.",
        "Clean the insides up now; inside faces finished, glue faces masked.",
        DRY_FITTING,
    )


def checking(plan: GlueUp) -> tuple[str, ...]:
    """What is looked at while the glue is still open."""
    rows = []
    if plan.diagonals:
        rows.append(
            "Diagonals at front and back of the case. Longer one way: set the clamp heads over towards its ends."
        )
    rows += [
        "Wind: equal diagonals don't show it. Sight across winding sticks, or stand it on a flat surface: no corner rocks.",
    ]
    if any(length_over_width(chain) > (LONG_THIN.note or 0.0) for chain in plan.assemblies):
        rows.append(
            "Long and thin: check wind; bed to flat, on two straight battens. Draw up, slacken, look, tighten lightly again."
        )
    return tuple(rows)


def habits(plan: GlueUp) -> tuple[str, ...]:
    """Where glue goes and where it doesn't, for what this job has."""
    rows = ["Brush every cheek once; end grain only sized, or left dry. Keep a joint moving until it is home."]
    if plan.work.dividers:
        rows.append("A divider is glued at its front and gapped at the back, so that the sides can move.")
    if plan.work.wishes.captured:
        rows.append(
            "Panels float: no glue in their grooves. A support across the grain is glued over about 50 mm at its middle only."
        )
    rows.append(SQUEEZE_OUT)
    return tuple(rows)


def cautions(plan: GlueUp) -> tuple[str, ...]:
    """The glue's own cautions, then those of every glue-up."""
    glue = plan.work.glue
    own = () if glue is None else tuple(f"{glue.name}: {caution}." for caution in glue.cautions)
    return (*own, *CAUTIONS)


def lean_words(lean: Lean) -> str:
    """What two measured diagonals say, in one sentence."""
    a, b = lean.diagonal.sides_mm
    return (
        f"Measured diagonals, {lean.diagonal.where}: {lean.difference_mm:.2f} mm apart, {lean.degrees:.3f}° out of square; "
        f"that is {lean.off_mm[1]:.2f} mm over the {b:.1f} mm side and {lean.off_mm[0]:.2f} mm over the {a:.1f} mm one."
    )
