"""The wood table against the Wood Handbook (FPL-GTR-190, 2010; FPL-GTR-282, 2021)."""

import pytest

from dovelayout.wood.species import Wood, all_woods, find_wood

BY_ID = {wood.id: wood for wood in all_woods()}


# Strengths at 12 % MC: Table 5-3. Shrinkage green to ovendry: Table 4-3. Coefficients: Table 13-5.
@pytest.mark.parametrize(
    ("name", "mor_mpa", "moe_gpa", "hardness_n", "radial_pct", "tangential_pct", "coeff_tangential"),
    [
        ("black cherry", 85, 10.3, 4200, 3.7, 7.1, 0.00248),
        ("sugar maple", 109, 12.6, 6400, 4.8, 9.9, 0.00353),
        ("eastern white pine", 59, 8.5, 1700, 2.1, 6.1, 0.00212),
    ],
)
def test_hand_typed_rows_of_the_handbook(
    name: str,
    mor_mpa: float,
    moe_gpa: float,
    hardness_n: float,
    radial_pct: float,
    tangential_pct: float,
    coeff_tangential: float,
) -> None:
    wood = find_wood(name)
    assert (wood.mor_mpa, wood.moe_gpa, wood.side_hardness_n) == (mor_mpa, moe_gpa, hardness_n)
    assert (wood.shrink_radial_pct, wood.shrink_tangential_pct) == (radial_pct, tangential_pct)
    assert wood.coeff_tangential == coeff_tangential


@pytest.mark.parametrize("wood", all_woods(), ids=lambda wood: wood.id)
def test_every_row_is_a_plausible_wood(wood: Wood) -> None:
    assert wood.mor_mpa is not None
    assert 20 < wood.mor_mpa < 180
    assert wood.moe_gpa is not None
    assert 3 < wood.moe_gpa < 22
    assert wood.sg_12 is not None
    assert 0.1 < wood.sg_12 < 1.1
    assert wood.mechanical_provenance == "handbook"


def test_wood_shrinks_more_along_the_rings_than_across_them_without_exception() -> None:
    shrinks = [w for w in all_woods() if w.shrink_radial_pct is not None and w.shrink_tangential_pct is not None]
    assert len(shrinks) == 75
    assert [w.id for w in shrinks if not w.shrink_tangential_pct > w.shrink_radial_pct] == []  # type: ignore[operator]


def test_the_two_woods_without_shrinkage_are_known() -> None:
    assert [w.id for w in all_woods() if w.shrink_tangential_pct is None] == [
        "spruce_white",
        "meranti_dark_red",
    ]


def coefficient_by_rule(shrink_pct: float, fsp_pct: float) -> float:
    """The rule of Table 13-5's footnote: C = (S/100)/f / (1 - (S/100)(f - 10)/f)."""
    share = shrink_pct / 100
    return share / fsp_pct / (1 - share * (fsp_pct - 10) / fsp_pct)


def rule_disagreements() -> tuple[int, set[str]]:
    """How many coefficients can be compared, and the woods with one off by more than 1 in the last place."""
    compared, off = 0, set()
    for wood in all_woods():
        for shrink, coeff in (
            (wood.shrink_radial_pct, wood.coeff_radial),
            (wood.shrink_tangential_pct, wood.coeff_tangential),
        ):
            if shrink is not None and coeff is not None:
                compared += 1
                assert wood.coeff_fsp_pct is not None
                if abs(coefficient_by_rule(shrink, wood.coeff_fsp_pct) - coeff) > 1.05e-5:
                    off.add(wood.id)
    return compared, off


def test_the_rule_reproduces_table_13_5_for_all_but_twelve_of_66_woods() -> None:
    compared, off = rule_disagreements()
    assert compared == 132
    # The groups carry a commercial group's coefficient; for the imports Tables 13-5 and 4-4 differ.
    groups = {"hickory_shagbark", "oak_n_red", "oak_white"}
    imports = {"mahogany_true", "mahogany_african", "teak", "spanish_cedar", "iroko"}
    imports |= {"limba", "obeche", "okoume", "primavera"}
    assert off == groups | imports
    assert all(BY_ID[wood_id].origin != "North America" for wood_id in imports)


@pytest.mark.parametrize("wood", all_woods(), ids=lambda wood: wood.id)
def test_the_columns_worked_out_from_shrinkage_follow_the_rule(wood: Wood) -> None:
    for shrink, coeff in (
        (wood.shrink_radial_pct, wood.coeff_radial_from_shrink),
        (wood.shrink_tangential_pct, wood.coeff_tangential_from_shrink),
    ):
        assert (shrink is None) == (coeff is None)
        if shrink is not None and coeff is not None:
            assert coefficient_by_rule(shrink, wood.coeff_fsp_pct or 30) == pytest.approx(coeff, abs=6e-6)


def test_the_commercial_red_oak_coefficient_is_the_larger_one_by_15_and_21_percent() -> None:
    oak = BY_ID["oak_n_red"]
    assert oak.coeff_radial == pytest.approx(1.15 * oak.coeff_radial_from_shrink, rel=0.01)  # type: ignore[operator]
    assert oak.coeff_tangential == pytest.approx(1.21 * oak.coeff_tangential_from_shrink, rel=0.01)  # type: ignore[operator]
