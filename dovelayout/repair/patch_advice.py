"""What is said about patching a broken corner: the verdict, the figures, the steps. Common practice, no source, where a
figure isn't marked ours."""

from __future__ import annotations

import math
from collections.abc import Iterator

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level, not_checked
from dovelayout.checks.rule import Rule
from dovelayout.place import Place
from dovelayout.repair.patch import (
    FACE_OVER_MM,
    LONG_MM,
    OFFCUT_MM,
    OVER_MM,
    SEAM_CLEAR_MM,
    Patch,
)
from dovelayout.repair.repair import CA, CHISELS, CLAMPS, GLUES, MAKERS_FIRST, Advice, Figure, both
from dovelayout.wood.species import Wood, WoodKind

PATCH_SHARE = Rule(
    check="patch-size",
    measures="how far the patch reaches in, as a share of the board's width",
    unit="share",
    warn=1 / 3,
    stop=1 / 2,
    below=False,
)
RING_TURN = Rule(
    check="patch-seam",
    measures="angle between the seam on the end and the rings",
    unit="degrees",
    note=0.0,
    below=False,
)
RULES = (PATCH_SHARE, RING_TURN)
FROM_GEOMETRY = "worked out from the break; allowances: ours"

STEPS = (
    "If the chip is there, keep it: glued back the same hour, clamped over paper and pared, it is invisible in a "
    "brittle wood, and nothing below is needed.",
    "Fold the template over the corner: the corner of the paper on the corner of the board. Prick and knife the seam "
    "on every face that shows it.",
    "Saw in the hatching and pare down to the lines, to one flat face: a straightedge laid any way shows no light.",
    "Look for an offcut of the same board: rings at the same angle on its end, grain rising the same "
    "way, the same side out.",
    "Saw the patch as drawn, with its arrow along the grain, and plane its seam face flat. It stands over all round.",
    "Rub the joint together dry with pencil on one face, and pare where it marks, until it marks all over.",
    "Glue with white PVA or liquid hide; hold it with tape and a light clamp over paper and a caul cut to the slope, "
    "so that it can't creep along the seam.",
    "When the glue has cured, not before, saw off what is too long, pare and plane flush TOWARDS the board, so that no "
    "edge is lifted; the end last, with a block behind it.",
    "Knife the joint's lines anew across the patch from the template before anything is cut in it.",
)


def patch_advice(
    patch: Patch,
    wood: Wood,
    *,
    board_width_mm: float | None = None,
    rings_given: bool = True,
    hand: str = "left",
    cut_away: bool = False,
) -> Advice:
    """What to do about a broken corner, with the size of offcut to look for; `cut_away`: the joint takes that wood anyway."""
    lost = patch.lost
    return Advice(
        trouble=f"a corner broken off, {hand} as seen from outside with the end up: {both(lost.width_mm)} along the "
        f"end, {both(lost.length_mm)} along the edge, {both(lost.depth_mm)} deep, in {wood.name}",
        method="leave it: the joint takes it" if cut_away else "patch",
        looks="Nothing shows: the wood that broke goes with the joint's waste."
        if cut_away
        else _looks(patch, rings_given),
        glue="white PVA or liquid hide; a short-grain corner that has only cracked: thin CA or white PVA the same "
        "hour, before the fibres have shifted",
        steps=CUT_AWAY_STEPS if cut_away else STEPS,
        cautions=(CHISELS, MAKERS_FIRST) if cut_away else (CHISELS, GLUES, CA, CLAMPS, MAKERS_FIRST),
        figures=tuple(_figures(patch)),
        findings=() if cut_away else tuple(_findings(patch, wood, board_width_mm, rings_given)),
    )


CUT_AWAY_STEPS = (
    "Look whether a crack runs on from the break, past the joint's lines: a drop of spirit shows it. If it does, glue it.",
    "Else saw the joint as laid out: what broke is waste, on every face of the template.",
)


def _turn_deg(patch: Patch) -> float:
    """Angle between the seam on the end and the rings."""
    return round(abs(math.remainder(patch.seam_deg - patch.ring_deg, 180.0)), 6)


