"""The through dovetail: tails and pins both show.

Let Tt and Tp be the thicknesses of the tail board and the pin board, 1:n the slope, and d the depth behind the outside
face of the pin board (0 <= d <= Tp). A tail that spans [a, b] where d = 0 spans [a + d/n, b - d/n]: widest at its end,
narrowest (the neck) at the baseline. What lies between the tails is pin: narrowest on the pin board's outside face,
widest on its inside face. A tail that stands proud goes on flaring beyond d = 0, so the layout, whatever the proud,
is true at the plane that is left when the proud ends have been planed flush.

A tail that reaches the edge of the joint has no half pin to hold it there and its outer side is square.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from shapely import Polygon

from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board, BoardEnd, Groove
from dovelayout.joints.face import EndFaces, Face, FaceName, Part, Piece, Segment
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

KIND = "through"

_CLEAR_OF_ENDS_MM = 5.0  # a template is parted no nearer to the end of a plain stretch
_EDGE_MM = 1e-6  # a tail this close to the edge of the joint is meant to be at the edge


@dataclass(frozen=True, slots=True, kw_only=True)
class ThroughSpec:
    """What the maker asks of one through corner; None where the tool is to propose.

    `covers` is the stretch of the tail board's width that the joint takes (None: all that the boards share), in the
    tail board's x. `tails_at` are spans of the tails at the plane of the pin board's outside face; they replace
    count, pins and spacing. `origin` says where in the job the corner was written: (table, name).
    """

    name: str
    tails: BoardEnd
    pins: BoardEnd
    slope: Slope
    tail_count: int | None = None
    pin_mm: float | None = None
    half_pin_mm: float | None = None
    tails_at: tuple[Span, ...] | None = None
    spacing: Spacing = Spacing.EVEN
    covers: Span | None = None
    proud_tails_mm: float = 0.0
    proud_pins_mm: float = 0.0
    groove: Groove | None = None
    origin: tuple[str, str] = ("corner", "")


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
class ThroughJoint:
    """A through corner worked out. `proposed` maps the job's keys that were left open to what the tool chose."""

    spec: ThroughSpec
    covers: Span
    pin_offset_mm: float  # the pin board's face edge in the tail board's x
    tails: tuple[Tail, ...]
    pins: tuple[Pin, ...]
    proposed: dict[str, float] = field(default_factory=dict)

    kind = KIND

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
    def flare_mm(self) -> float:
        """How far one cheek leans over the pin board's thickness."""
        return self.slope.flare_mm(self.pin_board.thickness_mm)

    @property
    def full_pins(self) -> tuple[Pin, ...]:
        """The pins that stand between two tails."""
        return tuple(pin for pin in self.pins if not pin.half)

    @property
    def half_pins(self) -> tuple[Pin, ...]:
        """The pins at the edges."""
        return tuple(pin for pin in self.pins if pin.half)

    def varied(self, **changes: Any) -> ThroughJoint:
        """The same corner with other keys of its ThroughSpec; LayoutError when it can't be."""
        return build_through(replace(self.spec, **changes))

    def end_faces(self) -> tuple[EndFaces, EndFaces]:
        """Faces of the tail board's end and of the pin board's end, each in its own board's coordinates."""
        return (_tail_end(self), _pin_end(self))


def build_through(spec: ThroughSpec) -> ThroughJoint:
    """Works a corner out. Raises LayoutError, in one sentence that names the nearest layout that can be."""
    covers, pin_offset_mm = _place(spec)
    flare_mm = spec.slope.flare_mm(spec.pins.board.thickness_mm)
    spans, proposed = _spans(spec, covers, flare_mm)
    tails = _tails(spans, covers, flare_mm)
    pins = _pins(tails, covers)
    _check_proud(spec, tails, pins)
    return ThroughJoint(
        spec=spec, covers=covers, pin_offset_mm=pin_offset_mm, tails=tails, pins=pins, proposed=proposed
    )


def _place(spec: ThroughSpec) -> tuple[Span, float]:
    """The stretch the joint covers and where the pin board's face edge lies, both in the tail board's x."""
    tail_w, pin_w = spec.tails.board.width_mm, spec.pins.board.width_mm
    if spec.covers is None:
        return Span(0.0, min(tail_w, pin_w)), 0.0
    covers = spec.covers
    if not (0 <= covers.start_mm < covers.end_mm <= tail_w + _EDGE_MM):
        raise LayoutError(
            f"the joint is to cover {covers.start_mm:g} to {covers.end_mm:g} mm, but {spec.tails.board.name} is "
            f"0 to {tail_w:g} mm wide"
        )
    if abs(pin_w - covers.width_mm) <= 0.01:
        return covers, covers.start_mm
    if covers.end_mm <= pin_w + _EDGE_MM:
        return covers, 0.0
    raise LayoutError(
        f"the joint is to cover {covers.start_mm:g} to {covers.end_mm:g} mm ({covers.width_mm:g} mm) of "
        f"{spec.tails.board.name}, but {spec.pins.board.name} is {pin_w:g} mm wide; make it {covers.width_mm:g} mm, "
        f"or let both boards share a face edge and reach {covers.end_mm:g} mm"
    )


