"""Cut-outs: what is left by hand calculation, every limit from both sides, and every change applied."""

from __future__ import annotations

import copy
from functools import partial
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.checks.cutout_remedy import moved_across, moved_along, narrower, shallower, smaller
from dovelayout.checks.cutouts import check_cutouts, clamp_load_n, joint_zones, section_share, strip_load_n, strips
from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.verdict.verdict import judged
from tests.jobs import applied, corner_job, loaded, values_of

CHERRY_MPA = 85.0  # modulus of rupture, black cherry at 12 %: Wood Handbook, Table 5-3a
OPENING = {"from_end": 200, "from_edge": 60, "length": 60, "width": 60}


def _job(*cutouts: dict[str, Any], **keys: Any) -> dict[str, Any]:
    """A cherry side, 500 x 200 x 19, with tails at its left end, and these cut-outs in it."""
    board = {**keys.pop("board", {}), "cutout": list(cutouts)}
    return corner_job(**{"tail_count": 5, "pin": 6, "half_pin": 8, "board": board, **keys})


def _found(tables: dict[str, Any], check: str | None = None) -> tuple[Finding, ...]:
    found = [f for f in judged(loaded(tables)).findings if f.check.startswith("cutout-")]
    return tuple(f for f in found if check is None or f.check == check)


def _level(tables: dict[str, Any], check: str | None = None) -> Level:
    job = loaded(tables)
    return worst_level(f for f in check_cutouts(job.boards, job.joints) if check is None or f.check == check)


def _side(tables: dict[str, Any]) -> tuple[Any, Any]:
    job = loaded(tables)
    side = job.boards[0]
    assert side.wood.mor_mpa == pytest.approx(CHERRY_MPA, abs=0.5)
    return side, joint_zones(side, job.joints)


# --- the numbers by hand ---


def test_section_left_by_hand() -> None:
    """120 of 200 mm cut 13 deep in 19: (80 x 361 + 120 x 36) / (200 x 361) = 0.4598."""
    side, _ = _side(_job({**OPENING, "width": 120, "depth": 13}))
    assert section_share(side, side.cutouts[0]) == pytest.approx(0.4598, abs=1e-4)


def test_strip_along_the_edge_by_hand() -> None:
    """A strip 10 wide, 19 thick, 100 long, held at both ends, grain along it: 8 x 85 x (19 x 100 / 6) / 100 = 2153 N."""
    side, taken = _side(_job({**OPENING, "from_edge": 10, "length": 100}))
    (strip,) = [row for row in strips(side, side.cutouts[0], taken) if row.where == "along the face edge"]
    assert strip_load_n(side, side.cutouts[0], strip, CHERRY_MPA) == pytest.approx(2153.3, abs=0.5)


def test_strip_at_the_end_is_short_grained_and_ten_times_weaker() -> None:
    """Behind 19 mm of joint, 39 - 19 = 20 mm are left, across the grain: a tenth of 85 MPa (Eq 5-2 at 90 degrees);
    out of the board's plane 8 x 8.5 x (20 x 361 / 6) / 60 = 1363.8 N, in it 8 x 8.5 x (19 x 400 / 6) / 60 = 1435.6 N."""
    side, taken = _side(_job({**OPENING, "from_end": 39}))
    (strip,) = [row for row in strips(side, side.cutouts[0], taken) if row.where == "at the left end"]
    assert strip.width_mm == pytest.approx(20)
    assert strip.short_grained
    assert strip_load_n(side, side.cutouts[0], strip, CHERRY_MPA) == pytest.approx(1363.8, abs=0.5)


def test_wall_of_a_channel_by_hand() -> None:
    """A channel 100 long and 8 deep, 6 mm from the edge: its wall is a bracket, 8.5 x (100 x 36 / 6) / 8 = 637.5 N."""
    side, taken = _side(_job({"from_end": 200, "from_edge": 6, "length": 100, "width": 12, "depth": 8}))
    (strip,) = [row for row in strips(side, side.cutouts[0], taken) if row.where == "along the face edge"]
    assert strip_load_n(side, side.cutouts[0], strip, CHERRY_MPA) == pytest.approx(637.5, abs=0.5)
    # the walls at the channel's own ends aren't what a rail in it spreads
    assert [row.where for row in strips(side, side.cutouts[0], taken)] == ["along the face edge", "along the far edge"]


def test_clamp_over_a_channel_by_hand() -> None:
    """200 wide, 190 of it cut 15 deep: section (10 x 361 + 190 x 16) / 6 = 1108.3 mm3; at 85 MPa and 30 mm off 3140 N."""
    side, _ = _side(_job({**OPENING, "from_edge": 5, "width": 190, "depth": 15}))
    assert clamp_load_n(side, side.cutouts[0], 30.0, CHERRY_MPA) == pytest.approx(3140.3, abs=0.5)


# --- limits ---


