"""A snapped pin, end grain torn out at a baseline, a split tail, a cracked socket: what goes in, and where its cuts go.

x runs across the part, y from the baseline into the board, z from the outside face into its thickness. A new pin has the
section of the old one and stands in a notch that goes on along the old pin's cheeks below the baseline, so that it can only
go in from the wide side. A patch at a baseline is let into a face; it ends in a point, as seams askew to the grain show less
than square ones. What is said stands in `data/broken.toml`; common practice, no source, where a figure isn't marked ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level, worst_level
from dovelayout.checks.rule import rule
from dovelayout.joints.board import Board, End
from dovelayout.place import Place
from dovelayout.repair.advice import MEASURED, Advice, RepairFigure, both, cautions, figures
from dovelayout.repair.cracked import CLOSED_MM, CrackStage
from dovelayout.repair.patch import FACE_OVER_MM, LONG_MM, OVER_MM, SEAM_CLEAR_MM
from dovelayout.texts import Texts
from dovelayout.wood.species import Wood, WoodKind

TEXTS = Texts("repair", "broken")
RULE_WORDS = Texts("repair", "rules")

CLEAR_OF_CUTOUT_MM = 3.0
"""Wood that is left between a new pin's root and a cut-out: ours."""

ROOTED = rule("new-pin", unit="share", warn=1.0, stop=0.5, source=OURS, **RULE_WORDS.table("rooted"))
LOST = rule("new-pin", unit="pins", warn=1.0, stop=2.0, below=False, source=OURS, **RULE_WORDS.table("lost_pins"))
LET_IN = rule(
    "baseline-patch", unit="share", warn=1 / 3, stop=1 / 2, below=False, source=OURS, **RULE_WORDS.table("let_in")
)
NO_PLY = rule("baseline-patch", source=COMMON_PRACTICE, **RULE_WORDS.table("no_ply"))
SPLIT = rule("split-length", unit="share", warn=1.0, stop=3.0, below=False, source=OURS, **RULE_WORDS.table("split"))


class BrokenPart(StrEnum):
    """What broke: of a dovetail the parts that `repair broken` mends."""

    PIN = "pin"
    TAIL = "tail"
    SOCKET = "socket"
    BASELINE = "baseline"


