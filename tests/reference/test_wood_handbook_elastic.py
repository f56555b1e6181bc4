"""Stiffness across the grain against the Wood Handbook (FPL-GTR-190, 2010; FPL-GTR-282, 2021), Table 5-1."""

from __future__ import annotations

import pytest

from dovelayout.wood.moisture import Direction
from dovelayout.wood.species import WoodKind, all_woods, find_wood, maker_wood
from dovelayout.wood.stiffness import all_ratios, cross_stiffness, mean_ratios

BY_SPECIES = {row.species: row for row in all_ratios()}


# typed from copies of the table, but for cherry, which is from memory and says so
@pytest.mark.parametrize(
    ("species", "tangential", "radial", "provenance"),
    [
        ("Balsa", 0.015, 0.046, "handbook"),
        ("Maple, sugar", 0.065, 0.132, "handbook"),
        ("Oak, red", 0.082, 0.154, "handbook"),
        ("Oak, white", 0.072, 0.163, "handbook"),
        ("Douglas-fir", 0.050, 0.068, "handbook"),
        ("Pine, loblolly", 0.078, 0.113, "handbook"),
        ("Cherry, black", 0.086, 0.197, "memory"),
    ],
)
def test_hand_typed_rows_of_the_handbook(species: str, tangential: float, radial: float, provenance: str) -> None:
    row = BY_SPECIES[species]
    assert (row.tangential, row.radial, row.provenance) == (tangential, radial, provenance)


def test_there_are_34_woods_and_each_is_stiffer_across_the_rings_than_along_them_but_redwood() -> None:
    assert len(all_ratios()) == 34
    assert [row.species for row in all_ratios() if row.radial <= row.tangential] == ["Redwood"]
    assert all(0.01 < row.tangential < 0.1 for row in all_ratios())
    assert all(0.04 < row.radial < 0.2 for row in all_ratios())


def test_stiffness_is_the_ratio_times_the_printed_modulus() -> None:
    # cherry: 10.3 GPa (Table 5-3a) x 0.086 and 0.197 (Table 5-1, from memory); maple 12.6 x 0.065
    cherry, maple = find_wood("black cherry"), find_wood("sugar maple")
    flat, quarter, rift = (cross_stiffness(cherry, d) for d in (Direction.TANGENTIAL, Direction.RADIAL, Direction.MEAN))
    assert flat is not None
    assert quarter is not None
    assert rift is not None
    assert (flat.mpa, quarter.mpa) == pytest.approx((885.8, 2029.1))
    assert rift.mpa == pytest.approx((flat.mpa + quarter.mpa) / 2)
    assert "memory" in flat.doubt
    assert "rings at 45 degrees" in rift.doubt
    hard = cross_stiffness(maple, Direction.TANGENTIAL)
    assert hard is not None
    assert (hard.mpa, hard.doubt) == (pytest.approx(819.0), "")


def test_a_wood_without_a_row_gets_the_mean_of_its_kind_and_says_so() -> None:
    pine = cross_stiffness(find_wood("eastern white pine"), Direction.TANGENTIAL)
    assert pine is not None
    softwoods = [row.tangential for row in all_ratios() if row.kind is WoodKind.SOFTWOOD]
    assert len(softwoods) == 19
    assert pine.mpa == pytest.approx(8500 * sum(softwoods) / 19)
    assert "mean of 19 softwoods" in pine.doubt
    assert mean_ratios(WoodKind.UNKNOWN).species == "mean of 34 woods"


def test_without_a_modulus_nothing_is_known() -> None:
    assert cross_stiffness(maker_wood(name="hearsay"), Direction.RADIAL) is None
    assert cross_stiffness(find_wood("birch plywood"), Direction.TANGENTIAL) is None


def test_every_row_that_could_be_matched_belongs_to_a_known_wood() -> None:
    with_a_row = {
        wood.id
        for wood in all_woods()
        if (known := cross_stiffness(wood, Direction.RADIAL)) is not None and "no row of its own" not in known.doubt
    }
    assert {"cherry_black", "maple_sugar", "oak_n_red", "redwood_old", "redwood_young", "redcedar_west"} <= with_a_row
    assert len(with_a_row) >= 30
