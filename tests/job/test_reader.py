"""A good job file becomes boards and joints in mm, whatever units it was written in."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from dovelayout.errors import JobError
from dovelayout.job.reader import Job, load_job, read_job
from dovelayout.joints.board import Board, End, Rings
from dovelayout.units import Unit
from dovelayout.wood.glue import find_glue
from dovelayout.wood.species import WoodKind

IN_MM = """
title = "Chest"
units = "mm"

[shop]
chisels = [6.35, 12.7]
knife = 1.27
kerf = 0.635

[paper]
size = "Letter"
margin = 12.7

[[board]]
name = "side"
species = "black cherry"
length = 304.8
width = 101.6
thickness = 19.05
out_of_square = 0.254

[[board]]
name = "end"
species = "black cherry"
length = 203.2
width = 101.6
thickness = 15.875

[[corner]]
name = "A"
tails = "side.left"
pins = "end.right"
slope = "1:7"
tail_count = 3
pin = 6.35
half_pin = 7.9375
proud = 0.508
groove = { from_edge = 12.7, width = 6.35, depth = 4.7625 }
"""

IN_INCHES = """
title = "Chest"
units = "in"

[shop]
chisels = ["1/4", 0.5]
knife = 0.05
kerf = "0.025"

[paper]
size = "Letter"
margin = "1/2"

[[board]]
name = "side"
species = "black cherry"
length = 12
width = 4
thickness = "3/4"
out_of_square = "10 thou"

[[board]]
name = "end"
species = "black cherry"
length = "8"
width = '4"'
thickness = "5/8"

[[corner]]
name = "A"
tails = "side.left"
pins = "end.right"
slope = "1:7"
tail_count = 3
pin = 0.25
half_pin = "5/16"
proud = 0.02
groove = { from_edge = 0.5, width = "1/4", depth = "3/16" }
"""

BOARDS = """
[[board]]
name = "side"
species = "black cherry"
length = 300
width = 100
thickness = 16

[[board]]
name = "end"
species = "black cherry"
length = 200
width = 100
thickness = 19
"""

# DESIGN: the sample job of the plan, as far as its keys are known to the reader.
WHOLE = """
title = "Textile-room chest"
units = "mm"

[shop]
humidity = [35, 65]
temperature = 20
kerf = 0.6
chisels = [6, 9, 12, 18]
glue = "pva"
fit = 0.05
hands = 1

[paper]
size = "A4"
margin = 8

[[board]]
name = "side"
species = "black cherry"
length = 560
width = 320
thickness = 19
rings = "flat"
runout = "1:18"

[[board]]
name = "top"
species = "black cherry"
length = 400
width = 320
thickness = 19