def _spans(spec: ThroughSpec, covers: Span, flare_mm: float) -> tuple[tuple[Span, ...], dict[str, float]]:
    if spec.tails_at is not None:
        _check_explicit(spec.tails_at, covers, flare_mm)
        return spec.tails_at, {}
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
            room_mm=covers.width_mm,
            pin_mm=pin_mm,
            half_pin_mm=half_pin_mm,
            spacing=spec.spacing,
            flare_mm=flare_mm,
            thickness_mm=spec.tails.board.thickness_mm,
        )
        proposed["tail_count"] = count
    spans = lay_out_tails(
        over=covers,
        count=count,
        pin_mm=pin_mm,
        half_pin_mm=half_pin_mm,
        spacing=spec.spacing,
        flare_mm=flare_mm,
    )
    return spans, proposed


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
        if span.start_mm < before_mm - _EDGE_MM:
            limit = "the joint starts" if number == 1 else f"tail {number - 1} ends"
            raise LayoutError(f"{where} starts before {limit} ({before_mm:g} mm); start it beyond")
        if number > 1 and span.start_mm - before_mm <= _EDGE_MM:
            raise LayoutError(f"{where} touches tail {number - 1}; leave a pin between them")
        if span.end_mm > covers.end_mm + _EDGE_MM:
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
        at_start = index == 0 and span.start_mm - covers.start_mm <= _EDGE_MM
        at_end = index == len(spans) - 1 and covers.end_mm - span.end_mm <= _EDGE_MM
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
        if root_end - root_start > _EDGE_MM:
            half = index in (0, len(tails))
            pins.append(Pin(start_mm=start, end_mm=end, root_start_mm=root_start, root_end_mm=root_end, half=half))
    return tuple(pins)


def _check_proud(spec: ThroughSpec, tails: tuple[Tail, ...], pins: tuple[Pin, ...]) -> None:
    """The flare goes on into the proud ends; it must not eat a pin's narrow side there."""
    if spec.proud_tails_mm <= -spec.pins.board.thickness_mm:
        raise LayoutError("tails this shy are no tails; bring proud nearer to 0")
    if spec.proud_pins_mm <= -spec.tails.board.thickness_mm:
        raise LayoutError("pins this shy are no pins; bring proud nearer to 0")
    extra_mm = spec.slope.flare_mm(max(0.0, spec.proud_tails_mm))
    for number, pin in enumerate(pins, 1):
        left_mm = pin.width_mm - (1 if pin.half else 2) * extra_mm
        if left_mm <= _EDGE_MM:
            raise LayoutError(
                f"pin {number} is {pin.width_mm:.2f} mm wide and leaves no room for the saw between tails that stand "
                f"{spec.proud_tails_mm:g} mm proud; make the pin at least {pin.width_mm - left_mm + 0.5:.1f} mm"
            )


def _polygon(points: Iterable[tuple[float, float]]) -> Polygon:
    """A valid polygon or a plain error: geometry that went wrong must not travel on."""
    polygon = Polygon(points)
    if not polygon.is_valid or polygon.area <= 0:
        raise LayoutError(f"the layout gives an impossible shape near x = {polygon.bounds[0]:.1f} mm")
    return polygon


def _trapezoid(near: Span, far: Span, near_at_mm: float, far_at_mm: float) -> Polygon:
    return _polygon(
        (
            (near.start_mm, near_at_mm),
            (near.end_mm, near_at_mm),
            (far.end_mm, far_at_mm),
            (far.start_mm, far_at_mm),
        )
    )


def _face(
    name: FaceName,
    *,
    width_mm: float,
    depth_mm: float,
    near: tuple[tuple[str, Span], ...],
    far: tuple[Span, ...],
) -> Face:
    """A face from what stays on it: labelled spans at its near side (0) and their spans at its far side.

    What lies between is waste; the lines between, unless they are the edge of the board, are cheeks.
    """
    keep = tuple(
        Piece(label=label, polygon=_trapezoid(span, far_span, 0.0, depth_mm))
        for (label, span), far_span in zip(near, far, strict=True)
    )
    edge = Span(0.0, 0.0), Span(0.0, 0.0)
    rows = [edge, *((span, far_span) for (_, span), far_span in zip(near, far, strict=True))]
    rows.append((Span(width_mm, width_mm), Span(width_mm, width_mm)))
    waste: list[Polygon] = []
    cheeks: list[Segment] = []
    for (left, far_left), (right, far_right) in itertools.pairwise(rows):
        gap = Span(left.end_mm, right.start_mm)
        far_gap = Span(far_left.end_mm, far_right.start_mm)
        if max(gap.width_mm, far_gap.width_mm) <= _EDGE_MM:
            continue
        waste.append(_trapezoid(gap, far_gap, 0.0, depth_mm))
        if max(gap.start_mm, far_gap.start_mm) > _EDGE_MM:
            cheeks.append(((gap.start_mm, 0.0), (far_gap.start_mm, depth_mm)))
        if min(gap.end_mm, far_gap.end_mm) < width_mm - _EDGE_MM:
            cheeks.append(((gap.end_mm, 0.0), (far_gap.end_mm, depth_mm)))
    return Face(name=name, keep=keep, waste=tuple(waste), cheeks=tuple(cheeks))


