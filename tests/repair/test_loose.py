"""Loose corners and loose keys: what goes in by the size of the gap, against the sums by hand."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial

import pytest
from hypothesis import given

from dovelayout.checks.finding import Level
from dovelayout.joints.slope import Slope
from dovelayout.repair.gap import HANDLE_MM, LONGER_MM
from dovelayout.repair.loose import LooseCorner, LooseKey, mend_corner, mend_key
from dovelayout.wood.glue import find_glue
from tests.strategies import lengths

# by common practice: to 0.1 mm a glue that fills, to about 0.8 mm wedges where nothing hangs on it, beyond that recut


@pytest.mark.parametrize(
    ("gap_mm", "carries", "method", "worst"),
    [
        (0.1, False, "glue that fills", Level.OK),
        (0.11, False, "wedges", Level.NOTE),
        (0.41, False, "wedges", Level.WARN),
        (0.8, False, "wedges", Level.WARN),
        (0.81, False, "recut", Level.STOP),
        (0.1, True, "glue that fills", Level.OK),
        (0.11, True, "recut", Level.STOP),
    ],
)
def test_the_gap_at_a_cheek_says_what_is_done(gap_mm: float, carries: bool, method: str, worst: Level) -> None:
    corner = LooseCorner(gap_mm=gap_mm, depth_mm=19.0, length_mm=16.0, cheeks=8, carries=carries)
    advice = mend_corner(corner)
    assert (advice.method, advice.worst) == (method, worst)
    assert (corner.wedge is not None) == (method == "wedges")
    assert advice.steps
    assert advice.cautions


@given(gap_mm=lengths(0.11, 0.8), depth_mm=lengths(3, 60), length_mm=lengths(3, 60))
def test_a_wedge_touches_over_its_whole_depth_once_the_cheek_is_pared(
    gap_mm: float, depth_mm: float, length_mm: float
) -> None:
    corner = LooseCorner(gap_mm=gap_mm, depth_mm=depth_mm, length_mm=length_mm)
    wedge = corner.wedge
    assert wedge is not None
    pared = next(row.value for row in mend_corner(corner).figures if row.what.startswith("pared"))
    for share in (0.0, 0.3, 1.0):  # of the depth, from the inner end: wedge and pared gap are as wide
        wedge_mm = wedge.tip_mm + share * (wedge.mouth_mm - wedge.tip_mm)
        assert wedge_mm == pytest.approx(gap_mm + share * pared)
    assert (wedge.mouth_mm - wedge.tip_mm) / depth_mm == pytest.approx(1 / 60)
    assert (wedge.head_mm - wedge.mouth_mm) / HANDLE_MM == pytest.approx(1 / 60)
    assert wedge.length_mm == length_mm + LONGER_MM


def test_by_hand() -> None:
    wedge = LooseCorner(gap_mm=0.4, depth_mm=18.0, length_mm=16.0).wedge
    assert wedge is not None
    assert (wedge.tip_mm, wedge.mouth_mm, wedge.head_mm) == pytest.approx((0.4, 0.7, 0.95))


def test_what_isnt_known_is_said_and_a_thin_glue_is_warned_of() -> None:
    unknown = mend_corner(LooseCorner(gap_mm=0.4))
    assert any("not checked" in row.message for row in unknown.findings)
    assert "a sixtieth of the depth" in " ".join(unknown.steps)
    glued = mend_corner(LooseCorner(gap_mm=0.1, glue=find_glue("hot hide")))
    thick = mend_corner(LooseCorner(gap_mm=0.1, glue=find_glue("epoxy")))
    assert thick.findings == ()
    assert (glued.worst is Level.WARN) == (find_glue("hot hide").gap_mm < 0.1)


KEY = LooseKey(gap_mm=0.5, depth_mm=7.0, length_mm=250.0)


@pytest.mark.parametrize(
    ("key", "method", "worst"),
    [
        (LooseKey(gap_mm=0.1, depth_mm=7.0, length_mm=250.0), "leave it", Level.OK),
        (KEY, "shim", Level.OK),
        (LooseKey(gap_mm=1.6, depth_mm=7.0, length_mm=250.0), "shim", Level.WARN),
        (LooseKey(gap_mm=3.1, depth_mm=7.0, length_mm=250.0), "recut", Level.STOP),
        (
            LooseKey(gap_mm=0.2, depth_mm=7.0, length_mm=250.0, taper_ratio=320.0, room_mm=64.0),
            "drive it further in",
            Level.OK,
        ),
        (LooseKey(gap_mm=0.2, depth_mm=7.0, length_mm=250.0, taper_ratio=320.0, room_mm=63.9), "shim", Level.OK),
    ],
)
def test_a_key_is_left_driven_shimmed_or_made_anew(key: LooseKey, method: str, worst: Level) -> None:
    advice = mend_key(key)
    assert (advice.method, advice.worst) == (method, worst)


def test_a_taper_of_1_in_320_takes_up_0_2_mm_in_64_mm() -> None:
    assert LooseKey(gap_mm=0.2, depth_mm=7.0, length_mm=250.0, taper_ratio=320.0).travel_mm == pytest.approx(64.0)


def test_a_shim_lines_the_sloping_cheek() -> None:
    assert KEY.shim_wide_mm == 7.0
    sloped = LooseKey(gap_mm=0.5, depth_mm=7.0, length_mm=250.0, slope=Slope(7.0))
    assert sloped.shim_wide_mm == pytest.approx(math.hypot(7.0, 1.0))


EXAMPLES: tuple[Callable[[], object], ...] = (
    *(
        partial(mend_corner, LooseCorner(gap_mm=gap_mm, depth_mm=19.0, length_mm=16.0, carries=carries))
        for gap_mm in (0.05, 0.1, 0.11, 0.4, 0.41, 0.8, 0.81)
        for carries in (False, True)
    ),
    *(partial(mend_key, replace(KEY, gap_mm=gap_mm)) for gap_mm in (0.5, 1.5, 1.6, 3.0, 3.1)),
)
