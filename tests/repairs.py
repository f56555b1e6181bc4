"""Strategies for breaks, gaps and slips."""

from __future__ import annotations

from hypothesis import strategies as st

from dovelayout.repair.broken import SnappedPin, TornBaseline
from dovelayout.repair.gap import GapMethod, Slip, slip_for
from dovelayout.repair.patch import Break, Patch, lay_patch
from tests.strategies import lengths, thicknesses

RING_DEG = st.one_of(
    st.sampled_from((0.0, 30.0, -30.0, 45.0, 90.0, -60.0, 120.0, 180.0)), lengths(0, 360).map(lambda d: d - 180)
)


@st.composite
def patches(draw: st.DrawFn) -> Patch:
    """A patch for a break of any size that a board can have."""
    thickness_mm = draw(thicknesses())
    depth_mm = draw(st.just(thickness_mm) | lengths(0.5, thickness_mm))
    lost = Break(
        width_mm=draw(lengths(0.5, 60)), depth_mm=depth_mm, length_mm=draw(lengths(0.5, 120)), chip=draw(st.booleans())
    )
    runout_ratio = draw(st.none() | lengths(1.5, 30))
    return lay_patch(lost, thickness_mm=thickness_mm, ring_deg=draw(RING_DEG), runout_ratio=runout_ratio)


@st.composite
def slips(draw: st.DrawFn) -> Slip:
    """A slip, sliver, shaving or patch for a gap."""
    method = draw(st.sampled_from([method for method in GapMethod if method.wooden]))
    slip = slip_for(method, draw(lengths(0.15, 3)), draw(lengths(2, 60)), draw(lengths(2, 40)))
    assert slip is not None
    return slip


@st.composite
def pins(draw: st.DrawFn) -> SnappedPin:
    """A pin that snapped off, of any size that a board can have."""
    narrow_mm = draw(lengths(1, 30))
    length_mm = draw(lengths(4, 40))
    return SnappedPin(
        narrow_mm=narrow_mm,
        wide_mm=narrow_mm + draw(lengths(0.2, 12)),
        length_mm=length_mm,
        thickness_mm=draw(lengths(5, 40)),
        half=draw(st.booleans()),
        room_mm=draw(st.none() | lengths(4, 60)),
    )


@st.composite
def torn_baselines(draw: st.DrawFn) -> TornBaseline:
    """End grain torn out at a baseline."""
    thickness_mm = draw(thicknesses())
    return TornBaseline(
        socket_mm=draw(lengths(2, 60)),
        below_mm=draw(lengths(0.2, 20)),
        into_mm=draw(lengths(0.2, thickness_mm)),
        thickness_mm=thickness_mm,
    )
