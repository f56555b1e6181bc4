"""Every limit on sliding dovetails: passes, speaks beyond it, holds its tongue at it, and a fix passes when applied."""

from __future__ import annotations

import math
from functools import partial
from typing import Any

import pytest

from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.sliding.router import first_pass
from dovelayout.joints.sliding import Bit
from dovelayout.joints.slope import Slope
from tests.divider_jobs import divider_job, found, loudest
from tests.jobs import applied, values_of
from tests.season_jobs import emc, grown

TAN_8 = math.tan(math.radians(8))


def _bit(diameter: float = 12.7, angle: str = "8 deg", **keys: Any) -> dict[str, Any]:
    return {"diameter": diameter, "angle": angle, **keys}


def _taper(travel_share: float) -> dict[str, Any]:
    """A taper that a dried key travels so much of its 100 mm on, to be tight again. From 80 to 20 %: cherry flat-sawn moves
    0.00126 a point in thickness, and the key's rear is narrower than its 19 mm by the taper itself, 100 / n."""
    loses = 1 - grown(1, 0.00126, emc(80), emc(20))
    ratio = (travel_share / loses + 1) * 100 / 19  # of (19 - 100 / n) x loses x n / 100 = share
    return {"taper": f"1:{ratio:.1f}", "shop": {"humidity": [20, 80]}, "shelf": {"width": 100}}


PVA = {"glue": "pva"}
CASES: list[tuple[str, dict[str, Any], Level]] = [
    ("housing-depth", {"depth": 3.8}, Level.OK),  # 20 % of 19
    ("housing-depth", {"depth": 3.7}, Level.NOTE),
    ("housing-depth", {"depth": 9.5}, Level.OK),  # 50 %
    ("housing-depth", {"depth": 9.6}, Level.WARN),
    ("housing-depth", {"depth": 11.4}, Level.WARN),  # 60 %
    ("housing-depth", {"depth": 11.5}, Level.STOP),
    # the floor reaches depth x tan 8 further than the neck that is measured to
    ("housing-end", {"at": f"{10 + 6 * TAN_8:.6f} mm"}, Level.OK),
    ("housing-end", {"at": 10.8}, Level.WARN),
    ("housing-end", {"at": 570.5}, Level.OK),
    ("housing-end", {"at": 572.5}, Level.WARN),
    ("long-slide", {"shop": PVA, "shelf": {"width": 200}}, Level.OK),
    ("long-slide", {"shop": PVA, "shelf": {"width": 200.1}}, Level.WARN),
    ("long-slide", {"shop": PVA, "shelf": {"width": 300}}, Level.WARN),
    ("long-slide", {"shop": PVA, "shelf": {"width": 300.1}}, Level.STOP),
    ("long-slide", {"shop": PVA, "taper": "1:320"}, Level.OK),
    ("long-slide", {"shop": PVA, "glue_zone": 76}, Level.OK),
    ("long-slide", {"shop": {"glue": "Polyurethane"}}, Level.OK),
    ("long-slide", {"shop": {"glue": "hot hide"}, "shelf": {"width": 300.1}}, Level.WARN),  # slippery
    ("long-slide", {"shop": {"glue": ""}}, Level.NOTE),  # not checked
    ("taper-travel", {"taper": "1:320"}, Level.OK),
    ("taper-travel", {"taper": "1:1000", "shop": {"humidity": [20, 80]}, "shelf": {"width": 100}}, Level.STOP),
    ("taper-travel", {"taper": "1:320", "shop": {"humidity": [50, 50]}}, Level.OK),
    ("taper-travel", _taper(0.98), Level.OK),
    ("taper-travel", _taper(1.02), Level.STOP),
    # 6 (tan 14 - tan 8) = 0.65; 6 (tan 9 - tan 8) = 0.107
    ("angle-mismatch", {"slope": "8 deg", "bit": _bit(angle="14 deg")}, Level.WARN),
    ("angle-mismatch", {"slope": "8 deg", "bit": _bit(angle="9 deg")}, Level.OK),
    ("angle-mismatch", {"slope": "8 deg", "bit": _bit(angle="1:6.05")}, Level.OK),  # 6 / 6.05 - 6 tan 8 = 0.1485
    ("angle-mismatch", {"slope": "8 deg", "bit": _bit(angle="1:6.03")}, Level.WARN),  # 0.1518
    # 7 deg over 9.5: 9.5 x 2 x 0.1228 = 2.333; neck 6.35 at a bit of 8.683
    ("router-neck", {"depth": 9.5, "bit": _bit(8.69, "7 deg")}, Level.OK),
    ("router-neck", {"depth": 9.5, "bit": _bit(8.68, "7 deg")}, Level.NOTE),
    ("router-width", {"bit": _bit(12.7)}, Level.OK),
    ("router-width", {"bit": _bit(19.04)}, Level.STOP),  # floor: 19 + 2 x 0.13 tan 8 = 19.0365
    ("router-pass", {"species": "hard maple", "bit": _bit()}, Level.WARN),
    ("router-pass", {"species": "hard maple", "bit": _bit(plough_first=True)}, Level.OK),
    ("router-pass", {"species": "white oak", "bit": _bit()}, Level.OK),  # at 6000 N
    ("cupped-key", {"cup": 0.15, "clearance": 0.05}, Level.OK),  # 0.05 beyond both clearances
    ("cupped-key", {"cup": 0.152, "clearance": 0.05}, Level.WARN),
    ("cupped-key", {"cup": 0.16, "clearance": 0.05}, Level.WARN),
    ("cupped-key", {"cup": 0.3, "clearance": 0.05}, Level.WARN),
    ("cupped-key", {"cup": 0.31, "clearance": 0.05}, Level.STOP),
    ("cupped-key", {"cup": 2, "taper": "1:320"}, Level.OK),
    ("plywood-housing", {"side": {"species": "plywood"}}, Level.WARN),
    ("plywood-housing", {"shelf": {"species": "plywood"}}, Level.OK),
    ("rear-gap", {}, Level.OK),
    ("rear-gap", {"shelf": {"width": 400}}, Level.NOTE),  # flush, and shrinks along
    ("rear-gap", {"shelf": {"width": 399, "species": "plywood"}}, Level.WARN),
    ("rear-gap", {"shop": {"humidity": [50, 50]}, "shelf": {"width": 399}}, Level.OK),  # 1 mm, and nothing moves
    ("rear-gap", {"shop": {"humidity": [50, 50]}, "shelf": {"width": 399.1}}, Level.NOTE),
    ("glue-zone", {"glue_zone": 76}, Level.OK),
    ("glue-zone", {"glue_zone": 77}, Level.NOTE),
]

