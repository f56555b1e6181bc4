"""What all dovetailed corners share: tails laid out along the width, pins between them, one slope.

Let Tt and Tp be the thicknesses of the tail board and the pin board, 1:n the slope, D the depth that the tails reach
into the pin board (Tp for a through joint, Tp less the lap for a half-blind one) and d the depth behind the plane
where their ends lie (0 <= d <= D). A tail that spans [a, b] where d = 0 spans [a + d/n, b - d/n]: widest at its end,
narrowest (the neck) at the baseline. What lies between the tails is pin: narrowest at d = 0, widest on the pin board's
inside face. A tail that stands proud goes on flaring beyond d = 0, so the layout, whatever the proud, is true at the
plane that is left when the proud ends have been planed flush.

A tail that reaches the edge of the joint has no half pin to hold it there and its outer side is square.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass, field, replace
from typing import Any, ClassVar, Self

from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board, BoardEnd, Groove, Lip
from dovelayout.joints.face import EndFaces
from dovelayout.joints.lid import LidCut, line_through, parted
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import (
    MOST_TAILS,
    Spacing,
    Span,
    lay_out_tails,
    proposed_count,
    proposed_half_pin_mm,
    proposed_pin_mm,
)

EDGE_MM = 1e-6
"""A tail this close to the edge of the joint is meant to be at the edge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerSpec:
    """What the maker asks of one dovetailed corner; None where the tool is to propose.

    `covers` is the stretch of the tail board's width that the joint takes (None: all that the boards share), in the
    tail board's x. `tails_at` are spans of the tails at their ends (d = 0); they replace count, pins and spacing.
    `lap_mm` is what a half-blind joint leaves of the pin board over the ends of the tails, `lip` the rebated lip of a
    drawer front; `mitre_..._mm` is how much of the width is mitred at an edge, to take a moulding or hide a groove.
    `origin` says where in the job the corner was written: (table, name); `key_prefix` is what its keys begin with there.
    """

    name: str
    tails: BoardEnd
    pins: BoardEnd
    slope: Slope
    slope_given: bool = True
    tail_count: int | None = None
    pin_mm: float | None = None
    half_pin_mm: float | None = None
    tails_at: tuple[Span, ...] | None = None
    spacing: Spacing = Spacing.EVEN
    covers: Span | None = None
    proud_tails_mm: float = 0.0
    proud_pins_mm: float = 0.0
    groove: Groove | None = None
    lap_mm: float | None = None
    lip: Lip | None = None
    mitre_face_edge_mm: float = 0.0
    mitre_far_edge_mm: float = 0.0
    lid: LidCut | None = None
    origin: tuple[str, str] = ("corner", "")
    key_prefix: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tail:
    """One tail: its span at the pin board's outside face and its neck at the baseline, in the tail board's x."""

    start_mm: float
    end_mm: float
    neck_start_mm: float
    neck_end_mm: float

    @property
    def width_mm(self) -> float:
        """Width at the end, where it is widest."""
        return self.end_mm - self.start_mm

    @property
    def neck_mm(self) -> float:
        """Width at the baseline, where it is narrowest."""
        return self.neck_end_mm - self.neck_start_mm

    @property
    def neck(self) -> Span:
        """The neck as a span."""
        return Span(self.neck_start_mm, self.neck_end_mm)

    def at(self, share: float) -> Span:
        """Its span at a share of the pin board's thickness behind the outside face (below 0: the proud end)."""
        return Span(
            self.start_mm + share * (self.neck_start_mm - self.start_mm),
            self.end_mm + share * (self.neck_end_mm - self.end_mm),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """One pin: its span on the outside face and at its root on the inside face, in the tail board's x."""

    start_mm: float
    end_mm: float
    root_start_mm: float
    root_end_mm: float
    half: bool

    @property
    def width_mm(self) -> float:
        """Narrow width, on the outside face."""
        return self.end_mm - self.start_mm

    @property
    def root_mm(self) -> float:
        """Wide width, on the inside face."""
        return self.root_end_mm - self.root_start_mm

    @property
    def root(self) -> Span:
        """The wide side as a span."""
        return Span(self.root_start_mm, self.root_end_mm)

    def at(self, share: float) -> Span:
        """Its span at a share of the pin board's thickness behind the outside face."""
        return Span(
            self.start_mm + share * (self.root_start_mm - self.start_mm),
            self.end_mm + share * (self.root_end_mm - self.end_mm),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerJoint(ABC):
    """A dovetailed corner worked out; each kind adds its faces.

    `proposed` maps the job's keys that were left open to what the tool chose.
    """

    spec: CornerSpec
    covers: Span
    pin_offset_mm: float  # the pin board's face edge in the tail board's x
    tails: tuple[Tail, ...]
    pins: tuple[Pin, ...]
    mitres: tuple[Span, ...] = ()  # stretches at the edges where both boards are mitred instead
    saw_line_mm: float | None = None  # where a lid is sawn off
    proposed: dict[str, float] = field(default_factory=dict)

    kind: ClassVar[str] = ""

    @property
    def name(self) -> str:
        """The corner's name."""
        return self.spec.name

    @property
    def tail_board(self) -> Board:
        """The board that carries the tails."""
        return self.spec.tails.board

    @property
    def pin_board(self) -> Board:
        """The board that carries the pins."""
        return self.spec.pins.board

    @property
    def slope(self) -> Slope:
        """The slope of its cheeks."""
        return self.spec.slope

    @property
    def lap_mm(self) -> float:
        """What the pin board keeps over the ends of the tails: 0 where they show."""
        return self.spec.lap_mm or 0.0

    @property
    def depth_mm(self) -> float:
        """How far the tails reach into the pin board."""
        return tail_depth_mm(self.spec)

    @property
    def flare_mm(self) -> float:
        """How far one cheek leans over that depth."""
        return self.slope.flare_mm(self.depth_mm)

    @property
    def full_pins(self) -> tuple[Pin, ...]:
        """The pins that stand between two tails."""
        return tuple(pin for pin in self.pins if not pin.half)

    @property
    def half_pins(self) -> tuple[Pin, ...]:
        """The pins at the edges."""
        return tuple(pin for pin in self.pins if pin.half)

    def varied(self, **changes: Any) -> Self:
        """The same corner with other keys of its CornerSpec; LayoutError when it can't be."""
        return type(self).worked_out(replace(self.spec, **changes))

    @classmethod
    def worked_out(cls, spec: CornerSpec) -> Self:
        """Works a corner out. Raises LayoutError, in one sentence that names the nearest layout that can be."""
        cls.check_spec(spec)
        whole, pin_offset_mm = _place(spec)
        covers, mitres = _between_mitres(spec, whole)
        flare_mm = spec.slope.flare_mm(tail_depth_mm(spec))
        spans, saw_line_mm, proposed = _spans(spec, covers, flare_mm)
        tails = _tails(spans, covers, flare_mm)
        pins = _pins(tails, covers)
        if not pins:
            raise LayoutError("one tail across the whole joint leaves no pin; give it half pins, or more tails")
        _check_proud(spec, tails, pins)
        return cls(
            spec=spec,
            covers=covers,
            pin_offset_mm=pin_offset_mm,
            tails=tails,
            pins=pins,
            mitres=mitres,
            saw_line_mm=saw_line_mm,
            proposed=proposed if spec.slope_given else {**proposed, "slope": spec.slope.ratio},
        )

    @classmethod
    @abstractmethod
    def check_spec(cls, spec: CornerSpec) -> None:
        """Raises LayoutError for what this kind of joint can't be."""

    @abstractmethod
    def end_faces(self) -> tuple[EndFaces, EndFaces]:
        """Faces of the tail board's end and of the pin board's end, each in its own board's coordinates."""


def tail_depth_mm(spec: CornerSpec) -> float:
    """How far the tails of a corner reach into its pin board."""
    return spec.pins.board.thickness_mm - (spec.lap_mm or 0.0)


def _place(spec: CornerSpec) -> tuple[Span, float]:
    """The stretch the joint covers and where the pin board's face edge lies, both in the tail board's x."""
    tail_w, pin_w = spec.tails.board.width_mm, spec.pins.board.width_mm
    if spec.covers is None:
        return Span(0.0, min(tail_w, pin_w)), 0.0
    covers = spec.covers
    if not (0 <= covers.start_mm < covers.end_mm <= tail_w + EDGE_MM):
        raise LayoutError(
            f"the joint is to cover {covers.start_mm:g} to {covers.end_mm:g} mm, but {spec.tails.board.name} is "
            f"0 to {tail_w:g} mm wide"
        )
    if abs(pin_w - covers.width_mm) <= 0.01:
        return covers, covers.start_mm
    if covers.end_mm <= pin_w + EDGE_MM:
        return covers, 0.0
    raise LayoutError(
        f"the joint is to cover {covers.start_mm:g} to {covers.end_mm:g} mm ({covers.width_mm:g} mm) of "
        f"{spec.tails.board.name}, but {spec.pins.board.name} is {pin_w:g} mm wide; make it {covers.width_mm:g} mm, "
        f"or let both boards share a face edge and reach {covers.end_mm:g} mm"
    )


def _between_mitres(spec: CornerSpec, whole: Span) -> tuple[Span, tuple[Span, ...]]:
    """What is left for the dovetails, and the stretches at the edges that are mitred."""
    near_mm, far_mm = spec.mitre_face_edge_mm, spec.mitre_far_edge_mm
    if near_mm <= 0 and far_mm <= 0:
        return whole, ()
    widths = (spec.tails.board.width_mm, spec.pins.board.width_mm)
    if spec.covers is not None or abs(widths[0] - widths[1]) > 0.01:
        raise LayoutError(
            f"a mitred shoulder needs two boards of one width that meet over all of it; {spec.tails.board.name} is "
            f"{widths[0]:g} mm and {spec.pins.board.name} {widths[1]:g} mm wide"
        )
    if spec.proud_tails_mm or spec.proud_pins_mm:
        raise LayoutError("a mitre can't stand proud or shy; leave proud out")
    left = Span(whole.start_mm + near_mm, whole.end_mm - far_mm)
    if left.width_mm <= 0:
        raise LayoutError(f"mitres of {near_mm:g} and {far_mm:g} mm leave nothing of {whole.width_mm:g} mm to dovetail")
    stretches = (Span(whole.start_mm, left.start_mm), Span(left.end_mm, whole.end_mm))
    return left, tuple(stretch for stretch in stretches if stretch.width_mm > EDGE_MM)


def _spans(spec: CornerSpec, covers: Span, flare_mm: float) -> tuple[tuple[Span, ...], float | None, dict[str, float]]:
    """Spans of the tails, the saw line of a lid, and what was proposed."""
    if spec.tails_at is not None:
        _check_explicit(spec.tails_at, covers, flare_mm)
        return spec.tails_at, None if spec.lid is None else line_through(spec.tails_at, spec.lid), {}
    room = covers
    if spec.lid is not None:
        room = Span(covers.start_mm, covers.end_mm - spec.lid.lost_mm)
    proposed: dict[str, float] = {}
    thinner_mm = min(spec.tails.board.thickness_mm, spec.pins.board.thickness_mm)
    pin_mm = spec.pin_mm
    if pin_mm is None:
        pin_mm = proposed["pin"] = proposed_pin_mm(thickness_mm=thinner_mm)
    half_pin_mm = spec.half_pin_mm
    if half_pin_mm is None:
        half_pin_mm = proposed["half_pin"] = proposed_half_pin_mm(pin_mm=pin_mm)
    count = spec.tail_count
    if count is None:
        count = proposed_count(
            room_mm=room.width_mm,
            pin_mm=pin_mm,
            half_pin_mm=half_pin_mm,
            spacing=spec.spacing,
            flare_mm=flare_mm,
            thickness_mm=spec.tails.board.thickness_mm,
        )
        proposed["tail_count"] = count
    spans = lay_out_tails(
        over=room,
        count=count,
        pin_mm=pin_mm,
        half_pin_mm=half_pin_mm,
        spacing=spec.spacing,
        flare_mm=flare_mm,
    )
    if spec.lid is None:
        return spans, None, proposed
    parted_spans, saw_line_mm = parted(spans, spec.lid)
    return parted_spans, saw_line_mm, proposed


def _check_explicit(spans: tuple[Span, ...], covers: Span, flare_mm: float) -> None:
    if not spans:
        raise LayoutError("tails_at is empty; give at least one [start, end]")
    if len(spans) > MOST_TAILS:
        raise LayoutError(f"tails_at has {len(spans)} tails; {MOST_TAILS} is the most in one corner")
    before_mm = covers.start_mm
    for number, span in enumerate(spans, 1):
        where = f"tail {number} of tails_at, {span.start_mm:g} to {span.end_mm:g} mm,"
        if span.width_mm <= 0:
            raise LayoutError(f"{where} ends before it starts; write the smaller number first")
        if span.start_mm < before_mm - EDGE_MM:
            limit = "the joint starts" if number == 1 else f"tail {number - 1} ends"
            raise LayoutError(f"{where} starts before {limit} ({before_mm:g} mm); start it beyond")
        if number > 1 and span.start_mm - before_mm <= EDGE_MM:
            raise LayoutError(f"{where} touches tail {number - 1}; leave a pin between them")
        if span.end_mm > covers.end_mm + EDGE_MM:
            raise LayoutError(f"{where} ends beyond the joint ({covers.end_mm:g} mm); end it before")
        before_mm = span.end_mm
    for number, tail in enumerate(_tails(spans, covers, flare_mm), 1):
        if tail.neck_mm <= 0:
            least = tail.width_mm - tail.neck_mm
            raise LayoutError(
                f"tail {number} of tails_at is {tail.width_mm:g} mm wide and its neck would be {tail.neck_mm:.1f} mm; "
                f"make it wider than {least:.1f} mm"
            )


def _tails(spans: tuple[Span, ...], covers: Span, flare_mm: float) -> tuple[Tail, ...]:
    tails = []
    for index, span in enumerate(spans):
        at_start = index == 0 and span.start_mm - covers.start_mm <= EDGE_MM
        at_end = index == len(spans) - 1 and covers.end_mm - span.end_mm <= EDGE_MM
        start_mm = covers.start_mm if at_start else span.start_mm
        end_mm = covers.end_mm if at_end else span.end_mm
        tails.append(
            Tail(
                start_mm=start_mm,
                end_mm=end_mm,
                neck_start_mm=start_mm if at_start else start_mm + flare_mm,
                neck_end_mm=end_mm if at_end else end_mm - flare_mm,
            )
        )
    return tuple(tails)


def _pins(tails: tuple[Tail, ...], covers: Span) -> tuple[Pin, ...]:
    """Whatever lies between the tails, and outside of them up to the edges of the joint."""
    ends = [covers.start_mm] + [tail.end_mm for tail in tails]
    root_ends = [covers.start_mm] + [tail.neck_end_mm for tail in tails]
    starts = [tail.start_mm for tail in tails] + [covers.end_mm]
    root_starts = [tail.neck_start_mm for tail in tails] + [covers.end_mm]
    pins = []
    for index, (start, end, root_start, root_end) in enumerate(zip(ends, starts, root_ends, root_starts, strict=True)):
        if root_end - root_start > EDGE_MM:
            half = index in (0, len(tails))
            pins.append(Pin(start_mm=start, end_mm=end, root_start_mm=root_start, root_end_mm=root_end, half=half))
    return tuple(pins)


def _check_proud(spec: CornerSpec, tails: tuple[Tail, ...], pins: tuple[Pin, ...]) -> None:
    """The flare goes on into the proud ends; it must not eat a pin's narrow side there."""
    if spec.proud_tails_mm <= -tail_depth_mm(spec):
        raise LayoutError("tails this shy are no tails; bring proud nearer to 0")
    if spec.proud_pins_mm <= -spec.tails.board.thickness_mm:
        raise LayoutError("pins this shy are no pins; bring proud nearer to 0")
    extra_mm = spec.slope.flare_mm(max(0.0, spec.proud_tails_mm))
    for number, pin in enumerate(pins, 1):
        left_mm = pin.width_mm - (1 if pin.half else 2) * extra_mm
        if left_mm <= EDGE_MM:
            raise LayoutError(
                f"pin {number} is {pin.width_mm:.2f} mm wide and leaves no room for the saw between tails that stand "
                f"{spec.proud_tails_mm:g} mm proud; make the pin at least {pin.width_mm - left_mm + 0.5:.1f} mm"
            )
