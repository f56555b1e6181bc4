"""A cupped side, a split bottom, and a panel that was held and cracked: what is planed, let in or set free.

What to do is common practice, no source, and stands in `data/panel.toml`; figures marked ours are ours. Movement comes from
the models that drawers and panels are worked out by.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.casework.drawer.measures import OVERHANG_MM
from dovelayout.checks.finding import OURS, Finding, Level
from dovelayout.checks.movement.panels import HOLD
from dovelayout.checks.rule import rule
from dovelayout.place import Place
from dovelayout.repair.advice import MEASURED, Advice, RepairFigure, both, cautions, figures
from dovelayout.repair.cracked import CLOSED_MM
from dovelayout.texts import Texts

TEXTS = Texts("repair", "panel")
RULE_WORDS = Texts("repair", "rules")

LEAST_STRIP_MM = 20.0
"""A narrower strip splits along its screw: where less is missing, the old edge is planed back for it. Ours."""

PLANED = rule(
    "cupped-side", unit="share", warn=1 / 8, stop=1 / 4, below=False, source=OURS, **RULE_WORDS.table("planed")
)


class PanelTrouble(StrEnum):
    """What is wrong: a side that cupped, a bottom that split, a panel that was held across its grain."""

    CUPPED = "cupped"
    SPLIT = "split"
    HELD = "held"


@dataclass(frozen=True, slots=True, kw_only=True)
class CuppedSide:
    """A side that is hollow by so much over its width, mm; `play_mm` is the air beside it in the dampest month."""

    hollow_mm: float
    width_mm: float
    thickness_mm: float
    play_mm: float = 0.0
    inward: bool = False

    @property
    def planed_mm(self) -> float:
        """What is planed off the outside, where it stands out most; 0 where it has room."""
        return 0.0 if self.inward else max(0.0, self.hollow_mm - max(0.0, self.play_mm))

    @property
    def radius_mm(self) -> float:
        """Radius of the hollow: a chord and its height."""
        return self.width_mm**2 / (8 * self.hollow_mm) + self.hollow_mm / 2


@dataclass(frozen=True, slots=True, kw_only=True)
class SplitBottom:
    """A bottom with a crack from side to side, mm: its width, how far the bottom reaches past the back now (below 0: short
    of it), and the bottom's length from side to side and thickness. `slot_mm`: the slot for its screw (None: not known)."""

    crack_mm: float
    overhang_mm: float
    length_mm: float
    thickness_mm: float
    slot_mm: float | None = None

    @property
    def missing_mm(self) -> float:
        """What is missing at the back once the crack is closed."""
        return max(0.0, OVERHANG_MM - (self.overhang_mm - self.crack_mm))

    @property
    def strip_mm(self) -> float:
        """Width of the strip; 0 where none is needed."""
        return max(self.missing_mm, LEAST_STRIP_MM) if self.missing_mm > 0 else 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class HeldPanel:
    """A panel that something held across its grain until it cracked, mm: the crack's width and length, the panel's thickness.

    `hold_mm`: how far it still reaches into its grooves in the driest month, as it is (None: not known).
    """

    crack_mm: float
    crack_length_mm: float
    thickness_mm: float
    hold_mm: float | None = None

    @property
    def held_after_mm(self) -> float | None:
        """How far it reaches into its grooves in the driest month once the crack is closed."""
        return None if self.hold_mm is None else self.hold_mm - self.crack_mm

    @property
    def keyed(self) -> bool:
        """Whether the crack gets a strip: closed, the panel would be too narrow for its grooves."""
        after_mm = self.held_after_mm
        return self.crack_mm > CLOSED_MM and after_mm is not None and HOLD.breach(after_mm) is not None


def mend_side(side: CuppedSide) -> Advice:
    """What to do about a cupped side."""
    breach = PLANED.breach(side.planed_mm / side.thickness_mm)
    way = "leave" if side.planed_mm <= 0 else "new" if breach is not None and breach.level is Level.STOP else "plane"
    place = Place(kind="board", part="side")
    left = both(round(side.thickness_mm - side.planed_mm, 2))
    found = () if breach is None else (breach.finding(place, **TEXTS.finding(f"planed_{breach.level}", left=left)),)
    return Advice(
        trouble=TEXTS("cupped.trouble", hollow=both(side.hollow_mm), width=both(side.width_mm)),
        method={"leave": "leave it", "plane": "plane it", "new": "recut"}[way],
        looks=TEXTS(f"cupped.looks_{way}"),
        glue=TEXTS("cupped.glue"),
        steps=TEXTS.rows(f"cupped.steps_{way}", planed=both(round(side.planed_mm, 2))),
        cautions=cautions("chisels"),
        figures=tuple(_side_figures(side)),
        findings=found,
    )


