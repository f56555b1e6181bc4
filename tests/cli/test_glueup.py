"""`dovelayout glueup` as a maker calls it."""

from __future__ import annotations

import json
import math
import tomllib
from pathlib import Path
from typing import Any

import pypdf
import pytest
import tomlkit
from jsonschema import Draft202012Validator

from tests.cli import contract
from tests.cli.calling import SAMPLES, run, said_as_json
from tests.divider_jobs import divider_job
from tests.glue_jobs import glue_box, shelf_between
from tests.readers import pdf_texts


def _written(folder: Path, tables: dict[str, Any]) -> Path:
    path = folder / "job.toml"
    path.write_text(tomlkit.dumps(tables), encoding="utf-8")
    return path


def test_the_schema_is_one() -> None:
    Draft202012Validator.check_schema(contract.GLUEUP)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_can_be_glued_up(sample: Path) -> None:
    value = said_as_json(contract.GLUEUP, "glueup", sample)
    corners = said_as_json(contract.CHECK, "check", sample)["corners"]
    glued = [name for step in value["order"] if step["kind"] == "corners" for name in step["names"]]
    assert sorted(glued) == sorted(corner["name"] for corner in corners)
    joined = [name for stage in value["stages"] for name in stage["joins"]]
    assert len(joined) == len(set(joined))
    assert value["files"] == []


def test_what_the_json_says(tmp_path: Path) -> None:
    path = _written(tmp_path, glue_box(captured=[{"name": "rail", "in": "case"}]))
    value = said_as_json(contract.GLUEUP, "glueup", path)
    (stage,) = value["stages"]
    assert (stage["name"], stage["faces"], stage["open_minutes"]) == ("case", 32, 5.0)
    # 32 x 6 s, 4 corners and a rail x 20 s, 4 clamps x 15 s
    assert stage["minutes"] == pytest.approx((192 + 100 + 60) / 60, abs=1e-4)
    assert value["spreaders"] == [{"where": "case: beside rail, between the boards with the tails", "length_mm": 362.0}]
    inside, outside = value["diagonals"]
    assert inside["length_mm"] == pytest.approx(math.hypot(462, 362), abs=1e-4)
    assert outside["length_mm"] == pytest.approx(math.hypot(500, 400), abs=1e-4)
    assert value["worst"] == "warn"


def test_people_read_the_same(tmp_path: Path) -> None:
    path = _written(tmp_path, glue_box(captured=[{"name": "rail", "in": "case"}]))
    result = run("glueup", path)
    assert result.exit_code == 0
    for words in (
        "put rail in",
        "Spreaders",
        "Diagonals",
        "362 mm",
        "open-time",
        "The label on the bottle",
        "Verdict: ",
    ):
        assert words in result.stdout, words


def test_with_json_people_are_spoken_to_on_stderr(tmp_path: Path) -> None:
    result = run("glueup", _written(tmp_path, glue_box()), "--json")
    assert json.loads(result.stdout)["stages"]
    assert "Verdict: " in result.stderr


def test_measured_diagonals(tmp_path: Path) -> None:
    """462 by 362 inside: 586.93 mm. Measured 587.5 and 586.3, d1^2 - d2^2 = 1408.56 = 4 x 462 x 362 x sin t."""
    path = _written(tmp_path, glue_box(captured=[{"name": "rail", "in": "case"}]))
    value = said_as_json(contract.GLUEUP, "glueup", path, "--measured-diagonals", "587.5", "586.3")
    sine = (587.5**2 - 586.3**2) / (4 * 462 * 362)
    lean = value["lean"]
    assert lean["where"] == "case, inside"
    assert lean["difference_mm"] == pytest.approx(1.2, abs=1e-4)
    assert lean["degrees"] == pytest.approx(math.degrees(math.asin(sine)), abs=1e-4)
    assert [row["off_mm"] for row in lean["off_mm"]] == pytest.approx([462 * sine, 362 * sine], abs=1e-4)
    (finding,) = [row for row in value["findings"] if row["check"] == "diagonals"]
    assert finding["level"] == "warn"
    said = run("glueup", path, "--measured-diagonals", "587.5", "586.3").stdout
    assert "out of square" in said
    inches = run("glueup", path, "--measured-diagonals", "23 1/8 in", "23 3/32 in")
    assert inches.exit_code == 0


@pytest.mark.parametrize(
    ("pair", "words"),
    [
        (("long", "587"), "'long'"),
        (("0", "587"), "diagonal '0' is 0 mm; 1 to 30000 mm would be right"),
        (("1e9", "587"), "1e9"),
    ],
)
def test_measured_diagonals_that_are_none(pair: tuple[str, str], words: str, tmp_path: Path) -> None:
    result = run("glueup", _written(tmp_path, glue_box()), "--measured-diagonals", *pair)
    assert result.exit_code == 2
    assert words in result.stderr
    assert result.stderr.count("\n") == 1


def test_diagonals_of_a_job_without_a_box(tmp_path: Path) -> None:
    sample = next(path for path in SAMPLES if path.stem == "linen-chest")
    result = run("glueup", sample, "--measured-diagonals", "500", "501")
    assert result.exit_code == 2
    assert "the job has no box of four corners" in result.stderr


