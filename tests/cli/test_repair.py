"""`dovelayout repair ...` as a maker calls it: verdicts, exit codes, JSON, files, bad input in one line."""

from __future__ import annotations

import json
import os
import pty
import shlex
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from dovelayout.cli import repair_diagnosis
from tests import readers
from tests.cli import contract
from tests.cli.calling import ROOT, files_in, process, run, said_as_json

GAP = ("repair", "gap", "--width", "0.6", "--length", "12")
CORNER = (
    *("repair", "corner", "--thickness", "19", "--width-of-break", "8", "--length-of-break", "14"),
    *("--species", "cherry"),
)
WEDGES = ("repair", "loose", "joint", "--gap", "0.4", "--depth", "19", "--length", "16")
SHIM = ("repair", "loose", "housing", "--gap", "0.5", "--depth", "7", "--length", "250")
PIN = ("repair", "broken", "pin", "--narrow", "6", "--wide", "10.6", "--length", "16", "--thickness", "19")
TORN = ("repair", "broken", "baseline", "--socket", "11", "--below", "1.5", "--into", "3", "--thickness", "16")
SPLIT = ("repair", "broken", "tail", "--length", "12", "--width", "0.1", "--tail-length", "19")
CUPPED = ("repair", "panel", "cupped", "--hollow", "0.8", "--width", "120", "--thickness", "12")
BOTTOM = (
    *("repair", "panel", "split", "--crack", "1.5", "--overhang", "6"),
    *("--length", "300", "--thickness", "6"),
)
HELD = ("repair", "panel", "held", "--crack", "1.5", "--length", "200", "--thickness", "9")
SLIDING = ("repair", "sliding", "--length", "500", "--from-home", "150")
CRACK = ("repair", "crack", "--length", "120", "--width", "0.5")


@pytest.fixture(autouse=True)
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of its own to work in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_schemas_are_schemas() -> None:
    for schema in (contract.REPAIR, contract.DIAGNOSIS):
        Draft202012Validator.check_schema(schema)
        assert contract.broken({}, schema)


@pytest.mark.parametrize("name", ["gap", "corner", "loose", "broken", "panel", "sliding", "crack", "diagnose"])
def test_each_has_its_help(name: str) -> None:
    result = run("repair", name, "--help")
    assert (result.exit_code, result.stderr) == (0, "")
    assert name in run("repair", "--help").stdout


@pytest.mark.parametrize(
    ("args", "method"),
    [
        (GAP, "slip"),
        ((*GAP[:3], "0.1", *GAP[4:]), "leave or peen"),
        ((*GAP[:3], "2 mm", *GAP[4:]), "patch"),
        ((*GAP[:3], "3/64 in", *GAP[4:]), "sliver"),
        (CORNER, "patch"),
        (WEDGES, "wedges"),
        ((*WEDGES[:4], "0.1", *WEDGES[5:]), "glue that fills"),
        (SHIM, "shim"),
        ((*SHIM, "--taper", "1:320", "--room", "200"), "drive it further in"),
        (PIN, "a new pin"),
        (TORN, "patch"),
        (SPLIT, "glue and close"),
        ((*SPLIT[:2], "socket", *SPLIT[3:7], "--stage", "cured"), "glue and close"),
        (CUPPED, "plane it"),
        ((*CUPPED, "--play", "1"), "leave it"),
        (BOTTOM, "free it, glue and close, a strip at the back"),
        (HELD, "free it, glue and close"),
        (SLIDING, "get it moving or get it out"),
        (CRACK, "glue and close"),
    ],
)
def test_advice_as_json_keeps_the_contract(args: tuple[str, ...], method: str) -> None:
    said = said_as_json(contract.REPAIR, *args)
    assert said["method"] == method
    assert said["files"] == []


