"""dovelayout draw: the files, their bytes, the paper, and stops."""

from __future__ import annotations

import json
import os
import xml.etree.ElementTree as ET
from pathlib import Path

import pypdf
import pytest

from tests.cli import contract
from tests.cli.calling import SAMPLES, STOP, files_in, process, run, said_as_json
from tests.odd_names import ODD, PLAIN, renamed, text

LIGHT = [path for path in SAMPLES if path.stem != "ribbon-cabinet"]


@pytest.mark.parametrize("sample", LIGHT, ids=lambda path: path.stem)
def test_draw_lists_what_is_on_disk(sample: Path, shop: Path) -> None:
    drawn = said_as_json(contract.DRAW, "draw", sample, "-o", "out")
    assert {entry["path"] for entry in drawn["files"]} == {str(Path("out") / name) for name in files_in(shop / "out")}
    assert drawn["worst"] == said_as_json(contract.CHECK, "check", sample)["worst"]
    for entry in drawn["files"]:
        path = Path(entry["path"])
        assert path.suffix == f".{entry['format']}"
        if entry["format"] == "pdf":
            assert len(pypdf.PdfReader(path).pages) == entry["pages"] == len(entry["holds"])
        else:
            ET.parse(path)
            assert entry["pages"] == 1
    result = run("draw", sample, "-o", "out")
    for entry in drawn["files"]:
        assert f"wrote {entry['path']}\n" in result.stdout
    assert "-o print-scaling=none" in result.stdout


def test_draw_with_json_speaks_to_people_on_stderr(shop: Path) -> None:
    result = run("draw", SAMPLES[0], "-o", "out", "--json")
    json.loads(result.stdout)
    assert "Verdict: " in result.stderr
    assert "wrote " in result.stderr


@pytest.mark.parametrize("sample", LIGHT, ids=lambda path: path.stem)
def test_the_same_job_gives_the_same_bytes(sample: Path, shop: Path) -> None:
    for folder in ("one", "two"):
        run("draw", sample, "-o", folder)
    first = files_in(shop / "one")
    assert first == files_in(shop / "two")
    run("draw", sample, "-o", "one")  # over what is there
    assert files_in(shop / "one") == first


def test_another_process_gives_the_same_bytes(shop: Path) -> None:
    run("draw", SAMPLES[0], "-o", "one")
    environment = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Pacific/Auckland", "COLUMNS": "40", "LC_ALL": "C"}
    process("draw", str(SAMPLES[0]), "-o", "two", cwd=shop, env=environment)
    assert files_in(shop / "one") == files_in(shop / "two")


@pytest.mark.parametrize(("formats", "suffixes"), [(["pdf"], {".pdf"}), (["svg"], {".svg"}), ([], {".pdf", ".svg"})])
def test_as(formats: list[str], suffixes: set[str], shop: Path) -> None:
    args = [word for name in formats for word in ("--as", name)]
    assert run("draw", SAMPLES[0], "-o", "out", *args).exit_code == 0
    assert {path.suffix for path in (shop / "out").iterdir()} == suffixes


def test_the_default_folder_is_named_after_the_job(shop: Path) -> None:
    sample = next(path for path in SAMPLES if path.stem == "sewing-chest")
    assert run("draw", sample).exit_code == 0
    assert (shop / "templates_out" / "sewing-chest" / "sewing-chest.pdf").is_file()


def test_only_one_corner(shop: Path) -> None:
    sample = next(path for path in SAMPLES if path.stem == "sewing-chest")
    drawn = said_as_json(contract.DRAW, "draw", sample, "-o", "out", "--only", "B")
    names = {Path(entry["path"]).name for entry in drawn["files"]}
    assert names == {"sewing-chest.pdf", "b-tails.svg", "b-pins.svg", "b-picture.svg"}
    for page in pypdf.PdfReader(shop / "out" / "sewing-chest.pdf").pages:
        assert "Corner A" not in page.extract_text()
    assert {finding["where"].split(",")[0] for finding in drawn["findings"]} <= {"corner B"}


