"""Swelling by a glue's water: what it goes up and down with. That hide glue swells less is common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.wood.glue import all_glues, find_glue
from dovelayout.wood.moisture import Direction
from dovelayout.wood.species import all_woods, find_wood, maker_wood
from dovelayout.wood.swelling import swelling_face_mm, swelling_line_mm

PVA, HIDE = find_glue("pva"), find_glue("liquid hide")


@pytest.mark.parametrize("wood", all_woods(), ids=lambda wood: wood.id)
def test_liquid_hide_swells_every_wood_less_than_pva(wood: object) -> None:
    pva, hide = (swelling_line_mm(wood, glue) for glue in (PVA, HIDE))  # type: ignore[arg-type]
    if pva is None:
        assert hide is None
        return
    assert hide is not None
    assert 0 < hide < 0.4 * pva


@pytest.mark.parametrize("glue", [glue for glue in all_glues().values() if not glue.has_water], ids=lambda g: g.id)
def test_without_water_nothing_swells_even_where_the_woods_movement_is_not_known(glue: object) -> None:
    assert swelling_line_mm(maker_wood(name="hearsay"), glue) == 0.0  # type: ignore[arg-type]


def test_unknown_movement_or_density_is_not_known() -> None:
    assert swelling_face_mm(maker_wood(name="hearsay"), PVA) is None
    assert swelling_face_mm(maker_wood(name="weightless", shrink_tangential_pct=7.0), PVA) is None
    cherry = find_wood("black cherry")
    assert swelling_line_mm(cherry, PVA, other=(maker_wood(name="hearsay"), Direction.RADIAL)) is None


def test_plywood_counts_as_still() -> None:
    assert swelling_face_mm(find_wood("birch plywood"), PVA) == 0.0


@given(st.floats(50, 400), st.floats(0.1, 0.9), st.floats(0.1, 1))
def test_swelling_goes_with_the_water_and_with_the_factor(spread: float, water: float, factor: float) -> None:
    cherry = find_wood("black cherry")
    glue = replace(PVA, spread_g_m2=spread, water_share=water, swell_factor=factor)
    one, both = swelling_face_mm(cherry, glue), swelling_line_mm(cherry, glue)
    twice = swelling_face_mm(cherry, replace(glue, spread_g_m2=2 * spread))
    assert one is not None
    assert both == pytest.approx(2 * one)
    assert twice == pytest.approx(2 * one)
    radial = swelling_face_mm(cherry, glue, Direction.RADIAL)
    assert radial is not None
    assert radial < one
