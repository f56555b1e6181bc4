"""The glue table hangs together; its figures are common practice, no source (the table says so)."""

from __future__ import annotations

import pytest

from dovelayout.errors import WoodError
from dovelayout.wood.glue import Glue, all_glues, find_glue


@pytest.mark.parametrize("glue", all_glues().values(), ids=lambda glue: glue.id)
def test_a_row_makes_sense(glue: Glue) -> None:
    assert 0 < glue.open_minutes[0] <= glue.open_minutes[1] <= glue.closed_minutes[1]
    assert glue.clamp_minutes[0] <= glue.clamp_minutes[1]
    assert 0 <= glue.water_share < 1
    assert (glue.swell_factor == 0) == (not glue.has_water)
    assert 0 < glue.gap_mm <= 1.6
    assert all(find_glue(name) is glue for name in (glue.id, glue.name.upper(), *glue.also))


def test_liquid_hide_gives_more_time_than_pva_and_swells_joints_less() -> None:
    """Common practice, no source."""
    hide, pva = find_glue("Liquid Hide"), find_glue("pva")
    assert hide.open_minutes[0] > pva.open_minutes[0]
    assert hide.water_share * hide.swell_factor < pva.water_share * pva.swell_factor
    assert hide.reversible
    assert not pva.reversible


def test_an_unknown_glue_is_told_with_a_near_one() -> None:
    with pytest.raises(WoodError, match="did you mean epoxy"):
        find_glue("epoxi")
    with pytest.raises(WoodError, match="known: pva"):
        find_glue("spit")