@pytest.mark.parametrize(
    "args",
    [
        (*GAP[:3], "3.1", *GAP[4:]),
        (*GAP, "--loose"),
        (*CORNER, "--board-width", "15"),
        (*WEDGES, "--carries"),
        (*SHIM[:4], "4", *SHIM[5:]),
        (*PIN, "--species", "birch plywood"),
        (*TORN[:8], "9", *TORN[9:]),
        (*SPLIT[:4], "80", *SPLIT[5:]),
        (*CUPPED[:4], "4", *CUPPED[5:]),
        (*SLIDING, "--set", "--stopped"),
        (*CRACK, "--board-length", "200"),
    ],
    ids=" ".join,
)
def test_where_no_repair_holds_the_exit_is_1(args: tuple[str, ...]) -> None:
    said = said_as_json(contract.REPAIR, *args, exit_code=1)
    assert said["worst"] == "stop"
    people = run(*args)
    assert people.exit_code == 1
    assert "Verdict: STOP. No repair will hold: recut." in people.stdout


def test_both_units_sources_and_cautions_are_shown() -> None:
    words = " ".join(run(*GAP, "--depth", "3/4 in").stdout.split())
    assert "0.6 mm (0.024 in)" in words
    assert "≈ 19.1 mm (3/4 in)" in words or "≈ 19.1 mm" in words
    for word in (
        "ours",
        "common practice, no source",
        "Take care:",
        "both hands behind the edge",
        "makers of your glues",
    ):
        assert word in words


def test_a_corner_is_drawn_on_paper_and_as_svg(shop: Path) -> None:
    for name in ("patch.pdf", "patch.svg"):
        result = run(*CORNER, "-o", name)
        assert result.exit_code == 0
        assert f"wrote {name}" in result.stdout
    assert sorted(files_in(shop)) == ["patch.pdf", "patch.svg"]
    said = said_as_json(contract.REPAIR, *CORNER, "-o", "deep/down/patch.pdf")
    assert said["files"] == ["deep/down/patch.pdf"]


def test_what_isnt_filled_with_wood_or_isnt_to_be_repaired_is_not_drawn(shop: Path) -> None:
    leave = run(*GAP[:3], "0.1", *GAP[4:], "--depth", "19", "-o", "slip.pdf")
    assert leave.exit_code == 0
    assert "slip.pdf is not drawn" in leave.stderr
    stop = run(*CORNER, "--board-width", "15", "-o", "patch.pdf")
    assert stop.exit_code == 1
    assert "patch.pdf is not drawn: recut" in stop.stderr
    assert files_in(shop) == {}


