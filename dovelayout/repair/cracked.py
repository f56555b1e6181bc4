"""A side that cracked along its grain: before the glue-up, in it, or long after it.

What to do is common practice, no source; figures marked ours are ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level, not_checked
from dovelayout.checks.rule import Rule
from dovelayout.joints.board import Rings
from dovelayout.place import Place
from dovelayout.repair.repair import CHISELS, CLAMPS, GLUES, MAKERS_FIRST, Advice, Figure, both
from dovelayout.wood.moisture import emc_pct, size_change_share
from dovelayout.wood.species import Wood

CRACK = Rule(
    check="crack-length",
    measures="the crack's length as a share of the board's",
    unit="share",
    warn=0.25,
    stop=0.5,
    below=False,
)
RULES = (CRACK,)

CLOSED_MM = 0.1
"""A crack up to this is glued and closed; a wider one that has cured open gets wood: ours."""


class Stage(StrEnum):
    """When a side cracked: before any glue, with the glue still wet, or after it had cured."""

    DRY = "dry"
    WET = "wet"
    CURED = "cured"


@dataclass(frozen=True, slots=True, kw_only=True)
class Crack:
    """A crack along the grain of a side; `fixed`: something across its grain holds the side from moving.

    `air_pct` is the relative humidity when the piece was made and now.
    """

    length_mm: float
    width_mm: float
    stage: Stage
    fixed: bool = False
    board_length_mm: float | None = None
    board_width_mm: float | None = None
    wood: Wood | None = None
    rings: Rings = Rings.FLAT
    air_pct: tuple[float, float] | None = None


def shrunk_mm(crack: Crack) -> float | None:
    """How far the side would have shrunk in its width from the air it was made in to the air now, mm; None: not known."""
    if crack.wood is None or crack.board_width_mm is None or crack.air_pct is None:
        return None
    made, now = (emc_pct(air) for air in crack.air_pct)
    share = size_change_share(crack.wood, crack.rings.across_width, from_mc_pct=made, to_mc_pct=now)
    return None if share is None else max(0.0, -share * crack.board_width_mm)


def mend_crack(crack: Crack) -> Advice:
    """What to do about a cracked side."""
    findings = tuple(_crack_findings(crack))
    stop = any(finding.level is Level.STOP for finding in findings)
    wood = crack.stage is Stage.CURED and crack.width_mm > CLOSED_MM
    shrunk = shrunk_mm(crack)
    frees = wood and crack.fixed and shrunk is not None and shrunk >= crack.width_mm
    method = "recut" if stop else "free it first" if frees else "add wood" if wood else "glue and close"
    figures = [
        Figure(what="crack, length", value=crack.length_mm, source="measured"),
        Figure(what="crack, width", value=crack.width_mm, source="measured"),
    ]
    if shrunk is not None:
        source = f"Wood Handbook FPL-GTR-190, Eq 4-5, 13-2 and 13-3, {crack.rings.value}-sawn"
        figures.append(Figure(what="the side has shrunk in its width by", value=shrunk, source=source))
    return Advice(
        trouble=f"a crack of {both(crack.width_mm)} over {both(crack.length_mm)} in a side, {crack.stage.value}",
        method=method,
        looks=(
            "A crack through a joint doesn't disappear in it."
            if stop
            else "Freed, it may close to a line that a glue joint hides."
            if frees
            else "A fine strip of its own grain along the crack; it darkens with the board over the years."
            if wood
            else "Glued before it is dirty, a clean crack can't be found again."
        ),
        glue="thin white PVA, liquid or hot hide glue worked in with a blade and suction; hide where it may be undone",
        steps=_crack_steps(crack, stop, wood, frees),
        cautions=(CLAMPS, CHISELS, GLUES, MAKERS_FIRST),
        figures=tuple(figures),
        findings=findings,
    )


def _crack_steps(crack: Crack, stop: bool, wood: bool, frees: bool) -> tuple[str, ...]:
    free = (
        "First free what holds the side across its grain (a glued bottom, a screwed batten, a runner): slot the "
        "screws, leave the glue on the front 75 mm or the middle alone. Else it breaks again, here or beside it.",
    )
    if stop:
        return (
            "Don't clamp it into a joint: the joint would have to hold the crack together for good.",
            "Make the side anew, from stock that has come to the room's air; look at the others for the same cause.",
        )
    if frees:
        return (
            *free,
            "The shrinkage explains the crack: once the side may move, its halves come together by themselves within "
            "days or weeks. Leave it until nothing changes any more.",
            "Then work glue in and close it by hand, without force, between flat cauls.",
            "What stays open gets a strip of the same board, not a clamp: pulled together it breaks elsewhere.",
        )
    if wood:
        return (
            *(free if crack.fixed else ()),
            "Don't pull it together: a board that shrank and is pulled together breaks elsewhere. Add wood instead.",
            "Wait until the air is as it mostly is in the room. In the driest weeks the crack is at its widest, and a "
            "strip fitted then is crushed in the damp ones.",
            "Open the crack to clean, straight sides with a thin saw or a knife; cut a strip of the same board, grain "
            "along it, tapered a little in its thickness.",
            "Glue ONE side of the strip only where the cause can't be taken away; both sides where it is.",
            "When it has cured pare and plane it flush, with the grain.",
        )
    start = {
        Stage.DRY: "Before anything else is glued: mend it now, while both sides of the crack are clean and free.",
        Stage.WET: "Take the clamp off that made it, and keep the joint's own glue going: mend the crack while the "
        "joint is still to be moved. A side that cracks as it is driven home has a joint too tight: ease it first.",
        Stage.CURED: "Nothing is wide open: it can be closed by hand.",
    }[crack.stage]
    return (
        *(free if crack.fixed else ()),
        start,
        "Work glue in: flex the crack, draw the glue in from behind with a vacuum or a finger, until "
        "it comes out at the end.",
        "Close it with flat cauls on both faces and light pressure across; wipe; leave it a day before it is stressed.",
        "Plane and look where it came from: a crack that starts at a pin says that the pin was too tight.",
    )


def _crack_findings(crack: Crack) -> Iterator[Finding]:
    place = Place(kind="cracked side")
    if crack.board_length_mm is None:
        yield not_checked(CRACK.check, place, "the side's length isn't given", "give --board-length")
    else:
        share = crack.length_mm / crack.board_length_mm
        level, limit = CRACK.judge(share)
        if level is not Level.OK:
            yield Finding(
                check=CRACK.check,
                level=level,
                place=place,
                message=f"the crack runs through {share:.0%} of the side",
                measured=round(share, 3),
                limit=limit,
                unit=CRACK.unit,
                fix="make the side anew"
                if level is Level.STOP
                else f"up to {both(crack.board_length_mm * 0.25)} it would pass; here mend all of it and look for its cause",
                source=CRACK.source,
            )
    if crack.stage is Stage.CURED and crack.fixed:
        shrunk = shrunk_mm(crack)
        known = "" if shrunk is None else f": it has shrunk by {both(shrunk)}, and the crack is {both(crack.width_mm)}"
        yield Finding(
            check="cross-grain",
            level=Level.WARN,
            place=place,
            message=f"the side is held across its grain and can't shrink{known}; pulled together it breaks elsewhere",
            measured=round(crack.width_mm, 4),
            limit=None if shrunk is None else round(shrunk, 4),
            unit="mm",
            fix="free it first, glued on 75 mm at most at the front, then add a strip",
            source=COMMON_PRACTICE,
        )
