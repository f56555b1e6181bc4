"""`calibrate` and `--printer` as a maker calls them: what is kept, shown, chosen and forgotten, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest

from tests.cli import contract
from tests.cli.calling import SAMPLES, STOP, files_in, run, said_as_json

READ = ("--measured-x", "149.4", "--measured-y", "150.6")
KEPT = "printers.toml"


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, and a configuration folder of its own beside it."""
    monkeypatch.setenv("DOVELAYOUT_CONFIG", str(tmp_path / "config"))
    (tmp_path / "shop").mkdir()
    monkeypatch.chdir(tmp_path / "shop")
    return tmp_path / "shop"


def config(shop: Path) -> Path:
    return shop.parent / "config" / KEPT


@pytest.mark.parametrize("name", ["A4", "Letter", "A3"])
def test_the_sheet_is_written_and_nothing_is_kept(name: str, shop: Path) -> None:
    said = said_as_json(contract.CALIBRATE, "calibrate", "-o", "deep/bars.pdf", "--paper", name)
    assert said["sheet"] == "deep/bars.pdf"
    (page,) = pypdf.PdfReader("deep/bars.pdf").pages
    text = page.extract_text()
    assert "Calibration sheet" in text
    assert "100 %, actual size" in text
    assert not config(shop).exists()
    before = files_in(shop)
    run("calibrate", "-o", "deep/bars.pdf", "--paper", name)
    assert files_in(shop) == before


def test_the_sheet_has_a_place_of_its_own(shop: Path) -> None:
    result = run("calibrate")
    assert result.exit_code == 0
    assert "wrote templates_out/calibration.pdf" in result.stdout
    assert list(files_in(shop)) == ["templates_out/calibration.pdf"]


def test_the_sheet_is_never_corrected(shop: Path) -> None:
    run("calibrate", "-o", "before.pdf")
    run("calibrate", *READ, "--printer", "study")
    run("calibrate", "--use", "study")
    run("calibrate", "-o", "after.pdf")
    assert Path("before.pdf").read_bytes() == Path("after.pdf").read_bytes()


def test_readings_are_judged_and_kept_under_a_name(shop: Path) -> None:
    said = said_as_json(contract.CALIBRATE, "calibrate", *READ, "--printer", "study")
    assert said["worst"] == "note"
    assert [row["where"] for row in said["findings"]] == ["printer study, across", "printer study, up"]
    (kept,) = said["printers"]
    assert kept == said["reading"]
    assert kept["across"]["factor"] == pytest.approx(150 / 149.4, abs=1e-6)
    assert kept["up"]["factor"] == pytest.approx(150 / 150.6, abs=1e-6)
    assert said["file"] == str(config(shop))
    assert config(shop).is_file()
    assert "across × 1.0040, up × 0.9960" in run("calibrate", *READ, "--printer", "study").stdout


def test_readings_without_a_name_are_judged_only(shop: Path) -> None:
    result = run("calibrate", *READ)
    assert result.exit_code == 0
    assert "Nothing was kept" in result.stdout
    assert not config(shop).exists()


def test_other_bars_and_other_ways_to_write_a_length(shop: Path) -> None:
    said = said_as_json(
        contract.CALIBRATE, "calibrate", "--measured-x", "149,4 mm", "--measured-y", "250.8", "--bar-y", "250"
    )
    assert said["reading"]["across"]["measured_mm"] == 149.4
    assert said["reading"]["up"] == {"bar_mm": 250.0, "measured_mm": 250.8, "off_pct": 0.32, "factor": 0.99681}
    said = said_as_json(contract.CALIBRATE, "calibrate", "--measured-x", "249.9", "--measured-y", "250", "--bar", "250")
    assert said["reading"]["good_as_it_is"]


def test_fit_to_page_is_a_stop_and_nothing_is_kept_unless_it_must(shop: Path) -> None:
    short = ("--measured-x", "145", "--measured-y", "145.2", "--printer", "tablet")
    said = said_as_json(contract.CALIBRATE, "calibrate", *short, exit_code=1)
    assert said["worst"] == "stop"
    assert "'fit to page'" in said["findings"][0]["message"]
    assert not config(shop).exists()
    assert "Nothing was kept" in run("calibrate", *short).stdout
    said = said_as_json(contract.CALIBRATE, "calibrate", *short, "--anyway", exit_code=1)
    assert [row["name"] for row in said["printers"]] == ["tablet"]