@pytest.mark.parametrize(
    ("args", "words"),
    [
        ((*GAP[:3], "wide", *GAP[4:]), "--width: 'wide' is not a length"),
        ((*GAP[:3], "3/4", *GAP[4:]), "--width: '3/4' in a job in mm"),
        ((*GAP[:3], "-1", *GAP[4:]), "0.01 to 50 mm would be right"),
        ((*GAP[:3], "0", *GAP[4:]), "0.01 to 50 mm would be right"),
        ((*GAP, "--place", "middle"), "--place 'middle' is not known; one of end, cheek, baseline, lap"),
        ((*GAP, "--season", "65:25"), "--season needs --species and --wood-thickness too"),
        ((*GAP, "--season", "winter", "--species", "cherry", "--wood-thickness", "19"), "such as 65:25"),
        ((*GAP, "--season", "65:250", "--species", "cherry", "--wood-thickness", "19"), "5 to 95 %"),
        ((*GAP, "--species", "nosuchwood"), "nosuchwood"),
        ((*GAP, "--glue", "chewing gum"), "glue 'chewing gum' is not known"),
        ((*GAP, "-o", "slip.pdf"), "give --depth"),
        ((*GAP, "--depth", "19", "-o", "slip.png"), ".pdf or .svg"),
        ((*GAP, "--depth", "19", "-o", "slip.pdf", "--paper", "B5"), "B5"),
        ((*CORNER, "--depth-of-break", "25"), "25 mm deep in a board 19 mm thick"),
        ((*CORNER, "--grain-angle", "steep"), "--grain-angle 'steep' is not an angle"),
        ((*CORNER, "--grain-angle", "400"), "-180 to 180 would be right"),
        ((*CORNER, "--hand", "middle"), "one of left, right"),
        ((*CORNER, "--runout", "1:1"), "--runout: '1:1' is out of"),
        ((*CORNER[:5], "60", *CORNER[6:], "-o", "patch.pdf"), "larger paper would do"),
        ((*SLIDING[:5], "500", *SLIDING[6:]), "less than its length would be right"),
        ((*CRACK, "--stage", "later"), "one of dry, wet, cured"),
        ((*CRACK, "--season", "60:25"), "--season needs --species and --board-width too"),
        ((*CRACK, "--board-length", "100"), "at most its length would do"),
        ((*WEDGES[:2], "box", *WEDGES[3:]), "PART 'box' is not known; one of joint, housing"),
        ((*WEDGES[:5], "-o", "wedge.pdf"), "give --depth and --length"),
        (SHIM[:5], "--depth is needed"),
        ((*CUPPED[:2], "bent"), "one of cupped, split, held"),
        (CUPPED[:5], "--width is needed"),
        (BOTTOM[:5], "--overhang is needed"),
        (HELD[:7], "--thickness is needed: a strip is as thick as the panel"),
        ((*SHIM, "--taper", "1:5"), "--taper '1:5' is no taper"),
        ((*PIN[:2], "knob"), "one of pin, tail, socket, baseline"),
        (PIN[:5], "--wide is needed: the new pin has the old one's section"),
        ((*PIN[:4], "12", *PIN[5:]), "the other way round would be right"),
        ((*TORN[:8], "17", *TORN[9:]), "at most its thickness would do"),
        ((*SPLIT, "--stage", "later"), "one of dry, wet, cured"),
        (("repair", "diagnose", "--where", " "), "nothing to diagnose"),
        (("repair", "diagnose", "gap", "--glue", "wet"), "--glue 'wet' is not known; one of open, set, finished"),
        (("repair", "diagnose", "gap", "--corner", "A"), "give --job too"),
        (("repair", "diagnose", "gap", "--humidity", "35"), "'35' is not two humidities"),
        (("repair", "diagnose", "--where", "lap", "--symptom", "twisted"), "one of the two"),
        (("repair", "diagnose", "gap", "--symptom", "twisted"), "one of the two"),
        (("repair", "diagnose", "--symptom", "wobbly"), "symptom 'wobbly' is not known; one of"),
        (("repair", "diagnose", "xyzzy"), "nothing known is like 'xyzzy'"),
        (("repair", "diagnose", "\x1b[31m\n"), "nothing known is like"),
    ],
    ids=lambda value: value if isinstance(value, str) else " ".join(value[2:])[:60],
)
def test_bad_input_is_one_line_and_nothing_is_written(args: tuple[str, ...], words: str, shop: Path) -> None:
    result = run(*args)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.count("\n") == 1
    assert result.stderr.startswith("dovelayout: ")
    assert words in result.stderr
    assert files_in(shop) == {}


def test_a_negative_ring_angle_is_read() -> None:
    said = said_as_json(contract.REPAIR, *CORNER, "--depth-of-break", "6", "--grain-angle", "-60 deg")
    seam = next(row for row in said["figures"] if row["unit"] == "degrees")
    assert seam["value"] == -60.0


# --- from a job ---


def from_job(*args: str, corner: str = "A") -> tuple[str, ...]:
    return ("repair", *args, "--job", str(ROOT / "samples" / "sewing-chest.toml"), "--corner", corner)


BROKEN = ("corner", "--width-of-break", "14", "--length-of-break", "30")


def test_a_job_gives_wood_board_and_hand_and_the_joints_lines(shop: Path) -> None:
    said = said_as_json(contract.REPAIR, *from_job(*BROKEN, "-o", "patch.svg"))
    assert "right as seen from outside" in said["trouble"]  # the face edge of a right end
    assert "black cherry" in said["trouble"]
    assert not any(row["check"] == "patch-size" for row in said["findings"])
    dots = readers.svg_drawing((shop / "patch.svg").read_text(encoding="utf-8")).strokes["saw"]
    assert dots
    far = said_as_json(contract.REPAIR, *from_job(*BROKEN, "--edge", "far"))
    assert "left as seen from outside" in far["trouble"]


def test_a_break_in_what_is_sawn_away_anyway_needs_no_patch(shop: Path) -> None:
    # the half pin is 8 mm on the outside, 0.06 less where the tails stand proud
    said = said_as_json(
        contract.REPAIR,
        *from_job("corner", "--width-of-break", "7.9", "--length-of-break", "12", "--block", "-o", "patch.pdf"),
    )
    assert said["method"] == "leave it: the joint takes it"
    assert (said["findings"], said["files"]) == ([], [])
    assert files_in(shop) == {}
    past = said_as_json(
        contract.REPAIR, *from_job("corner", "--width-of-break", "8.1", "--length-of-break", "12", "--block")
    )
    assert past["method"] == "patch"