EXAMPLES = [partial(loudest, divider_job(**keys), check) for check, keys, _ in CASES]


@pytest.mark.parametrize(("check", "keys", "expected"), CASES, ids=lambda value: str(value)[:70])
def test_check_on_either_side_of_its_limit(check: str, keys: dict[str, Any], expected: Level) -> None:
    assert loudest(divider_job(**keys), check) is expected


def test_clean_divider_is_silent() -> None:
    assert found(divider_job()) == ()


@pytest.mark.parametrize("keys", [keys for _, keys, level in CASES if level is not Level.OK], ids=str)
def test_offered_fix_passes_when_applied(keys: dict[str, Any]) -> None:
    job = divider_job(**keys)
    for finding in found(job):
        assert finding.fix
        assert finding.message
        assert finding.source
        assert finding.where.startswith("divider shelf, ")
        if finding.changes:
            assert not _still_speaks(job, finding), f"{finding.check}: {finding.fix}"


def _still_speaks(job: dict[str, Any], finding: Finding) -> bool:
    again = found(applied(job, finding.changes), finding.check)
    return any(other.level.rank >= finding.level.rank for other in again)


# the nearest change that passes, by hand
@pytest.mark.parametrize(
    ("check", "keys", "nearest"),
    [
        ("housing-depth", {"depth": 3.7}, {"depth": "3.9 mm"}),  # over a fifth of 19: 3.8
        ("housing-depth", {"depth": 11.5}, {"depth": "9.5 mm"}),  # half of 19
        ("housing-depth", {"depth": 12, "side": {"thickness": 20}}, {"depth": "10 mm"}),
        ("housing-end", {"at": 3}, {"at": "11 mm"}),  # 3 - 6 tan 8 = 2.2, 7.8 short: the next whole mm
        ("housing-end", {"at": 572.5}, {"at": "571.5 mm"}),
        ("long-slide", {"shop": PVA, "shelf": {"width": 300.1}}, {"taper": "1:320"}),
        # from 90 to 10 % it loses 2.24 % of its 19 mm, 0.425 mm: 60 mm of key are enough from 1:141 on
        (
            "taper-travel",
            {"taper": "1:1500", "shop": {"humidity": [10, 90]}, "shelf": {"width": 60}},
            {"taper": "1:100"},
        ),
        # 35 mm of key: from 1:82 on
        (
            "taper-travel",
            {"taper": "1:1500", "shop": {"humidity": [10, 90]}, "shelf": {"width": 35}},
            {"taper": "1:64"},
        ),
        # a neck of 4.7 - 2 x 5.87 tan 8 = 3.05 mm has no room for a taper of 300 / 320 mm
        ("long-slide", {"shop": PVA, "shelf": {"width": 300.1, "thickness": 4.7}}, {"glue_zone": "76 mm"}),
        # 7 degrees leave 6.35 mm of an 8.68 mm bit at (8.68 - 6.35) / 2 / tan 7 = 9.488
        ("router-neck", {"depth": 9.5, "bit": _bit(8.68, "7 deg")}, {"depth": "9.4 mm"}),
        ("rear-gap", {"shop": {"humidity": [50, 50]}, "shelf": {"width": 399.5}}, {"width": "398.9 mm"}),
        ("glue-zone", {"glue_zone": 120}, {"glue_zone": "76 mm"}),
    ],
    ids=str,
)
def test_the_nearest_change_that_passes_is_offered(check: str, keys: dict[str, Any], nearest: dict[str, str]) -> None:
    (finding,) = found(divider_job(**keys), check)
    assert dict(values_of(finding)) == nearest
    assert check == "long-slide" or next(iter(nearest.values())).removesuffix(" mm") in finding.fix


