"""What a new kind of joint must bring along: a sample, a body in the solid kernel, a picture-ready form, honest `settles`."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

import pytest

from dovelayout.job.described import terms
from dovelayout.job.reader import read_job
from dovelayout.job.tables.joint import LayoutTable
from dovelayout.joints import KINDS
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.keys import CORNER_KEYS
from dovelayout.joints.spec import CornerSpec
from dovelayout.page.forms import forms
from tests.reference.test_solid_kernel import ASYMMETRIC

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))


def _leaves(kind: type[CornerJoint]) -> set[type[CornerJoint]]:
    below = {leaf for sub in kind.__subclasses__() for leaf in _leaves(sub)}
    return below | ({kind} if kind.kind else set())


def test_every_kind_of_corner_is_entered_once_under_its_own_name() -> None:
    assert {kind.kind for kind in _leaves(CornerJoint)} == set(KINDS)


def test_every_kind_has_a_sample() -> None:
    assert {joint.kind for path in SAMPLES for joint in read_job(path).joints} == set(KINDS)


def test_every_kind_is_built_in_the_solid_kernel() -> None:
    assert {joint.kind for joint in ASYMMETRIC.values()} == set(KINDS)


@pytest.mark.parametrize("table", ["corner", "box"])
def test_the_page_offers_every_kind_and_explains_it(table: str) -> None:
    (joint,) = [field for field in forms()[table] if field.key == "joint"]
    assert joint.choices == tuple(KINDS)
    for kind in KINDS:
        assert kind.replace("_", "-") in terms()["joint"].casefold(), kind


@pytest.mark.parametrize("kind", sorted(_leaves(CornerJoint), key=lambda kind: kind.kind), ids=lambda kind: kind.kind)
def test_what_a_kind_settles_are_keys_that_a_job_could_give(kind: type[CornerJoint]) -> None:
    assert set(kind.settles) <= {field.name for field in fields(CornerSpec)}
    assert {CORNER_KEYS[name].partition(".")[0] for name in kind.settles} <= set(LayoutTable.model_fields)
