"""`dovelayout season` as a maker calls it."""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

import pypdf
import pytest

from tests.cli import contract
from tests.cli.calling import ROOT, SAMPLES, files_in, run, said_as_json
from tests.job.test_hostile_text import TEXTS, quoted

PRESS = ROOT / "samples" / "linen-press.toml"

STOP = """
title = "Wardrobe"
[shop]
built_at = 60
[home]
humidity = [25, 45]
[[board]]
name = "side"
species = "black cherry"
length = 1500
width = 508
thickness = 19
[[board]]
name = "runner"
species = "black cherry"
length = 508
width = 40
thickness = 19
[[across]]
name = "runner"
kind = "support"
part = "runner"
host = "side"
screws = [10, 498]
"""


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "stop.toml").write_text(STOP, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_keeps_the_contract_or_says_what_is_missing(sample: Path) -> None:
    if "humidity" not in sample.read_text(encoding="utf-8"):
        result = run("season", sample)
        assert result.exit_code == 2
        assert "home: the job doesn't say how dry and how damp the room gets; add [home] humidity" in result.stderr
        return
    value = said_as_json(contract.SEASON, "season", sample)
    boards = {part["name"] for part in said_as_json(contract.CHECK, "check", sample)["parts"]}
    assert {part["name"] for part in value["parts"]} | {part["name"] for part in value["not_known"]} == boards
    assert value["files"] == []
    rows = tomllib.loads(sample.read_text(encoding="utf-8")).get("board", [])
    metered = {board["name"] for board in rows if "moisture" in board}
    for part in value["parts"]:
        smallest_mm, largest_mm = (part[key] - part["dimension_mm"] for key in ("driest_mm", "dampest_mm"))
        assert max(part["larger_mm"]) == pytest.approx(largest_mm, abs=2e-5)
        if len(value["built_at"]) == 1 or part["name"] in metered:
            assert min(part["larger_mm"]) == pytest.approx(smallest_mm, abs=2e-5)
            assert part["change_mm"] == pytest.approx(largest_mm - smallest_mm, abs=2e-5)
        else:  # fitted in the driest air it only grows, in the dampest it only shrinks, and by about as much
            assert min(part["larger_mm"]) == 0
            assert part["change_mm"] == pytest.approx(max(largest_mm, -smallest_mm), abs=2e-5)


def test_the_press_says_every_fixing_and_that_nothing_stands_against_it() -> None:
    result = run("season", PRESS)
    assert result.exit_code == 0
    for word in ("Aug", "back panel", "drawer runner", "what works", "Table 13-5", "Verdict: clean"):
        assert word in result.stdout, word
    value = said_as_json(contract.SEASON, "season", PRESS)
    assert [fixing["name"] for fixing in value["fixings"]] == ["drawer runner", "lid end", "back", "lid"]
    assert [row["name"] for row in value["air"]][:2] == ["Jan", "Feb"]
    assert len(value["air"]) == 12


def test_a_stop_is_exit_1_here_and_in_check_and_says_the_same(shop: Path) -> None:
    season = said_as_json(contract.SEASON, "season", "stop.toml", exit_code=1)
    check = said_as_json(contract.CHECK, "check", "stop.toml", exit_code=1)
    assert season["worst"] == check["worst"] == "stop"
    assert season["findings"] == check["findings"]
    (crack,) = [finding for finding in season["findings"] if finding["check"] == "cross-grain"]
    assert crack["measured"] == pytest.approx(488 * 7.1 / 508, abs=0.15)
    assert crack["changes"]


def test_a_finding_stands_on_the_first_sheets_of_the_templates(shop: Path) -> None:
    text = (ROOT / "samples" / "linen-press.toml").read_text(encoding="utf-8")
    (shop / "press.toml").write_text(text.replace("play = 4\n", "play = 3.4\n"), encoding="utf-8")
    value = said_as_json(contract.SEASON, "season", "press.toml")
    assert {finding["check"] for finding in value["findings"]} == set()
    (shop / "press.toml").write_text(text.replace("play = 4\n", "play = 2\n"), encoding="utf-8")
    value = said_as_json(contract.SEASON, "season", "press.toml")
    assert {finding["check"] for finding in value["findings"]} == {"panel-jam"}
    assert run("draw", "press.toml", "--as", "pdf", "-o", "out").exit_code == 0
    (pdf,) = (shop / "out").glob("*.pdf")
    pages = " ".join(page.extract_text() for page in pypdf.PdfReader(pdf).pages)
    assert "bottoms out and pushes its frame apart" in " ".join(pages.split())


def test_the_chart_is_written_only_when_asked_for(shop: Path) -> None:
    assert run("season", PRESS, "-o", "out").exit_code == 0
    assert not (shop / "out").exists()
    value = said_as_json(
        contract.SEASON, "season", PRESS, "-o", "out", "--as", "pdf", "--as", "svg", "--paper", "Letter"
    )
    assert sorted(files_in(shop / "out")) == ["season.pdf", "season.svg"]
    (pdf, svg) = value["files"]
    reader = pypdf.PdfReader(pdf["path"])
    assert len(reader.pages) == pdf["pages"] == 2
    assert [float(side) for side in reader.pages[0].mediabox[2:]] == pytest.approx([612, 792])
    text = reader.pages[0].extract_text()
    for word in ("Jan", "Dec", "back panel", "moves 3.8 mm in a year", "Hatched bar: larger"):
        assert word in text, word
    assert "What works" in reader.pages[1].extract_text()
    assert (svg["format"], svg["pages"]) == ("svg", 1)


def test_the_same_job_gives_the_same_bytes(shop: Path) -> None:
    for folder in ("one", "two"):
        run("season", PRESS, "-o", folder, "--as", "pdf", "--as", "svg")
    assert files_in(shop / "one") == files_in(shop / "two")


def test_a_job_in_inches_reads_inches_too(shop: Path) -> None:
    text = STOP.replace("title", 'units = "in"\ntitle').replace("1500", "60").replace("508", "20").replace("498", "19")
    text = (
        text.replace("width = 40", "width = 2")
        .replace("thickness = 19\n", 'thickness = "3/4"\n')
        .replace("[10,", "[1,")
    )
    (shop / "inch.toml").write_text(text, encoding="utf-8")
    result = run("season", "inch.toml")
    assert result.exit_code == 1
    assert "508 mm (20 in)" in " ".join(result.stdout.split())


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--step", "side = 0.8 mm"], "wetter than assumed"),
        (["--step", "side = 0.1 mm"], "the season explains it"),
        (["--stuck"], "swelling is not why it sticks"),
    ],
)
def test_what_a_maker_sees_is_put_down_to_the_season_or_not(options: list[str], said: str, shop: Path) -> None:
    value = said_as_json(contract.SEASON, "season", "stop.toml", *options, exit_code=1)
    (answer,) = value["answers"]
    assert said in answer["message"]
    assert said in " ".join(run("season", "stop.toml", *options).stdout.split())


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--step", "side"], "'side' names no board and a step; write \"BOARD = 0.8 mm\""),
        (["--step", "sid = 1"], "there is no board 'sid'; write \"BOARD = 0.8 mm\"; the boards are side, runner"),
        (["--step", "side = wide"], "wide"),
        (["--as", "png"], "png"),
        (["--paper", "A9"], "A9"),
    ],
)
def test_a_slip_is_exit_2_and_writes_nothing(options: list[str], said: str, shop: Path) -> None:
    result = run("season", "stop.toml", *options, "-o", "out")
    assert result.exit_code == 2
    assert said in result.stderr
    assert not (shop / "out").exists()


