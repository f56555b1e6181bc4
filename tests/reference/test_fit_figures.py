"""Swelling, cheek pressure and bent half pins at points worked out by hand.

19 mm boards, flat sawn, 1:6, tails and pins repeating every 30 mm. Shrinkage and coefficients: Wood Handbook
FPL-GTR-190, Tables 4-3 and 13-5; modulus and compression perpendicular: Table 5-3a; stiffness across the grain: Table 5-1
(cherry's ratio from memory; white pine's is the mean of the softwoods); friction of dry smooth wood 0.3 to 0.5: chapter
4. That the glue's water swells the cheeks so far, and the limits, are ours; that pine is cut full, cherry less and maple
hardly at all is common practice, no source.
"""

from __future__ import annotations

import math
from typing import Any

import pytest

from dovelayout.checks.corner.fit import drive_kn_as_for_19_mm, tight
from dovelayout.checks.corner.squeeze import springs_of, squeeze
from dovelayout.checks.finding import Level
from dovelayout.joints.corner import CornerJoint
from dovelayout.wood.glue import Glue, find_glue
from dovelayout.wood.species import find_wood
from dovelayout.wood.swelling import swelling_face_mm, swelling_line_mm
from tests.jobs import corner_job, level, loaded

PITCH_30: dict[str, Any] = {"tails_at": [[15 + 30 * n, 35 + 30 * n] for n in range(6)], "width": 200}


def corner(species: str, **keys: Any) -> CornerJoint:
    return loaded(corner_job(species, **{**PITCH_30, **keys})).joints[0]


def glue(name: str | None) -> Glue | None:
    return None if name is None else find_glue(name)


def test_cherry_swells_by_0_023_mm_a_face_and_0_047_a_line_with_pva() -> None:
    # 100 x 0.00248 x (180 x 0.52 / 2) / (1000 x 0.50) = 0.0232
    cherry, pva = find_wood("black cherry"), find_glue("pva")
    assert (pva.spread_g_m2, pva.water_share, pva.swell_factor) == (180, 0.52, 1.0)
    assert swelling_face_mm(cherry, pva) == pytest.approx(100 * 0.00248 * 46.8 / 500)
    assert swelling_face_mm(cherry, pva) == pytest.approx(0.023, abs=0.0005)
    assert swelling_line_mm(cherry, pva) == pytest.approx(0.047, abs=0.0008)


@pytest.mark.parametrize(
    ("species", "fit_mm", "glue_name", "pressure_mpa", "expected"),
    [
        ("black cherry", 0.05, None, 3.0, Level.OK),  # 10 300 x 0.086 x 0.05 / 15
        ("black cherry", 0.05, "pva", 5.7, Level.WARN),
        ("black cherry", 0.05, "liquid hide", 3.8, Level.OK),
        ("sugar maple", 0.06, None, 3.3, Level.OK),  # 12 600 x 0.065 x 0.06 / 15
        ("sugar maple", 0.06, "pva", 6.1, Level.WARN),
        ("eastern white pine", 0.25, None, 3.6, Level.OK),  # crushed: 1.2 x 3.0
        ("eastern white pine", 0.25, "pva", 3.6, Level.OK),
    ],
)
def test_pressure_at_the_cheeks(
    species: str, fit_mm: float, glue_name: str | None, pressure_mpa: float, expected: Level
) -> None:
    found = tight(corner(species), glue(glue_name), fit_mm)
    assert found is not None
    assert found.squeezed.pressure_mpa == pytest.approx(pressure_mpa, abs=0.06)
    shop = {"fit": fit_mm, **({"glue": glue_name} if glue_name else {})}
    assert level(corner_job(species, shop=shop, **PITCH_30), "fit-pressure") is expected


def test_white_pine_crushes_and_passes_with_a_note() -> None:
    job = corner_job("eastern white pine", shop={"fit": 0.25, "glue": "pva"}, **PITCH_30)
    assert level(job, "fit-crush") is Level.NOTE
    assert {level(job, check) for check in ("fit-pressure", "fit-drive", "fit-half-pin")} == {Level.OK}


def test_force_to_drive_a_corner_home() -> None:
    # 0.4 x 2.953 MPa x (19 x 19.26 mm) x 2 cheeks a tail; the 20 mm tail's flare of 3.167 makes a cheek 19.262 long
    found = tight(corner("black cherry"), None, 0.05)
    assert found is not None
    cheek_mm2 = 19 * math.hypot(19, 19 / 6)
    assert found.squeezed.cheek_area_mm2 == pytest.approx(cheek_mm2)
    assert found.squeezed.tail_drive_n == pytest.approx(0.4 * 2.953 * cheek_mm2 * 2, rel=1e-3)
    # 6 tails have 12 cheeks, of which the two beside the half pins press less
    assert 10 < found.squeezed.drive_n / (0.4 * 2.953 * cheek_mm2) < 12


@pytest.mark.parametrize("thickness_mm", [10, 19, 30])
def test_the_limit_of_the_force_goes_with_the_cheek(thickness_mm: float) -> None:
    # whatever the stock, as for a 19 x 19 mm cheek: 0.4 x p x 361 mm2 x 2; the pressure goes with the widths alone
    found = tight(corner("black cherry", thickness=thickness_mm), None, 0.05)
    assert found is not None
    assert drive_kn_as_for_19_mm(found.squeezed) == pytest.approx(
        0.4 * found.squeezed.pressure_mpa * 361 * 2 / 1000, rel=1e-6
    )


def test_half_pin_bent_outward() -> None:
    # cherry, half pin 8 at its narrow side: 11.167 at its root; tails 20 wide, necks 13.667
    joint = corner("black cherry", tails_at=[[8, 28], [38, 58]], width=66)
    springs = springs_of(joint)
    assert springs is not None
    found = squeeze(springs, interference_mm=0.1)
    wide, area = 8 + 19 / 6, 19 * math.hypot(19, 19 / 6)
    second_moment = 19 * (8 + wide) * (8**2 + wide**2) / 48
    bends = 8 * 10_300 * second_moment / 19**3
    half_tail, half_pin = (20 + 20 - 19 / 3) / 4, (8 + wide) / 4
    load = 0.1 / (1 / bends + (half_tail + half_pin) / (885.8 * area))
    tip_load = 85 * second_moment / (wide / 2) / 19
    assert found.half_pin_share == pytest.approx(load / 2 / tip_load, rel=1e-6)


def test_a_quarter_sawn_board_presses_harder_and_the_softer_board_decides() -> None:
    flat = tight(corner("black cherry"), None, 0.03)
    quarter = tight(corner("black cherry", board={"rings": "quarter"}, pin_board={"rings": "quarter"}), None, 0.03)
    assert flat is not None
    assert quarter is not None
    # E_R / E_T of cherry, 0.197 / 0.086, from memory of Table 5-1
    assert quarter.squeezed.elastic_mpa == pytest.approx(flat.squeezed.elastic_mpa * 0.197 / 0.086, rel=0.02)
    mixed = tight(corner("sugar maple", pin_species="eastern white pine"), None, 0.25)
    assert mixed is not None
    assert mixed.squeezed.crush_mpa == pytest.approx(1.2 * 3.0)