def _looks(patch: Patch, rings_given: bool) -> str:
    if not rings_given:
        end = "a line square to the face"
    elif _turn_deg(patch) > 0:
        end = "a line across the rings, which shows from near by"
    else:
        end = "a line that runs with the rings and is lost between them"
    return (
        f"On the face a fine line that follows the fibres or leaves them slowly; on the end {end}. A patch from "
        "another board shows by its colour, more so with years."
    )


def _figures(patch: Patch) -> Iterator[Figure]:
    along, across, thick = patch.offcut_mm
    rows = [
        ("seam on the end, from the edge: outside face", patch.reach_mm(0.0)),
        ("seam on the end, from the edge: inside face", patch.reach_mm(patch.thickness_mm)),
        ("seam along the edge, from the end: outside face", patch.length_mm(0.0)),
        ("seam along the edge, from the end: inside face", patch.length_mm(patch.thickness_mm)),
        ("offcut, at least: along the grain", along),
        ("offcut, at least: across the grain", across),
        ("offcut, at least: thick", thick),
    ]
    for what, value in rows:
        if value > 0:
            yield Figure(what=what, value=value, source=FROM_GEOMETRY)
    yield Figure(
        what="seam to the outside face, on the end", value=patch.seam_deg, unit="degrees", source=FROM_GEOMETRY
    )
    for what, value in (
        ("cut keeps from the break by", SEAM_CLEAR_MM),
        ("patch stands over the edge by", OVER_MM),
        ("patch stands over either face by", FACE_OVER_MM),
        ("patch is longer at the end by", LONG_MM),
        ("for sawing and planing, in length and width", OFFCUT_MM),
    ):
        yield Figure(what=what, value=value, source="ours")


def _findings(patch: Patch, wood: Wood, board_width_mm: float | None, rings_given: bool) -> Iterator[Finding]:
    place = Place(kind="broken corner")
    if wood.kind is WoodKind.PLYWOOD:
        yield Finding(
            check="patch-wood",
            level=Level.STOP,
            place=place,
            message="a patch in plywood can't be planed flush without going through the face veneer",
            fix="cut the board back behind the break and recut, or make a new part",
            source=COMMON_PRACTICE,
        )
    if board_width_mm is None:
        yield not_checked(
            PATCH_SHARE.check,
            place,
            "the board's width isn't given",
            "give --board-width, or measure it against the patch",
        )
    else:
        yield from _share(patch, board_width_mm, place)
    if not rings_given:
        yield not_checked(
            RING_TURN.check,
            place,
            "the rings' angle on the end isn't given, so the seam is square to the face",
            "lay a bevel along the rings on the end and give --grain-angle",
        )
        return
    turn_deg = _turn_deg(patch)
    level, limit = RING_TURN.judge(turn_deg)
    if level is not Level.OK:
        yield Finding(
            check=RING_TURN.check,
            level=level,
            place=place,
            message=f"rings at {patch.ring_deg:g}° lie too flat to be followed by a patch of this size: the seam "
            "crosses them, and shows on the end as a fine line",
            measured=round(turn_deg, 1),
            limit=limit,
            unit=RING_TURN.unit,
            fix="show this end least: inside, below or behind",
            source=RING_TURN.source,
        )


def _share(patch: Patch, board_width_mm: float, place: Place) -> Iterator[Finding]:
    share = patch.widest_mm / board_width_mm
    level, limit = PATCH_SHARE.judge(share)
    if level is Level.OK:
        return
    stop = level is Level.STOP
    wide_mm = patch.widest_mm / PATCH_SHARE.warn if PATCH_SHARE.warn else 0.0
    yield Finding(
        check=PATCH_SHARE.check,
        level=level,
        place=place,
        message=f"the patch takes {share:.0%} of the board's width"
        + (": that is a new end, not a patch" if stop else ", and the joint will be cut in it"),
        measured=round(share, 3),
        limit=limit,
        unit=PATCH_SHARE.unit,
        fix=(
            "cut the board off behind the break and recut the joint, or half-lap a new end of the same board onto it"
            if stop
            else f"in a board of {both(wide_mm)} it would pass; here have the offcut match in colour and rings before sawing"
        ),
        source=PATCH_SHARE.source,
    )
