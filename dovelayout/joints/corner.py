"""What all dovetailed corners share: tails laid out along the width, pins between them, one slope.

Let Tt and Tp be the thicknesses of the tail board and the pin board, 1:n the slope, D the depth that the tails reach
into the pin board (Tp for a through joint, Tp less the lap for a half-blind one) and d the depth behind the plane
where their ends lie (0 <= d <= D). A tail that spans [a, b] where d = 0 spans [a + d/n, b - d/n]: widest at its end,
narrowest (the neck) at the baseline. What lies between the tails is pin: narrowest at d = 0, widest on the pin board's
inside face. A tail that stands proud goes on flaring beyond d = 0, so the layout, whatever the proud, is true at the
plane that is left when the proud ends have been planed flush.

A tail that reaches the edge of the joint has no half pin to hold it there and its outer side follows the board's edge.

A canted corner (see `cant`) is laid out the same way along the tail board's canted end: wherever this says x, it means
the length along that end, which is the pin board's own width.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any, ClassVar, NamedTuple, Self, TypeVar

from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board
from dovelayout.joints.cant import Shifts
from dovelayout.joints.extent import between_mitres, place
from dovelayout.joints.face import EndFaces
from dovelayout.joints.keys import given
from dovelayout.joints.lid import line_through, parted
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import MOST_TAILS, Span, TailRoom, proposed_half_pin_mm, proposed_pin_mm
from dovelayout.joints.spec import EDGE_MM, CornerSpec

__all__ = ["EDGE_MM", "KINDS", "CornerJoint", "CornerSpec", "Pin", "Tail", "TailRow", "corner_kind"]


class TailRow(NamedTuple):
    """Spans of the tails, the saw line of a lid, and what was proposed, by the job's keys."""

    spans: tuple[Span, ...]
    saw_line_mm: float | None
    proposed: dict[str, float]


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
        return Span(self.start_mm, self.end_mm).towards(self.neck, share)


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
        return Span(self.start_mm, self.end_mm).towards(self.root, share)


AnyPart = TypeVar("AnyPart", Tail, Pin)

