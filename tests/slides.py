"""Sliding dovetails for tests: one spec with everything else as the test says, and a strategy for valid ones."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st
from shapely import Polygon

from dovelayout.joints.board import Board, BoardEnd, End
from dovelayout.joints.sliding import Cheek, Datum, SlidingJoint, SlidingSpec, Sloped, build_sliding
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import LEAST_NECK_MM, Span
from dovelayout.wood.species import find_wood
from tests.strategies import lengths


def sliding_spec(
    *,
    host_mm: tuple[float, float, float] = (500, 300, 19),
    key_mm: tuple[float, float, float] = (600, 240, 19),
    species: str = "black cherry",
    **keys: Any,
) -> SlidingSpec:
    """A shelf in a side; boards given as (length, width, thickness)."""
    wood = find_wood(species)
    side, shelf = (
        Board(name=name, wood=wood, length_mm=size[0], width_mm=size[1], thickness_mm=size[2])
        for name, size in (("side", host_mm), ("shelf", key_mm))
    )
    given = {"at_mm": 200.0, "depth_mm": 6.0, **keys}
    return SlidingSpec(
        name="shelf", host=BoardEnd(board=side, end=End.LEFT), key=BoardEnd(board=shelf, end=End.LEFT), **given
    )


@st.composite
def sliding_joints(draw: st.DrawFn) -> SlidingJoint:
    """A valid one of any kind: built up from a neck that holds, so that nothing is filtered out."""
    slope = Slope(draw(lengths(3, 12)))
    slip_mm = draw(st.sampled_from((0.0, 0.13)) | lengths(0, 0.4))
    tongue_mm = draw(lengths(2, 14))
    sloped = draw(st.sampled_from(Sloped))
    key_width_mm = draw(lengths(40, 400))
    set_back_mm = draw(st.just(0.0) | lengths(0, 15))
    stop_mm = set_back_mm + draw(st.just(0.0) | lengths(0, 25))
    length_mm = set_back_mm + key_width_mm - stop_mm
    taper_ratio = draw(st.none() | lengths(60, 500))
    taper_mm = 0.0 if taper_ratio is None else length_mm / taper_ratio
    sides = 2 if sloped is Sloped.BOTH else 1
    wide_mm = LEAST_NECK_MM + 0.01 + taper_mm + sides * slope.flare_mm(tongue_mm) + draw(lengths(0, 20))
    return build_sliding(
        sliding_spec(
            host_mm=(1000, set_back_mm + key_width_mm + draw(st.just(0.0) | lengths(0, 40)), 30),
            key_mm=(600, key_width_mm, wide_mm + draw(st.just(0.0) | lengths(0, 10))),
            at_mm=draw(lengths(100, 800)),
            measured_to=draw(st.sampled_from(Datum)),
            depth_mm=tongue_mm + slip_mm,
            wide_mm=wide_mm,
            sloped=sloped,
            slope=slope,
            taper_ratio=taper_ratio,
            taper_on=draw(st.none() | st.sampled_from(Cheek)),
            stop_mm=stop_mm,
            set_back_mm=set_back_mm,
            slip_mm=slip_mm,
            clearance_mm=draw(st.just(0.0) | lengths(0, 0.3)),
        )
    )


def section(at_face: Span, at_end: Span, high_mm: float) -> Polygon:
    """A tongue's or a housing's section in (u, z): its span at the host's face and at its end or floor."""
    return Polygon(
        ((at_face.start_mm, 0.0), (at_face.end_mm, 0.0), (at_end.end_mm, high_mm), (at_end.start_mm, high_mm))
    )


def tongue_section(joint: SlidingJoint, station_mm: float) -> Polygon:
    """The tongue's section at a station."""
    return section(joint.tongue_at(station_mm, 0.0), joint.tongue_at(station_mm, joint.tongue_mm), joint.tongue_mm)


def housing_section(joint: SlidingJoint, station_mm: float) -> Polygon:
    """The housing's section at a station."""
    return section(joint.neck_at(station_mm), joint.floor_at(station_mm), joint.depth_mm)
