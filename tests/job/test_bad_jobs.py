"""Broken jobs on the real command line: one line that names file, place and remedy, exit code 2, nothing written."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from typer.testing import CliRunner

from dovelayout.cli.main import app

GOOD: dict[str, dict[str, str]] = {
    "": {"title": '"Chest"', "units": '"mm"'},
    "shop": {"humidity": "[35, 65]", "temperature": "20", "chisels": "[6, 9]"},
    "paper": {"size": '"A4"', "margin": "8"},
    "board side": {
        "name": '"side"',
        "species": '"black cherry"',
        "length": "300",
        "width": "100",
        "thickness": "16",
    },
    "board end": {
        "name": '"end"',
        "species": '"black cherry"',
        "length": "200",
        "width": "100",
        "thickness": "19",
    },
    "corner A": {
        "name": '"A"',
        "joint": '"through"',
        "tails": '"side.left"',
        "pins": '"end.right"',
        "slope": '"1:7"',
        "tail_count": "3",
        "pin": "6",
        "half_pin": "8",
    },
}
"""A job that is clean, as raw TOML values, so that each case can spoil one key."""


def spoilt(section: str = "", *, drop: tuple[str, ...] = (), also: str = "", **keys: str | None) -> str:
    """The good job with keys of one section changed (None: left out), sections dropped and text added at its end."""
    lines: list[str] = []
    for name, table in GOOD.items():
        if name in drop:
            continue
        if name:
            kind = name.split()[0]
            lines.append(f"[[{kind}]]" if " " in name else f"[{kind}]")
        given = {**table, **(keys if name == section else {})}
        lines += [f"{key} = {value}" for key, value in given.items() if value is not None]
        lines.append("")
    return "\n".join(lines) + also


def side(**keys: str | None) -> str:
    return spoilt("board side", **keys)


def corner(**keys: str | None) -> str:
    return spoilt("corner A", **keys)


def tails_at(value: str) -> str:
    return corner(tail_count=None, pin=None, half_pin=None, tails_at=value)


def boxed(keys: str, *, boards: str = "") -> str:
    return spoilt(drop=("corner A",), also=f'{boards}\n[[box]]\nname = "tray"\n{keys}\n')


SIDE = "board 'side', key "
CORNER = "corner 'A'"
LONG_SIDE = '[[board]]\nname = "long side"\nspecies = "black cherry"\nlength = 310\nwidth = 100\nthickness = 16\n'
BOARD = '[[board]]\nname = "side"\nspecies = "black cherry"\nlength = 300\nwidth = 100\nthickness = 16\n'
WOOD = '[[wood]]\nname = "tatajuba"\nsg = 0.8\n'
BOX = '[[box]]\nname = "tray"\ntails = "side"\npins = "end"\n'

BAD: dict[str, tuple[str, str, str]] = {
    # lengths
    "wrong unit": (side(length='"300 furlongs"'), SIDE + "length", "not a unit"),
    "unknown job unit": (spoilt(units='"furlong"'), "key units", "'mm'"),
    "job unit is a list": (spoilt(units='["mm"]'), "key units", "'mm'"),
    "job unit is a table": (spoilt(units='{ a = "mm" }'), "key units", "'mm'"),
    "job unit is a number": (spoilt(units="3"), "key units", "'mm'"),
    "negative length": (side(length="-300"), SIDE + "length", "1 to 20000 mm"),
    "negative text": (side(width='"-4 in"'), SIDE + "width", "0.01 to 5000 mm"),
    "zero width": (side(width="0"), SIDE + "width", "0.01 to 5000 mm"),
    "zero thickness": (side(thickness="0.0"), SIDE + "thickness", "0.5 to 300 mm"),
    "NaN length": (side(length="nan"), SIDE + "length", "not a length"),
    "infinite length": (side(length="inf"), SIDE + "length", "longer than a kilometre"),
    "minus infinity": (side(length="-inf"), SIDE + "length", "longer than a kilometre"),
    "huge length": (side(length="1e300"), SIDE + "length", "longer than a kilometre"),
    "huge whole number": (side(length="9" * 400), SIDE + "length", "longer than a kilometre"),
    "number of 5000 digits": (side(length="9" * 5000), "", "digits"),
    "tiny width": (side(width="1e-300"), SIDE + "width", "0.01 to 5000 mm"),
    "too long a board": (side(length='"30 m"'), SIDE + "length", "1 to 20000 mm"),
    "wide as a road": (side(width="5001"), SIDE + "width", "0.01 to 5000 mm"),
    "true for a length": (side(length="true"), SIDE + "length", "not true or false"),
    "list for a length": (side(length="[300]"), SIDE + "length", "not a list"),
    "table for a length": (side(length="{ mm = 300 }"), SIDE + "length", "not a table"),
    "date for a length": (side(length="2024-05-01"), SIDE + "length", "not a date"),
    "time for a length": (side(length="07:30:00"), SIDE + "length", "not a time"),
    "empty text for a length": (side(length='""'), SIDE + "length", "missing"),
    "11/4 without unit": (side(thickness='"11/4"'), SIDE + "thickness", "2 3/4 in"),
    "3/4 in a mm job": (side(thickness='"3/4"'), SIDE + "thickness", "3/4 in"),
    "1.2.3": (side(thickness='"1.2.3"'), SIDE + "thickness", "decimal mark"),
    "3/0": (side(thickness='"3/0 in"'), SIDE + "thickness", "divides by zero"),
    "1,234": (side(length='"1,234"'), SIDE + "length", "1.234"),
    "nominal thickness": (side(thickness='"3/4 ply"'), SIDE + "thickness", "measure"),
    "a word for a length": (side(length='"long"'), SIDE + "length", "not a length"),
    "hostile text for a length": (side(length='"\\u001b[31m\\n1"'), SIDE + "length", "not a length"),
    # keys and names
    "missing width": (side(width=None), SIDE + "width", "is missing"),
    "missing species": (side(species=None), SIDE + "species", "is missing"),
    "missing board name": (side(name=None), "board number 1, key name", "is missing"),
    "missing tails": (corner(tails=None), CORNER + ", key tails", "is missing"),
    "missing pins": (corner(pins=None), CORNER + ", key pins", "is missing"),
    "near unknown key of a board": (side(widht="100"), SIDE + "widht", "did you mean width?"),
    "near unknown key of a corner": (corner(tailcount="3"), CORNER + ", key tailcount", "did you mean tail_count?"),
    "near unknown key of the shop": (spoilt("shop", chisel="[6]"), "shop, key chisel", "did you mean chisels?"),
    "near unknown key of the paper": (spoilt("paper", margins="8"), "paper, key margins", "did you mean margin?"),
    "near unknown table": (spoilt(also='[[cornr]]\nname = "B"\n'), "key cornr", "did you mean corner?"),
    "near unknown key of a groove": (
        corner(groove="{ from_edge = 10, wdth = 6, width = 6, depth = 5 }"),
        CORNER + ", key groove wdth",
        "did you mean width?",
    ),
    "unknown key unlike any": (side(zzz="1"), SIDE + "zzz", "known keys: name, species"),
    "empty board name": (side(name='""'), "board number 1, key name", "is empty"),
    "board name of spaces": (side(name='" \\t"'), "board ' \\t', key name", "prints as nothing"),
    "corner name of controls": (corner(name='"\\u0007"'), "corner '\\x07', key name", "prints as nothing"),
    "board name of 61 letters": (side(name=f'"{"n" * 61}"'), f"board '{'n' * 61}', key name", "60 is the most"),
    "number for a name": (side(name="3"), "board number 1, key name", "text in quotes"),
    "list for a species": (side(species='["cherry"]'), SIDE + "species", "text in quotes"),
    "title of 201 letters": (spoilt(title=f'"{"t" * 201}"'), "key title", "200 is the most"),
    "number for the title": (spoilt(title="3"), "key title", "text in quotes"),
    "duplicate board": (spoilt(also=BOARD), "board 'side'", "is there twice"),
    "duplicate corner": (
        spoilt(also='[[corner]]\nname = "A"\ntails = "side.right"\npins = "end.left"\n'),
        CORNER,
        "is there twice",
    ),
    "duplicate box": (spoilt(drop=("corner A",), also=BOX + BOX), "box 'tray'", "is there twice"),
    "duplicate wood": (spoilt(also=WOOD + WOOD), "wood 'tatajuba'", "is there twice"),
    # woods
    "unknown wood": (side(species='"blak chery"'), SIDE + "species", "black cherry"),
    "wood of no tree": (side(species='"unobtainium"'), SIDE + "species", "no wood is known"),
    "ambiguous wood": (side(species='"soft maple"'), SIDE + "species", "could be"),
    "blank wood": (side(species='"  "'), SIDE + "species", "prints as nothing"),
    "own wood with a NaN": (
        spoilt(also='[[wood]]\nname = "x"\nmor_mpa = nan\n'),
        "wood 'x', key mor_mpa",
        "number is wanted",
    ),
    "own wood of lead": (spoilt(also='[[wood]]\nname = "x"\nsg = 11.3\n'), "wood 'x', key sg", "at most 1.5"),
    "own wood of nothing": (spoilt(also='[[wood]]\nname = "x"\nsg = 0\n'), "wood 'x', key sg", "more than 0.05"),
    "own wood with a text": (
        spoilt(also='[[wood]]\nname = "x"\nsg = "0.5"\n'),
        "wood 'x', key sg",
        "plain number",
    ),
    "own wood without letters": (spoilt(also='[[wood]]\nname = "--"\nsg = 0.5\n'), "wood '--'", "name"),
    # layout
    "too many tails": (corner(tail_count="40"), CORNER, "; 6 fit"),
    "pins wider than the board": (corner(pin="60"), CORNER, "fit"),
    "half pins wider than the board": (corner(half_pin="60"), CORNER, "half_pin"),
    "board too narrow for any tail": (side(width="2"), CORNER, "a wider board"),
    "count past all reason": (corner(tail_count="201"), CORNER + ", key tail_count", "at most 200"),
    "count past 64 bits": (corner(tail_count="9" * 30), CORNER + ", key tail_count", "200"),
    "text for a count": (corner(tail_count='"three"'), CORNER + ", key tail_count", "plain number"),
    "float for a count": (corner(tail_count="3.5"), CORNER + ", key tail_count", "whole number"),
    "round float for a count": (corner(tail_count="3.0"), CORNER + ", key tail_count", "whole number"),
    "true for a count": (corner(tail_count="true"), CORNER + ", key tail_count", "not true or false"),
    "NaN for a count": (corner(tail_count="nan"), CORNER + ", key tail_count", "not nan"),
    "negative count": (corner(tail_count="-3"), CORNER + ", key tail_count", "at least 1"),
    "count of none": (corner(tail_count="0"), CORNER + ", key tail_count", "at least 1"),
    "negative board count": (side(count="-1"), SIDE + "count", "at least 1"),
    "negative pin": (corner(pin="-6"), CORNER + ", key pin", "0.01 to 5000 mm"),
    "negative half pin": (corner(half_pin="-1"), CORNER + ", key half_pin", "0 to 5000 mm"),
    "tails_at overlapping": (tails_at("[[8, 40], [39, 60]]"), CORNER, "before tail 1 ends"),
    "tails_at touching": (tails_at("[[8, 40], [40, 60]]"), CORNER, "leave a pin between"),
    "tails_at reversed": (tails_at("[[40, 8]]"), CORNER, "smaller number first"),
    "tails_at beyond the board": (tails_at("[[8, 140]]"), CORNER, "beyond the joint (100 mm)"),
    "tails_at negative": (tails_at("[[-8, 40]]"), CORNER + ", key tails_at", "0 to 5000 mm"),
    "tails_at empty": (tails_at("[]"), CORNER, "tails_at is empty"),
    "tails_at not pairs": (tails_at("[8, 40]"), CORNER + ", key tails_at", "list is wanted"),
    "tails_at of three numbers": (tails_at("[[8, 40, 50]]"), CORNER + ", key tails_at", "2"),
    "tails_at of one number": (tails_at("[[8]]"), CORNER + ", key tails_at", "missing"),
    "tails_at too narrow a neck": (tails_at("[[8, 10]]"), CORNER, "make it wider"),
    "tails_at past all reason": (
        tails_at(f"[{', '.join(['[1, 2]'] * 201)}]"),
        CORNER + ", key tails_at",
        "200 is the most",
    ),
    "tails_at with tail_count": (
        corner(tails_at="[[8, 40]]", pin=None, half_pin=None),
        CORNER,
        "leave out tail_count",
    ),
    "covers more than the board": (corner(covers="[0, 120]"), CORNER, "100 mm wide"),
    "covers reversed": (corner(covers="[90, 10]"), CORNER, "cover 90 to 10 mm"),
    "covers more than the pin board": (
        spoilt("board end", width="50").replace("half_pin = 8", "covers = [10, 90]"),
        CORNER,
        "50 mm wide",
    ),
    "joint 'finger'": (corner(joint='"finger"'), CORNER + ", key joint", "known: "),
    "list for a joint": (corner(joint='["through"]'), CORNER + ", key joint", "known: "),
    "spacing 'odd'": (corner(spacing='"odd"'), CORNER + ", key spacing", "'closer at edges'"),
    "rings 'odd'": (side(rings='"odd"'), SIDE + "rings", "'quarter'"),
    "slope 7": (corner(slope="7"), CORNER + ", key slope", "1:7"),
    "slope 0:7": (corner(slope='"0:7"'), CORNER + ", key slope", "0:7"),
    "slope 7:1": (corner(slope='"7:1"'), CORNER + ", key slope", "1:7"),
    "slope 80 deg": (corner(slope='"80 deg"'), CORNER + ", key slope", "too steep"),
    "slope true": (corner(slope="true"), CORNER + ", key slope", "not true or false"),
    "slope NaN": (corner(slope="nan"), CORNER + ", key slope", "slope"),
    "slope a list": (corner(slope="[1, 7]"), CORNER + ", key slope", "not a list"),
    "run-out of no slope": (side(runout='"straight"'), SIDE + "runout", "not a slope"),
    "groove wider than the board": (
        corner(groove="{ from_edge = 10, width = 95, depth = 5 }"),
        CORNER + ", key groove",
        "100 mm wide",
    ),
    "groove through the board": (
        corner(groove="{ from_edge = 10, width = 6, depth = 16 }"),
        CORNER + ", key groove",
        "goes through side",
    ),
    "groove without a width": (
        corner(groove="{ from_edge = 10, depth = 6 }"),
        CORNER + ", key groove width",
        "is missing",
    ),
    "groove of no table": (corner(groove="6"), CORNER + ", key groove", "table is wanted"),
    "groove ploughed never": (
        corner(groove='{ from_edge = 10, width = 6, depth = 5, ploughed = "never" }'),
        CORNER + ", key groove ploughed",
        "'after'",
    ),
    "proud huge": (corner(proud="11"), CORNER + ", key proud", "-10 to 10 mm"),
    "proud huge on one board": (corner(proud="{ pins = -11 }"), CORNER + ", key proud pins", "-10 to 10 mm"),
    "proud of an unknown part": (corner(proud="{ tail = 1 }"), CORNER + ", key proud tail", "did you mean tails?"),
    "tails shy of everything": (
        spoilt("board end", thickness="6").replace("pin = 6", "proud = -8"),
        CORNER,
        "no tails",
    ),
    "proud that eats the pin": (
        corner(pin="0.5", proud="4"),
        CORNER,
        "make the pin at least",
    ),
    # ends and boards
    "unknown board": (corner(tails='"sied.left"'), CORNER + ", key tails", "did you mean 'side'?"),
    "unknown board unlike any": (corner(pins='"zzz"'), CORNER + ", key pins", "the boards are 'side', 'end'"),
    "unknown end": (corner(tails='"side.top"'), CORNER + ", key tails", "side.left or side.right"),
    "corner that meets itself": (corner(pins='"side.right"'), CORNER, "can't meet itself"),
    "two left ends": (corner(pins='"end.left"'), CORNER, "left end of side and left end of end can't meet"),
    "corners without boards": (
        spoilt(drop=("board side", "board end")),
        CORNER + ", key tails",
        "add a [[board]]",
    ),
    "no corners": (spoilt(drop=("corner A",)), "", "add a [[corner]], a [[box]], a [[drawer]] or a [[divider]]"),
    "box of unequal opposite lengths": (
        boxed('tails = ["side", "long side"]\npins = "end"', boards=LONG_SIDE),
        "box 'tray'",
        "equal lengths opposite",
    ),
    "same board on both sides of a box": (boxed('tails = "side"\npins = "side"'), "box 'tray'", "both tails and pins"),
    "box of an unknown board": (boxed('tails = "side"\npins = ["end", "edn"]'), "box 'tray', key pins", "did you mean"),
    "box of three sides": (
        boxed('tails = ["side", "side", "side"]\npins = "end"'),
        "box 'tray', key tails",
        "two boards",
    ),
    "box of numbers": (boxed('tails = 3\npins = "end"'), "box 'tray', key tails", "two boards"),
    "too many tails in a box": (boxed('tails = "side"\npins = "end"\ntail_count = 60'), "box 'tray'", " fit"),
    # shop and paper
    "humidity reversed": (spoilt("shop", humidity="[65, 35]"), "shop, key humidity", "driest first"),
    "humidity of three numbers": (spoilt("shop", humidity="[35, 50, 65]"), "shop, key humidity", "2"),
    "humidity of one number": (spoilt("shop", humidity="[35]"), "shop, key humidity", "missing"),
    "humidity a number": (spoilt("shop", humidity="35"), "shop, key humidity", "list is wanted"),
    "humidity past 100": (spoilt("shop", humidity="[35, 165]"), "shop, key humidity", "0 to 100"),
    "humidity NaN": (spoilt("shop", humidity="[nan, 65]"), "shop, key humidity", "number is wanted"),
    "humidity past all floats": (spoilt("shop", humidity=f"[35, {'9' * 400}]"), "shop, key humidity", "number"),
    "temperature 20 K": (spoilt("shop", temperature='"20 K"'), "shop, key temperature", "not a temperature"),
    "temperature of a kiln": (spoilt("shop", temperature="400"), "shop, key temperature", "out of -40 to 60"),
    "temperature true": (spoilt("shop", temperature="true"), "shop, key temperature", "not true or false"),
    "chisel of nothing": (spoilt("shop", chisels="[6, 0]"), "shop, key chisels number 2", "0.01 to 5000 mm"),
    "chisels a number": (spoilt("shop", chisels="6"), "shop, key chisels", "list is wanted"),
    "hands of a crowd": (spoilt("shop", hands="21"), "shop, key hands", "at most 20"),
    "paper A9": (spoilt("paper", size='"A9"'), "paper, key size", "A4"),
    "paper a number": (spoilt("paper", size="4"), "paper, key size", "text in quotes"),
    "margin 100": (spoilt("paper", margin="100"), "paper, key margin", "0 to 40 mm"),
    # tables of the wrong kind
    "board = 3": (
        spoilt(drop=("board side", "board end")).replace("[shop]", "board = 3\n[shop]"),
        "key board",
        "[[board]]",
    ),
    "[board] for [[board]]": (
        spoilt(drop=("board end",)).replace("[[board]]", "[board]"),
        "key board",
        "[[board]]",
    ),
    "corner = ['a']": (
        spoilt(drop=("corner A",)).replace("[shop]", 'corner = ["a"]\n[shop]'),
        "corner number 1",
        "table is wanted",
    ),
    "paper = 'A4'": (
        spoilt(drop=("paper",)).replace("[shop]", 'paper = "A4"\n[shop]'),
        "key paper",
        "table is wanted",
    ),
    "[[shop]] for [shop]": (spoilt().replace("[shop]", "[[shop]]"), "key shop", "table is wanted"),
    # TOML itself
    "empty job": ("", "", "add a [[corner]]"),
    "only a comment": ("# nothing yet\n", "", "add a [[corner]]"),
    "syntax error": (spoilt(also="width = = 3\n"), "", "not valid TOML"),
    "open quotes": (spoilt(title='"Chest'), "", "not valid TOML"),
    "text without quotes": (side(species="cherry"), "", "not valid TOML"),
    "duplicate keys": (spoilt(also='name = "B"\n'), "", "not valid TOML"),
    "impossible date": (side(length="2024-13-45"), "", "not valid TOML"),
    "NUL in a text": (spoilt(title='"a\0b"'), "", "not valid TOML"),
    "deeply nested arrays": (spoilt(title="[" * 50_000 + "]" * 50_000), "", "nested too deeply"),
    "deeply nested tables": (spoilt(title="{ a = " * 50_000 + "1" + "}" * 50_000), "", "nested too deeply"),
    "deeply dotted key": (spoilt(also=f"[{'.'.join(['a'] * 3000)}]\n"), "key a", "not known"),
}

FILES: dict[str, tuple[Callable[[Path], object], str]] = {
    "missing": (lambda path: None, "there is no such file"),
    "a directory": (lambda path: path.mkdir(), "is a directory"),
    "empty": (lambda path: path.write_bytes(b""), "nothing to lay out"),
    "10 MB": (lambda path: path.write_bytes(b"#" * 10_000_000), "larger than 1 MB"),
    "UTF-16": (lambda path: path.write_bytes(spoilt().encode("utf-16")), "line 1: is not UTF-8"),
    "latin-1": (lambda path: path.write_bytes(spoilt(title='"Nähtisch"').encode("latin-1")), "line 1: is not UTF-8"),
    "binary NULs": (lambda path: path.write_bytes(bytes(4096)), "not valid TOML"),
    "a picture": (lambda path: path.write_bytes(b"\x89PNG\r\n\x1a\n" + bytes(range(256))), "is not UTF-8"),
    "a dangling link": (lambda path: path.symlink_to("nowhere"), "there is no such file"),
    "a link to itself": (lambda path: path.symlink_to(path.name), "job.toml"),
}


def tree(folder: Path) -> dict[str, bytes | None]:
    return {str(path.relative_to(folder)): path.read_bytes() if path.is_file() else None for path in folder.rglob("*")}


def refused(path: Path, folder: Path) -> str:
    """Runs check and draw on a bad job; they must agree. Gives the one line that they said."""
    before = tree(folder)
    lines = set()
    for args in (
        ["check", str(path)],
        ["check", str(path), "--json"],
        ["draw", str(path), "-o", str(folder / "out")],
        ["draw", str(path), "-o", str(folder / "out"), "--json", "--anyway"],
        ["draw", str(path)],
    ):
        result = CliRunner().invoke(app, args)
        assert result.exit_code == 2, (args, result.output, result.exception)
        assert isinstance(result.exception, SystemExit)
        assert result.stdout == ""
        assert "Traceback" not in result.stderr
        assert result.stderr.endswith("\n")
        assert result.stderr.count("\n") == 1
        assert result.stderr[:-1].isprintable()
        lines.add(result.stderr[:-1])
    assert tree(folder) == before
    assert len(lines) == 1
    return lines.pop()


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, so that the default output folder would be seen as well."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_the_job_that_the_cases_spoil_is_good(folder: Path) -> None:
    (folder / "job.toml").write_text(spoilt(), encoding="utf-8")
    result = CliRunner().invoke(app, ["check", "job.toml"])
    assert result.exit_code == 0, result.output


def test_there_are_enough_cases() -> None:
    assert len(BAD) + len(FILES) >= 70


@pytest.mark.parametrize("case", BAD)
def test_a_bad_job_is_one_line(case: str, folder: Path) -> None:
    text, place, fragment = BAD[case]
    path = folder / "job.toml"
    path.write_text(text, encoding="utf-8")
    line = refused(path, folder)
    assert line.startswith(f"dovelayout: {path}: {place}"), line
    assert fragment in line.removeprefix(f"dovelayout: {path}: {place}"), line
    assert len(line) < 600, line


@pytest.mark.parametrize("case", FILES)
def test_a_file_that_is_no_job_is_one_line(case: str, folder: Path) -> None:
    make, fragment = FILES[case]
    path = folder / "job.toml"
    make(path)
    line = refused(path, folder)
    assert line.startswith(f"dovelayout: {path}: "), line
    assert fragment in line, line


@pytest.mark.parametrize(
    "name",
    ["n" * 300 + ".toml", "no\nsuch\x1b[31m.toml", "job.toml/inside.toml", "\udcff.toml", ""],
    ids=["too long", "control characters", "under a file", "no UTF-8", "empty"],
)
def test_a_name_that_is_no_job_is_one_line(name: str, folder: Path) -> None:
    (folder / "job.toml").write_text(spoilt(), encoding="utf-8")
    assert refused(Path(name), folder).startswith("dovelayout: ")


def test_several_faults_are_counted(folder: Path) -> None:
    path = folder / "job.toml"
    path.write_text(side(width="-1", length="nan", colour='"red"'), encoding="utf-8")
    assert "(and 2 more to mend after it)" in refused(path, folder)


@pytest.mark.parametrize(
    "case", ["number of 5000 digits", "job unit is a list", "deeply nested arrays", "too many tails", "NUL in a text"]
)
@pytest.mark.parametrize("command", ["check", "draw"])
def test_no_traceback_from_a_real_process(case: str, command: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(BAD[case][0], encoding="utf-8")
    script = Path(sys.executable).with_name("dovelayout")
    start = [str(script)] if script.exists() else [sys.executable, "-c", "from dovelayout.cli.main import main; main()"]
    done = subprocess.run(
        [*start, command, str(path)], cwd=tmp_path, capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.startswith(f"dovelayout: {path}: {BAD[case][1]}")
    assert done.stderr.count("\n") == 1
    assert [entry.name for entry in tmp_path.iterdir()] == ["job.toml"]