CASES: list[tuple[str, dict[str, Any], Level]] = [
    ("cutout-joint", {**OPENING, "from_end": 29}, Level.OK),  # 10 mm behind a baseline at 19
    ("cutout-joint", {**OPENING, "from_end": 28.9}, Level.WARN),
    ("cutout-joint", {**OPENING, "from_end": 19}, Level.WARN),
    ("cutout-joint", {**OPENING, "from_end": 18.9}, Level.STOP),
    ("cutout-joint", {**OPENING, "from_end": 5, "end": "right"}, Level.OK),  # no joint there
    ("cutout-section", {**OPENING, "from_edge": 40, "width": 100}, Level.OK),  # half of it
    ("cutout-section", {**OPENING, "from_edge": 40, "width": 101}, Level.WARN),
    ("cutout-section", {**OPENING, "from_edge": 20, "width": 160}, Level.WARN),  # a fifth
    ("cutout-section", {**OPENING, "from_edge": 20, "width": 161}, Level.STOP),
    # a strip w wide and 100 long breaks at 8 x 85 x 19 w^2 / 6 / 100 = 21.53 w^2
    ("cutout-ligament", {**OPENING, "from_edge": 6.82, "length": 100}, Level.OK),
    ("cutout-ligament", {**OPENING, "from_edge": 6.8, "length": 100}, Level.WARN),
    ("cutout-ligament", {**OPENING, "from_edge": 3.41, "length": 100}, Level.WARN),
    ("cutout-ligament", {**OPENING, "from_edge": 3.4, "length": 100}, Level.STOP),
]


@pytest.mark.parametrize(("check", "cutout", "expected"), CASES, ids=lambda value: str(value)[:70])
def test_check_on_either_side_of_its_limit(check: str, cutout: dict[str, Any], expected: Level) -> None:
    assert _level(_job(cutout), check) is expected


def _channel(depth: float) -> dict[str, Any]:
    """A 60 mm side, 10 thick, with a channel right across it but for 2 mm at either edge."""
    return _job(
        {"from_end": 30, "from_edge": 2, "length": 6, "width": 56, "depth": depth},
        width=60,
        thickness=10,
        tail_count=2,
        pin=5,
        half_pin=6,
    )


CHANNELS = [
    (4.65, Level.OK),  # 1013 N
    (4.8, Level.WARN),
    (8.65, Level.WARN),  # 254 N
    (8.8, Level.STOP),
]


@pytest.mark.parametrize(("depth", "level"), CHANNELS)
def test_clamp_behind_a_thin_channel(depth: float, level: Level) -> None:
    """F = 85 S / a: S of 4 mm at full thickness and 56 mm of floor, a from mid-joint at 5 to mid-channel at 33."""
    floor = 10 - depth
    load = CHERRY_MPA * (4 * 100 + 56 * floor**2) / 6 / (33 - 5)
    assert _level(_channel(depth), "cutout-clamp") is level
    assert (load < 1000, load < 250) == (level is not Level.OK, level is Level.STOP)


@pytest.mark.parametrize(("depth", "opening"), [(15.2, True), (15.1, False)])
def test_a_floor_of_a_fifth_is_as_good_as_none(depth: float, opening: bool) -> None:
    """3.8 of 19 mm are left: a rail in an opening strains its end as well, one in a channel only the walls beside it."""
    side, taken = _side(_job({**OPENING, "from_end": 39, "length": 80, "depth": depth}))
    places = {row.where for row in strips(side, side.cutouts[0], taken)}
    assert ("at the left end" in places) is opening


@pytest.mark.parametrize(("gap", "expected"), [(49.9, Level.STOP), (50.0, Level.OK)])
def test_a_channel_five_thicknesses_behind_the_joint_is_out_of_the_clamps_reach(gap: float, expected: Level) -> None:
    """10 mm stock, a baseline at 10 mm; the floor of 0.5 mm would not bear the clamps any nearer."""
    channel = {"from_end": 10 + gap, "from_edge": 0.5, "length": 6, "width": 59, "depth": 9.5}
    job = _job(channel, width=60, thickness=10, tail_count=2, pin=5, half_pin=6)
    assert _level(job, "cutout-clamp") is expected


EXAMPLES = [partial(_level, _job(cutout), check) for check, cutout, _ in CASES]
EXAMPLES += [partial(_level, _channel(depth), "cutout-clamp") for depth, _ in CHANNELS]


def test_cut_after_the_glue_up_no_clamp_bends_it() -> None:
    deep = _channel(9)
    (finding,) = _found(deep, "cutout-clamp")
    assert finding.fix == "the cut-out made after the glue-up"
    assert values_of(finding)["cutout"][0]["cut"] == "after"
    assert _found(applied(deep, finding.changes), "cutout-clamp") == ()


def test_a_wood_of_unknown_strength_is_not_judged() -> None:
    tables = _job(OPENING, species="shop wood")
    tables["wood"] = [{"name": "shop wood"}]
    assert [finding.message for finding in _found(tables)] == [
        "not checked, because the bending strength of shop wood is not known"
    ]


def test_a_board_without_cutouts_is_silent() -> None:
    assert _found(corner_job(tail_count=5, pin=6, half_pin=8)) == ()


