"""A dovetailed corner that is loose at every cheek, and a shelf or key that is loose in its housing.

What to do is common practice, no source, and stands in `data/loose.toml`; figures marked ours are ours. A cheek's gap is
parallel and a wedge isn't: the pin's cheek is pared to the wedge's taper first, so that glue and wood touch over the whole
depth.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.rule import rule
from dovelayout.everyday import PAPER_MM
from dovelayout.joints.slope import Slope
from dovelayout.place import Place
from dovelayout.repair.advice import MEASURED, Advice, RepairFigure, both, cautions, figures
from dovelayout.repair.gap import HANDLE_MM, LEAVE_MM, LONGER_MM, PATCH_MM, PATCH_OVER_MM, SLIVER_MM, WEDGE_RATIO, Slip
from dovelayout.texts import Texts
from dovelayout.wood.glue import Glue

TEXTS = Texts("repair", "loose")
RULE_WORDS = Texts("repair", "rules")

WEDGED_MM = 0.8
"""Up to this at a cheek a joint that carries nothing is wedged: common practice, no source."""

WEDGED = rule(
    "loose-joint",
    unit="mm",
    note=LEAVE_MM,
    warn=WEDGED_MM / 2,
    stop=WEDGED_MM,
    below=False,
    source=f"{COMMON_PRACTICE}; the warning: {OURS}",
    **RULE_WORDS.table("wedged"),
)
CARRIES = rule(
    "loose-joint", unit="mm", stop=LEAVE_MM, below=False, source=COMMON_PRACTICE, **RULE_WORDS.table("carries")
)
SHIM = rule(
    "loose-housing", unit="mm", warn=SLIVER_MM, stop=PATCH_MM, below=False, source=OURS, **RULE_WORDS.table("shim")
)


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseCorner:
    """A corner with a gap of this width at every one of its `cheeks`; `depth_mm` how far a gap goes in, `length_mm` how
    long it is at the surface; `carries`: weight or a daily pull hangs on it."""

    gap_mm: float
    depth_mm: float | None = None
    length_mm: float | None = None
    cheeks: int | None = None
    carries: bool = False
    glue: Glue | None = None

    @property
    def rule_broken(self) -> bool:
        """Whether no wedge holds it."""
        breach = (CARRIES if self.carries else WEDGED).breach(self.gap_mm)
        return breach is not None and breach.level is Level.STOP

    @property
    def wedge(self) -> Slip | None:
        """The wedge for one cheek; None where none goes in, or the sizes aren't known."""
        if self.rule_broken or self.gap_mm <= LEAVE_MM + 1e-9 or self.depth_mm is None or self.length_mm is None:
            return None
        return Slip(
            tip_mm=self.gap_mm,
            mouth_mm=self.gap_mm + self.depth_mm / WEDGE_RATIO,
            head_mm=self.gap_mm + (self.depth_mm + HANDLE_MM) / WEDGE_RATIO,
            depth_mm=self.depth_mm,
            length_mm=self.length_mm + LONGER_MM,
        )


def mend_corner(corner: LooseCorner) -> Advice:
    """What to do about a corner that is loose all over."""
    if corner.rule_broken:
        method, way = "recut", "recut"
    elif corner.gap_mm <= LEAVE_MM + 1e-9:
        method, way = "glue that fills", "fill"
    else:
        method, way = "wedges", "wedge"
    count = TEXTS("all_cheeks") if corner.cheeks is None else TEXTS("cheeks", cheeks=corner.cheeks)
    pared = "" if corner.depth_mm is None else both(round(corner.depth_mm / WEDGE_RATIO, 2))
    values = {"pared": pared or TEXTS("a_sixtieth"), "count": count, "ratio": WEDGE_RATIO}
    wanted = {"chisels": way != "fill", "clamps": way != "recut", "glues": True}
    return Advice(
        trouble=TEXTS("trouble", gap=both(corner.gap_mm), count=count),
        method=method,
        looks=TEXTS(f"looks.{way}"),
        glue=TEXTS(f"glue.{way}"),
        steps=TEXTS.rows(f"steps.{way}", **values),
        cautions=cautions(*(name for name, needed in wanted.items() if needed), glue=corner.glue),
        figures=tuple(_corner_figures(corner)),
        findings=tuple(_corner_findings(corner)),
    )