BOTH = from_job("corner", "--width-of-break", "14 and 9", "--length-of-break", "30 and 20", "--part", "both")
SIDE, FRONT = "side (left), right end", "front, left end"


def test_both_boards_of_a_corner_are_mended_as_each_alone_would_be(shop: Path) -> None:
    said = said_as_json(contract.REPAIR, *BOTH, "--grain-angle", "70 and 85", "-o", "both.pdf")
    assert (said["method"], said["files"]) == ("patch both", ["both.pdf"])
    assert SIDE in said["trouble"]
    assert f"; {FRONT}" in said["trouble"]
    figures = {row["what"]: row["value"] for row in said["figures"]}
    for name, part, sizes in ((SIDE, "tails", ("14", "30", "70")), (FRONT, "pins", ("9", "20", "85"))):
        options = ("--width-of-break", "--length-of-break", "--grain-angle")
        args = (word for pair in zip(options, sizes, strict=True) for word in pair)
        alone = said_as_json(contract.REPAIR, *from_job("corner", *args, "--part", part))
        own = {f"{name}: {row['what']}": row["value"] for row in alone["figures"] if row["source"] != "ours"}
        assert own.items() <= figures.items()
    # the groove, 14 to 20 mm from the edge, lies behind the side's seam alone
    assert [(row["check"], row["where"]) for row in said["findings"]] == [
        ("patch-room", f"board {SIDE}, broken corner, groove")
    ]
    words = readers.pdf_texts("both.pdf", 0) + readers.pdf_texts("both.pdf", 1)
    for name in (SIDE, FRONT):
        assert f"Paper for the broken corner: {name}" in words


def test_a_size_for_both_boards_is_said_once_and_one_that_needs_no_patch_isnt_drawn(shop: Path) -> None:
    args = ("corner", "--length-of-break", "12", "--block", "--part", "both", "-o", "one.svg", "--width-of-break")
    said = said_as_json(contract.REPAIR, *from_job(*args, "7.9 and 14"))
    assert said["method"] == f"patch {FRONT}"
    drawn = (shop / "one.svg").read_text(encoding="utf-8")
    assert f"corner: {FRONT}" in drawn
    assert SIDE not in drawn
    same = said_as_json(contract.REPAIR, *from_job(*args[:-3], "--width-of-break", "14"))
    assert (
        same["figures"]
        == said_as_json(contract.REPAIR, *from_job(*args[:-3], "--width-of-break", "14 and 14.0"))["figures"]
    )


def test_a_gap_takes_slope_depth_and_the_moving_board_from_the_job() -> None:
    args = ("gap", "--width", "0.9", "--length", "16", "--place", "end", "--season", "65:25")
    said = said_as_json(contract.REPAIR, *from_job(*args))
    by_hand = said_as_json(
        contract.REPAIR,
        *("repair", *args, "--species", "black cherry", "--wood-thickness", "19", "--rings", "flat", "--depth", "16"),
    )
    assert said["figures"] == by_hand["figures"]


def test_a_job_gives_the_sizes_of_wedges_pins_and_baselines(shop: Path) -> None:
    wedges = said_as_json(contract.REPAIR, *from_job("loose", "joint", "--gap", "0.4", "-o", "wedge.svg"))
    by_name = {row["what"]: row["value"] for row in wedges["figures"]}
    assert (by_name["wedge, deep in the gap"], by_name["wedge, long"], by_name["cheeks"]) == (16, 21, 8)
    pin = said_as_json(contract.REPAIR, *from_job("broken", "pin", "--pin", "2", "-o", "pin.svg"))
    by_name = {row["what"]: row["value"] for row in pin["figures"]}
    assert by_name["pin, outside face"] == 6
    assert by_name["pin, inside face"] == pytest.approx(6 + 2 * 19 / 7, abs=0.12)  # proud: a little less
    assert not pin["findings"]
    first = said_as_json(contract.REPAIR, *from_job("broken", "pin"))
    assert first["findings"] == []  # the groove, 14 to 20 mm from the edge, runs into a tail's socket
    torn = said_as_json(contract.REPAIR, *from_job("broken", "baseline", "--pin", "2", "--below", "1", "--into", "2"))
    by_torn = {row["what"]: row["value"] for row in torn["figures"]}
    assert by_torn["socket at the baseline"] == by_name["pin, inside face"]
    assert sorted(files_in(shop)) == ["pin.svg", "wedge.svg"]


