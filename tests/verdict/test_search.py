"""The search for remedies, on findings that are made up: what is taken, what is passed over, and how far it goes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

import pytest

from dovelayout.change import Change
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.remedy import Remedy
from dovelayout.place import Place
from dovelayout.verdict import search
from dovelayout.verdict.found import Found
from dovelayout.verdict.search import Search

A = Place(kind="corner", name="A")


def change(key: str, value: int = 1) -> Change:
    return Change(table="corner", name="A", key=key, value=value)


def remedy(*keys: str) -> Remedy:
    return Remedy(changes=tuple(change(key) for key in keys), words=" and ".join(keys))


def finding(check: str, *remedies: str, level: Level = Level.WARN, fix: str = "", **more: Any) -> Finding:
    """A finding with remedies that set a key each."""
    proposed = [remedy(key) for key in remedies]
    return Finding(check=check, level=level, place=A, message=check, fix=fix, remedies=lambda: iter(proposed), **more)


class World:
    """What is found once certain keys are set, by the keys; what isn't told of can't be made."""

    def __init__(self, before: Iterable[Finding], after: Mapping[str, Iterable[Finding] | None]) -> None:
        self.before = list(before)
        self.tried: list[str] = []
        self._after = after

    def after(self, tried: Remedy) -> Found | None:
        keys = " ".join(sorted(change.key for change in tried.changes))
        self.tried.append(keys)
        found = self._after.get(keys)
        return None if found is None else Found(found)

    def offered(self, **more: Any) -> list[Finding]:
        return Search(Found(self.before), after=self.after, alone=lambda _: (), **more).offered(self.before)


def test_the_nearest_that_clears_it_and_brings_nothing_is_taken() -> None:
    thin = finding("thin", "a", "b", "c", "d", fix="a thicker board")
    new = finding("new")
    world = World([thin], {"a": None, "b": [thin], "c": [new], "d": []})
    (fixed,) = world.offered()
    assert (fixed.fix, fixed.changes) == ("d", (change("d"),))
    assert world.tried == ["a", "b", "c", "d"]
    assert list(fixed.candidates) == [Remedy(changes=fixed.changes, words="d")]  # nothing is left to try


def test_a_note_that_comes_of_it_is_no_harm() -> None:
    thin = finding("thin", "a")
    assert World([thin], {"a": [finding("new", level=Level.NOTE)]}).offered()[0].fix == "a"


def test_what_the_check_says_holds_beside_a_change_where_it_says_so() -> None:
    thin = finding("thin", "a", fix="a plane", beside=True)
    assert World([thin], {"a": []}).offered()[0].fix == "a, or a plane"
    assert World([replace(thin, beside=False)], {"a": []}).offered()[0].fix == "a"


def test_without_any_remedy_the_words_of_the_check_stand() -> None:
    (fixed,) = World([finding("thin", fix="a thicker board")], {}).offered()
    assert (fixed.fix, fixed.changes) == ("a thicker board", ())
    (fixed,) = World([finding("thin", "a", fix="a thicker board")], {"a": None}).offered()
    assert (fixed.fix, fixed.changes) == ("a thicker board", ())


def test_where_none_passes_the_nearest_is_named_with_what_it_brings() -> None:
    thin = finding("thin", "a", "b", "c", fix="a thicker board")
    new, worse = finding("new"), finding("worse", level=Level.STOP)
    (fixed,) = World([thin], {"a": None, "b": [new, worse], "c": [worse]}).offered()
    assert fixed.changes == ()
    assert fixed.fix == (
        "no single change clears this; the nearest, b, brings worse at corner A, new at corner A; a thicker board"
    )
    (fixed,) = World([thin], {"a": [thin]}).offered()
    assert fixed.fix == "no single change clears this; the nearest, a, leaves it as it is; a thicker board"


def test_changes_that_a_check_gives_itself_are_tried_like_any_other() -> None:
    thin = replace(finding("thin", fix="glue in the middle"), changes=(change("a"),))
    assert World([thin], {"a": []}).offered()[0] == thin
    (fixed,) = World([thin], {"a": [finding("new")]}).offered()
    assert fixed.changes == ()
    assert fixed.fix == "no single change clears this; the nearest, glue in the middle, brings new at corner A"


def test_two_remedies_are_tried_together_where_each_alone_brings_what_the_other_clears() -> None:
    thin, wide = finding("thin", "a"), finding("wide", "b")
    (fixed,) = World([thin], {"a": [wide], "a b": []}).offered()
    assert (fixed.fix, fixed.changes) == ("a and b", (change("a"), change("b")))


def test_three_remedies_are_the_most_and_fewer_are_taken_first() -> None:
    first, second, third, fourth = (finding(name, key) for name, key in zip("wxyz", "abcd", strict=True))
    three = {"a": [second], "a b": [third], "a b c": []}
    assert World([first], three).offered()[0].fix == "a and b and c"
    four = {**three, "a b c": [fourth], "a b c d": []}
    (fixed,) = World([first], four).offered()
    assert fixed.changes == ()
    either = finding("w", "a", "e")
    assert World([either], {**three, "e": [third], "c e": []}).offered()[0].fix == "e and c"


def test_findings_that_hang_together_are_offered_the_set_that_clears_them_all() -> None:
    """Each one's own change makes the other worse."""
    thin, wide = finding("thin", "a"), finding("wide", "b")
    worse = {"a": [replace(wide, level=Level.STOP)], "b": [replace(thin, level=Level.STOP)], "a b": []}
    one, other = World([thin, wide], worse).offered()
    assert one.fix == other.fix == "a and b"
    assert one.changes == other.changes


