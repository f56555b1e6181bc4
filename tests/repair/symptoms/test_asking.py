"""Questions: each tells symptoms apart, and an answer is likely, never sure."""

from __future__ import annotations

import pytest

from dovelayout.errors import LayoutError
from dovelayout.repair.symptoms import (
    all_symptoms,
    answered,
    diagnose,
    facets,
    find_symptom,
    question_for,
    questions,
    report_of,
)

CLOSE = (
    ("bottom-split", "bottom-tight"),
    ("template-wrong-size", "template-wrong-face"),
    ("thickness-step", "proud-in-winter"),
    ("rail-forces-case", "shoulder-gap-housing"),
    ("rail-forces-case", "divider-pushes-back"),
    ("shoulder-gap-housing", "divider-pushes-back"),
    ("out-of-square", "drawer-racks"),
    ("twisted", "drawer-rocks"),
    ("twisted", "door-or-lid-twist"),
    ("drawer-rocks", "door-or-lid-twist"),
    ("gap-one-cheek", "wrong-side-of-the-line"),
    ("corner-broken", "edge-splintered"),
    ("corner-broken", "pin-broken"),
    ("edge-splintered", "pin-broken"),
    ("tail-split", "too-tight"),
    ("drawer-racks", "drawer-tight-sideways"),
    ("lap-gap-one-socket", "lap-gap-all-sockets"),
    ("gap-baseline", "gap-baseline-middle"),
    ("drawer-sticks-damp", "drawer-stuck-drier"),
    ("half-way-and-stopped", "sliding-seized"),
    ("housing-tight", "sliding-seized"),
)


@pytest.mark.parametrize("ids", CLOSE, ids=" ".join)
@pytest.mark.parametrize("turned", [False, True])
def test_symptoms_that_stay_close_have_a_question(ids: tuple[str, str], turned: bool) -> None:
    question = question_for([find_symptom(name) for name in (reversed(ids) if turned else ids)])
    assert question is not None
    assert set(ids) <= question.ids


def test_questions_name_symptoms_that_there_are_and_answers_differ() -> None:
    for question in questions():
        assert question.ask.endswith("?")
        assert len(question.answers) >= 2
        assert question.ids <= set(all_symptoms())
        assert len({text for _, text in question.answers}) == len(question.answers)


def test_where_nothing_tells_them_apart_nothing_is_asked() -> None:
    assert question_for([find_symptom("curve-flat"), find_symptom("glue-gelled")]) is None
    assert question_for([find_symptom("twisted")]) is None


def test_an_answer_makes_it_likely_and_never_sure() -> None:
    found = diagnose("drawer stuck")
    told = answered(found, "drawer-racks")
    assert (told.sure, told.likely) == (False, True)
    assert told.doubt
    assert told.symptoms[0].id == "drawer-racks"
    assert len(told.symptoms) == len({row.id for row in told.symptoms}) == 3
    outside = answered(found, "bottom-tight")
    assert outside.symptoms[0].id == "bottom-tight"
    with pytest.raises(LayoutError, match="twisted"):
        answered(found, "wobbly")


def test_three_things_are_asked_in_one_line_each() -> None:
    asked = [facet.line for facet in facets()]
    assert [line.split("?")[0] for line in asked] == ["Where is it", "What do you see", "When did it come"]
    assert not any("\n" in line for line in asked)
    assert [facet.name for facet in facets()] == ["where", "what", "when"]
    assert report_of(["gap\n", "  lap ", ""]) == "gap, lap"


def test_answers_to_the_three_are_a_report() -> None:
    found = diagnose(report_of(["gap", "lap, every socket", "fitting dry"]))
    assert found.symptoms[0].id == "lap-gap-all-sockets"
