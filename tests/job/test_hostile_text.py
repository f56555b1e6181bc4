"""Texts that mean harm, or only come from far away: they stay texts, in their folder, on paper and in the terminal."""

from __future__ import annotations

import io
import json
import os
import unicodedata
import xml.etree.ElementTree as ET
from pathlib import Path

import pikepdf
import pypdf
import pytest
from typer.testing import CliRunner, Result

from dovelayout.cli.main import app
from dovelayout.drawing.lettering import MISSING, printable
from dovelayout.render.files import safe_name

SVG = "{http://www.w3.org/2000/svg}"
GREEK, CYRILLIC = "Μπαούλο ραπτικής", "Ящик для ниток"

TEXTS = {
    "markup": "<b>&amp;</b>",
    "end of a text": '"/></text><script>alert(1)</script>',
    "entity": "&lt;&#60;&bogus;",
    "end of a CDATA": "]]>",
    "PDF string": ") Tj ET (",
    "PDF name": "/Type /Page \\(",
    "quotes": "\"double\" 'single' `back`",
    "rich markup": "[bold red]x[/] [/] [link=file:///etc/passwd]y[/link]",
    "emoji code": ":warning: :smile:",
    "percent and braces": "%s %n {0} {job} ${HOME} $(id)",
    "newline": "first\nsecond\r\nthird\tend",
    "bell": "ding\u0007dong",
    "escape": "\u001b[31mred\u001b[0m\u001b]0;title\u0007",
    "C1 control": "a\u009b31mb\u0085c",
    "NUL": "a\u0000b",
    "delete": "a\u007fb",
    "only controls": "\u0001\u0002\u001f",
    "no character": "a\uffffb\ufffec\ufdd0",
    "Greek": GREEK,
    "Cyrillic": CYRILLIC,
    "Polish": "Skrzynia z żółtego dębu",
    "Chinese": "燕尾榫 木箱",
    "Arabic": "صندوق الخياطة",
    "Hebrew": "קופסה",
    "right-to-left marks": "a\u202eb\u200fc\u2066d\u2069",
    "zero width": "a\u200bb\u200dc\ufeffd",
    "combining": "e\u0301" * 10 + "Z\u0335\u0336\u0337\u0338",
    "60 emoji": "🪚" * 60,
    "family": "👩‍👩‍👧‍👦 at the bench",
    "line separators": "a\u2028b\u2029c",
    "no-break space": "a\u00a0b",
    "device": "CON",
    "device with an end": "nul.txt",
    "climbs out": "../../x",
    "climbs out of Windows": "..\\..\\x",
    "absolute": "/etc/x",
    "drive": "C:\\Windows\\x",
    "home": "~/x",
    "here": ".",
    "up": "..",
    "hidden": ".bashrc",
    "an option": "--anyway",
    "space": " ",
    "60 letters": "M" * 60,
    "60 Chinese": "櫃" * 60,
    "wildcards": "*?<>|:",
    "semicolon": "a; b; c: d",
}


BLANK = {"space", "only controls"}
"""Good for a title, but not for a name: what prints as nothing can't mark a template."""


def quoted(text: str) -> str:
    """A TOML string of any text."""
    plain = "".join(f"\\u{ord(c):04x}" if ord(c) < 32 or ord(c) == 127 or c in '"\\' else c for c in text)
    return f'"{plain}"'