@pytest.mark.parametrize(
    ("keys", "diameter"), [({"bit": _bit(25)}, "19 mm"), ({"bit": _bit(19.2), "shelf": {"thickness": 18}}, "18 mm")]
)
def test_the_widest_bit_that_goes_in_is_offered(keys: dict[str, Any], diameter: str) -> None:
    """The floor is wider than the key's thickness by 2 x 0.13 tan 8 = 0.04: to the tenth below."""
    (finding,) = found(divider_job(**keys), "router-width")
    assert values_of(finding)["bit"]["diameter"] == diameter


def test_a_bit_for_which_no_depth_is_right_is_told_what_else_would_be() -> None:
    """6.4 mm across, its slot is narrower than its shank from 0.2 mm of depth on, and no housing is as shallow."""
    (finding,) = found(divider_job(depth=6, bit=_bit(6.4)), "router-neck")
    assert (finding.fix, finding.changes) == ("a bit of smaller angle, or a wider one", ())


def test_every_limit_that_a_key_can_mend_offers_the_change() -> None:
    """Only what no key of the job mends goes without: plywood, and blanks."""
    without = {
        finding.check
        for _, keys, level in CASES
        if level is not Level.OK
        for finding in found(divider_job(**keys))
        if not finding.changes and not finding.message.startswith("not checked")
    }
    assert without == {"plywood-housing"}


def test_blanks_are_told() -> None:
    job = divider_job(taper="1:320")
    del job["shop"]["humidity"]
    unchecked = {f.check for f in found(job) if f.message.startswith("not checked, because the job doesn't say")}
    assert unchecked == {"taper-travel", "rear-gap"}


def test_what_both_ends_say_is_said_once() -> None:
    job = divider_job(depth=12)
    job["board"][0]["count"] = 2
    job["divider"][0]["host"] = ["side.left", "side.right"]
    (finding,) = found(job, "housing-depth")
    assert finding.where == "divider shelf, both ends"


