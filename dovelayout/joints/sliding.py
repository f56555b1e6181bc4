"""The sliding dovetail: a housing across the face of one board, the host, takes a key on the end of another.

Directions, beside those of `board`: s, the station, runs along the host's width from its face edge, which is the front
edge; the key comes in from the rear and slides towards s = 0. u runs along the host's length from the end that the
setting-out is measured from; the cheek nearer to that end is the lower one. z runs from the host's face into it.

`wide_mm` is the key's width at its end where it leaves the housing at the rear. A sloped cheek leans out by z/n, so the
housing is narrowest (the neck) at the host's face and widest at its floor. A tapered cheek stands in by (rear - s)/m
besides: the key is free while it slides and gets tight only when it is home. The tongue is shorter than the housing is
deep by the slip, and thinner by the clearance at each cheek; beyond these two there is no void.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from dovelayout.errors import LayoutError
from dovelayout.joints.board import Board, BoardEnd, End
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import LEAST_NECK_MM, Span

SLIP_MM = 0.13
"""How much shorter than the housing's depth the tongue is (common practice, no source: 0.005 in)."""

DEFAULT_SLOPE = Slope(7.115369722384208)
"""8 degrees, a usual angle of router bits (common practice, no source)."""

LEAST_DEPTH_MM = 1.0
"""A shallower housing holds nothing; ours."""

LEAST_LENGTH_MM = 10.0
"""A shorter tongue holds nothing; ours."""

LEAST_TAPER = 20.0
"""A taper of 1:n steeper than this is a wedge, not a sliding joint; ours (1:64 is called fierce)."""

_EDGE_MM = 1e-9


class Cheek(StrEnum):
    """A side of the housing: the lower is nearer to the end that the setting-out is measured from."""

    UPPER = "upper"
    LOWER = "lower"


class HostFace(StrEnum):
    """The face of the host that the housing is cut in."""

    INSIDE = "inside"
    OUTSIDE = "outside"


class Sloped(StrEnum):
    """Which cheeks lean: both, or one (a barefaced joint, whose other cheek is square)."""

    BOTH = "both"
    UPPER = "upper"
    LOWER = "lower"


