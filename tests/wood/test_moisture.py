"""Moisture and movement: the rules around the published equations (`tests/reference` holds the equations themselves)."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.joints.board import Rings
from dovelayout.wood.moisture import Direction, coefficient, emc_pct, size_change_share
from dovelayout.wood.species import WoodKind, all_woods, find_wood, maker_wood

MOVING = [wood for wood in all_woods() if coefficient(wood, Direction.MEAN) is not None]


def test_movement_is_coefficient_times_change_of_moisture_between_6_and_14_percent() -> None:
    cherry = find_wood("black cherry")
    dry, damp = emc_pct(40, 20), emc_pct(60, 20)
    shares = [
        size_change_share(cherry, direction, from_mc_pct=dry, to_mc_pct=damp)
        for direction in (Direction.TANGENTIAL, Direction.RADIAL, Direction.MEAN)
    ]
    assert shares == pytest.approx([0.00248 * (damp - dry), 0.00126 * (damp - dry), 0.00187 * (damp - dry)])
    # about 3.3 points: 20 in of it move by roughly 4 mm
    assert 508 * shares[0] == pytest.approx(4.2, abs=0.2)  # type: ignore[operator]


def test_a_wood_without_coefficients_is_not_known() -> None:
    wood = maker_wood(name="hearsay", kind=WoodKind.HARDWOOD)
    assert coefficient(wood, Direction.RADIAL) is None
    assert size_change_share(wood, Direction.TANGENTIAL, from_mc_pct=6, to_mc_pct=12) is None


@pytest.mark.parametrize("direction", [Direction.TANGENTIAL, Direction.MEAN])
def test_plywood_stays_as_it_is_in_its_plane(direction: Direction) -> None:
    assert size_change_share(find_wood("birch plywood"), direction, from_mc_pct=4, to_mc_pct=16) == 0


def test_plywood_swells_through_its_thickness_as_its_veneers_do() -> None:
    """12 mm from 45 to 75 %: about 0.18 mm, as yellow birch radially (Table 13-5: 0.00256)."""
    share = size_change_share(
        find_wood("birch plywood"), Direction.RADIAL, from_mc_pct=emc_pct(45), to_mc_pct=emc_pct(75)
    )
    birch = size_change_share(
        find_wood("yellow birch"), Direction.RADIAL, from_mc_pct=emc_pct(45), to_mc_pct=emc_pct(75)
    )
    assert share is not None
    assert share == birch
    assert 12 * share == pytest.approx(0.18, abs=0.005)


def test_of_two_published_coefficients_the_larger_counts_and_the_doubt_says_so() -> None:
    red_oak = coefficient(find_wood("northern red oak"), Direction.TANGENTIAL)
    assert red_oak is not None
    assert red_oak.per_pct == 0.00369  # the commercial group of Table 13-5, above what its own shrinkage gives
    assert "Table 13-5 gives 0.00369" in red_oak.doubt
    cherry = coefficient(find_wood("black cherry"), Direction.TANGENTIAL)
    assert cherry is not None
    assert not cherry.doubt


def test_a_coefficient_worked_out_from_shrinkage_says_so() -> None:
    one_sided = [wood for wood in MOVING if wood.coeff_tangential is None and wood.coeff_tangential_from_shrink]
    assert one_sided
    for wood in one_sided:
        known = coefficient(wood, Direction.TANGENTIAL)
        assert known is not None
        assert known.provenance.startswith("from its shrinkage")


def test_rings_say_which_rate_a_dimension_moves_at() -> None:
    assert (Rings.FLAT.across_width, Rings.FLAT.across_thickness) == (Direction.TANGENTIAL, Direction.RADIAL)
    assert (Rings.QUARTER.across_width, Rings.QUARTER.across_thickness) == (Direction.RADIAL, Direction.TANGENTIAL)
    assert Rings.RIFT.across_width is Rings.RIFT.across_thickness is Direction.MEAN


CONTENTS = st.floats(0, 40)


@given(wood=st.sampled_from(MOVING), direction=st.sampled_from(Direction), one=CONTENTS, other=CONTENTS)
def test_wood_swells_when_wetted_and_comes_back(wood, direction, one, other) -> None:  # type: ignore[no-untyped-def]
    share = size_change_share(wood, direction, from_mc_pct=one, to_mc_pct=other)
    back = size_change_share(wood, direction, from_mc_pct=other, to_mc_pct=one)
    assert share is not None
    assert back is not None
    assert share * (other - one) >= 0
    if not (6 <= one <= 14 and 6 <= other <= 14):  # Eq 13-2 is linear, so there and back is off by its square
        assert (1 + share) * (1 + back) == pytest.approx(1)
    if min(one, other) >= (wood.coeff_fsp_pct or 30):
        assert share == 0


@given(wood=st.sampled_from(MOVING), direction=st.sampled_from(Direction))
def test_the_two_equations_meet(wood, direction) -> None:  # type: ignore[no-untyped-def]
    known = coefficient(wood, direction)
    assert known is not None
    inside = size_change_share(wood, direction, from_mc_pct=10, to_mc_pct=14)
    outside = size_change_share(wood, direction, from_mc_pct=10, to_mc_pct=14 + 1e-9)
    assert inside == pytest.approx(outside, rel=1e-6)


@pytest.mark.parametrize(
    ("printed", "own", "table"), [(0.0030, 0.0020, "Table 13-5"), (0.0020, 0.0030, "from its shrinkage")]
)
def test_the_coefficient_that_counts_names_the_table_it_is_from(printed: float, own: float, table: str) -> None:
    wood = replace(
        find_wood("black cherry"),
        coeff_tangential=printed,
        coeff_tangential_from_shrink=own,
        coefficient_provenance="printed",
        shrinkage_provenance="own",
    )
    known = coefficient(wood, Direction.TANGENTIAL)
    assert known is not None
    assert known.per_pct == 0.0030
    assert known.provenance == f"{table} ({'printed' if table == 'Table 13-5' else 'own'})"
    assert known.doubt