def _corner_figures(corner: LooseCorner) -> Iterator[RepairFigure]:
    yield from figures(MEASURED, {"gap at one cheek": corner.gap_mm})
    yield from figures("twice the gap at a cheek", {"play of a tail in its socket": 2 * corner.gap_mm})
    if corner.cheeks is not None:
        yield RepairFigure(what="cheeks", value=corner.cheeks, unit="cheeks", source="the corner's layout")
    if (wedge := corner.wedge) is not None:
        rows = {
            "wedge, thick at its inner end": wedge.tip_mm,
            "wedge, thick at the surface": wedge.mouth_mm,
            "wedge, thick at the head": wedge.head_mm,
            "wedge, deep in the gap": wedge.depth_mm,
            "wedge, long": wedge.length_mm,
            "pared off the pin's cheek at the surface, to nothing at the floor": wedge.mouth_mm - wedge.tip_mm,
        }
        yield from figures(OURS, rows)


def _corner_findings(corner: LooseCorner) -> Iterator[Finding]:
    place = Place(kind="joint", part="every cheek")
    if breach := (CARRIES if corner.carries else WEDGED).breach(corner.gap_mm):
        key = "carries" if corner.carries else f"wedged_{breach.level}"
        yield breach.finding(place, **TEXTS.finding(key, gap=both(corner.gap_mm)))
        if breach.level is Level.STOP:
            return
    if corner.gap_mm > LEAVE_MM + 1e-9 and corner.wedge is None:
        yield WEDGED.not_checked(place, **TEXTS.unchecked("no_sizes"))
    if corner.glue is not None and corner.gap_mm <= LEAVE_MM and corner.glue.gap_mm < corner.gap_mm:
        yield WEDGED.said(
            Level.WARN, place.within(corner.glue.name), **TEXTS.finding("thin_glue", gap=both(corner.gap_mm))
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class LooseKey:
    """A shelf or key with a gap of this width beside it in its housing; `slope`: of the cheek where it is (None: square);
    `taper_ratio` n of a taper 1:n, and `room_mm` how far it can still go in."""

    gap_mm: float
    depth_mm: float
    length_mm: float
    slope: Slope | None = None
    taper_ratio: float | None = None
    room_mm: float = 0.0

    @property
    def travel_mm(self) -> float | None:
        """How far a tapered key goes in until it is tight again; None: it isn't tapered."""
        return None if self.taper_ratio is None else self.gap_mm * self.taper_ratio

    @property
    def driven(self) -> bool:
        """Whether it gets tight again by itself, further in."""
        return self.travel_mm is not None and self.travel_mm <= self.room_mm + 1e-9

    @property
    def shim_wide_mm(self) -> float:
        """Width of a shim that lines the whole cheek."""
        return self.depth_mm * (1.0 if self.slope is None else math.sqrt(1 + 1 / self.slope.ratio**2))

    @property
    def way(self) -> str:
        """What is done about it."""
        if self.gap_mm <= PAPER_MM + 1e-9:
            return "leave"
        if self.driven:
            return "drive"
        breach = SHIM.breach(self.gap_mm)
        return "new" if breach is not None and breach.level is Level.STOP else "shim"


def mend_key(key: LooseKey) -> Advice:
    """What to do about a shelf or key that is loose in its housing."""
    methods = {"leave": "leave it", "drive": "drive it further in", "shim": "shim", "new": "recut"}
    travel = "" if key.travel_mm is None else both(round(key.travel_mm, 1))
    return Advice(
        trouble=TEXTS("key_trouble", gap=both(key.gap_mm)),
        method=methods[key.way],
        looks=TEXTS(f"key_looks.{key.way}"),
        glue=TEXTS(f"key_glue.{key.way}"),
        steps=TEXTS.rows(f"key_steps.{key.way}", travel=travel, sawn=both(key.gap_mm + PATCH_OVER_MM)),
        cautions=cautions("chisels", "glues") if key.way in ("shim", "new") else cautions("clamps"),
        figures=tuple(_key_figures(key)),
        findings=tuple(_key_findings(key)),
    )


def _key_figures(key: LooseKey) -> Iterator[RepairFigure]:
    yield from figures(MEASURED, {"gap beside the key": key.gap_mm, "housing, length": key.length_mm})
    if key.travel_mm is not None:
        yield from figures("the gap times the taper", {"further in until it is tight": key.travel_mm})
    if key.way == "shim":
        rows = {"shim, thick when it slides in": key.gap_mm, "shim, sawn": key.gap_mm + PATCH_OVER_MM}
        yield from figures(OURS, rows | {"shim, wide": key.shim_wide_mm, "shim, long": key.length_mm})


def _key_findings(key: LooseKey) -> Iterator[Finding]:
    place = Place(kind="housing")
    if key.way not in ("leave", "drive") and (breach := SHIM.breach(key.gap_mm)):
        yield breach.finding(place, **TEXTS.finding(f"shim_{breach.level}", gap=both(key.gap_mm)))