def job(*, title: str = "Chest", board: str = "side", corners: tuple[str, ...] = ("A",), wood: str = "oak ply") -> str:
    text = f'title = {quoted(title)}\n[[wood]]\nname = "oak ply"\nkind = "hardwood"\nsg = 0.6\nmor_mpa = 100\n'
    if wood != "oak ply":
        text += f"[[wood]]\nname = {quoted(wood)}\nsg = 0.6\nmor_mpa = 100\n"
    size = "length = 300\nwidth = 60\nthickness = 12\n"
    text += f"[[board]]\nname = {quoted(board)}\nspecies = {quoted(wood)}\n{size}"
    text += f'[[board]]\nname = "end"\nspecies = "oak ply"\n{size}'
    for corner in corners:
        text += f'[[corner]]\nname = {quoted(corner)}\ntails = {quoted(board + ".left")}\npins = "end.right"\n'
        text += "tail_count = 2\npin = 6\nhalf_pin = 8\n"
    return text


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, deep enough that climbing out would be seen."""
    folder = tmp_path / "deep" / "er" / "shop"
    folder.mkdir(parents=True)
    monkeypatch.chdir(folder)
    return folder


def drawn(shop: Path, text: str, *args: str) -> tuple[Result, list[Path]]:
    """Draws a job; the files are in the folder told and nowhere else."""
    (shop / "job.toml").write_text(text, encoding="utf-8")
    result = CliRunner().invoke(app, ["draw", "job.toml", *args])
    assert result.exit_code == 0, (result.output, result.exception)
    for said in (result.stdout, result.stderr):
        assert all(c == "\n" or c.isprintable() for c in said), said
    files = [path for path in shop.parents[2].rglob("*") if path.is_file() and path.name != "job.toml"]
    folder = shop / "out" if "-o" in args else shop / "templates_out"
    for path in files:
        assert path.is_relative_to(folder)
        assert not path.is_symlink()
        assert path.resolve().is_relative_to(folder.resolve())
        assert path.name.isprintable()
        assert len(os.fsencode(path.name)) <= 255
        assert not path.name.startswith((".", "-"))
    return result, files


def svg_texts(path: Path) -> tuple[str, str]:
    """The title of an SVG, and all that is written on it."""
    root = ET.fromstring(path.read_bytes())
    tags = {element.tag.removeprefix(SVG) for element in root.iter()}
    assert tags <= {"svg", "title", "desc", "defs", "style", "path", "text"}, tags
    title = root.find(f"{SVG}title")
    assert title is not None
    texts = [element.text or "" for element in root.iter(f"{SVG}text")]
    assert all(text.isprintable() for text in texts)
    return title.text or "", "\n".join(texts)


def pdf_texts(path: Path) -> list[str]:
    """The text of every page."""
    with pikepdf.open(path) as pdf:
        assert len(pdf.pages) >= 2
        assert "/JavaScript" not in pdf.Root.get("/Names", {})
        assert "/OpenAction" not in pdf.Root
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(path.read_bytes())).pages]


def letters(text: str) -> str:
    """A text without its spaces, which a reader of PDF may set as it likes."""
    return "".join(unicodedata.normalize("NFC", text).split())


@pytest.mark.parametrize(
    "case",
    [case for case in TEXTS if case not in BLANK],
)
def test_any_text_everywhere(case: str, shop: Path) -> None:
    text = TEXTS[case]
    # a wood needs a letter, and two woods of the same letters are one
    wood = f"{text[:40]} wenge of my own"
    _, files = drawn(shop, job(title=text, board=text, corners=(text,), wood=wood), "-o", "out")
    assert sorted(path.suffix for path in files) == [".pdf", ".svg", ".svg", ".svg"]
    wanted = printable(text)
    for path in files:
        if path.suffix == ".svg":
            title, written = svg_texts(path)
            assert wanted in title
            if len(wanted) <= 20:
                assert wanted in written
        else:
            pages = pdf_texts(path)
            if len(wanted) <= 20 and wanted.isascii():
                assert all(letters(wanted) in letters(page) for page in pages)


@pytest.mark.parametrize("case", TEXTS)
def test_the_folder_named_after_the_title(case: str, shop: Path) -> None:
    _, files = drawn(shop, job(title=TEXTS[case]), "--as", "pdf")
    (path,) = files
    assert path.relative_to(shop).parts[0] == "templates_out"
    assert len(path.relative_to(shop).parts) == 3


@pytest.mark.parametrize("case", [case for case in TEXTS if case not in BLANK])
def test_check_shows_no_control_characters(case: str, shop: Path) -> None:
    text = TEXTS[case]
    (shop / "job.toml").write_text(job(title=text, board=text, corners=(text,)), encoding="utf-8")
    result = CliRunner().invoke(app, ["check", "job.toml"])
    assert result.exit_code == 0, (result.output, result.exception)
    assert all(c == "\n" or c.isprintable() for c in result.stdout)
    as_json = CliRunner().invoke(app, ["check", "job.toml", "--json"])
    assert json.loads(as_json.stdout)["corners"][0]["name"] == text


@pytest.mark.parametrize("case", [case for case in TEXTS if case not in BLANK])
def test_a_fault_in_a_strange_place_is_still_one_line(case: str, shop: Path) -> None:
    text = TEXTS[case]
    (shop / "job.toml").write_text(job(board=text, corners=(text, text)), encoding="utf-8")
    result = CliRunner().invoke(app, ["draw", "job.toml", "-o", "out"])
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.endswith("is there twice; give each corner a name of its own\n")
    assert result.stderr[:-1].isprintable()
    assert not (shop / "out").exists()


@pytest.mark.parametrize("title", [GREEK, CYRILLIC, "Kästchen für Knöpfe", "Coffret à couture"])
def test_a_pdf_gives_its_title_back(title: str, shop: Path) -> None:
    assert printable(title) == title
    _, files = drawn(shop, job(title=title, corners=(title[:8],)), "-o", "out")
    (pdf,) = (path for path in files if path.suffix == ".pdf")
    for page in pdf_texts(pdf):
        assert letters(title) in letters(page)
    assert pypdf.PdfReader(pdf).metadata.title == title
    assert pdf.stem == safe_name(title)
    for path in files:
        if path.suffix == ".svg":
            assert title in svg_texts(path)[1]


def test_what_the_font_does_not_hold_is_a_box(shop: Path) -> None:
    _, files = drawn(shop, job(title="燕尾榫", board="櫃"), "-o", "out")
    for path in files:
        written = svg_texts(path)[1] if path.suffix == ".svg" else pdf_texts(path)[0]
        assert MISSING * 3 in written
    assert {path.name for path in files} == {"燕尾榫.pdf", "a-tails.svg", "a-pins.svg", "a-picture.svg"}


@pytest.mark.parametrize(
    "corners",
    [
        ("a", "A"),
        ("ß", "SS"),
        ("../x", "x"),
        (".", ".."),
        ("a", "a-2", "A"),
        ("é", "e\u0301"),
        ("CON", "con"),
        ("1", "¹"),
    ],
)
def test_corners_of_like_names_have_files_of_their_own(corners: tuple[str, ...], shop: Path) -> None:
    _, files = drawn(shop, job(corners=corners), "-o", "out", "--as", "svg")
    # the corners look alike and share a picture
    assert len({unicodedata.normalize("NFC", path.name).casefold() for path in files}) == 2 * len(corners) + 1
    titles = {svg_texts(path)[0] for path in files}
    assert len(titles) == 2 * len(corners) + 1


def test_a_corner_is_not_taken_for_a_part_of_another(shop: Path) -> None:
    _, files = drawn(shop, job(title="A-tails", corners=("A", "A-tails", "A-pins")), "-o", "out")
    assert len(files) == 8


def test_only_takes_a_strange_name_as_it_stands(shop: Path) -> None:
    _, files = drawn(shop, job(corners=("--anyway", "[b]")), "-o", "out", "--as", "svg", "--only=--anyway")
    assert len(files) == 3
    _, files = drawn(shop, job(corners=("--anyway", "[b]")), "-o", "out", "--as", "svg", "--only", "[b]")
    assert len(files) == 6