def test_only_an_unknown_corner(shop: Path) -> None:
    result = run("draw", SAMPLES[0], "-o", "out", "--only", "Q")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "--only: there is no corner 'Q'; the corners are " in result.stderr
    assert not (shop / "out").exists()


@pytest.mark.parametrize(
    ("name", "size_pt"), [("Letter", (612.0, 792.0)), ("letter", (612.0, 792.0)), ("A3", (841.89, 1190.551))]
)
def test_paper(name: str, size_pt: tuple[float, float], shop: Path) -> None:
    assert run("draw", SAMPLES[0], "-o", "out", "--as", "pdf", "--paper", name).exit_code == 0
    (path,) = (shop / "out").iterdir()
    for page in pypdf.PdfReader(path).pages:
        sides = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        assert sides == pytest.approx(size_pt, abs=0.01)


def test_unknown_paper(shop: Path) -> None:
    result = run("draw", SAMPLES[0], "-o", "out", "--paper", "A9")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.count("\n") == 1
    assert "Letter" in result.stderr
    assert not (shop / "out").exists()


@pytest.mark.parametrize("paper", ["A5", "A4"])
def test_a_template_too_wide_for_the_paper_names_the_way_out(paper: str, shop: Path) -> None:
    thick = STOP.replace('"balsa"', '"black cherry"').replace("thickness = 12", "thickness = 75")
    (shop / "thick.toml").write_text(thick.replace("1:4", "1:8"), encoding="utf-8")
    result = run("draw", "thick.toml", "-o", "out", "--paper", paper)
    assert result.exit_code == 2
    assert result.stderr.startswith("dovelayout: ")
    assert result.stderr.count("\n") == 1
    assert "larger paper" in result.stderr
    assert not (shop / "out").exists()
    assert run("draw", "thick.toml", "-o", "out", "--paper", "A2").exit_code == 0


def test_a_stop_draws_nothing(shop: Path) -> None:
    result = run("draw", "stop.toml", "-o", "out")
    assert result.exit_code == 1
    assert "Nothing was drawn" in result.stdout
    assert not (shop / "out").exists()
    drawn = said_as_json(contract.DRAW, "draw", "stop.toml", "-o", "out", exit_code=1)
    assert (drawn["files"], drawn["worst"]) == ([], "stop")
    assert not (shop / "out").exists()


def test_a_stop_that_is_overruled_is_stamped_on_every_sheet(shop: Path) -> None:
    drawn = said_as_json(contract.DRAW, "draw", "stop.toml", "-o", "out", "--anyway", exit_code=1)
    assert len(drawn["files"]) == 4
    for entry in drawn["files"]:
        path = Path(entry["path"])
        if entry["format"] == "pdf":
            pages = [page.extract_text() for page in pypdf.PdfReader(path).pages]
        else:
            pages = ["\n".join(ET.parse(path).getroot().itertext())]
        assert all("DRAWN AGAINST A STOP: short-grain" in page for page in pages)


def test_no_stamp_without_a_stop(shop: Path) -> None:
    for sample in SAMPLES[:3]:
        run("draw", sample, "-o", sample.stem, "--anyway", "--no-pictures")
        for path in (shop / sample.stem).glob("*.pdf"):
            assert all("AGAINST A STOP" not in page.extract_text() for page in pypdf.PdfReader(path).pages)


def test_a_folder_that_is_a_file(shop: Path) -> None:
    result = run("draw", SAMPLES[0], "-o", "stop.toml")
    assert result.exit_code == 2
    assert result.stderr.startswith("dovelayout: stop.toml")
    assert result.stderr.count("\n") == 1
    assert files_in(shop) == {"stop.toml": STOP.encode()}


