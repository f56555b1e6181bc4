"""[[divider]] tables: read as meant, filled in where left open, and refused in one line that names place and remedy."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from dovelayout.cli.main import app
from dovelayout.errors import JobError
from dovelayout.joints.board import End
from dovelayout.joints.face import FaceName
from dovelayout.joints.sliding import Cheek, Datum, Sloped
from tests.divider_jobs import divider_job
from tests.jobs import loaded

SAMPLE = Path(__file__).parents[3] / "samples" / "bobbin-cabinet.toml"


def test_everything_that_can_be_said_is_read() -> None:
    job = divider_job(
        host="side.right",
        key="shelf.right",
        face="outside",
        at="8 in",
        measured_to="centre",
        depth="1/4 in",
        wide=16,
        cheeks="upper",
        slope="9 deg",
        taper="1:320",
        taper_on="lower",
        stop=12,
        set_back=2,
        slip=0.2,
        clearance=0.05,
        glue_zone=60,
        cup=0.1,
        bit={"diameter": "3/8 in", "angle": "9 deg", "plough_first": True},
    )
    (divider,) = loaded(job).dividers
    spec = divider.joint.spec
    assert (spec.host.label, spec.key.label, spec.face) == ("side, right end", "shelf, right end", FaceName.OUTSIDE)
    assert (spec.at_mm, spec.measured_to, spec.depth_mm, spec.wide_mm) == (203.2, Datum.CENTRE, 6.35, 16)
    assert (spec.sloped, spec.taper_ratio, spec.taper_on) == (Sloped.UPPER, 320, Cheek.LOWER)
    assert (spec.stop_mm, spec.set_back_mm, spec.slip_mm, spec.clearance_mm) == (12, 2, 0.2, 0.05)
    assert (spec.glue_zone_mm, spec.cup_mm) == (60, 0.1)
    assert spec.slope.degrees == pytest.approx(9)
    assert spec.bit is not None
    assert (spec.bit.diameter_mm, spec.bit.ploughed_first) == (9.525, True)


def test_what_is_left_out_is_filled_in() -> None:
    job = divider_job(set_back=3, bit={"diameter": 12.7, "angle": "14 deg"})
    del job["divider"][0]["depth"]
    spec = loaded(job).dividers[0].joint.spec
    assert spec.depth_mm == 6.3  # a third of 19
    assert spec.stop_mm == 3  # where the key begins
    assert spec.slope.degrees == pytest.approx(14)  # the bit's
    assert loaded(divider_job()).dividers[0].joint.slope.degrees == pytest.approx(8)


def test_two_hosts_take_an_end_of_the_key_each() -> None:
    job = divider_job()
    job["board"][0]["count"] = 2
    job["divider"][0].update(host=["side.left", "side.right"], key="shelf.right")
    (divider,) = loaded(job).dividers
    assert [joint.spec.host.end for joint in divider.joints] == [End.LEFT, End.RIGHT]
    assert [joint.spec.key.end for joint in divider.joints] == [End.RIGHT, End.LEFT]


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        (
            {"host": "side"},
            "divider 'shelf', key host: 'side' doesn't say from which end 'at' is measured; side.left or",
        ),
        ({"host": "sid.left"}, "key host: there is no board 'sid'; did you mean 'side'?"),
        ({"host": "shelf.left"}, "board 'shelf' can't slide into itself"),
        ({"host": 3}, "one host or two are wanted"),
        ({"key": "shelf.top"}, "names no end"),
        (
            {"depth": 19},
            "divider 'shelf': a housing 19 mm deep goes through side, 19 mm thick; 6.3 mm is a third of it",
        ),
        ({"taper": "320"}, "'320' is no taper; write it like \"1:320\""),
        ({"taper": "1:" + "9" * 5000}, "is no taper"),
        ({"taper_on": "lower"}, "there is no taper; add taper"),
        ({"stopp": 3}, "did you mean"),
        ({"bit": {"diameter": 12, "angel": "8 deg"}}, "angle"),
    ],
)
def test_what_cant_be_is_one_line(keys: dict[str, Any], says: str) -> None:
    with pytest.raises(JobError) as caught:
        loaded(divider_job(**keys))
    assert says in str(caught.value)
    assert "\n" not in str(caught.value)


def test_two_of_a_name() -> None:
    job = divider_job()
    job["divider"] *= 2
    with pytest.raises(JobError, match="divider 'shelf': is there twice; give each divider a name"):
        loaded(job)


def test_check_json_tells_the_dividers() -> None:
    result = CliRunner().invoke(app, ["check", str(SAMPLE), "--json"])
    assert result.exit_code == 0
    shelf, partition = json.loads(result.stdout)["dividers"]
    assert (shelf["name"], shelf["key_board"], shelf["stop_mm"], shelf["notch_mm"]) == ("shelf", "shelf", 12, 12)
    assert shelf["taper"] == {"ratio": 320, "on": "lower"}
    assert [housing["host"] for housing in shelf["housings"]] == ["side, left end", "side, right end"]
    for housing in shelf["housings"]:
        assert housing["rear"]["neck"]["start_mm"] == 210
        # 162 mm of tongue at 1:320
        assert housing["front"]["neck"]["start_mm"] == pytest.approx(210 + 162 / 320)
    assert partition["glue_zone_mm"] == 50
    # 9.5 - 10 tan 8
    assert partition["router"]["neck_mm"] == pytest.approx(8.09459, abs=1e-5)
    assert partition["router"]["first_pass"] == {"wide_mm": pytest.approx(7.29459, abs=1e-5), "deep_mm": 4.2}
    assert partition["findings"] == []


def test_draw_writes_a_drawing_for_each_housing_and_can_draw_one_divider_alone(tmp_path: Path) -> None:
    result = CliRunner().invoke(app, ["draw", str(SAMPLE), "-o", str(tmp_path), "--only", "shelf", "--json"])
    assert result.exit_code == 0
    names = sorted(path.name for path in tmp_path.iterdir())
    assert names == ["bobbin-cabinet.pdf", "shelf-left-housing.svg", "shelf-picture.svg", "shelf-right-housing.svg"]
    (pdf,) = [entry for entry in json.loads(result.stdout)["files"] if entry["format"] == "pdf"]
    assert any(title.endswith(": Divider shelf") for title in pdf["holds"])


def test_a_job_of_dividers_alone_is_a_job(tmp_path: Path) -> None:
    text = SAMPLE.read_text(encoding="utf-8")
    start, end = text.index("[[box]]"), text.index("[[divider]]")
    job = tmp_path / "shelves.toml"
    job.write_text(text[:start] + text[end:], encoding="utf-8")
    result = CliRunner().invoke(app, ["check", str(job)])
    assert result.exit_code == 0
    assert "Corners" not in result.stdout
    assert "Dividers" in result.stdout