class Datum(StrEnum):
    """What the distance from the host's end is measured to, at the host's face and at the rear of the key."""

    LOWER = "lower"
    CENTRE = "centre"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bit:
    """A dovetail bit: its largest diameter, its slope, and whether a straight bit ploughs first."""

    diameter_mm: float
    slope: Slope
    ploughed_first: bool = False

    def neck_mm(self, depth_mm: float) -> float:
        """Width of the slot that one pass leaves at the face: D - 2 d tan(angle). 0 or less: no such slot."""
        return self.diameter_mm - 2 * self.slope.flare_mm(depth_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class SlidingSpec:
    """The specification of one sliding dovetail.

    `host.end` is the end that `at_mm` is measured from, `face` the one with the housing; `wide_mm` None: the key's
    thickness. `taper_ratio` None: the cheeks run parallel. `stop_mm` is where the housing ends behind the host's front
    edge, 0 when it runs through; `set_back_mm` how far the key's face edge stands behind that edge. `glue_zone_mm`: glue
    is spread only that far behind the tongue's front (None: all along). `cup_mm`: hollow of the key over its width.
    """

    name: str
    host: BoardEnd
    key: BoardEnd
    at_mm: float
    depth_mm: float
    measured_to: Datum = Datum.LOWER
    face: HostFace = HostFace.INSIDE
    wide_mm: float | None = None
    sloped: Sloped = Sloped.BOTH
    slope: Slope = DEFAULT_SLOPE
    taper_ratio: float | None = None
    taper_on: Cheek | None = None
    stop_mm: float = 0.0
    set_back_mm: float = 0.0
    slip_mm: float = SLIP_MM
    clearance_mm: float = 0.0
    glue_zone_mm: float | None = None
    cup_mm: float = 0.0
    bit: Bit | None = None
    origin: tuple[str, str] = ("divider", "")


@dataclass(frozen=True, slots=True, kw_only=True)
class SlidingJoint:
    """A sliding dovetail, fully worked out. Stations are in the host's s, spans in its u, depths in its z."""

    spec: SlidingSpec
    wide_mm: float
    taper_on: Cheek
    neck_lower_mm: float  # u of the tongue's lower side at the host's face, at the rear

    @property
    def name(self) -> str:
        """The joint's name."""
        return self.spec.name

    @property
    def host(self) -> Board:
        """The board with the housing."""
        return self.spec.host.board

    @property
    def key(self) -> Board:
        """The board with the tongue."""
        return self.spec.key.board

    @property
    def slope(self) -> Slope:
        """The slope of its sloped cheeks."""
        return self.spec.slope

    @property
    def end_on_the_left(self) -> bool:
        """Whether the end measured from is on the left, looking at the face with the housing, its front edge down."""
        return (self.spec.host.end is End.LEFT) is (self.spec.face == HostFace.OUTSIDE)

    @property
    def depth_mm(self) -> float:
        """Depth of the housing."""
        return self.spec.depth_mm

    @property
    def tongue_mm(self) -> float:
        """Height of the tongue: the housing's depth less the slip."""
        return self.spec.depth_mm - self.spec.slip_mm

    @property
    def front_mm(self) -> float:
        """Station where the housing and the tongue begin."""
        return self.spec.stop_mm

    @property
    def rear_mm(self) -> float:
        """Station of the key's rear edge; the housing goes on to the host's own."""
        return self.spec.set_back_mm + self.key.width_mm

    @property
    def length_mm(self) -> float:
        """Length of the tongue."""
        return self.rear_mm - self.front_mm

    @property
    def rear_gap_mm(self) -> float:
        """What the key leaves free of the host behind it."""
        return self.host.width_mm - self.rear_mm

    @property
    def notch_mm(self) -> float:
        """How much of the tongue is cut away at the key's front, so that the stop doesn't show."""
        return self.front_mm - self.spec.set_back_mm

    @property
    def tapered(self) -> bool:
        """Whether one cheek runs in towards the front."""
        return self.spec.taper_ratio is not None

    @property
    def shoulders_mm(self) -> tuple[float, float]:
        """What stands of the key below and above the tongue at the host's face, at the rear."""
        neck_mm = self.tongue_at(self.rear_mm, 0.0).width_mm
        spare_mm = self.key.thickness_mm - neck_mm
        below = {Sloped.BOTH: 0.5, Sloped.LOWER: 1.0, Sloped.UPPER: 0.0}[self.spec.sloped]
        return spare_mm * below, spare_mm * (1 - below)

    @property
    def key_lower_mm(self) -> float:
        """u of the key's lower face."""
        return self.neck_lower_mm - self.shoulders_mm[0]

    def taper_mm(self, station_mm: float) -> float:
        """How far the tapered cheek stands in at a station; negative behind the key's rear, where it stands out."""
        ratio = self.spec.taper_ratio
        return 0.0 if ratio is None else (self.rear_mm - station_mm) / ratio

    def tongue_at(self, station_mm: float, z_mm: float) -> Span:
        """The tongue's span at a station and a depth."""
        return self._span(station_mm, z_mm, spread_mm=0.0)

    def housing_at(self, station_mm: float, z_mm: float) -> Span:
        """The housing's span at a station and a depth."""
        return self._span(station_mm, z_mm, spread_mm=self.spec.clearance_mm)

    def neck_at(self, station_mm: float) -> Span:
        """The housing's span at the host's face."""
        return self.housing_at(station_mm, 0.0)

    def floor_at(self, station_mm: float) -> Span:
        """The housing's span at its floor, where it is widest."""
        return self.housing_at(station_mm, self.depth_mm)

    def varied(self, **changes: Any) -> SlidingJoint:
        """The same joint with other fields of its SlidingSpec. Raises LayoutError where it can't be built."""
        return build_sliding(replace(self.spec, **changes))

    def _span(self, station_mm: float, z_mm: float, *, spread_mm: float) -> Span:
        lean_mm = self.slope.flare_mm(z_mm)
        lean_lower = lean_mm if self.spec.sloped is not Sloped.UPPER else 0.0
        lean_upper = lean_mm if self.spec.sloped is not Sloped.LOWER else 0.0
        in_mm = self.taper_mm(station_mm)
        in_lower, in_upper = (in_mm, 0.0) if self.taper_on is Cheek.LOWER else (0.0, in_mm)
        neck_mm = _neck_mm(self.spec, self.wide_mm)
        return Span(
            self.neck_lower_mm + in_lower - lean_lower - spread_mm,
            self.neck_lower_mm + neck_mm - in_upper + lean_upper + spread_mm,
        )


def build_sliding(spec: SlidingSpec) -> SlidingJoint:
    """Works out a sliding dovetail. Raises LayoutError, whose remedy is the nearest that can be built."""
    wide_mm = spec.key.board.thickness_mm if spec.wide_mm is None else spec.wide_mm
    neck_mm = _neck_mm(spec, wide_mm)
    half_mm = neck_mm / 2 if spec.measured_to is Datum.CENTRE else -spec.clearance_mm
    joint = SlidingJoint(
        spec=spec,
        wide_mm=wide_mm,
        taper_on=spec.taper_on or (Cheek.UPPER if spec.sloped is Sloped.UPPER else Cheek.LOWER),
        neck_lower_mm=spec.at_mm - half_mm,
    )
    for check in (_check_depth, _check_length, _check_width, _check_place):
        check(joint)
    return joint


def _sides(spec: SlidingSpec) -> int:
    return 2 if spec.sloped is Sloped.BOTH else 1


def _neck_mm(spec: SlidingSpec, wide_mm: float) -> float:
    """The tongue's width at the host's face, at the rear."""
    return wide_mm - _sides(spec) * spec.slope.flare_mm(spec.depth_mm - spec.slip_mm)


def _check_depth(joint: SlidingJoint) -> None:
    spec, thick_mm = joint.spec, joint.host.thickness_mm
    if spec.depth_mm >= thick_mm:
        problem = f"a housing {spec.depth_mm:g} mm deep goes through {joint.host.name}, {thick_mm:g} mm thick"
        raise LayoutError(problem, remedy=f"{thick_mm / 3:.1f} mm is a third of it")
    if spec.slip_mm < 0 or spec.clearance_mm < 0:
        problem = "a slip or a clearance below 0 would drive the key into the host"
        raise LayoutError(problem, remedy="0 is a joint without room")
    if joint.tongue_mm < LEAST_DEPTH_MM - _EDGE_MM:
        problem = f"a housing {spec.depth_mm:g} mm deep leaves a tongue of {joint.tongue_mm:g} mm"
        raise LayoutError(problem, remedy=f"{LEAST_DEPTH_MM + spec.slip_mm:g} mm would be the least")


def _check_length(joint: SlidingJoint) -> None:
    spec, length_mm, furthest_mm = joint.spec, max(0.0, joint.length_mm), max(0.0, joint.rear_mm - LEAST_LENGTH_MM)
    if joint.rear_gap_mm < -_EDGE_MM:
        problem = f"the key {joint.key.name} stands {-joint.rear_gap_mm:g} mm out behind {joint.host.name}"
        raise LayoutError(problem, remedy=f"a key {joint.host.width_mm - spec.set_back_mm:g} mm wide would end flush")
    if joint.notch_mm < -_EDGE_MM:
        problem = f"the housing would show in front of the key, which is set back {spec.set_back_mm:g} mm"
        raise LayoutError(problem, remedy=f"stop it {spec.set_back_mm:g} mm from the front, or further back")
    if joint.length_mm < LEAST_LENGTH_MM - _EDGE_MM:
        problem = f"a stop {spec.stop_mm:g} mm from the front leaves {length_mm:g} mm of tongue"
        raise LayoutError(problem, remedy=f"{furthest_mm:g} mm is the furthest that leaves {LEAST_LENGTH_MM:g} mm")


def _check_width(joint: SlidingJoint) -> None:
    spec, thick_mm, ratio = joint.spec, joint.key.thickness_mm, joint.spec.taper_ratio
    if joint.wide_mm > thick_mm + _EDGE_MM:
        problem = f"the tongue is to be {joint.wide_mm:g} mm wide and {joint.key.name} is {thick_mm:g} mm thick"
        raise LayoutError(problem, remedy=f"{thick_mm:g} mm is the widest")
    if ratio is not None and ratio < LEAST_TAPER:
        problem = f"a taper of 1:{ratio:g} is a wedge and drives the key out again"
        raise LayoutError(problem, remedy=f"1:{LEAST_TAPER:g} is the steepest, 1:320 the usual")
    taper_mm = joint.taper_mm(joint.front_mm)
    neck_mm = _neck_mm(spec, joint.wide_mm) - taper_mm
    if neck_mm >= LEAST_NECK_MM - _EDGE_MM:
        return
    spare_mm = joint.wide_mm - taper_mm - LEAST_NECK_MM
    deepest_mm = spec.slope.ratio * spare_mm / _sides(spec) + spec.slip_mm
    nearest = "a thicker key would do"
    if deepest_mm - spec.slip_mm >= LEAST_DEPTH_MM:
        nearest = f"{math.floor(deepest_mm * 100) / 100:g} mm deep at this slope leaves {LEAST_NECK_MM:g} mm"
    raise LayoutError(f"the key's neck is {neck_mm:.2f} mm at the front and breaks off", remedy=nearest)


def _check_place(joint: SlidingJoint) -> None:
    """Both sides of the housing stand on the host, at its floor and where it is widest: at the host's rear edge."""
    host, at_mm = joint.host, joint.spec.at_mm
    stations = (joint.front_mm, host.width_mm)
    spans = [span_at(station) for span_at in (joint.floor_at, joint.neck_at) for station in stations]
    low, high = min(span.start_mm for span in spans), max(span.end_mm for span in spans)
    if high - low > host.length_mm:
        problem = f"the housing is {high - low:.2f} mm wide and {host.name} {host.length_mm:g} mm long"
        raise LayoutError(problem, remedy="a narrower key would do")
    if low < -_EDGE_MM or high > host.length_mm + _EDGE_MM:
        # rounded towards the middle of the board, so that what is named can be built
        nearest_mm = math.ceil((at_mm - low) * 100) / 100
        if low >= 0:
            nearest_mm = math.floor((at_mm - (high - host.length_mm)) * 100) / 100
        reaches = f"reaches {low:.2f} to {high:.2f} mm from the end of {host.name}"
        problem = f"the housing {reaches}, which is {host.length_mm:g} mm long"
        raise LayoutError(problem, remedy=f"at {nearest_mm:.2f} mm it would just lie on the board")