def _side_figures(side: CuppedSide) -> Iterator[RepairFigure]:
    yield from figures(MEASURED, {"hollow": side.hollow_mm, "over a width of": side.width_mm})
    yield from figures("geometry: a chord and its height", {"radius of the hollow": side.radius_mm})
    if side.play_mm > 0:
        yield from figures("as in check: the air in the dampest month", {"play beside it": side.play_mm})
    if side.planed_mm > 0:
        rows = {"planed off, at most": side.planed_mm, "thick that is left there": side.thickness_mm - side.planed_mm}
        yield from figures("the hollow less the play", rows)


def mend_bottom(bottom: SplitBottom) -> Advice:
    """What to do about a bottom that split."""
    way = "strip" if bottom.strip_mm else "close"
    values = {"strip": both(round(bottom.strip_mm, 1)), "over": both(OVERHANG_MM)}
    slot = TEXTS("split.slot", slot=both(bottom.slot_mm)) if bottom.slot_mm else TEXTS("split.slot_unknown")
    planed = bottom.strip_mm - bottom.missing_mm if bottom.strip_mm else 0.0
    back = (TEXTS("split.back", planed=both(round(planed, 1))),) if planed > 0 else ()
    return Advice(
        trouble=TEXTS("split.trouble", crack=both(bottom.crack_mm)),
        method=TEXTS(f"split.method_{way}"),
        looks=TEXTS(f"split.looks_{way}"),
        glue=TEXTS("split.glue"),
        steps=(*TEXTS.rows("split.first"), *back, *TEXTS.rows(f"split.steps_{way}", **values), slot),
        cautions=cautions("chisels", "glues", "clamps"),
        figures=tuple(_bottom_figures(bottom, planed)),
    )


def _bottom_figures(bottom: SplitBottom, planed_mm: float) -> Iterator[RepairFigure]:
    yield from figures(MEASURED, {"crack, width": bottom.crack_mm, "past the back now": bottom.overhang_mm})
    yield from figures("as drawers are worked out", {"to reach past the back by": OVERHANG_MM})
    yield from figures("worked out", {"missing once it is closed": bottom.missing_mm})
    if bottom.strip_mm:
        rows = {"strip, wide": bottom.strip_mm, "strip, long": bottom.length_mm, "strip, thick": bottom.thickness_mm}
        yield from figures(OURS, rows | {"planed off the old edge for it": planed_mm})
    if bottom.slot_mm:
        yield from figures("as drawers are worked out", {"slot for its screw, from the back edge": bottom.slot_mm})


def mend_panel(panel: HeldPanel) -> Advice:
    """What to do about a panel that was held and cracked."""
    way = "key" if panel.keyed else "close"
    return Advice(
        trouble=TEXTS("held.trouble", crack=both(panel.crack_mm), length=both(panel.crack_length_mm)),
        method=TEXTS(f"held.method_{way}"),
        looks=TEXTS(f"held.looks_{way}"),
        glue=TEXTS("held.glue"),
        steps=(*TEXTS.rows("held.first"), *TEXTS.rows(f"held.steps_{way}", crack=both(panel.crack_mm))),
        cautions=cautions("chisels", "glues", "clamps"),
        figures=tuple(_panel_figures(panel)),
        findings=tuple(_panel_findings(panel)),
    )


def _panel_figures(panel: HeldPanel) -> Iterator[RepairFigure]:
    yield from figures(MEASURED, {"crack, width": panel.crack_mm, "crack, length": panel.crack_length_mm})
    if panel.hold_mm is not None and panel.held_after_mm is not None:
        yield from figures("as in season", {"in its grooves in the driest month, as it is": panel.hold_mm})
        yield from figures("less the crack", {"and once the crack is closed": panel.held_after_mm})
    if panel.keyed:
        rows = {"strip, wide": panel.crack_mm, "strip, long": panel.crack_length_mm, "strip, thick": panel.thickness_mm}
        yield from figures(MEASURED, rows)


def _panel_findings(panel: HeldPanel) -> Iterator[Finding]:
    place = Place(kind="panel")
    if panel.held_after_mm is None:
        yield HOLD.not_checked(place, **TEXTS.unchecked("no_hold"))
    elif panel.keyed:
        texts = TEXTS.finding("narrow", after=both(round(panel.held_after_mm, 1)))
        yield HOLD.said(Level.NOTE, place, **texts, measured=panel.held_after_mm, limit=HOLD.warn)
