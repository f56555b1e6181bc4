"""A part fastened across a board that moves under it: runner, rail, batten, breadboard end; or two woods side by side.

Everything is measured along the host's width, from its face edge, which is the front of a case's side. Glue and screws
in plain holes hold the part; the host grows and shrinks away from their middle, and what fastens it elsewhere needs a
slot. A part whose grain runs the same way as the host's moves with it, so that only the difference of the two counts. The
part's own width lies along the host, which doesn't move that way, and is neglected: such parts are narrow.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board
from dovelayout.joints.moving import Swing, swing, swing_between
from dovelayout.joints.spacing import Span
from dovelayout.shop import Shop

GIVES_MM = 76.0
"""A single glued stretch up to 3 in yields with the wood under it (common practice, no source)."""

TOUCHING_MM = 1e-6


class AcrossKind(StrEnum):
    """Kinds of part."""

    RUNNER = "runner"
    RAIL = "rail"
    SUPPORT = "support"
    BATTEN = "batten"
    MOULDING = "moulding"
    BREADBOARD = "breadboard"
    NEIGHBOUR = "neighbour"

    @property
    def held_in_the_middle(self) -> bool:
        """Whether such a part is usually held in its middle, so that both its ends stay even; else at the front."""
        return self in (AcrossKind.BREADBOARD, AcrossKind.BATTEN)

    @property
    def between_ends(self) -> bool:
        """Whether such a part usually stands between something at the front and something at the back."""
        return self in (AcrossKind.RUNNER, AcrossKind.RAIL)


class Lie(StrEnum):
    """How a part's own grain lies to the width that it is fastened over."""

    ACROSS = "across"
    ALONG = "along"


class Meets(StrEnum):
    """At which of its ends a part touches something that stands there."""

    FRONT = "front"
    REAR = "rear"
    BOTH = "both"
    NOTHING = "nothing"


class Tongue(StrEnum):
    """How a breadboard end sits on the ends of a panel."""

    CONTINUOUS = "continuous"
    TENONS = "tenons"


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot:
    """A screw or a peg in a slot: where it is, and how far it is free to either side as it is fitted."""

    at_mm: float
    play_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Across:
    """A part on a host. `glue` are stretches, `screws` plain holes; `meets_*`: whether something stands at that end.

    `rear_stop_mm` is where it would meet what stands behind it. Raises LayoutError for a fixing off the part.
    """

    name: str
    kind: AcrossKind
    part: Board
    host: Board
    from_mm: float
    length_mm: float
    rear_stop_mm: float
    along: bool = False
    glue: tuple[Span, ...] = ()
    screws_mm: tuple[float, ...] = ()
    slots: tuple[Slot, ...] = ()
    meets_front: bool = False
    meets_rear: bool = False
    tongue: Tongue = Tongue.TENONS

    def __post_init__(self) -> None:
        places = [place for span in self.glue for place in (span.start_mm, span.end_mm)]
        for place_mm in (*places, *self.screws_mm, *(slot.at_mm for slot in self.slots)):
            if not self.from_mm - TOUCHING_MM <= place_mm <= self.end_mm + TOUCHING_MM:
                raise LayoutError(
                    f"a fixing at {place_mm:g} mm is off the part, which lies from {self.from_mm:g} to "
                    f"{self.end_mm:g} mm of the host's width",
                    remedy="count from the host's face edge",
                )
        for span in self.glue:
            if span.width_mm <= 0:
                raise LayoutError(
                    f"glue from {span.start_mm:g} to {span.end_mm:g} mm is no stretch", remedy="write [from, to]"
                )

    @property
    def end_mm(self) -> float:
        """Place of its rear end."""
        return self.from_mm + self.length_mm

    @property
    def held(self) -> Span | None:
        """The stretch from the first fixing that holds to the last; None where none does."""
        places = [place for span in self.glue for place in (span.start_mm, span.end_mm)] + list(self.screws_mm)
        return Span(min(places), max(places)) if places else None

    @property
    def anchor_mm(self) -> float:
        """The place that doesn't move: the middle of what holds, of the slots where nothing holds, or of the part."""
        if self.held is not None:
            return (self.held.start_mm + self.held.end_mm) / 2
        if self.slots:
            places = [slot.at_mm for slot in self.slots]
            return (min(places) + max(places)) / 2
        return (self.from_mm + self.end_mm) / 2

    @property
    def rigid_mm(self) -> float:
        """The length over which nothing gives: 0 for a single glued stretch that the wood under it gives with."""
        if self.held is None:
            return 0.0
        gives = not self.screws_mm and self.held.width_mm <= GIVES_MM + TOUCHING_MM
        return 0.0 if gives else self.held.width_mm

    @property
    def in_the_middle(self) -> bool:
        """Whether what holds lies away from both ends."""
        return min(self.anchor_mm - self.from_mm, self.end_mm - self.anchor_mm) > GIVES_MM

    @property
    def room_mm(self) -> float:
        """Free length behind it, as it is fitted."""
        return self.rear_stop_mm - self.end_mm

    def swing(self, shop: Shop) -> Swing | None:
        """How far the host's width moves against the part; None: not known."""
        return swing_between(self.host, self.part, shop) if self.along else swing(self.host, shop)
