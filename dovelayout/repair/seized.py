"""A sliding joint that seized on its way home.

What to do is common practice, no source; figures marked ours are ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level
from dovelayout.checks.rule import Rule
from dovelayout.place import Place
from dovelayout.repair.repair import CHISELS, CLAMPS, GLUES, MAKERS_FIRST, Advice, Figure, both
from dovelayout.wood.glue import Glue

TRIM_MM = 2.0
"""So near to home a key is left where it is and its front trimmed: ours."""
JOINTED_MM = 0.5
"""What planing the strip's sawn edge for glueing takes: ours."""
TAPER_NEXT = "1:320"
"""The taper that lets the next one go home (0.8 mm in 250): common practice, no source."""

LEFT_OUT = Rule(
    check="seized-key",
    measures="how far the key stopped from home",
    unit="mm",
    note=0.0,
    warn=TRIM_MM,
    below=False,
)
RULES = (LEFT_OUT,)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeizedKey:
    """A key that stopped on its way into its housing; `stopped`: the housing is closed at its front."""

    length_mm: float
    from_home_mm: float
    glue: Glue
    tapered: bool = False
    stopped: bool = False
    kerf_mm: float = 1.0
    glue_set: bool = False


def mend_slide(key: SeizedKey) -> Advice:
    """What to do about a sliding joint that went part of the way and stopped."""
    stays = key.from_home_mm <= TRIM_MM + 1e-9
    no_way = key.stopped and not stays and key.glue_set and not key.glue.reversible
    strip_mm = max(0.0, key.from_home_mm - key.kerf_mm - JOINTED_MM)
    if stays:
        method = "trim it where it is"
    elif no_way:
        method = "recut"
    elif key.glue_set and key.stopped:
        method = "undo the glue and get it out"
    elif key.glue_set:
        method = "saw off and re-enter from the other edge"
    else:
        method = "get it moving or get it out"
    return Advice(
        trouble=f"a sliding key of {both(key.length_mm)} stopped {both(key.from_home_mm)} from home, glue: {key.glue.name}",
        method=method,
        looks=_slide_looks(stays, no_way),
        glue=(
            "liquid hide or slow epoxy on the new key's front alone"
            if no_way or key.stopped
            else "white PVA or liquid hide on the edge joint of the strip; dry, or glue on its front alone, in the housing"
        ),
        steps=_slide_steps(key, stays, no_way, strip_mm),
        cautions=(CHISELS, CLAMPS, GLUES, *(f"{key.glue.name}: {line}" for line in key.glue.cautions), MAKERS_FIRST),
        figures=tuple(_slide_figures(key, stays, strip_mm)),
        findings=tuple(_slide_findings(key, no_way)),
    )


def _slide_looks(stays: bool, no_way: bool) -> str:
    if stays:
        return "Nothing shows once the front is trimmed flush."
    if no_way:
        return "The piece that was sawn off has no way back in: a filler there would show as one."
    return (
        "An edge joint across the key where the strip was sawn off: with the strip's own grain in line it shows as a "
        "fine line, and not at all at a back edge that nobody sees."
    )


def _slide_figures(key: SeizedKey, stays: bool, strip_mm: float) -> Iterator[Figure]:
    yield Figure(what="key, length", value=key.length_mm, source="measured")
    yield Figure(what="stopped from home by", value=key.from_home_mm, source="measured")
    minutes = key.glue.closed_minutes[0]
    yield Figure(
        what="time to get it moving, from the first glue", value=minutes, unit="minutes", source=COMMON_PRACTICE
    )
    if not stays and not key.stopped:
        yield Figure(what="housing left empty at the front", value=key.from_home_mm, source="measured")
        yield Figure(what="strip left for it, after sawing and planing its edge", value=strip_mm, source="ours")
        yield Figure(what="strip is short by", value=key.from_home_mm - strip_mm, source="ours")


def _slide_steps(key: SeizedKey, stays: bool, no_way: bool, strip_mm: float) -> tuple[str, ...]:
    early = (
        "Don't stop: a water glue swells the cheeks the moment it rests. A clamp at either side of the joint and a "
        "hammer on a block in turns, both clamps followed up at every blow.",
        f"It hasn't moved within {key.glue.closed_minutes[0]:g} minutes of the first glue: get it out the way it came, "
        "while it still goes, with a block and a mallet"
        + (
            "; a tapered key comes loose at the first blow."
            if key.tapered
            else ". Spread clamps push harder than a hammer."
        ),
        "Out again: wipe it, let both dry for a day, ease the cheeks with a shaving or two, and glue the front alone "
        "with a slippery glue (liquid hide, slow epoxy, polyurethane).",
    )
    heat = (
        ("Hide glue lets go again: warm it with a hot iron over a damp cloth and water, and drive the key out.",)
        if key.glue.reversible
        else ()
    )
    if stays:
        return (
            "It is home for all purposes: let it set.",
            "When the glue has cured, plane the key flush at the back and trim or fill what shows at the front.",
        )
    if no_way:
        return (
            "The housing is closed at its front, the key is fast and the glue doesn't let go: the piece that is sawn "
            "off has no way in. Cutting the stop open and patching it would show at the front.",
            "Saw the key off along the host, chop the tongue out of its housing in short pieces, and make a new, "
            "tapered key; or a new host, if its cheeks suffer.",
        )
    later = (
        "Let it set: what is in holds.",
        f"Saw off the {both(key.from_home_mm)} that stand out, square along the host's edge, and keep "
        "them: this is the strip.",
        "Plane the strip's sawn edge straight. Ease its tongue until it slides by hand"
        + (": it comes from the wide end of the taper and goes in at the narrow one." if key.tapered else "."),
        f"Re-enter the strip from the other, open edge of the housing, and edge-glue it to the key. It is "
        f"{both(strip_mm)} wide, so a little short: let its edge stay back, or lip it where it shows.",
        f"Next time a taper of {TAPER_NEXT} on one cheek, or glue on the front alone: it is then "
        "loose until the last of its way.",
    )
    if key.glue_set:
        return (*heat, *later) if not key.stopped else (*heat, *early[2:])
    if key.stopped:
        return (*early, "If it sets first there is no way back in: the housing is closed at its front.")
    return (*early, "If it sets first, let it: what is in holds.", *later[1:])


def _slide_findings(key: SeizedKey, no_way: bool) -> Iterator[Finding]:
    level, limit = LEFT_OUT.judge(key.from_home_mm)
    if no_way:
        level = Level.STOP
    if level is Level.OK:
        return
    yield Finding(
        check=LEFT_OUT.check,
        level=level,
        place=Place(kind="sliding joint"),
        message={
            Level.STOP: "the key is fast, its glue doesn't let go again, and the housing is closed at the other end",
            Level.WARN: "the key stopped on its way"
            + ("" if key.stopped else ": what is out has to come in from the other edge"),
        }.get(level, "the key stopped just short of home: it is trimmed where it is"),
        measured=round(key.from_home_mm, 4),
        limit=limit,
        unit=LEFT_OUT.unit,
        fix={
            Level.STOP: f"chop it out and make a new key with a taper of {TAPER_NEXT} on one cheek",
            Level.WARN: "get it out while the glue lets it go"
            if key.stopped
            else f"saw off {key.from_home_mm:g} mm, re-enter it from the other edge and edge-glue it",
        }.get(level, f"plane {key.from_home_mm:g} mm off the key's back edge"),
        source=LEFT_OUT.source,
    )