# --- fixes ---


@st.composite
def _cutouts(draw: st.DrawFn) -> dict[str, Any]:
    length, width = draw(st.integers(2, 200)), draw(st.integers(2, 190))
    row: dict[str, Any] = {
        "from_end": draw(st.integers(0, 500 - length)),
        "from_edge": draw(st.integers(0, 200 - width)),
        "length": length,
        "width": width,
        "end": draw(st.sampled_from(["left", "right"])),
    }
    if draw(st.booleans()):
        row["depth"] = draw(st.integers(1, 18))
    return row


@given(st.lists(_cutouts(), min_size=1, max_size=2))
def test_every_change_that_is_offered_passes(rows: list[dict[str, Any]]) -> None:
    tables = _job(*rows)
    for finding in _found(tables):
        if not finding.changes:
            assert finding.fix
            continue
        again = _found(applied(copy.deepcopy(tables), finding.changes), finding.check)
        number = finding.where.split(",")[1]
        same = [other for other in again if other.where.split(",")[1] == number]
        assert all(other.level.rank < Level.WARN.rank for other in same), (finding.fix, same)


# 500 x 200 x 19, an opening 60 x 60
@pytest.mark.parametrize(
    ("from_end", "first", "then", "least"),
    [
        (438.7, [439.0, 439.5, 440.0], [438.5, 438.0, 437.5], 239.5),  # up to 500 - 60; 399 steps back to 439 - 199.5
        (1.0, [1.5, 2.0, 2.5], [0.5, 0.0], 0.0),
    ],
)
def test_along_the_board_by_the_halves_away_from_its_end_and_then_towards_it(
    from_end: float, first: list[float], then: list[float], least: float
) -> None:
    side, _ = _side(_job({**OPENING, "from_end": from_end}))
    places = [cutout.from_end_mm for cutout in moved_along(side, side.cutouts[0])]
    turn = next(index for index, at in enumerate(places) if at < from_end)
    assert places[:3] == first
    assert max(places) <= 440
    assert places[turn : turn + 3] == then
    assert places[-1] == min(places) == least


@pytest.mark.parametrize(
    ("from_edge", "places"), [(68.3, [68.5, 69, 69.5, 70]), (71.7, [71.5, 71, 70.5, 70]), (70, [])]
)
def test_across_the_board_as_far_as_its_middle(from_edge: float, places: list[float]) -> None:
    side, _ = _side(_job({**OPENING, "from_edge": from_edge}))
    assert [cutout.from_edge_mm for cutout in moved_across(side, side.cutouts[0])] == places


def test_shallower_and_narrower_by_the_halves_below_down_to_the_least() -> None:
    side, _ = _side(_job({**OPENING, "depth": 2.2, "width": 3}))
    assert [cutout.depth_mm for cutout in shallower(side, side.cutouts[0])] == [2, 1.5, 1, 0.5]
    assert [cutout.width_mm for cutout in narrower(side.cutouts[0])] == [2.5, 2, 1.5, 1]


def test_smaller_by_twentieths_about_its_own_middle_down_to_half() -> None:
    side, _ = _side(_job({**OPENING, "from_end": 100, "from_edge": 60, "length": 100, "width": 60}))
    rows = [(c.from_end_mm, c.from_edge_mm, c.length_mm, c.width_mm) for c in smaller(side.cutouts[0])]
    assert len(rows) == 10
    assert rows[0] == (102.5, 61.5, 95, 57)
    assert rows[-1] == (125, 75, 50, 30)


@pytest.mark.parametrize(("width", "least"), [(2, 1.0), (1.8, 1.0)])  # half of 2; 0.55 x 1.8 = 0.99
def test_nothing_narrower_than_a_millimetre_is_proposed(width: float, least: float) -> None:
    side, _ = _side(_job({**OPENING, "width": width}))
    assert [cutout.width_mm for cutout in smaller(side.cutouts[0])][-1] == least


def test_the_clamps_of_the_joint_that_is_further_off_bend_it_more_and_it_is_named() -> None:
    """A side of 90 mm with the channel 30 mm behind its left end: 28 mm from the middle of that joint and 52 from the
    right one's, 85 x (4 x 100 + 56 x 5.35^2) / 6 / 52 = 545 N; the harmless opening before it in the list is not."""
    job = _channel(4.65)
    job["board"][0]["length"] = 90
    channel = job["board"][0]["cutout"][0]
    job["board"][0]["cutout"] = [{"from_end": 50, "from_edge": 28, "length": 4, "width": 4, "depth": 1}, channel]
    job["board"].append({**job["board"][1], "name": "base"})
    job["corner"].append({**job["corner"][0], "name": "B", "tails": "side.right", "pins": "base.left"})
    (finding,) = _found(job, "cutout-clamp")
    assert finding.where == "board side, cut-out 2, behind corner B"
    assert finding.measured == pytest.approx(CHERRY_MPA * (400 + 56 * 5.35**2) / 6 / 52, rel=0.01)