def test_files_are_written_where_it_is_said(tmp_path: Path) -> None:
    path = _written(tmp_path, glue_box())
    result = run("glueup", path, "-o", tmp_path / "out", "--json")
    value = json.loads(result.stdout)
    assert contract.broken(value, contract.GLUEUP) == []
    assert sorted(row["path"] for row in value["files"]) == sorted(str(p) for p in (tmp_path / "out").iterdir())
    pdf = next(row for row in value["files"] if row["format"] == "pdf")
    assert len(pypdf.PdfReader(pdf["path"]).pages) == pdf["pages"] == len(pdf["holds"])
    before = {p: p.read_bytes() for p in (tmp_path / "out").iterdir()}
    run("glueup", path, "-o", tmp_path / "out")
    assert {p: p.read_bytes() for p in (tmp_path / "out").iterdir()} == before


def test_a_stop_writes_nothing_unless_told_to(tmp_path: Path) -> None:
    path = _written(tmp_path, glue_box(shop={"temperature": 5}))
    result = run("glueup", path, "-o", tmp_path / "out")
    assert result.exit_code == 1
    assert "Nothing was written" in result.stdout
    assert not (tmp_path / "out").exists()
    assert run("glueup", path, "-o", tmp_path / "out", "--anyway").exit_code == 1
    (pdf,) = (tmp_path / "out").glob("*.pdf")
    assert "WRITTEN AGAINST A STOP" in pdf_texts(pdf)
    assert said_as_json(contract.GLUEUP, "glueup", path, exit_code=1)["worst"] == "stop"


def test_a_circle_is_bad_input_that_names_its_members(tmp_path: Path) -> None:
    stages = [
        {"name": "rail last", "joins": ["rail"], "after": "four"},
        {"name": "four", "joins": ["A", "B", "C", "D"]},
    ]
    path = _written(tmp_path, glue_box(captured=[{"name": "rail", "in": "case"}], stage=stages))
    result = run("glueup", path, "-o", tmp_path / "out")
    assert result.exit_code == 2
    assert result.stderr.count("\n") == 1
    assert f"{path}: stage: the order goes round in a circle" in result.stderr
    assert "'rail last' before 'four'" in result.stderr
    assert not (tmp_path / "out").exists()


def test_an_unknown_glue_is_bad_input(tmp_path: Path) -> None:
    result = run("glueup", _written(tmp_path, glue_box(shop={"glue": "pav"})))
    assert result.exit_code == 2
    assert "shop, key glue: glue 'pav' is not known; did you mean pva?" in result.stderr


def test_a_cutout_speaks_in_check_and_in_glueup(tmp_path: Path) -> None:
    tables = glue_box()
    tables["board"][0]["cutout"] = {"from_end": 10, "from_edge": 20, "length": 30, "width": 40}
    path = _written(tmp_path, tables)
    for command, schema in (("check", contract.CHECK), ("glueup", contract.GLUEUP)):
        value = said_as_json(schema, command, path, exit_code=1)
        assert "cutout-joint" in [row["check"] for row in value["findings"]]


def test_hostile_names_stay_names(tmp_path: Path) -> None:
    bad = "\x1b[31m<b>&amp;" + "x" * 40
    tables = glue_box(captured=[{"name": bad, "in": ["A", "B"]}], **shelf_between("side"))
    tables["title"] = "../../" + "t" * 150
    tables["box"][0]["name"] = "<script>\x07 case"
    tables["stage"] = [{"name": "\u202eegats", "joins": ["A", "B", "C", "D"]}]
    result = run("glueup", _written(tmp_path, tables), "-o", tmp_path / "out")
    assert result.exit_code == 0
    assert "\x1b" not in result.stdout + result.stderr
    assert all(path.parent == tmp_path / "out" for path in (tmp_path / "out").iterdir())


def test_a_job_of_dividers_alone(tmp_path: Path) -> None:
    value = said_as_json(
        contract.GLUEUP, "glueup", _written(tmp_path, divider_job(glue_zone=50)), "-o", tmp_path / "out"
    )
    assert [stage["joins"] for stage in value["stages"]] == [["shelf"]]
    assert (value["diagonals"], value["cauls"], value["spreaders"]) == ([], [], [])
    assert [len(list((tmp_path / "out").glob(kind))) for kind in ("*.pdf", "*.svg")] == [1, 0]


def test_a_job_in_inches_is_told_in_inches_too(tmp_path: Path) -> None:
    tables = divider_job(glue_zone=50)
    tables["units"] = "in"
    for row in (*tables["board"], *tables["divider"]):
        row |= {key: f"{value} mm" for key, value in row.items() if isinstance(value, int)}
    assert "glue on the front 50 mm (≈ 1 31/32 in) of its tongue" in run("glueup", _written(tmp_path, tables)).stdout


def test_the_yarn_cabinet_shows_what_this_is_for() -> None:
    sample = next(path for path in SAMPLES if path.stem == "yarn-cabinet")
    assert tomllib.loads(sample.read_text(encoding="utf-8"))["captured"]
    value = said_as_json(contract.GLUEUP, "glueup", sample)
    kinds = [step["kind"] for step in value["order"]]
    assert kinds == ["finish", "corners", "captured", "captured", "inside", "corners", "divider", "flush"]
    assert {row["check"] for row in value["findings"]} >= {"cutout-section", "open-time"}