def _tail_end(joint: ThroughJoint) -> EndFaces:
    spec, board = joint.spec, joint.tail_board
    thickness_mm, proud_mm = joint.pin_board.thickness_mm, spec.proud_tails_mm
    baseline_mm = thickness_mm + proud_mm
    at_end = tuple((str(i), tail.at(-proud_mm / thickness_mm)) for i, tail in enumerate(joint.tails, 1))
    necks = tuple(tail.neck for tail in joint.tails)
    # beyond what the joint covers, the tail board runs through to its end
    before = Span(0.0, joint.covers.start_mm)
    after = Span(joint.covers.end_mm, board.width_mm)
    if before.width_mm > _EDGE_MM:
        at_end, necks = (("", before), *at_end), (before, *necks)
    if after.width_mm > _EDGE_MM:
        at_end, necks = (*at_end, ("", after)), (*necks, after)
    spans = tuple(span for _, span in at_end)
    face = {"width_mm": board.width_mm, "near": at_end}
    return EndFaces(
        end=spec.tails,
        part=Part.TAILS,
        baseline_mm=baseline_mm,
        proud_mm=proud_mm,
        outside=_face(FaceName.OUTSIDE, depth_mm=baseline_mm, far=necks, **face),  # type: ignore[arg-type]
        end_grain=_face(FaceName.END, depth_mm=board.thickness_mm, far=spans, **face),  # type: ignore[arg-type]
        inside=_face(FaceName.INSIDE, depth_mm=baseline_mm, far=necks, **face),  # type: ignore[arg-type]
        groove=spec.groove,
        cut_places_mm=_cut_places(joint, offset_mm=0.0, width_mm=board.width_mm),
    )


def _pin_end(joint: ThroughJoint) -> EndFaces:
    spec, board = joint.spec, joint.pin_board
    baseline_mm = joint.tail_board.thickness_mm + spec.proud_pins_mm

    def own(span: Span) -> Span:
        return Span(span.start_mm - joint.pin_offset_mm, span.end_mm - joint.pin_offset_mm)

    numbers = iter(range(1, len(joint.pins) + 1))
    outside = tuple(("" if pin.half else str(next(numbers)), own(pin.at(0.0))) for pin in joint.pins)
    roots = tuple(own(pin.at(1.0)) for pin in joint.pins)
    # where the tail board doesn't reach, the pin board runs through to its end
    beyond = Span(joint.tail_board.width_mm - joint.pin_offset_mm, board.width_mm)
    if beyond.width_mm > _EDGE_MM:
        outside, roots = (*outside, ("", beyond)), (*roots, beyond)
    outside_spans = tuple(span for _, span in outside)
    labels = tuple(label for label, _ in outside)
    width_mm = board.width_mm
    return EndFaces(
        end=spec.pins,
        part=Part.PINS,
        baseline_mm=baseline_mm,
        proud_mm=spec.proud_pins_mm,
        outside=_face(FaceName.OUTSIDE, width_mm=width_mm, depth_mm=baseline_mm, near=outside, far=outside_spans),
        end_grain=_face(FaceName.END, width_mm=width_mm, depth_mm=board.thickness_mm, near=outside, far=roots),
        inside=_face(
            FaceName.INSIDE,
            width_mm=width_mm,
            depth_mm=baseline_mm,
            near=tuple(zip(labels, roots, strict=True)),
            far=roots,
        ),
        groove=_own_groove(spec.groove, joint.pin_offset_mm, width_mm),
        cut_places_mm=_cut_places(joint, offset_mm=joint.pin_offset_mm, width_mm=width_mm),
    )


def _own_groove(groove: Groove | None, offset_mm: float, width_mm: float) -> Groove | None:
    """The groove in the pin board's own x; a pin board that starts above it, or ends below it, has none."""
    if groove is None or groove.from_edge_mm < offset_mm or groove.far_mm - offset_mm > width_mm + _EDGE_MM:
        return None
    return replace(groove, from_edge_mm=groove.from_edge_mm - offset_mm)


def _cut_places(joint: ThroughJoint, *, offset_mm: float, width_mm: float) -> tuple[float, ...]:
    """Middles of tails, and places in the plain stretches well clear of their ends, where cheeks may stand."""
    places = [(tail.neck_start_mm + tail.neck_end_mm) / 2 - offset_mm for tail in joint.tails]
    mate_ends_mm = joint.tail_board.width_mm - offset_mm  # beyond it a wider pin board runs through, after a cheek
    plain = (
        Span(0.0, joint.covers.start_mm - offset_mm),
        Span(joint.covers.end_mm - offset_mm, min(mate_ends_mm, width_mm)),
        Span(mate_ends_mm, width_mm),
    )
    for stretch in plain:
        steps = int((stretch.width_mm - _CLEAR_OF_ENDS_MM) // 20)
        places.extend(stretch.start_mm + 20 * step for step in range(1, steps + 1))
    return tuple(sorted(place for place in places if 0 < place < width_mm))