@pytest.mark.parametrize(
    ("degrees", "depth_mm", "neck_mm"),
    [
        (14, 9.5, 7.963),  # 12.7 - 2 x 9.5 x 0.24933
        (8, 19.0, 7.359),  # 12.7 - 2 x 19 x 0.14054
    ],
)
def test_first_pass_of_a_straight_bit(degrees: float, depth_mm: float, neck_mm: float) -> None:
    bit = Bit(diameter_mm=12.7, slope=Slope(1 / math.tan(math.radians(degrees))))
    plough = first_pass(bit, depth_mm)
    assert plough is not None
    assert (plough.wide_mm, plough.deep_mm) == pytest.approx((neck_mm - 0.8, depth_mm - 0.8), abs=5e-4)
    assert first_pass(bit, 60.0) is None


@pytest.mark.parametrize(("diameter", "room"), [(3.2, True), (2.8, True), (2.4, False)])
def test_a_straight_bit_needs_some_room_and_be_it_little(diameter: float, room: bool) -> None:
    """At 6 mm and 1:7.115 the neck is 1.686 mm narrower than the bit, and 0.8 of it is left."""
    plough = first_pass(Bit(diameter_mm=diameter, slope=Slope(1 / TAN_8)), 6.0)
    assert (plough is not None) is room
    if plough is not None:
        assert plough.wide_mm == pytest.approx(diameter - 2 * 6 * TAN_8 - 0.8)
    shallow = first_pass(Bit(diameter_mm=12.7, slope=Slope(1 / TAN_8)), 0.9)
    assert shallow is not None
    assert shallow.deep_mm == pytest.approx(0.1)
    assert first_pass(Bit(diameter_mm=12.7, slope=Slope(1 / TAN_8)), 0.8) is None


def test_a_straight_tongue_that_may_seize_is_given_three_ways_out() -> None:
    (finding,) = found(divider_job(shop=PVA, shelf={"width": 300.1}), "long-slide")
    assert finding.fix == "taper 1:320, or glue on the front 76 mm alone, or a glue without water, such as polyurethane"


@pytest.mark.parametrize(("used", "taper"), [(0.95, "1:320"), (1.05, "1:250")])
def test_the_finest_taper_that_is_coarse_enough_is_offered(used: float, taper: str) -> None:
    """A key that would have to travel so much of its length at 1:320, from 80 to 20 % of air."""
    share = 1 - grown(1, 0.00126, emc(80), emc(20))
    length_mm = 320 * 19 * share / used
    job = divider_job(taper="1:1500", shop={"humidity": [20, 80]}, shelf={"width": round(length_mm, 1)})
    (finding,) = found(job, "taper-travel")
    assert values_of(finding) == {"taper": taper}


def test_a_slope_is_written_as_the_bit_s_own() -> None:
    """1 / tan 14 degrees = 4.010781; no key would lean as another bit does."""
    (finding,) = found(divider_job(slope="8 deg", bit=_bit(angle="14 deg")), "angle-mismatch")
    assert finding.fix == "a joint as the bit leans, slope 1:4.01 (14.0°)"
    assert float(values_of(finding)["slope"].removeprefix("1:")) == pytest.approx(4.010781, abs=1e-6)


@pytest.mark.parametrize(
    ("keys", "fix"),
    [
        # 3.57 mm of tongue leave 4.01 - 2 x 3.57 tan 8 = 3.006 mm of neck, a tenth more depth less than 3
        ({"depth": 3.7, "wide": 4.01}, "a thicker key, which bears a deeper housing"),
        # half of 2 mm is less than the shallowest, 1.13
        ({"depth": 1.2, "side": {"thickness": 2}}, "a thicker host"),
    ],
)
def test_a_depth_that_cannot_be_built_is_not_offered(keys: dict[str, Any], fix: str) -> None:
    (finding,) = found(divider_job(**keys), "housing-depth")
    assert (finding.fix, finding.changes) == (fix, ())
