"""Banks: heights shared out by a rule come to the total exactly, and the drawers look like one family."""

from __future__ import annotations

import itertools
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.casework.bank import LEAST_OPENING_MM, HeightRule, shared_heights_mm
from dovelayout.errors import LayoutError
from tests.jobs import loaded


def test_equal_openings() -> None:
    heights = shared_heights_mm(height_mm=640, count=6, rule=HeightRule.EQUAL, rail_mm=20)
    assert heights == (90.0,) * 6


def test_arithmetic_openings_grow_by_equal_steps() -> None:
    # 60, 72, 84, 96, 108, 120 and five rails of 20
    heights = shared_heights_mm(height_mm=540 + 100, count=6, rule=HeightRule.ARITHMETIC, rail_mm=20)
    assert heights == (60.0, 72.0, 84.0, 96.0, 108.0, 120.0)


def test_geometric_openings_grow_in_one_ratio() -> None:
    # 64, 96, 144 grow by 3/2: the lowest is 9/4 of the topmost
    heights = shared_heights_mm(height_mm=304, count=3, rule=HeightRule.GEOMETRIC, rail_mm=0, grows=9 / 4)
    assert heights == (64.0, 96.0, 144.0)


@given(
    count=st.integers(1, 60),
    rule=st.sampled_from(HeightRule),
    rail=st.integers(0, 400).map(lambda n: n / 10),
    least=st.integers(250, 3000),
    grows=st.integers(100, 600).map(lambda n: n / 100),
    step=st.sampled_from((1.0, 0.5, 25.4 / 16)),
)
def test_they_come_to_the_total_exactly_and_keep_to_the_rule(
    count: int, rule: HeightRule, rail: float, least: int, grows: float, step: float
) -> None:
    total = count * least / 10 * grows + (count - 1) * rail
    total = round(total, 1)
    heights = shared_heights_mm(height_mm=total, count=count, rule=rule, rail_mm=rail, grows=grows, step_mm=step)
    assert len(heights) == count
    assert abs(sum(heights) + (count - 1) * rail - total) < 1e-6
    for height in heights[:-1]:
        assert Fraction(height) / Fraction(str(step)) == pytest.approx(round(height / step), abs=1e-6)
    for above, below in itertools.pairwise(heights):
        assert below >= above - 2 * step - 1e-9  # downwards they grow, but for the rounding
    shares = 1.0 if rule is HeightRule.EQUAL else grows
    if count > 1:
        assert heights[-1] == pytest.approx(heights[0] * shares, abs=3 * step * max(1.0, shares))


@pytest.mark.parametrize(("height", "count", "rail"), [(100, 6, 20), (119.9, 6, 0), (50, 2, 60)])
def test_too_little_height_is_refused(height: float, count: int, rail: float) -> None:
    with pytest.raises(LayoutError, match=f"{LEAST_OPENING_MM:g} mm at least"):
        shared_heights_mm(height_mm=height, count=count, rule=HeightRule.EQUAL, rail_mm=rail)


def bank_job(**bank: Any) -> dict[str, Any]:
    return {
        "shop": {"humidity": [35, 65]},
        "drawers": {"species": "black cherry"},
        "bank": [{"name": "row", "width": 420, "depth": 400, "height": 820, "count": 6, "rule": "geometric", **bank}],
    }


@pytest.mark.parametrize("rule", ["equal", "arithmetic", "geometric"])
@pytest.mark.parametrize("species", ["black cherry", "white oak", "eastern white pine", "hard maple"])
@pytest.mark.parametrize("thickness", [9.5, 12, 15])
def test_a_bank_is_one_family(rule: str, species: str, thickness: float) -> None:
    job = loaded({**bank_job(rule=rule, grows=2.5), "drawers": {"species": species, "side_thickness": thickness}})
    for place in ("front left", "back left"):
        joints = [joint for joint in job.joints if joint.name.endswith(place)]
        assert len(joints) == 6
        assert len({joint.spec.pin_mm for joint in joints}) == 1
        assert len({joint.spec.half_pin_mm for joint in joints}) == 1
        assert len({joint.slope for joint in joints}) == 1
        counts = [len(joint.tails) for joint in joints]
        assert counts == sorted(counts)  # higher drawers, more tails
        # the lowest half pin of all of them lies in one line over the drawer's edge
        assert len({round(joint.tails[0].start_mm, 9) for joint in joints}) == 1


def test_sizes_of_a_bank_are_those_of_its_openings() -> None:
    job = loaded(bank_job())
    heights = [drawer.spec.opening.height_mm for drawer in job.drawers]
    assert sum(heights) + 5 * 20 == pytest.approx(820)
    assert [drawer.name for drawer in job.drawers] == [f"row {n}" for n in range(1, 7)]
    assert all(drawer.adds_up for drawer in job.drawers)


def test_a_bank_in_inches_rounds_to_sixteenths() -> None:
    job = loaded(
        {
            "units": "in",
            "drawers": {"species": "black cherry"},
            "bank": [
                {"name": "row", "width": 16, "depth": 15, "height": 30, "count": 5, "rail": "3/4", "rule": "arithmetic"}
            ],
        }
    )
    sixteenths = [Fraction(drawer.spec.opening.height_mm) / Fraction(254, 160) for drawer in job.drawers]
    assert all(abs(value - round(value)) < 1e-6 for value in sixteenths)
    assert float(sum(sixteenths)) == pytest.approx((30 - 4 * 0.75) * 16)
