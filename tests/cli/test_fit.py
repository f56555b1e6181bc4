"""`dovelayout fit`: JSON of the contract, exit codes, charts, and words."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pypdf
import pytest

from tests.cli import contract
from tests.cli.calling import SAMPLES, run, said_as_json

FEW = ("--joints", "200")

JOB = """
title = "Sewing chest"
units = "{units}"
[shop]
{shop}
[[board]]
name = "side"
species = "{species}"
length = "400 mm"
width = "200 mm"
thickness = "19 mm"
count = 2
[[board]]
name = "end"
species = "{species}"
length = "300 mm"
width = "200 mm"
thickness = "19 mm"
count = 2
[[box]]
name = "chest"
tails = "side"
pins = "end"
slope = "1:6"
tail_count = 6
pin = "8 mm"
half_pin = "8 mm"
"""


def job(tmp_path: Path, shop: str, *, species: str = "black cherry", units: str = "mm") -> Path:
    path = tmp_path / "chest.toml"
    path.write_text(JOB.format(shop=shop, species=species, units=units), encoding="utf-8")
    return path


def as_json(*args: str | Path, exit_code: int = 0) -> Any:
    return said_as_json(contract.FIT, "fit", *args, *FEW, exit_code=exit_code)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_keeps_the_contract(sample: Path) -> None:
    value = as_json(sample)
    assert {row["name"] for row in value["rehearsal"]["corners"]} <= {row["name"] for row in value["corners"]}


def test_pva_in_tight_cherry_warns_and_liquid_hide_is_the_better_of_the_two(tmp_path: Path) -> None:
    value = as_json(job(tmp_path, 'glue = "pva"\nfit = 0.05'))
    assert value["worst"] == "warn"
    assert [row["name"] for row in value["corners"]] == ["A", "B", "C", "D"]
    corner = value["corners"][0]
    assert (corner["glue"], corner["fit_mm"], corner["fit_given"]) == ("white PVA", 0.05, True)
    assert corner["swelling_mm"] == pytest.approx(0.0464, abs=1e-4)
    assert {finding["check"] for finding in corner["findings"]} == {"fit-pressure", "fit-drive"}
    hide = next(row for row in corner["others"] if row["glue"] == "liquid hide glue")
    assert hide["verdict"] == "ok"
    assert hide["swelling_mm"] < corner["swelling_mm"] / 3
    assert hide["dry_fit_mm"] > corner["dry_fit_mm"]
    again = as_json(job(tmp_path, f'glue = "pva"\nfit = {corner["dry_fit_mm"]}'))
    assert again["worst"] == "ok"


def test_a_stop_exits_1_and_bad_input_exits_2(tmp_path: Path) -> None:
    stop = job(tmp_path, 'glue = "pva"\nfit = 0.25', species="eastern white pine")
    assert as_json(stop, exit_code=1)["worst"] == "stop"
    bad = run("fit", job(tmp_path, 'glue = "pvaa"'))
    assert (bad.exit_code, bad.stdout) == (2, "")
    assert "did you mean pva?" in bad.stderr
    assert bad.stderr.count("\n") == 1
    assert run("fit", tmp_path / "none.toml").exit_code == 2


def test_charts_are_written_for_corners_with_the_same_numbers_once(tmp_path: Path) -> None:
    value = as_json(job(tmp_path, 'glue = "pva"\nfit = 0.02'), "-o", tmp_path / "out")
    written = sorted(path.name for path in (tmp_path / "out").iterdir())
    assert written == ["a-rehearsal.svg", "sewing-chest-rehearsal.pdf"]
    assert sorted(Path(entry["path"]).name for entry in value["files"]) == written
    (page,) = pypdf.PdfReader(tmp_path / "out" / "sewing-chest-rehearsal.pdf").pages
    text = page.extract_text()
    assert "corners A, B, C, D, rehearsed with white PVA" in text
    assert "pins scribed from the real tails" in text


def test_words_name_the_fit_in_shavings_and_doubt_what_is_from_memory(tmp_path: Path) -> None:
    said = " ".join(run("fit", job(tmp_path, 'glue = "pva"\nfit = 0.05'), *FEW).stdout.split())
    assert "Aim for 0.02 mm with white PVA: 0.4 of a fine shaving of 0.05 mm" in said
    assert "from memory of Table 5-1" in said
    assert "go home without paring" in said
    assert "which are ours until the job gives your own" in said
    inches = " ".join(run("fit", job(tmp_path, 'glue = "pva"', units="in"), *FEW).stdout.split())
    assert "the fullest that suits, since the job gives none" in inches
    assert "0.02 mm (0.0008 in)" in inches


def test_what_is_not_known_is_said_and_no_chart_invented(tmp_path: Path) -> None:
    plywood = job(tmp_path, 'glue = "pva"\nfit = 0.05', species="birch plywood")
    value = as_json(plywood, "-o", tmp_path / "out")
    assert value["corners"][0]["pressure_mpa"] is None
    assert value["rehearsal"]["corners"] == []
    assert value["files"] == []
    assert not (tmp_path / "out").exists()
    assert "Not rehearsed" in run("fit", plywood, *FEW).stdout


def test_the_same_seed_says_the_same(tmp_path: Path) -> None:
    path = job(tmp_path, 'glue = "pva"\nfit = 0.02')
    assert as_json(path, "--seed", "5") == as_json(path, "--seed", "5")
    assert as_json(path, "--seed", "5") != as_json(path, "--seed", "6")
