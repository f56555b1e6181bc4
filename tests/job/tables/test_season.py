"""[home], [[across]] and [[panel]] in a job: what is read, what is filled in, and one line for what won't do."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from dovelayout.casework.across import AcrossKind, Slot, Tongue
from dovelayout.casework.panel import Glued
from dovelayout.errors import JobError
from dovelayout.joints.spacing import Span
from tests.jobs import loaded
from tests.season_jobs import across_job, panel_job

YEAR = [36, 35, 38, 42, 48, 54, 58, 60, 56, 50, 43, 38]


def test_a_part_as_it_was_written() -> None:
    job = across_job(
        kind="runner",
        length=400,
        glue=[["10 mm", "3 in"]],
        screws=[20],
        slots=[{"at": 380, "play": "1/8 in"}],
        **{"from": 10},
        rear_stop=450,
    )
    (part,) = loaded(job).across
    assert (part.name, part.kind, part.part.name, part.host.name) == ("one", AcrossKind.RUNNER, "part", "host")
    assert (part.from_mm, part.length_mm, part.end_mm, part.rear_stop_mm, part.room_mm) == (10, 400, 410, 450, 40)
    assert part.glue == (Span(10, 76.2),)
    assert part.screws_mm == (20,)
    assert part.slots == (Slot(at_mm=380, play_mm=3.175),)
    assert (part.meets_front, part.meets_rear, part.along) == (True, True, False)


def test_what_is_left_out_is_the_usual() -> None:
    (part,) = loaded(across_job(kind="breadboard")).across
    assert (part.from_mm, part.length_mm, part.rear_stop_mm) == (0, 508, 508)
    assert (part.glue, part.screws_mm, part.slots) == ((), (), ())
    assert (part.meets_front, part.meets_rear, part.tongue) == (False, False, Tongue.TENONS)
    (all_along,) = loaded(across_job(glue="all")).across
    assert all_along.glue == (Span(0, 508),)
    (neighbour,) = loaded(across_job(kind="neighbour", part={"width": 300})).across
    assert (neighbour.along, neighbour.length_mm, neighbour.glue) == (True, 300, (Span(0, 300),))
    (front,) = loaded(across_job(kind="batten", meets="front")).across
    assert (front.meets_front, front.meets_rear) == (True, False)


def test_a_panel_as_it_was_written_and_the_usual() -> None:
    (panel,) = loaded(panel_job(groove=6, play="2 mm", glued="one edge", clearance=0.2, pieces=3)).panels
    assert (panel.groove_mm, panel.play_mm, panel.glued, panel.clearance_mm, panel.pieces) == (6, 2, Glued.EDGE, 0.2, 3)
    (bare,) = loaded(panel_job()).panels
    assert (bare.groove_mm, bare.play_mm, bare.glued, bare.pieces, bare.frame) == (None, None, Glued.NOT, 1, None)


def test_the_air() -> None:
    shop = loaded(panel_job(shop={"built_at": 45}, home={"humidity": YEAR, "temperature": "68 F"})).shop
    assert shop.built_at_pct == 45
    assert shop.months_pct == tuple(YEAR)
    assert shop.home_temperature_c == pytest.approx(20)


def _across(**keys: Any) -> dict[str, Any]:
    return across_job(**keys)


def _without(tables: dict[str, Any], table: str, key: str) -> dict[str, Any]:
    spoilt = copy.deepcopy(tables)
    del spoilt[table][0][key]
    return spoilt


def _twice(tables: dict[str, Any], table: str) -> dict[str, Any]:
    return {**tables, table: tables[table] * 2}


BAD: dict[str, tuple[dict[str, Any], str]] = {
    "three months": (
        panel_job(home={"humidity": [30, 40, 50]}),
        "home, key humidity: 3 figures won't do; write the driest",
    ),
    "no figure": (panel_job(home={"humidity": []}), "home, key humidity: 0 figures won't do"),
    "over 100": (panel_job(home={"humidity": [30, 101]}), "home, key humidity: 101 is no relative humidity"),
    "below 0": (panel_job(home={"humidity": [-1, *YEAR[1:]]}), "home, key humidity: -1 is no relative humidity"),
    "turned round": (panel_job(home={"humidity": [60, 30]}), "home, key humidity: [60, 30] won't do; driest first"),
    "text for a figure": (
        panel_job(home={"humidity": ["30 %", 60]}),
        "key humidity number 1: a plain number is wanted",
    ),
    "not a list": (panel_job(home={"humidity": 50}), "home, key humidity: a list is wanted, not 50"),
    "no humidity at home": (panel_job(home={"temperature": 20}), "home, key humidity: is missing"),
    "misspelt humidity": (panel_job(home={"humidity": YEAR, "humidty": 3}), "did you mean humidity?"),
    "built at nothing": (panel_job(shop={"built_at": 101}), "shop, key built_at: 101 is out of range; at most 100"),
    "misspelt built_at": (
        panel_job(shop={"build_at": 45}),
        "shop, key build_at: this key is not known; did you mean built_at?",
    ),
    "unknown kind": (_across(kind="plinth"), "across 'one', key kind: 'plinth' is not known; known: runner, rail,"),
    "number for a kind": (_across(kind=3), "across 'one', key kind: 3 is not known"),
    "no host": (_without(_across(), "across", "host"), "across 'one', key host: is missing; add host = ..."),
    "unknown host": (_across(host_=1), "across 'one', key host_: this key is not known; did you mean host?"),
    "unknown board": (_across() | {"board": _across()["board"][:1]}, "key part: there is no board 'part'"),
    "misspelt from": (_across(form=3), "across 'one', key form: this key is not known; did you mean from?"),
    "across itself": (
        {**_across(), "across": [{"name": "one", "kind": "rail", "part": "host", "host": "host"}]},
        "across 'one': board 'host' can't lie across itself; name another board",
    ),
    "twice": (_twice(_across(), "across"), "across 'one': is there twice; give each part a name of its own"),
    "glue in words": (_across(glue="everywhere"), "key glue: 'everywhere' is not known; write \"all\""),
    "glue of one figure": (_across(glue=[[3]]), "key glue number 1 number 2: is missing"),
    "glue off the part": (_across(glue=[[0, 600]]), "a fixing at 600 mm is off the part, which lies from 0 to 508 mm"),
    "glue turned round": (_across(glue=[[60, 20]]), "glue from 60 to 20 mm is no stretch; write [from, to]"),
    "slot off the part": (_across(slots=[{"at": 600, "play": 3}]), "a fixing at 600 mm is off the part"),
    "slot without play": (_across(slots=[{"at": 60}]), "across 'one', key slots number 1 play: is missing; add play"),
    "misspelt play": (_across(slots=[{"at": 60, "play": 1, "pley": 1}]), "did you mean play?"),
    "screw below 0": (_across(screws=[-3]), "key screws number 1: -3 is -3 mm; 0 to 5000 mm would be right"),
    "meets what": (
        _across(meets="back"),
        "key meets: 'back' is not known; one of 'front', 'rear', 'both' or 'nothing'",
    ),
    "tongue on a runner": (
        _across(kind="runner", tongue="tenons"),
        "across 'one': tongue is for kind = \"breadboard\", and this is a runner; leave it out",
    ),
    "misspelt panel key": (panel_job(grove=6), "panel 'one', key grove: this key is not known; did you mean groove?"),
    "glued somehow": (
        panel_job(glued="well"),
        "panel 'one', key glued: 'well' is not known; known: no, middle, one edge",
    ),
    "true for glued": (panel_job(glued=True), "panel 'one', key glued: True is not known"),
    "play and no groove": (panel_job(play=3), "panel 'one': play is given and no groove; add groove = its depth"),
    "clearance and no groove": (panel_job(clearance=0.3), "clearance is given and no groove"),
    "no pieces": (panel_job(pieces=0), "panel 'one', key pieces: 0 is out of range; at least 1"),
    "panel twice": (_twice(panel_job(), "panel"), "panel 'one': is there twice; give each panel a name of its own"),
    "unknown frame": (panel_job(frame="sid"), "panel 'one', key frame: there is no board 'sid'"),
    "panel is a table": (panel_job() | {"panel": {"name": "x"}}, "key panel: a list of tables is wanted"),
}


@pytest.mark.parametrize("case", BAD)
def test_bad_input_is_one_line(case: str) -> None:
    tables, said = BAD[case]
    with pytest.raises(JobError) as caught:
        loaded(tables)
    line = str(caught.value)
    assert line.startswith("test.toml: ")
    assert said in line
    assert "\n" not in line


def test_a_job_of_parts_that_move_alone_is_a_job() -> None:
    assert loaded(across_job()).joints == ()
    assert loaded(panel_job()).joints == ()