def test_where_one_of_them_can_not_be_cleared_the_others_still_are() -> None:
    thin, wide, lost = finding("thin", "a"), finding("wide", "b"), finding("lost", "c")
    new = finding("new")
    after = {"a": [lost, new, replace(wide, level=Level.STOP)], "a b": [lost], "b": [thin, lost, new], "c": [lost]}
    found = World([thin, wide, lost], {**after, "b": [replace(thin, level=Level.STOP), lost]}).offered()
    assert [f.fix for f in found[:2]] == ["a and b", "a and b"]
    assert found[2].changes == ()


def test_a_key_that_is_changed_twice_has_its_last_value() -> None:
    thin = finding("thin", "a")
    again = replace(finding("wide"), remedies=lambda: iter([Remedy(changes=(change("a", 2),), words="a 2")]))
    done: list[tuple[Change, ...]] = []

    def after(tried: Remedy) -> Found:
        done.append(tried.changes)
        return Found([again] if tried.changes == (change("a"),) else [])

    (fixed,) = Search(Found([thin]), after=after, alone=lambda _: ()).offered([thin])
    assert fixed.changes == (change("a", 2),)
    assert fixed.fix == "a 2"


def test_what_is_said_of_several_corners_is_searched_for_once() -> None:
    twins = [replace(finding("thin", "a", "b"), place=replace(A, name=name)) for name in "ABC"]
    world = World(twins, {"a": [finding("new")], "b": []})
    assert [f.fix for f in world.offered()] == ["b"] * 3
    assert world.tried == ["a", "b", "b", "b"]  # that it suits the others is looked at, and kept by who tries


def test_a_remedy_that_suits_one_corner_and_not_its_twin_is_not_offered_for_both() -> None:
    one, other = (replace(finding("thin", "a", "b"), place=replace(A, name=name)) for name in "AB")
    world = World([one, other], {"a": [other], "b": []})
    assert [f.fix for f in world.offered()] == ["a", "b"]


class Joint:
    """Stands for a corner in a remedy."""


def test_a_joint_is_looked_at_alone_before_the_job_is_tried() -> None:
    joints = {name: Joint() for name in "abc"}
    found = {joints["a"]: "thin", joints["b"]: "new", joints["c"]: ""}
    proposed = [Remedy(changes=(change(name),), words=name, joint=joint) for name, joint in joints.items()]  # type: ignore[arg-type]
    thin = replace(finding("thin"), remedies=lambda: iter(proposed))
    world = World([thin], {"a": [], "b": [], "c": []})
    looked_at = Search(
        Found([thin]),
        after=world.after,
        alone=lambda joint: [finding(found[joint])] if found[joint] else [],  # type: ignore[index]
    )
    assert looked_at.offered([thin])[0].fix == "c"
    assert world.tried == ["c"]


def test_no_more_are_tried_or_looked_at_than_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    keys = [f"k{number:03}" for number in range(300)]
    thin, new = finding("thin", *keys), finding("new")
    world = World([thin], {key: [new] for key in keys})
    assert world.offered()[0].changes == ()
    assert len(set(world.tried)) == search.MOST_TRIED
    proposed = [Remedy(changes=(change(key),), words=key, joint=Joint()) for key in keys]  # type: ignore[arg-type]
    looked_at: list[object] = []

    def alone(joint: object) -> list[Finding]:
        looked_at.append(joint)
        return [thin]

    of_a_joint = replace(thin, remedies=lambda: iter(proposed))
    Search(Found([thin]), after=world.after, alone=alone).offered([of_a_joint])
    assert len(looked_at) == search.MOST_PROPOSALS
    monkeypatch.setattr(search, "MOST_PROPOSALS_IN_ALL", 300)
    looked_at.clear()
    unlike = [replace(of_a_joint, message=str(number)) for number in range(3)]
    Search(Found([thin]), after=world.after, alone=alone).offered(unlike)
    assert len(looked_at) == 300


def test_where_enough_was_tried_it_is_said_that_this_was_not() -> None:
    thin = finding("thin", "a", fix="a thicker board")
    (fixed,) = World([thin], {}).offered(spent=lambda: True)
    assert fixed.fix == "a might do, but too much hangs on it here to be tried; a thicker board"


def test_no_set_is_looked_for_to_be_rid_of_a_note() -> None:
    thin, wide = finding("thin", "a", level=Level.NOTE), finding("wide", "b")
    world = World([thin], {"a": [wide], "a b": []})
    (fixed,) = world.offered()
    assert fixed.fix == "no single change clears this; the nearest, a, brings wide at corner A"
    assert set(world.tried) == {"a"}
