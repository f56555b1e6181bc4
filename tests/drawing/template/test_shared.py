"""Templates that serve several drawers are printed once, and never for the wrong hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from dovelayout.drawing.book import job_sheets
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.ends import CornerEnd, ends_of
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces
from tests.jobs import corner_job, loaded


def bank(count: int = 6, **keys: Any) -> dict[str, Any]:
    return {
        "shop": {"humidity": [40, 60]},
        "drawers": {"species": "white oak"},
        "bank": [{"name": "row", "width": 300, "depth": 320, "height": 640, "count": count, **keys}],
    }


def _ends(joints: Sequence[CornerJoint]) -> tuple[CornerEnd, ...]:
    return tuple(ends_of(joints, Style(job="row")))


def outline(faces: EndFaces) -> tuple[object, ...]:
    """Everything that is cut on an end, from its faces alone."""
    return (
        faces.end.end,
        faces.part,
        round(faces.baseline_mm, 6),
        faces.groove,
        faces.lip,
        tuple(
            tuple(sorted((round(x, 6), round(y, 6)) for x, y in polygon.exterior.coords))
            for face in faces.faces
            for polygon in face.waste
        ),
    )


def test_equal_drawers_take_eight_templates_between_them() -> None:
    job = loaded(bank())
    ends = _ends(job.joints)
    assert len(ends) == 8
    assert all(len(end.corner_names) == 6 for end in ends)
    sheets = job_sheets(job.joints, Style(job="row", nest=False), job.paper)
    titles = [sheet.title for sheet in sheets if "Corner" in sheet.title]
    assert len(titles) == len(set(titles)) == 8


def test_every_sheet_says_which_drawers_it_serves() -> None:
    job = loaded(bank())
    sheets = [sheet for sheet in job_sheets(job.joints, Style(job="row"), job.paper) if "Corner" in sheet.title]
    for sheet in sheets:
        place = next(
            place for place in ("front left", "front right", "back left", "back right") if place in sheet.title
        )
        texts = [getattr(item, "text", "") for item in sheet.items]
        assert any(f"serves row 1 to 6 {place}" in text for text in texts)


def test_ends_that_share_a_template_are_the_same_in_every_line() -> None:
    job = loaded(bank(rule="geometric", grows=1.02))  # so near to equal that some are and some aren't
    alone = {joint.name: joint.end_faces() for joint in job.joints}
    for end in _ends(job.joints):
        half = 0 if end.faces.part.value == "tails" else 1
        assert {outline(alone[name][half]) for name in end.corner_names} == {outline(end.faces)}


def test_ends_that_do_not_share_differ_in_a_line() -> None:
    job = loaded(bank(rule="arithmetic"))
    outlines = [(outline(end.faces), end.joint.pin_board.thickness_mm) for end in _ends(job.joints)]
    assert len(outlines) == len(set(outlines)) == 48


def test_every_end_is_served_once() -> None:
    job = loaded(bank(rule="geometric", grows=1.02))
    served = [(name, end.faces.part) for end in _ends(job.joints) for name in end.corner_names]
    assert len(served) == len(set(served)) == 2 * len(job.joints)


def test_another_wood_or_thickness_does_not_share() -> None:
    tables = bank(count=2)
    tables["bank"].append({**tables["bank"][0], "name": "other", "front_species": "black cherry"})
    ends = _ends(loaded(tables).joints)
    assert len(ends) == 16 - 4  # backs and their tails are alike


def test_corners_that_are_named_one_by_one_keep_their_own_sheets() -> None:
    tables = corner_job(tail_count=4)
    tables["corner"].append({**tables["corner"][0], "name": "B"})
    assert len(_ends(loaded(tables).joints)) == 4