_AT_BASELINE = {"neck_start_mm", "neck_end_mm", "root_start_mm", "root_end_mm"}
"""Places of tails and pins at the baseline, where the edges of a canted end have moved."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CornerJoint(ABC):
    """A dovetailed corner, fully worked out. Each kind adds its faces, names and defaults as class attributes.

    `proposed` maps the job's keys that were left open to what was chosen for them.
    """

    spec: CornerSpec
    slope: Slope
    covers: Span
    pin_offset_mm: float  # the pin board's face edge in the tail board's x
    tails: tuple[Tail, ...]
    pins: tuple[Pin, ...]
    mitres: tuple[Span, ...] = ()  # stretches at the edges where both boards are mitred instead
    saw_line_mm: float | None = None  # where a lid is sawn off
    proposed: dict[str, float] = field(default_factory=dict)

    kind: ClassVar[str] = ""
    """Name of the kind in a job and in JSON."""
    called: ClassVar[str] = ""
    """Its name in a sentence: 'half-blind dovetail'."""
    explained: ClassVar[str] = ""
    """What it is, in a sentence for someone who doesn't know the word."""
    tail: ClassVar[str] = "tail"
    """What stands on the tail board is called."""
    pin: ClassVar[str] = "pin"
    """Heading over the widths of what stands between two tails."""
    half_pin: ClassVar[str] = "half pin"
    """Heading over the widths of what stands at an edge."""
    gauged: ClassVar[tuple[str, str]] = ("tails", "pins")
    """What the gauge scribes at the tail board's end and on the faces of the pin board's."""
    usual_slope: ClassVar[Slope] = Slope(7.0)
    """Where the job gives none: 1:7, the usual one for drawers and show work (common practice, no source)."""
    settles: ClassVar[Mapping[str, str]] = {}
    """Fields of CornerSpec that this kind settles itself, each with the reason: a job that gives one is refused, and fixes
    and suggestions leave them alone."""

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
    def lap_mm(self) -> float:
        """What the pin board keeps over the ends of the tails: 0 where they show."""
        return self.spec.lap_mm or 0.0

    @property
    def depth_mm(self) -> float:
        """How far the tails reach into the pin board."""
        return self.spec.depth_mm

    @property
    def shifts(self) -> Shifts:
        """How far cheeks and board edges move over that depth."""
        return self.spec.shifts(self.slope)

    @property
    def flare_mm(self) -> float:
        """By how much one cheek narrows a tail over that depth."""
        return self.shifts.flare_mm

    @property
    def flares(self) -> bool:
        """Whether tails narrow towards the baseline, so that the corner holds by its shape and not by glue alone."""
        return not self.slope.is_straight

    @property
    def end_width_mm(self) -> float:
        """The tail board's width along its end: its width, unless the end is canted."""
        return self.tail_board.width_mm * self.spec.cant.stretch

    @property
    def pin_baseline_mm(self) -> float:
        """Gauge setting of the pin board's faces: from its end to the baseline."""
        return self.tail_board.thickness_mm + self.spec.proud_pins_mm

    def across(self) -> CornerJoint:
        """The same layout measured square across the tail board from its face edge, as grooves are: itself, unless the
        end is canted. Every line stays where it is; those along the board have only been drawn upright."""
        if self.spec.cant.is_square:
            return self
        stretch, edge_mm = self.spec.cant.stretch, self.shifts.edge_mm

        def squared(part: AnyPart) -> AnyPart:
            places = {one.name: getattr(part, one.name) for one in fields(part) if one.name.endswith("_mm")}
            leant = {name: edge_mm if name in _AT_BASELINE else 0.0 for name in places}
            return replace(part, **{name: (places[name] - leant[name]) / stretch for name in places})

        return replace(
            self,
            covers=Span(self.covers.start_mm / stretch, self.covers.end_mm / stretch),
            tails=tuple(map(squared, self.tails)),
            pins=tuple(map(squared, self.pins)),
        )

    @property
    def full_pins(self) -> tuple[Pin, ...]:
        """The pins that stand between two tails."""
        return tuple(pin for pin in self.pins if not pin.half)

    @property
    def half_pins(self) -> tuple[Pin, ...]:
        """The pins at the edges."""
        return tuple(pin for pin in self.pins if pin.half)

    def varied(self, **changes: Any) -> Self:
        """The same corner with other fields of its CornerSpec. Raises LayoutError where it can't be built."""
        return type(self).worked_out(replace(self.spec, **changes))

    @classmethod
    def worked_out(cls, spec: CornerSpec) -> Self:
        """Works out a corner. Raises LayoutError, whose remedy is the nearest layout that can be built."""
        _check_settled(cls, spec)
        cls.check_spec(spec)
        slope = spec.slope or cls.usual_slope
        whole, pin_offset_mm = place(spec)
        covers, mitres = between_mitres(spec, whole)
        shifts = spec.shifts(slope)
        row = cls.lay_out(spec, covers, shifts)
        tails = _tails(row.spans, covers, shifts)
        pins = _pins(tails, covers, shifts)
        if not pins:
            raise LayoutError(
                "one tail across the whole joint leaves no pin", remedy="give it half pins, or more tails"
            )
        _check_proud(spec, slope, pins)
        open_slope = {"slope": slope.ratio} if spec.slope is None and "slope" not in cls.settles else {}
        return cls(
            spec=spec,
            slope=slope,
            covers=covers,
            pin_offset_mm=pin_offset_mm,
            tails=tails,
            pins=pins,
            mitres=mitres,
            saw_line_mm=row.saw_line_mm,
            proposed={**row.proposed, **open_slope},
        )

    @classmethod  # noqa: B027  most kinds have no more to refuse
    def check_spec(cls, spec: CornerSpec) -> None:
        """Raises LayoutError where this kind can't be built so, beyond the keys it settles itself."""

    @classmethod
    def lay_out(cls, spec: CornerSpec, covers: Span, shifts: Shifts) -> TailRow:
        """Where the tails stand: as the spec has them, or as proposed. Raises LayoutError."""
        if spec.tails_at is not None:
            _check_explicit(spec.tails_at, covers, shifts)
            return TailRow(spec.tails_at, None if spec.lid is None else line_through(spec.tails_at, spec.lid), {})
        lost_mm = 0.0 if spec.lid is None else spec.lid.lost_mm
        proposed: dict[str, float] = {}
        pin_mm, half_pin_mm, count = spec.pin_mm, spec.half_pin_mm, spec.tail_count
        if pin_mm is None:
            pin_mm = proposed["pin"] = proposed_pin_mm(thickness_mm=spec.thinner_mm)
        if half_pin_mm is None:
            half_pin_mm = proposed["half_pin"] = proposed_half_pin_mm(pin_mm=pin_mm)
        room = TailRoom(
            span=Span(covers.start_mm, covers.end_mm - lost_mm),
            pin_mm=pin_mm,
            half_pin_mm=half_pin_mm,
            spacing=spec.spacing,
            flare_mm=shifts.flare_mm,
        )
        if count is None:
            count = proposed["tail_count"] = room.proposed_count(thickness_mm=spec.tails.board.thickness_mm)
        spans = room.tails(count)
        if spec.lid is None:
            return TailRow(spans, None, proposed)
        return TailRow(*parted(spans, spec.lid), proposed)

    @abstractmethod
    def end_faces(self) -> tuple[EndFaces, EndFaces]:
        """Faces of the tail board's end and of the pin board's end, each in its own board's coordinates."""


AnyKind = TypeVar("AnyKind", bound=type[CornerJoint])