def test_a_job_gives_a_housing_and_a_split_their_sizes() -> None:
    yarn = ("--job", str(ROOT / "samples" / "yarn-cabinet.toml"))
    shim = said_as_json(contract.REPAIR, "repair", "loose", "housing", "--gap", "0.4", *yarn)
    assert shim["method"] == "shim"  # that of a key which is home has no way to go
    split = said_as_json(contract.REPAIR, *from_job("broken", "tail", "--length", "25", "--width", "0.1"))
    assert [row["level"] for row in split["findings"]] == ["warn"]
    front = said_as_json(contract.REPAIR, *from_job("broken", "socket", "--length", "25", "--width", "0.1"))
    assert front["findings"] == []


def test_a_job_gives_sides_bottoms_and_panels_their_sizes(shop: Path) -> None:
    drawers = ("--job", str(ROOT / "samples" / "sewing-drawers.toml"), "--drawer", "buttons")
    side = said_as_json(contract.REPAIR, "repair", "panel", "cupped", "--hollow", "0.8", *drawers)
    assert {row["what"]: row["value"] for row in side["figures"]}["play beside it"] == pytest.approx(0.2716)
    bottom = said_as_json(contract.REPAIR, "repair", "panel", "split", "--crack", "1.5", *drawers, "-o", "strip.svg")
    assert {row["what"]: row["value"] for row in bottom["figures"]}["slot for its screw, from the back edge"] == 16.5
    press = ("--job", str(ROOT / "samples" / "linen-press.toml"), "--panel", "back")
    held = said_as_json(
        contract.REPAIR, "repair", "panel", "held", "--crack", "6", "--length", "200", *press, "-o", "key.pdf"
    )
    assert held["method"] == "free it, a strip in the crack"
    assert sorted(files_in(shop)) == ["key.pdf", "strip.svg"]
    assert "--panel '' is not in the job; one of back, lid" in run(*HELD, *press[:2]).stderr


def of_drawers(sample: str, corner: str) -> tuple[str, ...]:
    job = str(ROOT / "samples" / f"{sample}.toml")
    return ("repair", *BROKEN, "--part", "both", "--job", job, "--corner", corner)


@pytest.mark.parametrize("edge", ["face", "far"])
def test_both_boards_of_a_half_blind_front_that_is_flat_are_patched(edge: str) -> None:
    front = said_as_json(contract.REPAIR, *of_drawers("button-drawer", "left front"), "--edge", edge)
    assert front["method"] == "patch both"