def test_nothing_that_moves_is_nothing_to_draw(shop: Path) -> None:
    plies = STOP.replace('"black cherry"', '"birch plywood"')
    (shop / "ply.toml").write_text(plies, encoding="utf-8")
    assert run("season", "ply.toml").exit_code == 0
    result = run("season", "ply.toml", "--as", "svg")
    assert result.exit_code == 2
    assert "nothing in this job moves" in result.stderr


def test_a_wood_that_nobody_knows_is_said(shop: Path) -> None:
    text = STOP.replace('species = "black cherry"\nlength = 1500', 'species = "sorb"\nlength = 1500')
    (shop / "own.toml").write_text(text + '[[wood]]\nname = "sorb"\nsg = 0.7\n', encoding="utf-8")
    value = said_as_json(contract.SEASON, "season", "own.toml")
    (row,) = value["not_known"]
    assert row == {"name": "side", "because": "the movement of sorb isn't known"}
    assert value["fixings"][0]["moves_mm"] is None
    assert "side: not known, because" in run("season", "own.toml").stdout


@pytest.mark.parametrize("case", [case for case in TEXTS if case not in ("space", "only controls")])
def test_any_text_stays_a_text(case: str, shop: Path) -> None:
    text = TEXTS[case]
    job = STOP.replace('"side"', quoted(text)).replace('title = "Wardrobe"', f"title = {quoted(text)}")
    (shop / "job.toml").write_text(
        job.replace('name = "runner"\nkind', f"name = {quoted(text)}\nkind"), encoding="utf-8"
    )
    result = run("season", "job.toml", "--as", "pdf", "--as", "svg", "-o", "out")
    assert result.exit_code == 1, result.output
    assert all(c == "\n" or c.isprintable() for c in result.stdout)
    assert sorted(files_in(shop / "out")) == ["season.pdf", "season.svg"]
    as_json = run("season", "job.toml", "--json")
    assert json.loads(as_json.stdout)["fixings"][0]["name"] == text
