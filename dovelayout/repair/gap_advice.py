"""What is said about a gap: the verdict on it, its figures, the season's part in it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level, not_checked
from dovelayout.place import Place
from dovelayout.repair.gap import GAP, LEAVE_MM, SLACK_MM, Gap, GapPlace, GapPlan, Method, Slip
from dovelayout.repair.gap_words import glue_words, looks_words, step_words
from dovelayout.repair.repair import (
    CA,
    CHISELS,
    CLAMPS,
    GLUES,
    LAP,
    MAKERS_FIRST,
    Advice,
    Figure,
    both,
)
from dovelayout.wood.glue import Glue

HANDBOOK = f"Wood Handbook FPL-GTR-190, Eq 4-5, 13-2 and 13-3; which dimension counts: {OURS}"


def gap_advice(gap: Gap, plan: GapPlan) -> Advice:
    """What to do about a gap, and what it will look like."""
    return Advice(
        trouble=f"a gap of {both(gap.width_mm)} at the {gap.place.value}, {both(gap.length_mm)} long",
        method=plan.method.value,
        looks=looks_words(plan.method, gap.place),
        glue=glue_words(plan.method),
        steps=(*_wait_first(gap, plan), *step_words(plan.method, gap.place)),
        cautions=_cautions(plan.method, gap.place, gap.glue),
        figures=tuple(_figures(gap, plan)),
        findings=tuple(_findings(gap, plan)),
    )


def _wait_first(gap: Gap, plan: GapPlan) -> tuple[str, ...]:
    if gap.season is None or plan.method in (Method.WAIT, Method.RECUT) or plan.fill_mm >= gap.width_mm - SLACK_MM:
        return ()
    return (
        f"Wait until the air is back at {gap.season.tight_pct:g} %, and measure again: only the {both(plan.fill_mm)} "
        "that should stay then is filled.",
    )


def _figures(gap: Gap, plan: GapPlan) -> Iterator[Figure]:
    yield Figure(what="gap, width", value=gap.width_mm, source="measured")
    yield Figure(what="gap, length", value=gap.length_mm, source="measured")
    if plan.opening_mm is not None:
        yield Figure(what="the season explains at most", value=max(0.0, plan.opening_mm[1]), source=HANDBOOK)
        if plan.method is not Method.WAIT:
            yield Figure(what="stays when the air is back", value=plan.fill_mm, source=HANDBOOK)
    if plan.slip is not None:
        yield from _slip_figures(plan.slip, plan.method)


def _findings(gap: Gap, plan: GapPlan) -> Iterator[Finding]:
    if gap.season is not None:
        yield _season_finding(gap, plan.opening_mm)
    if plan.method is Method.WAIT:
        return
    if gap.loose and plan.fill_mm > LEAVE_MM + SLACK_MM:
        yield _loose_finding(gap, plan.fill_mm)
    elif GAP.judge(plan.fill_mm)[0] is not Level.OK:
        yield _width_finding(gap, plan)
    yield from _glue_findings(gap, plan.method)
    if plan.method.wooden and gap.depth_mm is None:
        yield not_checked(
            GAP.check,
            _where(gap),
            "how deep the gap goes isn't given, so the piece's taper and depth can't be told",
            "measure it with a feeler or a strip of paper and give --depth",
        )


def _where(gap: Gap) -> Place:
    return Place(kind=f"{gap.place.value} of the joint")


def _slip_figures(slip: Slip, method: Method) -> Iterator[Figure]:
    rows = [("thick at the mouth", slip.mouth_mm), ("thick at its inner end", slip.tip_mm)]
    if slip.tapered:
        rows.append(("thick at the head, where it is held", slip.head_mm))
    rows += [("deep in the gap", slip.depth_mm), ("long", slip.length_mm), ("standing out, to hold it", slip.handle_mm)]
    for what, value in rows:
        yield Figure(what=f"{method.value}, {what}", value=value, source=OURS)


def _season_finding(gap: Gap, opening: tuple[float, float] | None) -> Finding:
    season, place = gap.season, _where(gap)
    assert season is not None
    if opening is None:
        return not_checked(
            "season-gap",
            place,
            f"how far {season.wood.name} moves isn't known",
            "leave the gap over one damp and one dry season and measure it again",
        )
    low_mm, high_mm = opening
    air = f"from {season.tight_pct:g} to {season.now_pct:g} % relative humidity"

    def says(level: Level, message: str, fix: str) -> Finding:
        return Finding(
            check="season-gap",
            level=level,
            place=place,
            message=message,
            measured=round(gap.width_mm, 4),
            limit=round(max(0.0, high_mm), 4),
            unit="mm",
            fix=fix,
            source=HANDBOOK,
        )

    if high_mm <= 0:
        return says(
            Level.NOTE,
            f"{air} the wood hasn't shrunk: the season doesn't open this gap",
            "look for a joint that wasn't home, a high floor or a saw cut on the wrong side of its line",
        )
    span = both(high_mm) if high_mm - low_mm < 0.005 else f"{both(low_mm)} to {both(high_mm)}"
    thick = f"{season.thickness_mm:g} mm of {season.wood.name}"
    if gap.width_mm <= high_mm + SLACK_MM:
        return says(
            Level.NOTE,
            f"{air} {thick} shrinks so far that {span} may open here: the season explains the gap, and it closes "
            "again. What is put into it now is crushed then, or pushes the joint apart",
            f"don't fill or force it; look again when the air is back at {season.tight_pct:g} %",
        )
    return says(
        Level.WARN,
        f"{air} {thick} opens {span} here, and the gap is {both(gap.width_mm)}: the rest comes from stock that was "
        "wetter than thought, from cup, or from a joint that was never tight",
        "measure the moisture content of the board before anything is filled; fill only the "
        f"{both(gap.width_mm - high_mm)} that stays, when the air is back at {season.tight_pct:g} %",
    )


def _width_finding(gap: Gap, plan: GapPlan) -> Finding:
    level, limit = GAP.judge(plan.fill_mm)
    stop = level is Level.STOP
    return Finding(
        check=GAP.check,
        level=level,
        place=_where(gap),
        message=(
            "no filler makes a joint of this: what would hold is the glue alone"
            if stop
            else f"a gap to fill with a {plan.method.value}"
            if plan.method.wooden
            else f"a gap for {plan.method.value}"
        ),
        measured=round(plan.fill_mm, 4),
        limit=limit,
        unit=GAP.unit,
        fix="recut on a new board, or half-lap a new end onto this one and recut"
        if stop
        else f"{plan.method.value}: {both(plan.fill_mm)}",
        source=GAP.source,
    )


def _loose_finding(gap: Gap, fill_mm: float) -> Finding:
    return Finding(
        check="loose-joint",
        level=Level.STOP,
        place=_where(gap),
        message="the whole joint is loose: slips in every cheek would hold by glue alone",
        measured=round(fill_mm, 4),
        limit=LEAVE_MM,
        unit="mm",
        fix="recut it. Where the board can't be spared: slow epoxy holds in gaps up to 1.6 mm (common practice, no "
        "source), shows as a dark line and can't be undone",
        source=COMMON_PRACTICE,
    )


def _glue_findings(gap: Gap, method: Method) -> Iterator[Finding]:
    glue = gap.glue
    if glue is None or method in (Method.WAIT, Method.RECUT):
        return
    place = replace(_where(gap), part=glue.name)
    if glue.id == "polyurethane":
        yield Finding(
            check="gap-glue",
            level=Level.WARN,
            place=place,
            message="its foam only looks as if it filled a gap: it has no strength there",
            fix="white PVA or liquid hide on a slip that fits; slow epoxy where the line must stay thick",
            source=COMMON_PRACTICE,
        )
    if glue.spots_only and method.wooden:
        yield Finding(
            check="gap-glue",
            level=Level.WARN,
            place=place,
            message="it sets before a slip is home, and its line is brittle",
            fix="white PVA or liquid hide for wood; CA is for dust and hairlines on end grain",
            source=COMMON_PRACTICE,
        )


def _label(glue: Glue | None) -> tuple[str, ...]:
    return () if glue is None else tuple(f"{glue.name}: {line}" for line in glue.cautions)


def _cautions(method: Method, place: GapPlace, glue: Glue | None) -> tuple[str, ...]:
    if method is Method.WAIT:
        return (MAKERS_FIRST,)
    said = [GLUES, *_label(glue)]
    if method is Method.DUST or (glue is not None and glue.spots_only):
        said.append(CA)
    if method.wooden or method is Method.RECUT:
        said = [CHISELS, *said]
    if method in (Method.SHAVING, Method.SLIP, Method.PATCH):
        said.append(CLAMPS)
    if place is GapPlace.LAP:
        said.append(LAP)
    return (*said, MAKERS_FIRST)