def test_new_pieces_are_drawn_on_paper_and_as_svg(shop: Path) -> None:
    for name, args in {"wedge": WEDGES, "shim": SHIM, "pin": PIN, "torn": TORN}.items():
        for ending in ("pdf", "svg"):
            assert run(*args, "-o", f"{name}.{ending}").exit_code == 0
    assert len(files_in(shop)) == 8
    dry = run(*SPLIT, "-o", "split.pdf")
    assert "split.pdf is not drawn: 'glue and close' puts in no piece of wood" in dry.stderr


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (from_job("broken", "pin", "--pin", "9"), "1 to 5 would be right"),
        (from_job("loose", "housing", "--gap", "0.4"), "has no divider"),
        (
            (
                "repair",
                "loose",
                "housing",
                "--gap",
                "0.4",
                "--divider",
                "Z",
                "--job",
                str(ROOT / "samples" / "yarn-cabinet.toml"),
            ),
            "--divider 'Z' is not in",
        ),
        (
            ("repair", "broken", "pin", "--job", str(ROOT / "samples" / "button-drawer.toml"), "--corner", "FL"),
            "one of",
        ),
        (from_job(*BROKEN, corner="Z"), "one of A, B, C, D"),
        (from_job(*BROKEN, "--thickness", "19"), "--thickness stands in the job already"),
        (from_job(*BROKEN, "--hand", "left"), "--hand stands in the job already"),
        (from_job(*BROKEN, "--edge", "upper"), "one of face, far"),
        (from_job(*BROKEN, "--part", "lid"), "one of tails, pins, both"),
        (
            (*BOTH, "--runout", "1:4 and 1:5 and 1:6"),
            "--runout '1:4 and 1:5 and 1:6' is for 3 boards; one, or with --part both two",
        ),
        ((*BOTH, "--grain-angle", "70 and steep"), "--grain-angle 'steep' is not an angle"),
        ((*BOTH, "--depth-of-break", "16 and 20"), "the break is 20 mm deep in a board 19 mm thick"),
        (
            from_job(*BROKEN[:2], "14 and 9", *BROKEN[3:]),
            "'14 and 9' is for 2 boards; one, or with --part both",
        ),
        (
            ("repair", *BROKEN, "--species", "cherry", "--thickness", "19", "--part", "both"),
            "--part both needs --job too",
        ),
        (of_drawers("sewing-drawers", "bobbins front left"), "a lipped front's end isn't flat; --part tails would do"),
        (of_drawers("button-drawer", "left back"), "the two face edges lie 20 mm apart"),
        ((*of_drawers("button-drawer", "left back"), "--edge", "far"), "the two far edges lie 4 mm apart"),
        (("repair", *BROKEN, "--job", "nowhere.toml"), "there is no such file"),
        (("repair", *BROKEN), "a broken corner needs --species and --thickness, or --job"),
    ],
)
def test_what_a_job_cant_give_is_one_line(args: tuple[str, ...], words: str) -> None:
    result = run(*args)
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert words in result.stderr


# --- diagnose ---


def test_a_clear_report_is_one_symptom() -> None:
    said = said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "gap at the lap, one socket only")
    assert said["sure"] is True
    assert [row["id"] for row in said["symptoms"]] == ["lap-gap-one-socket"]


def test_an_unclear_one_lists_the_nearest() -> None:
    said = said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "drawer stuck")
    assert said["sure"] is False
    assert len(said["symptoms"]) > 1
    words = run("repair", "diagnose", "drawer stuck").stdout
    assert "Not sure" in words
    assert "remedy" not in words


def test_humidity_settles_it_and_contradicts_a_name() -> None:
    dry = said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "drawer stuck", "--humidity", "60 to 35")
    assert [row["id"] for row in dry["symptoms"]] == ["drawer-stuck-drier"]
    clash = ("repair", "diagnose", "--symptom", "open-in-winter", "--humidity", "35:60")
    said = said_as_json(contract.DIAGNOSIS, *clash)
    assert said["sure"] is False
    assert "damper" in said["doubt"]


def test_a_mirrored_back_exits_1() -> None:
    said = said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "back transferred mirror-image", exit_code=1)
    assert said["symptoms"][0]["level"] == "stop"
    assert run("repair", "diagnose", "--symptom", "back-mirrored").exit_code == 1


def test_all_symptoms_are_listed() -> None:
    from dovelayout.repair.symptoms import all_symptoms

    words = run("repair", "diagnose", "--list").stdout
    assert all(name in words for name in all_symptoms())
    assert len(said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "--list")["symptoms"]) == len(all_symptoms())


def test_commands_that_symptoms_name_can_be_run_as_they_stand() -> None:
    from dovelayout.repair.symptoms import all_symptoms

    jobs = [str(ROOT / "samples" / f"{name}.toml") for name in ("linen-press", "yarn-cabinet")]
    named = dict.fromkeys(row.command for row in all_symptoms().values() if row.command)
    assert len(named) >= 25
    for command in named:
        tried = [run(*shlex.split(command.replace(" JOB", f" {job}"))[1:]) for job in jobs]
        told = [result.stderr for result in tried]
        assert any(result.exit_code in (0, 1) and not result.stderr for result in tried), (command, told)


def test_a_size_in_the_report_is_in_the_command() -> None:
    said = said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "a gap of 0.4 mm beside one tail")
    assert "--width 0.4mm" in said["symptoms"][0]["command"]


def test_an_older_id_is_the_same_symptom() -> None:
    said = said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "--symptom", "not-home")
    assert said["symptoms"][0]["id"] == "gap-baseline"
    assert said["symptoms"][0]["also"] == ["not-home"]