KINDS: dict[str, type[CornerJoint]] = {}
"""Every kind of corner by its name in a job; each registers itself."""


def corner_kind(kind: AnyKind) -> AnyKind:
    """Registers a kind of corner. Raises ValueError for a name that is taken, or for none."""
    if not kind.kind or kind.kind in KINDS:
        raise ValueError(f"{kind.__name__}: the kind {kind.kind!r} is there already, or has no name")
    KINDS[kind.kind] = kind
    return kind


def _check_settled(kind: type[CornerJoint], spec: CornerSpec) -> None:
    """Refuses a key that the kind settles itself."""
    for name, key in given(spec, kind.settles):
        raise LayoutError(f"a {kind.called} takes no {key}: {kind.settles[name]}", remedy=f"leave {key} out")


def _check_explicit(spans: tuple[Span, ...], covers: Span, shifts: Shifts) -> None:
    if not spans:
        raise LayoutError("tails_at is empty", remedy="give at least one [start, end]")
    if len(spans) > MOST_TAILS:
        raise LayoutError(f"tails_at has {len(spans)} tails", remedy=f"{MOST_TAILS} is the most in one corner")
    before_mm, before = covers.start_mm, "the joint starts"
    for number, span in enumerate(spans, 1):
        for wrong, problem, remedy in (
            (span.width_mm <= 0, "ends before it starts", "write the smaller number first"),
            (span.start_mm < before_mm - EDGE_MM, f"starts before {before} ({before_mm:g} mm)", "start it beyond"),
            (
                number > 1 and span.start_mm <= before_mm + EDGE_MM,
                f"touches tail {number - 1}",
                "leave a pin between them",
            ),
            (span.end_mm > covers.end_mm + EDGE_MM, f"ends beyond the joint ({covers.end_mm:g} mm)", "end it before"),
        ):
            if wrong:
                where = f"tail {number} of tails_at, {span.start_mm:g} to {span.end_mm:g} mm,"
                raise LayoutError(f"{where} {problem}", remedy=remedy)
        before_mm, before = span.end_mm, f"tail {number} ends"
    for number, tail in enumerate(_tails(spans, covers, shifts), 1):
        if tail.neck_mm <= 0:
            least = tail.width_mm - tail.neck_mm
            raise LayoutError(
                f"tail {number} of tails_at is {tail.width_mm:g} mm wide and its neck would be {tail.neck_mm:.1f} mm",
                remedy=f"make it wider than {least:.1f} mm",
            )


def _tails(spans: tuple[Span, ...], covers: Span, shifts: Shifts) -> tuple[Tail, ...]:
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
                neck_start_mm=start_mm + (shifts.edge_mm if at_start else shifts.start_mm),
                neck_end_mm=end_mm + (shifts.edge_mm if at_end else shifts.end_mm),
            )
        )
    return tuple(tails)


def _pins(tails: tuple[Tail, ...], covers: Span, shifts: Shifts) -> tuple[Pin, ...]:
    """Whatever lies between the tails, and outside of them up to the edges of the joint."""
    near = [covers.start_mm, *(mm for tail in tails for mm in (tail.start_mm, tail.end_mm)), covers.end_mm]
    necks = [mm for tail in tails for mm in (tail.neck_start_mm, tail.neck_end_mm)]
    far = [covers.start_mm + shifts.edge_mm, *necks, covers.end_mm + shifts.edge_mm]
    return tuple(
        Pin(start_mm=start, end_mm=end, root_start_mm=root_start, root_end_mm=root_end, half=index in (0, len(tails)))
        for index, (start, end, root_start, root_end) in enumerate(
            zip(near[::2], near[1::2], far[::2], far[1::2], strict=True)
        )
        if root_end - root_start > EDGE_MM
    )


def _check_proud(spec: CornerSpec, slope: Slope, pins: tuple[Pin, ...]) -> None:
    """The flare goes on into the proud ends; it must not eat a pin's narrow side there."""
    if spec.proud_tails_mm <= -spec.depth_mm:
        raise LayoutError("tails this shy are no tails", remedy="bring proud nearer to 0")
    if spec.proud_pins_mm <= -spec.tails.board.thickness_mm:
        raise LayoutError("pins this shy are no pins", remedy="bring proud nearer to 0")
    extra_mm = slope.flare_mm(max(0.0, spec.proud_tails_mm))
    for number, pin in enumerate(pins, 1):
        left_mm = pin.width_mm - (1 if pin.half else 2) * extra_mm
        if left_mm <= EDGE_MM:
            raise LayoutError(
                f"pin {number} is {pin.width_mm:.2f} mm wide and leaves no room for the saw between tails that "
                f"stand {spec.proud_tails_mm:g} mm proud",
                remedy=f"make the pin at least {pin.width_mm - left_mm + 0.5:.1f} mm",
            )
