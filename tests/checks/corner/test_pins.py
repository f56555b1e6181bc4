"""Pins: which of several is measured and named, and what is there to be measured."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.checks import measure_joint
from dovelayout.checks.corner.parts import pin_name
from dovelayout.checks.corner.pins import HALF_PIN_LOAD, HALF_PIN_SHARE, PIN_LOAD, measure_pins
from dovelayout.checks.finding import Level
from tests.jobs import corner_job, findings, level, loaded


@pytest.mark.parametrize(
    ("keys", "rules"),
    [
        ({"tails_at": [[10, 90], [100, 190]]}, [PIN_LOAD, HALF_PIN_LOAD, HALF_PIN_SHARE]),
        ({"tails_at": [[10, 190]]}, [HALF_PIN_LOAD]),  # a single tail has no full pin
        ({"tails_at": [[0, 90], [100, 200]]}, [PIN_LOAD]),  # tails at both edges
    ],
)
def test_what_is_not_there_is_not_measured(keys: dict[str, Any], rules: list[object]) -> None:
    job = loaded(corner_job(**keys))
    assert list(dict.fromkeys(measure.rule for measure in measure_pins(job.joints[0]))) == rules
    assert measure_joint(job.joints[0], job.shop)


def test_a_half_pin_is_held_against_the_narrowest_full_pin() -> None:
    """3 of 8 mm is over a third, 3 of 12 under it."""
    uneven = corner_job(tails_at=[[3, 60], [68, 120], [132, 190]])
    assert [f for f in findings(uneven, "half-pin") if f.unit == "share"] == []
    (finding,) = [
        f for f in findings(corner_job(tails_at=[[3, 60], [72, 120], [132, 190]]), "half-pin") if f.unit == "share"
    ]
    assert finding.measured == 0.25


@pytest.mark.parametrize(
    ("tails_at", "edges"),
    [
        ([[0, 60], [70, 190]], ["face edge"]),
        ([[10, 60], [70, 200]], ["far edge"]),
        ([[0, 60], [70, 200]], ["face edge", "far edge"]),
        ([[10, 60], [70, 190]], []),
    ],
)
def test_the_edge_that_has_a_tail_at_it_is_named(tails_at: list[list[float]], edges: list[str]) -> None:
    found = findings(corner_job(tails_at=tails_at), "edge-tail")
    assert [finding.where for finding in found] == [f"corner A, {edge}" for edge in edges]
    assert all(finding.changes for finding in found)


@pytest.mark.parametrize(("pin", "expected"), [(3.0, Level.OK), (2.9, Level.NOTE)])
def test_the_smallest_of_the_chisels_counts(pin: float, expected: Level) -> None:
    job = corner_job(tail_count=5, pin=pin, half_pin=8, shop={"chisels": [12, 3, 6]})
    found = [finding for finding in findings(job, "thin-pin") if finding.unit == "mm"]
    assert [finding.level for finding in found] == ([] if expected is Level.OK else [expected])


def test_half_pins_are_named_by_the_edge_they_stand_at() -> None:
    weak = findings(corner_job("balsa", tails_at=[[5, 60], [70, 195]]), "half-pin")
    assert {f.where for f in weak} == {"corner A, half pin at the face edge", "corner A, half pin at the far edge"}


def test_half_pins_for_which_no_width_is_enough_want_a_stronger_board() -> None:
    """In 15 mm balsa two tails on 24 mm have no more than 3 mm of neck to give."""
    found = findings(corner_job("balsa", width=24, thickness=15, tails_at=[[2, 10], [13, 22]]), "half-pin")
    assert found
    for finding in found:
        assert finding.changes == ()
        assert "stronger wood for the pins" in finding.fix


@pytest.mark.parametrize(("gap", "saw_only"), [(6.0, False), (5.99, True)])
def test_a_gap_as_wide_as_the_smallest_chisel_takes_it(gap: float, saw_only: bool) -> None:
    job = corner_job(tails_at=[[10, 90], [90 + gap, 190]], shop={"chisels": [6, 12]})
    notes = [f for f in findings(job, "thin-pin") if "saw and knife only" in f.message]
    assert bool(notes) is saw_only


@pytest.mark.parametrize(("narrowest", "expected"), [(5.0, Level.OK), (5.01, Level.NOTE)])
def test_a_chisel_just_as_wide_as_the_socket_clears_it(narrowest: float, expected: Level) -> None:
    """Two necks: 80 and 5 mm between the cheeks, once a tail of 5 + 2 x 19/6 mm has lost its flare on both sides."""
    job = corner_job(tails_at=[[10, 15 + 2 * 19 / 6], [90, 190]], shop={"chisels": [narrowest]})
    assert level(job, "chisel") is expected


def test_pins_are_named_as_the_sheets_number_them() -> None:
    joint = loaded(corner_job(tail_count=3, pin=6, half_pin=8)).joints[0]
    assert [pin_name(joint, pin) for pin in joint.pins] == [
        "half pin at the face edge", "pin 1", "pin 2", "half pin at the far edge",
    ]  # fmt: skip
