"""The one table of a job's keys and the fields that they set: what is written with it is read back as the field."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.checks.keys import job_value, key_of, spec_changes
from dovelayout.job.tables.drawer import DrawerTable
from dovelayout.job.tables.schema import BoxTable, CornerTable
from dovelayout.joints.board import Groove
from dovelayout.joints.keys import CORNER_KEYS, INSTEAD_OF
from dovelayout.joints.sliding import Bit
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import Spacing, Span
from tests.divider_jobs import divider_job
from tests.drawer_jobs import drawer_job
from tests.jobs import applied, corner_job, loaded

CORNER_FIELDS: dict[str, Any] = {
    "slope": Slope(6.5),
    "tail_count": 3,
    "pin_mm": 7.25,
    "half_pin_mm": 9.5,
    "tails_at": (Span(12.0, 80.5), Span(95.25, 180.0)),
    "spacing": Spacing.GRADUATED,
    "covers": Span(10.0, 190.0),
    "groove": Groove(from_edge_mm=16.0, width_mm=6.5, depth_mm=5.0, ploughed_first=False),
    "lap_mm": 5.5,
}
SLIDING_FIELDS: dict[str, Any] = {
    "at_mm": 123.456,
    "depth_mm": 6.5,
    "slope": Slope(7.11536972238),
    "taper_ratio": 250.0,
    "clearance_mm": 0.05,
    "glue_zone_mm": 76.0,
    "bit": Bit(diameter_mm=12.7, slope=Slope(4.01078093354), ploughed_first=True),
}


@pytest.mark.parametrize("field", CORNER_FIELDS)
def test_a_field_of_a_corner_is_read_back_from_its_key(field: str) -> None:
    lapped = {"joint": "half_blind", "lap": 4} if field == "lap_mm" else {}
    job = corner_job(**lapped)
    spec = loaded(job).joints[0].spec
    assert getattr(spec, field) != CORNER_FIELDS[field]
    again = loaded(applied(job, spec_changes(spec, {field: CORNER_FIELDS[field]}))).joints[0].spec
    assert getattr(again, field) == CORNER_FIELDS[field]


@pytest.mark.parametrize("field", SLIDING_FIELDS)
def test_a_field_of_a_divider_is_read_back_from_its_key(field: str) -> None:
    job = divider_job()
    spec = loaded(job).dividers[0].joint.spec
    assert getattr(spec, field) != SLIDING_FIELDS[field]
    again = loaded(applied(job, spec_changes(spec, {field: SLIDING_FIELDS[field]}))).dividers[0].joint.spec
    assert getattr(again, field) == SLIDING_FIELDS[field]


def test_every_key_stands_in_the_tables_that_lay_out_corners() -> None:
    changed = [CORNER_KEYS[field] for field in CORNER_FIELDS]
    for keys in (changed, INSTEAD_OF, *INSTEAD_OF.values()):
        assert set(keys) <= set(CornerTable.model_fields)
        assert set(keys) <= set(BoxTable.model_fields)


def test_a_drawer_s_back_has_keys_of_its_own() -> None:
    front, *_, back = loaded(drawer_job()).drawers[0].joints
    assert (key_of(front.spec, "pin_mm"), key_of(back.spec, "pin_mm")) == ("pin", "back_pin")
    (change,) = spec_changes(back.spec, {"half_pin_mm": 7.0})
    assert (change.table, change.name, change.key, change.value) == ("drawer", "d", "back_half_pin", "7 mm")
    assert {"back_pin", "back_half_pin", "back_tail_count", "back_slope"} <= set(DrawerTable.model_fields)


@pytest.mark.parametrize(
    ("field", "value", "text"),
    [
        ("pin_mm", 6.25, "6.25 mm"),
        ("slope", Slope(4.5), "1:4.5"),
        ("taper_ratio", 320.0, "1:320"),
        ("tails_at", (Span(8.0, 40.0),), [["8 mm", "40 mm"]]),
        ("tail_count", 4, 4),
        ("spacing", Spacing.CLOSER_AT_EDGES, "closer at edges"),
    ],
)
def test_values_stand_in_a_job_with_their_unit(field: str, value: Any, text: Any) -> None:
    assert job_value(field, value) == text