[[corner]]
name = "A"
joint = "through"
tails = "side.left"
pins = "top.right"
tail_count = 5
pin = 6
half_pin = 8
slope = "1:7"
proud = 0.4
groove = { from_edge = 10, width = 6, depth = 6 }
"""


def loaded(text: str) -> Job:
    return load_job(tomllib.loads(text), source="job.toml")


def corner(keys: str, *, head: str = "") -> Job:
    return loaded(f'{head}{BOARDS}\n[[corner]]\nname = "A"\n{keys}\n')


def numbers(board: Board) -> tuple[float, ...]:
    return (board.length_mm, board.width_mm, board.thickness_mm, board.out_of_square_mm)


def test_a_job_in_mm_and_the_same_in_inches_are_one_job() -> None:
    metric, imperial = loaded(IN_MM), loaded(IN_INCHES)
    assert (metric.unit, imperial.unit) == (Unit.MM, Unit.IN)
    for one, other in zip(metric.boards, imperial.boards, strict=True):
        assert numbers(one) == pytest.approx(numbers(other), abs=1e-9)
    assert metric.shop.chisels_mm == pytest.approx(imperial.shop.chisels_mm, abs=1e-9)
    assert metric.shop.knife_mm == pytest.approx(imperial.shop.knife_mm, abs=1e-9)
    assert metric.shop.kerf_mm == pytest.approx(imperial.shop.kerf_mm, abs=1e-9)
    assert metric.paper.margin_mm == pytest.approx(imperial.paper.margin_mm, abs=1e-9)
    (one,), (other,) = metric.joints, imperial.joints
    assert [(t.start_mm, t.end_mm, t.neck_start_mm, t.neck_end_mm) for t in one.tails] == [
        pytest.approx((t.start_mm, t.end_mm, t.neck_start_mm, t.neck_end_mm), abs=1e-9) for t in other.tails
    ]
    assert one.spec.groove is not None
    assert other.spec.groove is not None
    assert other.spec.groove.from_edge_mm == pytest.approx(one.spec.groove.from_edge_mm, abs=1e-9)
    assert other.spec.groove.width_mm == pytest.approx(one.spec.groove.width_mm, abs=1e-9)
    assert other.spec.groove.depth_mm == pytest.approx(one.spec.groove.depth_mm, abs=1e-9)


def test_proud_as_a_number_of_inches_is_converted_once() -> None:
    spec = loaded(IN_INCHES).joints[0].spec
    assert spec.proud_tails_mm == pytest.approx(0.02 * 25.4, abs=1e-12)
    assert spec.proud_pins_mm == pytest.approx(0.02 * 25.4, abs=1e-12)


def test_proud_in_a_table_of_inches_is_converted_once() -> None:
    text = IN_INCHES.replace("proud = 0.02", 'proud = { tails = 0.01, pins = "-0.5 mm" }')
    spec = loaded(text).joints[0].spec
    assert spec.proud_tails_mm == pytest.approx(0.254, abs=1e-12)
    assert spec.proud_pins_mm == -0.5


@pytest.mark.parametrize(
    ("typed", "proud_mm"), [("0.00001", 0.00001), ('"1/3 in"', 25.4 / 3), ('"-1/64 in"', -0.396875)]
)
def test_proud_may_be_any_length(typed: str, proud_mm: float) -> None:
    # neither a power of ten nor a number of many digits may come back as text to be read again
    spec = corner(f'tails = "side.left"\npins = "end.right"\npin = 10\nproud = {typed}').joints[0].spec
    assert spec.proud_tails_mm == spec.proud_pins_mm == pytest.approx(proud_mm)


@pytest.mark.parametrize(
    ("unit", "typed", "length_mm"),
    [
        ("mm", "300", 300.0),
        ("mm", '"300"', 300.0),
        ("mm", '"12 in"', 304.8),
        ("mm", '"1 ft"', 304.8),
        ("mm", '"30,5 cm"', 305.0),
        ("in", "12", 304.8),
        ("in", '"12 1/2"', 317.5),
        ("in", '"300 mm"', 300.0),
        ("cm", "30.5", 305.0),
        ("cm", '"12 in"', 304.8),
    ],
)
def test_a_length_may_carry_its_own_unit(unit: str, typed: str, length_mm: float) -> None:
    boards = BOARDS.replace("length = 300", f"length = {typed}")
    for plain in ("width = 100", "thickness = 16", "thickness = 19", "length = 200"):
        boards = boards.replace(plain, f'{plain.replace("= ", "= " + chr(34))} mm"')
    job = loaded(f'units = "{unit}"\n{boards}\n[[corner]]\nname = "A"\ntails = "side"\npins = "end"\n')
    assert job.boards[0].length_mm == pytest.approx(length_mm, abs=1e-9)
    assert job.boards[0].width_mm == pytest.approx(100.0, abs=1e-9)


def test_units_are_mm_when_not_said() -> None:
    job = corner('tails = "side"\npins = "end"')
    assert job.unit is Unit.MM
    assert job.boards[0].width_mm == 100.0


@pytest.mark.parametrize(
    ("tails", "pins", "ends"),
    [
        ("side", "end", (End.LEFT, End.RIGHT)),
        ("side.left", "end", (End.LEFT, End.RIGHT)),
        ("side.right", "end", (End.RIGHT, End.LEFT)),
        ("side", "end.left", (End.RIGHT, End.LEFT)),
        ("side", "end.right", (End.LEFT, End.RIGHT)),
        ("side.right", "end.left", (End.RIGHT, End.LEFT)),
    ],
)
def test_an_end_that_is_not_said_is_opposite_to_its_mate(tails: str, pins: str, ends: tuple[End, End]) -> None:
    spec = corner(f'tails = "{tails}"\npins = "{pins}"').joints[0].spec
    assert (spec.tails.end, spec.pins.end) == ends


def test_a_board_may_have_a_dot_in_its_name() -> None:
    text = BOARDS.replace('name = "side"', 'name = "side.left"')
    job = loaded(text + '[[corner]]\nname = "A"\ntails = "side.left.right"\npins = "end"\n')
    assert job.joints[0].spec.tails.board.name == "side.left"
    assert job.joints[0].spec.tails.end is End.RIGHT
    job = loaded(text + '[[corner]]\nname = "A"\ntails = "side.left"\npins = "end"\n')
    assert job.joints[0].spec.tails.board.name == "side.left"


def test_a_pair_of_equal_boards_may_meet() -> None:
    text = BOARDS.replace("thickness = 16", "thickness = 16\ncount = 2")
    job = loaded(text + '[[corner]]\nname = "A"\ntails = "side.left"\npins = "side.right"\n')
    assert job.joints[0].tail_board == job.joints[0].pin_board


def test_letters_of_a_box_skip_the_names_in_use() -> None:
    text = BOARDS + '[[corner]]\nname = "B"\ntails = "side"\npins = "end"\n'
    text += '[[box]]\nname = "one"\ntails = "side"\npins = "end"\n[[box]]\nname = "two"\ntails = "side"\npins = "end"\n'
    job = loaded(text)
    assert [joint.name for joint in job.joints] == ["B", "A", "C", "D", "E", "F", "G", "H", "I"]
    assert [joint.spec.origin for joint in job.joints] == [
        ("corner", "B"),
        *[("box", "one")] * 4,
        *[("box", "two")] * 4,
    ]


def test_letters_go_on_after_z() -> None:
    boxes = "".join(f'[[box]]\nname = "{n}"\ntails = "side"\npins = "end"\n' for n in range(8))
    names = [joint.name for joint in loaded(BOARDS + boxes).joints]
    assert names[24:] == ["Y", "Z", "AA", "AB", "AC", "AD", "AE", "AF"]
    assert len(set(names)) == 32


def test_the_right_end_of_each_board_of_a_box_meets_the_left_end_of_the_next() -> None:
    job = loaded(BOARDS + '[[box]]\nname = "tray"\ntails = "side"\npins = "end"\n')
    for joint in job.joints:
        assert joint.spec.tails.end is joint.spec.pins.end.opposite
    labels = {joint.spec.tails.label for joint in job.joints} | {joint.spec.pins.label for joint in job.joints}
    assert len(labels) == 8  # every end of the four boards, once


def test_a_wood_of_ones_own_comes_before_the_table() -> None:
    text = BOARDS.replace('species = "black cherry"', 'species = "Tatajuba"')
    own = '[[wood]]\nname = "tatajuba"\nkind = "hardwood"\nsg = 0.8\nmor_mpa = 150\nnotes = "from the merchant"\n'
    wood = loaded(own + text + '[[corner]]\nname = "A"\ntails = "side"\npins = "end"\n').boards[0].wood
    assert (wood.name, wood.kind, wood.sg_12, wood.mor_mpa) == ("tatajuba", WoodKind.HARDWOOD, 0.8, 150.0)
    assert wood.moe_gpa is None
    assert wood.notes == "from the merchant"


def test_a_wood_of_ones_own_may_take_the_name_of_a_known_one() -> None:
    own = '[[wood]]\nname = "black cherry"\nmor_mpa = 60\n'
    job = loaded(own + BOARDS + '[[corner]]\nname = "A"\ntails = "side"\npins = "end"\n')
    assert job.boards[0].wood.mor_mpa == 60.0


@pytest.mark.parametrize(("typed", "celsius"), [("20", 20.0), ('"68 F"', 20.0), ('"20 °C"', 20.0), ("-5.5", -5.5)])
def test_temperatures(typed: str, celsius: float) -> None:
    job = corner('tails = "side"\npins = "end"', head=f"[shop]\ntemperature = {typed}\n")
    assert job.shop.temperature_c == pytest.approx(celsius)


@pytest.mark.parametrize(("typed", "ratio"), [('"1:7"', 7.0), ('"1 in 6"', 6.0), ('"2:13"', 6.5), ('"45 deg"', None)])
def test_slopes(typed: str, ratio: float | None) -> None:
    if ratio is None:
        with pytest.raises(JobError, match="too steep"):
            corner(f'tails = "side"\npins = "end"\nslope = {typed}')
        return
    assert corner(f'tails = "side"\npins = "end"\nslope = {typed}').joints[0].slope.ratio == pytest.approx(ratio)


def test_tails_at_stand_where_they_are_told() -> None:
    joint = corner('tails = "side"\npins = "end"\ntails_at = [[8, 30], ["4 cm", 60.5], [70, 92]]').joints[0]
    assert [(tail.start_mm, tail.end_mm) for tail in joint.tails] == [(8.0, 30.0), (40.0, 60.5), (70.0, 92.0)]


def test_the_title_is_the_files_name_when_not_said(tmp_path: Path) -> None:
    path = tmp_path / "tool tray.toml"
    path.write_text(BOARDS + '[[corner]]\nname = "A"\ntails = "side"\npins = "end"\n', encoding="utf-8")
    assert read_job(path).title == "tool tray"


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"], ids=["plain", "byte order mark"])
def test_files_of_every_editor_are_read(mark: bytes, newline: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(mark + WHOLE.replace("\n", newline).encode("utf-8"))
    assert read_job(path).title == "Textile-room chest"


def test_a_whole_job() -> None:
    job = loaded(WHOLE)
    assert job.shop.humidity_pct == (35.0, 65.0)
    assert (job.shop.kerf_mm, job.shop.fit_mm, job.shop.hands) == (0.6, 0.05, 1)
    assert job.shop.glue is find_glue("pva")
    assert job.shop.chisels_mm == (6.0, 9.0, 12.0, 18.0)
    assert (job.paper.name, job.paper.margin_mm) == ("A4", 8.0)
    side = job.boards[0]
    assert (side.rings, side.runout_ratio, side.count) == (Rings.FLAT, 18.0, 1)
    (joint,) = job.joints
    assert len(joint.tails) == 5
    assert joint.spec.tails.label == "side, left end"
    assert joint.spec.pins.label == "top, right end"
    assert joint.spec.proud_tails_mm == joint.spec.proud_pins_mm == 0.4
    assert joint.proposed == {}
    assert sum(tail.width_mm for tail in joint.tails) + 4 * 6 + 2 * 8 == pytest.approx(320.0)


def test_what_is_left_out_is_proposed_and_said_so() -> None:
    joint = corner('tails = "side"\npins = "end"').joints[0]
    assert set(joint.proposed) == {"pin", "half_pin", "tail_count", "slope"}
    assert joint.slope.ratio == 7.0


def test_a_job_is_read_from_tables_as_well() -> None:
    with pytest.raises(JobError) as caught:
        load_job({"board": [{"name": "side"}]}, source="the page")
    assert str(caught.value).startswith("the page: board 'side', key species: is missing")


def test_kerf_pins_are_as_narrow_as_the_shops_saw_unless_said() -> None:
    from tests.jobs import corner_job, loaded

    kerf = corner_job(spacing="kerf pins", tail_count=5, half_pin=8, shop={"kerf": 0.6})
    assert loaded(kerf).joints[0].full_pins[0].width_mm == pytest.approx(0.6)
    usual = corner_job(spacing="kerf pins", tail_count=5, half_pin=8)
    assert loaded(usual).joints[0].full_pins[0].width_mm == pytest.approx(0.7)
    said = corner_job(spacing="kerf pins", tail_count=5, half_pin=8, pin=1.0)
    assert loaded(said).joints[0].full_pins[0].width_mm == pytest.approx(1.0)


def test_a_groove_deeper_than_a_thin_pin_board_is_refused_unless_that_board_stops_above_it() -> None:
    from tests.jobs import corner_job, loaded

    deep = {"from_edge": 12, "width": 4, "depth": 6}
    with pytest.raises(JobError, match="goes through top, 5 mm thick"):
        loaded(corner_job(pin_thickness=5, tail_count=5, pin=6, half_pin=8, groove=deep))
    above = corner_job(
        pin_thickness=5, tail_count=5, pin=6, half_pin=8, groove=deep, covers=[20, 200], pin_board={"width": 180}
    )
    assert loaded(above).joints[0].end_faces()[1].groove is None
