"""dovelayout check: what it says to people and in JSON, and its exit codes."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from tests.cli import contract
from tests.cli.calling import SAMPLES, run, said_as_json
from tests.odd_names import ODD, PLAIN, renamed, text

RANK = ["ok", "note", "warn", "stop"]


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_keeps_the_contract(sample: Path) -> None:
    verdict = said_as_json(contract.CHECK, "check", sample)
    parts = [part for key in ("corners", "dividers", "drawers") for part in verdict[key]]
    everything = [*verdict["findings"], *(finding for part in parts for finding in part["findings"])]
    assert verdict["worst"] == max(["ok", *(f["level"] for f in everything)], key=RANK.index)
    assert verdict["worst"] != "stop"
    for findings in (verdict["findings"], *(corner["findings"] for corner in verdict["corners"])):
        levels = [RANK.index(finding["level"]) for finding in findings]
        assert levels == sorted(levels, reverse=True)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_the_numbers_of_a_sample_fit_together(sample: Path) -> None:
    verdict = said_as_json(contract.CHECK, "check", sample)
    boards = {part["board"]: part for part in verdict["parts"]}
    for corner in verdict["corners"]:
        assert {corner["tails_board"], corner["pins_board"]} <= set(boards)
        ratio = math.inf if corner["slope"] is None else corner["slope"]["ratio"]  # null: straight cheeks
        # the tails reach through the pin board, less the lap of a half-blind corner
        thickness_mm = boards[corner["pins_board"]]["thickness_mm"] - corner.get("lap_mm", 0)
        lean, slope = math.radians(90 - corner.get("angle_deg", 90)), math.atan(1 / ratio)
        near_mm, far_mm = (thickness_mm * math.tan(lean + side * slope) for side in (1, -1))
        for tail in corner["tails"]:
            assert tail["neck_start_mm"] == pytest.approx(tail["start_mm"] + near_mm, abs=1e-3)
            assert tail["neck_end_mm"] == pytest.approx(tail["end_mm"] + far_mm, abs=1e-3)
        tails_mm = sum(tail["end_mm"] - tail["start_mm"] for tail in corner["tails"])
        pins_mm = sum(pin["end_mm"] - pin["start_mm"] for pin in corner["pins"])
        assert tails_mm + pins_mm == pytest.approx(corner["width_mm"], abs=1e-3)
        assert sum(pin["half"] for pin in corner["pins"]) <= 2


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_check_says_the_same_to_people(sample: Path) -> None:
    verdict = said_as_json(contract.CHECK, "check", sample)
    result = run("check", sample)
    assert (result.exit_code, result.stderr) == (0, "")
    lines = result.stdout.splitlines()
    assert lines[0].startswith(f"{verdict['title']}: the boards as understood")
    assert lines[-1].startswith("Verdict: ")
    assert max(map(len, lines)) <= 110
    loud = {line.split()[0].lower() for line in lines if line.startswith(("STOP  ", "WARN  ", "note  "))}
    assert (RANK.index(verdict["worst"]) > 0) == bool(loud)


def test_a_stop_is_exit_1(shop: Path) -> None:
    verdict = said_as_json(contract.CHECK, "check", "stop.toml", exit_code=1)
    assert verdict["worst"] == "stop"
    result = run("check", "stop.toml")
    assert result.exit_code == 1
    assert "Verdict: STOP" in result.stdout
    first = next(line for line in result.stdout.splitlines() if line.startswith(("STOP", "WARN", "note")))
    assert first.startswith("STOP  corner A")


def test_a_job_in_inches_is_told_its_findings_in_inches_too(tmp_path: Path) -> None:
    board = 'species = "eastern white pine"\nlength = 12\nwidth = 6\nthickness = "3/4"\n'
    job = tmp_path / "job.toml"
    job.write_text(
        f'units = "in"\n[[board]]\nname = "a"\n{board}[[board]]\nname = "b"\n{board}'
        '[[corner]]\nname = "A"\ntails = "a.left"\npins = "b.right"\ntail_count = 5\npin = "1/32"\nhalf_pin = "1/4"\n'
    )
    said = " ".join(run("check", job).stdout.split())
    assert "the 0.79 mm (≈ 1/32 in) between the tails" in said
    machine = said_as_json(contract.CHECK, "check", job)
    assert not any("(≈ 1/32 in)" in finding["message"] for finding in machine["corners"][0]["findings"])


def test_names_that_look_like_words_of_a_message_stay_names(shop: Path) -> None:
    """The same is said, at the same places, whatever boards, corners and drawers are called; none is said twice."""
    for file, names in (("plain", PLAIN), ("odd", ODD)):
        shop.joinpath(f"{file}.toml").write_text(text(names), encoding="utf-8")
    plain, odd = (said_as_json(contract.CHECK, "check", f"{file}.toml", exit_code=1) for file in ("plain", "odd"))
    assert odd == renamed(plain)
    heads = [
        [
            line
            for line in run("check", f"{file}.toml").stdout.splitlines()
            if line[:6] in ("STOP  ", "WARN  ", "note  ")
        ]
        for file in ("plain", "odd")
    ]
    assert len(heads[0]) == len(heads[1]) > 50
