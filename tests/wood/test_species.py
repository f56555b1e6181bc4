"""Finding woods by the names that makers use."""

import dataclasses
import math

import pytest

from dovelayout.errors import WoodError
from dovelayout.wood.species import Wood, WoodKind, all_woods, find_wood, maker_wood


def test_the_table_is_read_whole_once_and_cannot_be_changed() -> None:
    woods = all_woods()
    assert len(woods) == 77
    assert all_woods() is woods
    with pytest.raises(dataclasses.FrozenInstanceError):
        woods[0].mor_mpa = 1.0  # type: ignore[misc]


def test_every_wood_is_found_by_its_own_name_and_id_and_every_id_is_its_own() -> None:
    for wood in all_woods():
        assert find_wood(wood.name) is wood
        assert find_wood(wood.id) is wood
    assert len({wood.id for wood in all_woods()}) == len(all_woods())


def test_names_are_in_reading_order_and_keep_proper_names() -> None:
    names = {wood.id: wood.name for wood in all_woods()}
    assert names["cherry_black"] == "black cherry"
    assert names["oak_n_red"] == "northern red oak"
    assert names["douglas_fir_coast"] == "coast Douglas-fir"
    assert names["mahogany_african"] == "African mahogany (khaya)"
    assert names["mahogany_true"] == "genuine mahogany (Honduras, true)"
    assert names["teak"] == "teak"


@pytest.mark.parametrize(
    ("name", "wood_id"),
    [
        ("black cherry", "cherry_black"), ("Cherry, black", "cherry_black"), ("CHERRY", "cherry_black"),
        ("oak, white", "oak_white"), ("white  oak", "oak_white"), ("Quercus alba", "oak_white"),
        ("red oak", "oak_n_red"), ("walnut", "walnut_black"), ("hard maple", "maple_sugar"),
        ("beech", "beech"),
        ("ash", "ash_white"), ("poplar", "yellow_poplar"), ("tulipwood", "yellow_poplar"),
        ("Yellow Poplar", "yellow_poplar"), ("lime", "basswood"), ("linden", "basswood"),
        ("white pine", "pine_e_white"), ("Douglas fir", "douglas_fir_coast"), ("khaya", "mahogany_african"),
        ("Gonçalo-Alves", "goncalo_alves"), ("western red cedar", "redcedar_west"),
        ("cypress", "baldcypress"),
    ],
)  # fmt: skip
def test_everyday_names_find_their_wood(name: str, wood_id: str) -> None:
    assert find_wood(name).id == wood_id


@pytest.mark.parametrize(
    ("name", "choices"),
    [
        ("pine", ["eastern white pine", "longleaf pine", "radiata pine"]),
        ("yellow pine", ["longleaf pine", "shortleaf pine", "loblolly pine"]),
        ("soft maple", ["red maple", "silver maple", "bigleaf maple"]),
        ("oak", ["northern red oak", "white oak"]),
        ("birch", ["paper birch", "yellow birch"]),
        ("red cedar", ["eastern redcedar", "western redcedar"]),
        ("mahogany", ["genuine mahogany", "African mahogany"]),
        ("Sequoia sempervirens", ["old-growth redwood", "young-growth redwood"]),
    ],
)
def test_an_ambiguous_name_is_a_question_that_lists_the_choices(name: str, choices: list[str]) -> None:
    with pytest.raises(WoodError) as caught:
        find_wood(name)
    assert str(caught.value).startswith(f"'{name}' could be: ")
    assert str(caught.value).endswith(": say which")
    assert [choice for choice in choices if choice not in str(caught.value)] == []


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("chery", "black cherry"), ("blck walnut", "black walnut"), ("red oack", "northern red oak"),
        ("european oak", "white oak"), ("silver", "silver maple"),
    ],
)  # fmt: skip
def test_an_unknown_name_is_answered_with_close_ones_not_with_a_guess(name: str, near: str) -> None:
    with pytest.raises(WoodError) as caught:
        find_wood(name)
    assert "no wood is known" in str(caught.value)
    assert near in str(caught.value)


@pytest.mark.parametrize("name", ["", "  ", "-", "()"])
def test_an_empty_name_is_refused(name: str) -> None:
    with pytest.raises(WoodError, match="no name"):
        find_wood(name)


@pytest.mark.parametrize("name", ["plywood", "Birch Plywood", "baltic birch ply", "18 mm ply"])
def test_plywood_is_a_wood_of_which_no_strength_is_claimed(name: str) -> None:
    wood = find_wood(name)
    assert (wood.kind, wood.name) == (WoodKind.PLYWOOD, name)
    assert wood.mor_mpa is None
    assert wood.coeff_tangential is None
    assert "no strengths" in wood.notes


def test_the_maker_s_own_entry_wins_over_the_table_and_over_plywood() -> None:
    own = {"Black Cherry": maker_wood(name="Black Cherry", mor_mpa=80), "ply": maker_wood(name="ply")}
    assert find_wood("cherry, black", own=own).mor_mpa == 80
    assert find_wood("PLY", own=own).kind is WoodKind.UNKNOWN
    assert find_wood("white oak", own=own).id == "oak_white"
    with pytest.raises(WoodError, match="Scots Elm"):
        find_wood("scots elmm", own={"Scots Elm": maker_wood(name="Scots Elm")})


def test_the_maker_s_own_wood_keeps_what_was_given_and_no_more() -> None:
    wood = maker_wood(name="  European  oak ", kind=WoodKind.HARDWOOD, mor_mpa=97, shrink_radial_pct=None)
    assert (wood.id, wood.name, wood.kind) == ("european_oak", "European oak", WoodKind.HARDWOOD)
    assert wood.mor_mpa == 97
    assert wood.moe_gpa is None
    assert wood.shrink_radial_pct is None
    assert wood.mechanical_provenance == "the maker's own figure"


@pytest.mark.parametrize("value", [0, -1, math.nan, math.inf, True])
def test_a_number_of_the_maker_s_own_wood_must_be_above_nothing(value: float) -> None:
    with pytest.raises(WoodError, match="mor_mpa must be a number above 0"):
        maker_wood(name="bog oak", mor_mpa=value)


def test_a_misspelt_number_is_answered_with_the_right_one() -> None:
    with pytest.raises(WoodError, match="there is mor_mpa"):
        maker_wood(name="bog oak", mor_mpx=90)


def test_a_maker_s_own_wood_needs_a_name() -> None:
    with pytest.raises(WoodError, match="needs a name"):
        maker_wood(name=" ")


def test_every_number_field_can_be_given_by_the_maker() -> None:
    numbers = [f.name for f in dataclasses.fields(Wood) if "float" in str(f.type)]
    wood = maker_wood(name="all of it", **dict.fromkeys(numbers, 1.5))  # type: ignore[arg-type]
    assert len(numbers) == 17
    assert {getattr(wood, name) for name in numbers} == {1.5}