def test_pieces_are_nested_and_told_of(shop: Path) -> None:
    sample = next(path for path in SAMPLES if path.stem == "sewing-chest")
    drawn = said_as_json(contract.DRAW, "draw", sample, "-o", "nested", "--as", "pdf")
    single = said_as_json(contract.DRAW, "draw", sample, "-o", "single", "--as", "pdf", "--one-per-sheet")
    (nested,), (one_each,) = drawn["files"], single["files"]
    assert not contract.broken(nested, contract.PDF_FILE) + contract.broken(one_each, contract.PDF_FILE)
    assert nested["pages"] < one_each["pages"]
    assert one_each["least_sheets"] is None
    least = nested["least_sheets"]
    assert nested["nested_sheets"] >= max(least.values())
    assert sum(": Corner" in title for title in nested["holds"]) == nested["nested_sheets"]
    assert sum(": Corner" in title for title in one_each["holds"]) == 8
    said = run("draw", sample, "-o", "again", "--as", "pdf").stdout
    assert (
        f"{nested['nested_sheets']} sheets of pieces; by their area and gaps alone {least['by_area']} would do" in said
    )


def test_a_job_may_ask_for_a_sheet_each(shop: Path) -> None:
    text = next(path for path in SAMPLES if path.stem == "sewing-chest").read_text(encoding="utf-8")
    (shop / "each.toml").write_text(text.replace('size = "A4"', 'size = "A4"\nnest = false'), encoding="utf-8")
    (entry,) = said_as_json(contract.DRAW, "draw", "each.toml", "-o", "out", "--as", "pdf")["files"]
    assert entry["nested_sheets"] == 0


@pytest.mark.parametrize(
    ("options", "size_mm", "media"),
    [
        (["--neutral"], (210.0, 279.4), "media=A4"),
        (["--paper", "A4 or Letter"], (210.0, 279.4), "media=A4"),
        (["--paper", "210 x 400 mm"], (210.0, 400.0), "media=Custom.210x400mm"),
        (["--paper", "roll 610 mm"], (610.0, None), "media=Custom.610x"),
    ],
)
def test_other_paper(options: list[str], size_mm: tuple[float, float | None], media: str, shop: Path) -> None:
    result = run("draw", SAMPLES[0], "-o", "out", "--as", "pdf", *options)
    assert result.exit_code == 0
    assert f"lp -o {media}" in result.stdout
    (path,) = (shop / "out").iterdir()
    sizes = {(float(page.mediabox.width), float(page.mediabox.height)) for page in pypdf.PdfReader(path).pages}
    ((wide, high),) = sizes
    assert wide * 25.4 / 72 == pytest.approx(size_mm[0], abs=0.01)
    assert size_mm[1] is None or high * 25.4 / 72 == pytest.approx(size_mm[1], abs=0.01)


def test_two_papers_at_once(shop: Path) -> None:
    result = run("draw", SAMPLES[0], "-o", "out", "--neutral", "--paper", "A4")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "give one of them" in result.stderr
    assert not (shop / "out").exists()


def test_names_that_look_like_words_of_a_message_are_listed_as_they_are(shop: Path) -> None:
    for file, names in (("plain", PLAIN), ("odd", ODD)):
        shop.joinpath(f"{file}.toml").write_text(text(names), encoding="utf-8")
    formats = ("--as", "pdf", "--as", "svg", "--as", "dxf")
    plain, odd = (
        said_as_json(contract.DRAW, "draw", f"{file}.toml", "--anyway", "-o", file, *formats, exit_code=1)
        for file in ("plain", "odd")
    )
    assert odd["findings"] == renamed(plain["findings"])
    told = ("format", "corners", "dividers", "boards", "part")
    rows = [[{key: file[key] for key in told} for file in drawn["files"]] for drawn in (renamed(plain), odd)]
    assert rows[0] == rows[1]
    assert {board for file in odd["files"] for board in file["boards"]} >= {ODD["one"], ODD["two"], ODD["three"]}