def test_show_use_and_remove(shop: Path) -> None:
    assert "No printer is kept" in run("calibrate", "--show").stdout
    for name in ("study", "office laser"):
        run("calibrate", *READ, "--printer", name)
    shown = run("calibrate", "--show")
    assert (shown.exit_code, shown.stderr) == (0, "")
    assert "149.4 of 150" in shown.stdout
    assert "office laser" in shown.stdout
    assert "(default)" not in shown.stdout
    said = said_as_json(contract.CALIBRATE, "calibrate", "--use", "STUDY")
    assert said["default"] == "study"
    assert "study (default)" in run("calibrate", "--show").stdout
    assert said_as_json(contract.CALIBRATE, "calibrate", "--use", "none")["default"] is None
    said = said_as_json(contract.CALIBRATE, "calibrate", "--remove", "study")
    assert [row["name"] for row in said["printers"]] == ["office laser"]


@pytest.mark.parametrize(
    ("args", "fragment"),
    [
        (["--measured-x", "149.4"], "--measured-y is missing"),
        (["--measured-y", "149.4"], "--measured-x is missing"),
        (["--measured-x", "149.4", "--measured-y", "160"], "up: 160 mm read on a bar of 150 is 6.7 % off"),
        (["--measured-x", "250", "--measured-y", "250"], "was it the 250 mm bar (--bar 250)?"),
        (["--measured-x", "-149", "--measured-y", "150"], "not a reading"),
        (["--measured-x", "0", "--measured-y", "150"], "not a reading"),
        (["--measured-x", "nan", "--measured-y", "150"], "not a length"),
        (["--measured-x", "", "--measured-y", "150"], "length"),
        (["--measured-x", "149.4", "--measured-y", "150", "--bar", "200"], "no bar of 200 mm"),
        ([*READ, "--printer", ""], "1 to 32 letters"),
        ([*READ, "--printer", "n" * 33], "1 to 32 letters"),
        ([*READ, "--printer", "None"], "no correction"),
        ([*READ, "--use", "study"], "one thing at a time"),
        (["--show", "--remove", "study"], "one thing at a time"),
        (["--printer", "study"], "--measured-x and --measured-y"),
        (["--use", "study"], "'study' is not known"),
        (["--remove", "study"], "'study' is not known"),
        (["-o", "bars.svg"], ".pdf"),
        (["-o", "bars"], ".pdf"),
        (["--paper", "A9"], "Letter"),
    ],
    ids=lambda value: " ".join(value)[:60] if isinstance(value, list) else "",
)
def test_nonsense_is_refused_in_one_line(args: list[str], fragment: str, shop: Path) -> None:
    for more in ([], ["--json"]):
        result = run("calibrate", *args, *more)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.startswith("dovelayout: ")
        assert result.stderr.count("\n") == 1
        assert fragment in result.stderr
    assert files_in(shop.parent) == {}


BROKEN = {"no TOML": "printer = [", "a bad default": 'default = "gone"', "terminal": 'defau\\u001b[31m = 1\n"\x1b" = 2'}


@pytest.mark.parametrize("text", BROKEN.values(), ids=BROKEN)
def test_a_broken_file_stops_every_command_that_needs_it_in_one_line(text: str, shop: Path) -> None:
    config(shop).parent.mkdir()
    config(shop).write_text(text, encoding="utf-8")
    for args in (
        ["calibrate", "--show"],
        ["calibrate", *READ, "--printer", "study"],
        ["calibrate", "--use", "study"],
        ["draw", SAMPLES[0], "-o", "out"],
        ["draw", SAMPLES[0], "-o", "out", "--printer", "study"],
        ["slope", "1:7", "--gauge", "gauge.pdf"],
    ):
        result = run(*args)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.startswith(f"dovelayout: {config(shop)}: ")
        assert result.stderr.count("\n") == 1
        assert files_in(shop) == {}
    assert config(shop).read_text(encoding="utf-8") == text
    assert run("draw", SAMPLES[0], "-o", "out", "--printer", "none").exit_code == 0  # needs no file


def test_draw_for_a_printer_says_so_and_lists_it(shop: Path) -> None:
    run("calibrate", *READ, "--printer", "study")
    formats = [part for name in ("pdf", "svg", "dxf", "png") for part in ("--as", name)]
    said = said_as_json(contract.DRAW, "draw", SAMPLES[0], "-o", "out", "--printer", "Study", *formats)
    factors = {"printer": "study", "across": round(150 / 149.4, 6), "up": round(150 / 150.6, 6)}
    assert said["printer"] == factors
    assert {entry["format"] for entry in said["files"]} == {"pdf", "svg", "dxf", "png"}
    for entry in said["files"]:
        assert entry["corrected"] == (None if entry["format"] == "dxf" else factors)
        assert (entry["sheet_mm"] is None) == (entry["format"] == "dxf")
    result = run("draw", SAMPLES[0], "-o", "out", "--printer", "Study")
    assert "corrected for study: across × 1.0040, up × 0.9960" in result.stdout
    plain = said_as_json(contract.DRAW, "draw", SAMPLES[0], "-o", "out")
    assert plain["printer"] is None
    assert all(entry["corrected"] is None for entry in plain["files"])