def test_what_stays_close_is_told_apart_by_a_question() -> None:
    said = said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "drawer stuck")
    assert len(said["question"]["answers"]) >= 2
    words = " ".join(run("repair", "diagnose", "drawer stuck").stdout.split())
    assert said["question"]["ask"] in words
    for answer in said["question"]["answers"]:
        assert f"{answer['answer']} [--symptom {answer['symptom']}]" in words


@pytest.fixture
def at_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is typed is typed by someone who sits there."""
    monkeypatch.setattr(repair_diagnosis, "at_a_terminal", lambda: True)


@pytest.mark.usefixtures("at_a_terminal")
def test_without_a_report_three_things_are_asked_and_then_what_tells_them_apart() -> None:
    lines = run("repair", "diagnose", typed="a drawer\nstuck\n\n2\n")
    assert lines.exit_code == 0
    assert lines.stdout.startswith("Likely, not sure")
    assert [lines.stderr.find(ask) >= 0 for ask in ("Where is it?", "What do you see?", "When did it come?")] == [
        True
    ] * 3
    said = json.loads(run("repair", "diagnose", "--json", typed="a drawer\nstuck\n\n2\n").stdout)
    assert contract.broken(said, contract.DIAGNOSIS) == []
    assert (said["sure"], said["likely"], said["question"]) == (False, True, None)
    unanswered = json.loads(run("repair", "diagnose", "--json", typed="a drawer\nstuck\n").stdout)
    assert (unanswered["sure"], unanswered["likely"]) == (False, False)
    assert said["symptoms"][0]["id"] == unanswered["question"]["answers"][1]["symptom"]
    clear = json.loads(run("repair", "diagnose", "--json", typed="lap, one socket only\ngap\nfitting\n").stdout)
    assert (clear["sure"], clear["symptoms"][0]["id"]) == (True, "lap-gap-one-socket")
    nothing = run("repair", "diagnose", typed="\n\n\n")
    assert nothing.exit_code == 2
    assert "nothing is said of what you see" in nothing.stderr


@pytest.mark.usefixtures("at_a_terminal")
def test_what_is_said_is_not_asked_again() -> None:
    result = run("repair", "diagnose", "--where", "lap, one socket only", "--when", "fitting", typed="gap\n")
    assert "Where is it?" not in result.stderr
    assert "When did it come?" not in result.stderr
    assert "lap-gap-one-socket" in result.stdout


@pytest.mark.usefixtures("at_a_terminal")
@pytest.mark.parametrize("answer", ["0", "99", "the second", "²", "-1"])
def test_an_answer_that_is_none_changes_nothing(answer: str) -> None:
    said = json.loads(run("repair", "diagnose", "--json", typed=f"a drawer\nstuck\n\n{answer}\n").stdout)
    assert said["likely"] is False


def test_at_a_real_terminal_the_questions_are_asked_one_line_each() -> None:
    ours, theirs = pty.openpty()
    os.write(ours, b"lap, one socket only\ngap\nfitting\n")
    done = process("repair", "diagnose", stdin=theirs)
    os.close(ours)
    os.close(theirs)
    assert (done.returncode, done.stderr.count(b"?")) == (0, 3)
    assert b"lap-gap-one-socket" in done.stdout


def test_in_a_pipe_the_questions_are_shown_and_nothing_is_waited_for() -> None:
    result = run("repair", "diagnose", typed="a drawer\nstuck\n")
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert "nothing is said of what you see" in result.stderr
    asked = result.stdout.splitlines()
    assert [line.split("?")[0] for line in asked] == ["Where is it", "What do you see", "When did it come"]
    assert [line.split("[")[-1] for line in asked] == ["--where]", "--what]", "--when]"]
    told = run("repair", "diagnose", "--json")
    assert told.exit_code == 2
    assert contract.broken(json.loads(told.stdout), contract.FACETS) == []


def test_where_what_and_when_are_a_report() -> None:
    facets = ("repair", "diagnose", "--where", "lap, one socket only", "--what", "gap", "--when", "fitting dry")
    said = said_as_json(contract.DIAGNOSIS, *facets)
    assert [row["id"] for row in said["symptoms"]] == ["lap-gap-one-socket"]
    more = said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "gap", "--where", "lap, one socket only")
    assert more["symptoms"][0]["id"] == "lap-gap-one-socket"


def test_how_far_the_glue_is_picks_what_to_do() -> None:
    named = ("repair", "diagnose", "--symptom", "cracked-at-cutout")
    said = said_as_json(contract.DIAGNOSIS, *named, "--glue", "SET")["symptoms"][0]
    assert said["now"] == said["glue_set"]
    assert said_as_json(contract.DIAGNOSIS, *named)["symptoms"][0]["now"] == ""
    words = run(*named, "--glue", "finished").stdout
    assert "finished:" in words
    assert "glue set:" not in words


def of_piece(*args: str, job: str = "linen-press") -> tuple[str, ...]:
    return ("repair", "diagnose", *args, "--job", str(ROOT / "samples" / f"{job}.toml"))


def test_with_a_job_the_answer_knows_the_piece() -> None:
    said = said_as_json(contract.DIAGNOSIS, *of_piece("--symptom", "side-cracked", "--humidity", "35"))
    (fact,) = said["symptoms"][0]["piece"]
    assert fact["says"] == "for"
    assert fact["text"].startswith("your black cherry (side), fitted at 9 % moisture, has lost 2.4 mm")
    words = " ".join(run(*of_piece("--symptom", "side-cracked", "--humidity", "60:35")).stdout.split())
    assert "your piece: your black cherry (side), fitted at 11 % moisture, has lost" in words
    assert (
        said_as_json(contract.DIAGNOSIS, "repair", "diagnose", "--symptom", "side-cracked")["symptoms"][0]["piece"]
        == []
    )


def test_a_job_speaks_against_what_it_cant_be_and_nothing_becomes_sure_by_it() -> None:
    lap = "gap at the lap, one socket only"
    assert said_as_json(contract.DIAGNOSIS, "repair", "diagnose", lap)["sure"] is True
    said = said_as_json(contract.DIAGNOSIS, *of_piece(lap))
    assert (said["sure"], said["doubt"]) == (False, "what you say is clear, but your job speaks against it")


def test_a_drawer_or_a_corner_of_the_job_is_told_apart() -> None:
    damp = of_piece("drawer sticks in damp weather", "--humidity", "60", "--drawer", "buttons", job="sewing-drawers")
    rows = said_as_json(contract.DIAGNOSIS, *damp)["symptoms"]
    fact = next(row for row in rows if row["id"] == "drawer-sticks-damp")["piece"][0]
    assert fact["text"].startswith("buttons has 1.1 mm")
    corner = of_piece("--symptom", "gap-one-cheek", "--corner", "A")
    command = said_as_json(contract.DIAGNOSIS, *corner)["symptoms"][0]["command"]
    assert command.endswith("linen-press.toml --corner A")
    assert run(*shlex.split(command)[1:]).exit_code == 0
    bank = said_as_json(contract.DIAGNOSIS, *of_piece("--symptom", "cracked-at-cutout"))["symptoms"][0]["command"]
    assert bank.startswith("dovelayout check /")


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (of_piece("gap", "--corner", "Z"), "--corner 'Z' is not in"),
        (of_piece("gap", "--drawer", "buttons"), "--drawer 'buttons' is not in"),
        (of_piece("gap", "--drawer", "socks", job="sewing-drawers"), "one of buttons, bobbins"),
        (of_piece("gap", "--drawer", "buttons", "--corner", "A"), "one of the two"),
        (of_piece("gap", "--humidity", "350"), "5 to 95 %"),
        (of_piece("gap", "--humidity", "damp"), "is not two humidities"),
        (("repair", "diagnose", "gap", "--job", "nowhere.toml"), "there is no such file"),
    ],
)
def test_what_a_piece_cant_be_is_one_line(args: tuple[str, ...], words: str) -> None:
    result = run(*args)
    assert (result.exit_code, result.stdout, result.stderr.count("\n")) == (2, "", 1)
    assert words in result.stderr


def test_all_of_a_symptom_is_shown() -> None:
    words = " ".join(run("repair", "diagnose", "--symptom", "cracked-at-cutout").stdout.split())
    for part in ("what it looks like:", "cause 3:", "glue set:", "finished:", "when to leave it:", "next time:"):
        assert part in words