@dataclass(frozen=True, slots=True, kw_only=True)
class SnappedPin:
    """A pin that broke off at its root, mm: `narrow_mm` on the outside face, `wide_mm` on the inside, `length_mm` from its
    end to the baseline, in a board `thickness_mm` thick. `half`: one side of it is the board's edge. `room_mm`: how far
    below the baseline its board is whole (None: not known); `grooved`: a groove runs there. `lost`: pins that broke."""

    narrow_mm: float
    wide_mm: float
    length_mm: float
    thickness_mm: float
    wood: Wood | None = None
    half: bool = False
    room_mm: float | None = None
    grooved: bool = False
    lost: int = 1

    @property
    def root_mm(self) -> float:
        """How far the new pin goes in below the baseline: as far as it is long, less where a cut-out is in the way."""
        room_mm = self.length_mm if self.room_mm is None else self.room_mm - CLEAR_OF_CUTOUT_MM
        return max(0.0, min(self.length_mm, room_mm))

    def section(self, over_mm: float = 0.0) -> tuple[tuple[float, float], ...]:
        """Its end in (x, z), around its middle, or from the board's edge for a half pin; `over_mm` beyond either face."""
        lean = (self.wide_mm - self.narrow_mm) / self.thickness_mm
        narrow, wide = self.narrow_mm - lean * over_mm, self.wide_mm + lean * over_mm
        top, bottom = -over_mm, self.thickness_mm + over_mm
        if self.half:
            return (0.0, top), (narrow, top), (wide, bottom), (0.0, bottom)
        return (-narrow / 2, top), (narrow / 2, top), (wide / 2, bottom), (-wide / 2, bottom)

    @property
    def blank_mm(self) -> tuple[float, float, float]:
        """Smallest offcut for it: along the grain, across, thick."""
        wide_mm = max(x for x, _ in self.section(FACE_OVER_MM)) - min(x for x, _ in self.section(FACE_OVER_MM))
        return self.root_mm + self.length_mm + LONG_MM, wide_mm, self.thickness_mm + 2 * FACE_OVER_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class TornBaseline:
    """End grain torn out between two tails so that it shows on a face, mm: the socket's width at the baseline, how far
    below the line, and how deep from the face into a board `thickness_mm` thick."""

    socket_mm: float
    below_mm: float
    into_mm: float
    thickness_mm: float
    wood: Wood | None = None

    @property
    def patch_into_mm(self) -> float:
        """How deep the patch is let in."""
        return min(self.into_mm + SEAM_CLEAR_MM, self.thickness_mm)

    @property
    def outline(self) -> tuple[tuple[float, float], ...]:
        """The patch in (x, y): as wide as the socket, square sides, and a point of 90 degrees along the grain."""
        side, half = self.below_mm + SEAM_CLEAR_MM, self.socket_mm / 2
        return (-half, 0.0), (half, 0.0), (half, side), (0.0, side + half), (-half, side)

    @property
    def deep_mm(self) -> float:
        """How far below the baseline its point lies."""
        return max(y for _, y in self.outline)


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A crack in a tail, or from a socket along a front: `whole_mm` is the tail's length, or the front's (None: unknown)."""

    length_mm: float
    width_mm: float
    stage: CrackStage
    whole_mm: float | None = None


def room_below(board: Board, end: End, across_mm: tuple[float, float], baseline_mm: float) -> float | None:
    """How far below a joint's baseline a board is whole between two places of its width; None: as far as it goes.

    A cut-out that lies there ends it, whatever its depth.
    """
    starts = []
    for cutout in board.cutouts:
        far_mm = cutout.from_end_mm + cutout.length_mm
        from_here_mm = cutout.from_end_mm if cutout.end is end else board.length_mm - far_mm
        meets = cutout.from_edge_mm < across_mm[1] and cutout.from_edge_mm + cutout.width_mm > across_mm[0]
        if meets and from_here_mm + cutout.length_mm > baseline_mm:
            starts.append(max(0.0, from_here_mm - baseline_mm))
    return min(starts, default=None)


def mend_pin(pin: SnappedPin) -> Advice:
    """What to do about a pin that snapped off."""
    findings = tuple(_pin_findings(pin))
    recut = worst_level(findings) is Level.STOP
    sizes = {"root": both(round(pin.root_mm, 1)), "long": both(LONG_MM), "face": both(FACE_OVER_MM)}
    return Advice(
        trouble=TEXTS("pin.trouble", narrow=both(pin.narrow_mm), length=both(pin.length_mm)),
        method="recut" if recut else "a new pin",
        looks=TEXTS("recut.looks" if recut else "pin.looks"),
        glue=TEXTS("recut.glue" if recut else "pin.glue"),
        steps=TEXTS.rows("recut.steps") if recut else TEXTS.rows("pin.steps", **sizes),
        cautions=cautions("chisels", "glues", "ca", "clamps"),
        figures=tuple(_pin_figures(pin)),
        findings=findings,
    )


def _pin_figures(pin: SnappedPin) -> Iterator[RepairFigure]:
    rows = {"pin, outside face": pin.narrow_mm, "pin, inside face": pin.wide_mm, "pin, long": pin.length_mm}
    yield from figures(MEASURED, rows)
    along, across, thick = pin.blank_mm
    yield from figures(OURS, {"new pin goes in below the baseline by": pin.root_mm})
    rows = {"along the grain": along, "across the grain": across, "thick": thick}
    yield from figures("worked out; allowances: ours", {f"offcut, at least: {what}": mm for what, mm in rows.items()})


def _pin_findings(pin: SnappedPin) -> Iterator[Finding]:
    place = Place(kind="board", part="pin")
    if pin.wood is not None and pin.wood.kind is WoodKind.PLYWOOD:
        yield NO_PLY.said(Level.STOP, place, **TEXTS.finding("plywood"))
    if breach := ROOTED.breach(pin.root_mm / pin.length_mm):
        sizes = {"root": both(round(pin.root_mm, 1)), "length": both(pin.length_mm)}
        yield breach.finding(place, **TEXTS.finding(f"rooted_{breach.level}", **sizes))
    if breach := LOST.breach(float(pin.lost)):
        yield breach.finding(place, **TEXTS.finding(f"lost_{breach.level}", lost=pin.lost))
    if pin.grooved:
        yield ROOTED.said(Level.NOTE, place.within("groove"), **TEXTS.finding("grooved"))


def mend_baseline(torn: TornBaseline) -> Advice:
    """What to do about end grain that tore out below a baseline, where it shows on a face."""
    findings = tuple(_baseline_findings(torn))
    recut = worst_level(findings) is Level.STOP
    sizes = {"into": both(round(torn.patch_into_mm, 2)), "over": both(OVER_MM), "face": both(FACE_OVER_MM)}
    return Advice(
        trouble=TEXTS("baseline.trouble", below=both(torn.below_mm), socket=both(torn.socket_mm)),
        method="leave it" if recut else "patch",
        looks=TEXTS("baseline.looks_left" if recut else "baseline.looks"),
        glue=TEXTS("baseline.glue"),
        steps=TEXTS.rows("baseline.steps_left") if recut else TEXTS.rows("baseline.steps", **sizes),
        cautions=cautions("chisels", "glues", "clamps"),
        figures=tuple(_baseline_figures(torn)),
        findings=findings,
    )


def _baseline_figures(torn: TornBaseline) -> Iterator[RepairFigure]:
    rows = {"socket at the baseline": torn.socket_mm, "torn below the line": torn.below_mm, "torn in": torn.into_mm}
    yield from figures(MEASURED, rows)
    rows = {
        "patch, wide": torn.socket_mm,
        "patch, straight sides below the line": torn.below_mm + SEAM_CLEAR_MM,
        "patch, its point below the line": torn.deep_mm,
        "patch, let in": torn.patch_into_mm,
        "patch, sawn thick": torn.patch_into_mm + FACE_OVER_MM,
    }
    yield from figures("worked out; allowances: ours", rows)


def _baseline_findings(torn: TornBaseline) -> Iterator[Finding]:
    place = Place(kind="board", part="baseline")
    if torn.wood is not None and torn.wood.kind is WoodKind.PLYWOOD:
        yield NO_PLY.said(Level.STOP, place, **TEXTS.finding("plywood"))
    if breach := LET_IN.breach(torn.patch_into_mm / torn.thickness_mm):
        yield breach.finding(place, **TEXTS.finding(f"let_in_{breach.level}", share=breach.measured))


def mend_split(split: Split, part: BrokenPart) -> Advice:
    """What to do about a split tail, or a front that cracked at a socket."""
    findings = tuple(_split_findings(split, part))
    recut = worst_level(findings) is Level.STOP
    opened = split.stage is CrackStage.CURED and split.width_mm > CLOSED_MM
    way = "recut" if recut else f"{part}.open" if opened else part.value
    stage = () if recut or opened else TEXTS.rows(f"{part}.steps_{split.stage}")
    return Advice(
        trouble=TEXTS(f"{part}.trouble", length=both(split.length_mm), width=both(split.width_mm)),
        method="recut" if recut else "a sliver" if opened else "glue and close",
        looks=TEXTS(f"{way}.looks"),
        glue=TEXTS(f"{way}.glue"),
        steps=(
            *stage,
            *(TEXTS.rows(f"{way}.steps", kerf=both(split.width_mm)) if opened else TEXTS.rows(f"{way}.steps")),
        ),
        cautions=cautions("clamps", "chisels", "glues", "ca"),
        figures=tuple(figures(MEASURED, {"split, length": split.length_mm, "split, width": split.width_mm})),
        findings=findings,
    )


def _split_findings(split: Split, part: BrokenPart) -> Iterator[Finding]:
    place = Place(kind="board", part=part.value)
    if split.whole_mm is None:
        yield SPLIT.not_checked(place, **TEXTS.unchecked(f"{part}_length"))
    elif part is BrokenPart.TAIL and (breach := SPLIT.breach(split.length_mm / split.whole_mm)):
        past = both(round(split.length_mm - split.whole_mm, 2))
        yield breach.finding(place, **TEXTS.finding(f"split_{breach.level}", past=past))
    elif part is BrokenPart.SOCKET and split.length_mm > split.whole_mm / 2:
        yield SPLIT.said(Level.STOP, place, **TEXTS.finding("socket_stop"))