def test_draw_for_a_printer_that_is_not_known(shop: Path) -> None:
    run("calibrate", *READ, "--printer", "study")
    for more in ([], ["--json"]):
        result = run("draw", SAMPLES[0], "-o", "out", "--printer", "studdy", *more)
        assert (result.exit_code, result.stdout) == (2, "")
        assert "'studdy' is not known; known: study" in result.stderr
    assert files_in(shop) == {}


def test_every_file_is_listed_with_what_it_holds(shop: Path) -> None:
    sample = next(path for path in SAMPLES if path.stem == "bobbin-cabinet")
    said = said_as_json(contract.DRAW, "draw", sample, "-o", "out")
    assert (said["title"], said["only"], said["paper"]) == ("Bobbin cabinet", None, "A4")
    by_name = {Path(entry["path"]).name: entry for entry in said["files"]}
    assert set(by_name) == set(files_in(shop / "out"))
    whole = by_name["bobbin-cabinet.pdf"]
    assert whole["sheet_mm"] == [210.0, 297.0]
    assert (whole["corners"], whole["dividers"]) == (["A", "B", "C", "D"], ["shelf", "partition"])
    assert whole["part"] is None
    assert len(whole["holds"]) == whole["pages"] == len(pypdf.PdfReader(whole["path"]).pages)
    tails = by_name["a-tails.svg"]
    assert (tails["corners"], tails["dividers"], tails["part"], tails["pages"]) == (["A"], [], "tails", 1)
    assert len(tails["boards"]) == 1
    assert set(tails["boards"]) < set(whole["boards"])
    housing = by_name["shelf-left-housing.svg"]
    assert (housing["corners"], housing["dividers"], housing["part"]) == ([], ["shelf"], "housing")
    only = said_as_json(contract.DRAW, "draw", sample, "-o", "out", "--only", "B")
    assert only["only"] == "B"
    assert {name for entry in only["files"] for name in entry["corners"]} == {"B"}


def test_a_gauge_is_corrected_too(shop: Path) -> None:
    run("calibrate", *READ, "--printer", "study")
    run("calibrate", "--use", "study")
    for name, more, corrected in (
        ("paper.pdf", [], True),
        ("plain.pdf", ["--printer", "none"], False),
        ("screen.svg", [], False),
        ("asked.svg", ["--printer", "study"], True),
    ):
        assert run("slope", "1:7", "--gauge", name, *more).exit_code == 0
        path = Path(name)
        text = (
            path.read_text(encoding="utf-8") if path.suffix == ".svg" else pypdf.PdfReader(path).pages[0].extract_text()
        )
        assert ("corrected for study" in text) == corrected


def test_a_stop_still_draws_nothing_for_a_printer(shop: Path) -> None:
    Path("stop.toml").write_text(STOP, encoding="utf-8")
    run("calibrate", *READ, "--printer", "study")
    assert run("draw", "stop.toml", "-o", "out", "--printer", "study").exit_code == 1
    assert not Path("out").exists()


def test_a_name_can_not_speak_to_the_terminal_or_the_sheet(shop: Path) -> None:
    name = "\x1b[31m<b>\n]]>%%c"
    result = run("calibrate", *READ, "--printer", name)
    assert result.exit_code == 0
    assert run("calibrate", "--show").exit_code == 0  # run() looks for the escape
    assert run("draw", SAMPLES[0], "-o", "out", "--printer", " [31m<b> ]]>%%c").exit_code == 0
    assert run("calibrate", "--remove", "[31m<b> ]]>%%c").exit_code == 0


def test_a_printer_measured_on_one_paper_is_doubted_on_another(shop: Path) -> None:
    said = said_as_json(contract.CALIBRATE, "calibrate", *READ, "--printer", "study", "--paper", "a4")
    assert said["printers"][0]["paper"] == "A4"
    assert "measured on A4, drawn on A3" in run("draw", SAMPLES[0], "--printer", "study", "--paper", "A3").stdout
    assert "measured on" not in run("draw", SAMPLES[0], "--printer", "study", "--paper", "A4").stdout
    said_as_json(contract.CALIBRATE, "calibrate", *READ, "--printer", "study")
    assert "paper" not in config(shop).read_text(encoding="utf-8")
    assert "measured on" not in run("draw", SAMPLES[0], "--printer", "study", "--paper", "A3").stdout
    assert run("calibrate", *READ, "--printer", "study", "--paper", "A9").exit_code == 2
