"""Every command as a maker calls it: exit codes, JSON, files, and words that a pipe can read."""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
import tomllib
import xml.etree.ElementTree as ET
from pathlib import Path
from typing import Any

import pypdf
import pytest
from jsonschema import Draft202012Validator
from typer.testing import CliRunner, Result

from dovelayout import __version__
from dovelayout.cli.main import app
from tests.cli import contract

ROOT = Path(__file__).parents[2]
SAMPLES = sorted((ROOT / "samples").glob("*.toml"))
COMMANDS = [command.name or "" for command in app.registered_commands]
RANK = ["ok", "note", "warn", "stop"]

STOP = """
title = "Glider box"
[[board]]
name = "side"
species = "balsa"
length = 300
width = 100
thickness = 12
[[board]]
name = "end"
species = "balsa"
length = 200
width = 100
thickness = 12
[[corner]]
name = "A"
tails = "side.left"
pins = "end.right"
slope = "1:4"
"""


def run(*args: str | Path) -> Result:
    """The command in this process; anything but an exit is a failure of ours."""
    result = CliRunner().invoke(app, [str(arg) for arg in args])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    for said in (result.stdout, result.stderr):
        assert "\x1b" not in said
        assert "Traceback" not in said
    return result


def said_as_json(schema: contract.Schema, *args: str | Path, exit_code: int = 0) -> Any:
    """What a command says with --json: it keeps the contract, and stdout holds nothing else."""
    result = run(*args, "--json")
    assert result.exit_code == exit_code, result.stderr

    def refuse(word: str) -> None:
        raise AssertionError(f"{word} is no JSON")

    value = json.loads(result.stdout, parse_constant=refuse)
    assert contract.broken(value, schema) == []
    return value


def files_in(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, with a job that stops."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "stop.toml").write_text(STOP, encoding="utf-8")
    return tmp_path


# --- the command itself ---


def test_version() -> None:
    result = run("--version")
    assert (result.exit_code, result.stdout) == (0, f"dovelayout {__version__}\n")


@pytest.mark.parametrize("flag", ["-h", "--help"])
@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help(command: str, flag: str) -> None:
    result = run(*([command] if command else []), flag)
    assert result.exit_code == 0
    assert result.stdout.startswith("Usage: ")
    assert result.stderr == ""
    if not command:
        assert all(name in result.stdout for name in COMMANDS)


@pytest.mark.parametrize(
    "args",
    [
        ["frobnicate"],
        ["check"],
        ["draw"],
        ["slope"],
        ["check", "job.toml", "--jsn"],
        ["draw", "job.toml", "--as", "gif"],
        ["new", "boat"],
        ["check", "one.toml", "two.toml"],
    ],
    ids=" ".join,
)
def test_a_slip_in_the_command_is_exit_2(args: list[str], shop: Path) -> None:
    result = run(*args)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert "Error: " in result.stderr
    assert [path.name for path in shop.iterdir()] == ["stop.toml"]


def test_the_schemas_are_schemas() -> None:
    for schema in (
        contract.CHECK,
        contract.DRAW,
        contract.LEAN,
        contract.SPECIES,
        contract.CALIBRATE,
        contract.DRAWERS,
        contract.OPENINGS,
    ):
        Draft202012Validator.check_schema(schema)
        assert contract.broken({}, schema)


# --- new ---


@pytest.mark.parametrize("kind", ["box", "corner", "drawer", "press", None])
def test_a_starter_job_is_clean(kind: str | None, shop: Path) -> None:
    result = run("new", *([kind] if kind else []), "-o", "first.toml")
    assert result.exit_code == 0
    assert "dovelayout check first.toml" in result.stdout
    verdict = said_as_json(contract.CHECK, "check", "first.toml")
    assert verdict["worst"] == "ok"
    assert len(verdict["corners"]) == {"corner": 1, "drawer": 16}.get(kind or "", 4)
    assert run("draw", "first.toml", "-o", "out").exit_code == 0


@pytest.mark.parametrize("kind", ["box", "corner", "drawer", "press"])
def test_every_key_that_a_starter_offers_in_a_comment_is_known(kind: str, shop: Path) -> None:
    run("new", kind, "-o", "first.toml")
    lines = Path("first.toml").read_text(encoding="utf-8").splitlines()
    offered = [line for line in lines if line.startswith("# ") and " = " in line]
    assert len(offered) >= 5
    text = "\n".join(line.removeprefix("# ") if line in offered else line for line in lines)
    tomllib.loads(text)
    Path("all.toml").write_text(text, encoding="utf-8")
    said_as_json(contract.CHECK, "check", "all.toml")


def test_new_makes_the_folder_it_needs(shop: Path) -> None:
    assert run("new", "-o", "a/b/first.toml").exit_code == 0
    assert (shop / "a" / "b" / "first.toml").is_file()


@pytest.mark.parametrize("name", ["stop.toml", ".", "link.toml", "stop.toml/first.toml", "n" * 300, ""])
def test_new_overwrites_nothing(name: str, shop: Path) -> None:
    (shop / "link.toml").symlink_to("nowhere.toml")
    before = files_in(shop)
    result = run("new", "-o", name)
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr.startswith("dovelayout: ")
    assert result.stderr.count("\n") == 1
    assert files_in(shop) == before
    assert (shop / "link.toml").is_symlink()


def test_a_file_name_can_not_speak_to_the_terminal(shop: Path) -> None:
    assert run("new", "-o", "a\x1b[31m\nb.toml").exit_code == 0  # run() looks for the escape
    assert run("slope", "1:7", "--gauge", "a\x1b[31m\nb.svg").exit_code == 0
    assert run("draw", "stop.toml", "--anyway", "-o", "a\x1b[31m\nb").exit_code == 1


# --- check ---


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


# --- draw ---


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
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


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
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
    for sample in SAMPLES:
        run("draw", sample, "-o", sample.stem, "--anyway")
        for path in (shop / sample.stem).glob("*.pdf"):
            assert all("AGAINST A STOP" not in page.extract_text() for page in pypdf.PdfReader(path).pages)


def test_a_folder_that_is_a_file(shop: Path) -> None:
    result = run("draw", SAMPLES[0], "-o", "stop.toml")
    assert result.exit_code == 2
    assert result.stderr.startswith("dovelayout: stop.toml")
    assert result.stderr.count("\n") == 1
    assert files_in(shop) == {"stop.toml": STOP.encode()}


# --- slope ---


@pytest.mark.parametrize(
    ("args", "worst"),
    [
        (["1:7"], "ok"),
        (["8 deg"], "ok"),
        (["1:7", "--species", "cherry"], "ok"),
        (["1:4", "--species", "cherry"], "warn"),
        (["1:4", "--species", "balsa"], "stop"),
        (["1:7", "--species", "cherry", "--runout", "1:10"], "warn"),
        (["1:7", "--species", "cherry", "--runout", "1:4"], "stop"),
        (["1:2"], "stop"),
        (["1:15", "--species", "cherry"], "warn"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else value,
)
def test_slope(args: list[str], worst: str) -> None:
    exit_code = 1 if worst == "stop" else 0
    lean = said_as_json(contract.LEAN, "slope", *args, exit_code=exit_code)
    assert lean["worst"] == worst
    result = run("slope", *args)
    assert (result.exit_code, result.stderr) == (exit_code, "")
    assert f"{worst.upper()}  " in result.stdout or worst in ("ok", "stop")
    assert "Verdict: " in result.stdout


def test_slope_in_numbers() -> None:
    lean = said_as_json(contract.LEAN, "slope", "1:8", "--thickness", "3/4 in")
    assert lean["slope"] == {"ratio": 8.0, "degrees": 7.13}
    assert lean["thickness_mm"] == 19.05
    assert lean["flare_mm"] == pytest.approx(19.05 / 8, abs=1e-4)
    assert lean["species"] is None


@pytest.mark.parametrize(
    ("args", "fragment"),
    [
        (["7"], "1:7"),
        (["80 deg"], "too steep"),
        (["0:7"], "0:7"),
        ([""], "not a slope"),
        (["1:7", "--species", "chery"], "black cherry"),
        (["1:7", "--species", "soft maple"], "could be"),
        (["1:7", "--thickness", "nan"], "not a length"),
        (["1:7", "--thickness", "400"], "0.5 to 300 mm"),
        (["1:7", "--thickness", "3/4"], "3/4 in"),
        (["1:7", "--runout", "wild"], "not a slope"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else "",
)
def test_slope_refuses_in_one_line(args: list[str], fragment: str) -> None:
    for more in ([], ["--json"]):
        result = run("slope", *args, *more)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.startswith("dovelayout: ")
        assert result.stderr.count("\n") == 1
        assert fragment in result.stderr


@pytest.mark.parametrize("name", ["gauge.svg", "gauge.pdf", "GAUGE.PDF", "deep/gauge.svg"])
def test_a_gauge_is_written(name: str, shop: Path) -> None:
    lean = said_as_json(contract.LEAN, "slope", "1:7", "--gauge", name)
    assert lean["gauge"] == name
    path = shop / name
    if path.suffix.lower() == ".pdf":
        (page,) = pypdf.PdfReader(path).pages
        assert "1:7" in page.extract_text()
    else:
        assert "1:7" in "".join(ET.parse(path).getroot().itertext())
    before = path.read_bytes()
    assert f"wrote {name}" in run("slope", "1:7", "--gauge", name).stdout
    assert path.read_bytes() == before


@pytest.mark.parametrize("name", ["gauge.txt", "gauge", ".", ".svg", "stop.toml/gauge.svg"])
def test_a_gauge_of_another_kind_is_refused(name: str, shop: Path) -> None:
    result = run("slope", "1:7", "--gauge", name)
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith(f"dovelayout: {name}: ")
    assert [path.name for path in shop.iterdir()] == ["stop.toml"]


# --- species ---


def test_species_lists_all_woods() -> None:
    woods = said_as_json(contract.SPECIES, "species")["woods"]
    assert len(woods) > 50
    result = run("species")
    assert result.exit_code == 0
    flat = " ".join(result.stdout.split())
    assert all(wood["name"] in flat for wood in woods if len(wood["name"]) < 20)


@pytest.mark.parametrize("name", ["cherry", "Black Cherry", "cherry, black", "Prunus serotina"])
def test_species_of_one_wood(name: str) -> None:
    (wood,) = said_as_json(contract.SPECIES, "species", name)["woods"]
    assert wood["name"] == "black cherry"
    assert run("species", name).stdout.startswith("black cherry")


@pytest.mark.parametrize(
    ("name", "fragment"),
    [("chery", "close names: black cherry"), ("soft maple", "could be: red maple"), ("zzz", "no wood"), ("", "a wood")],
)
def test_species_not_known_or_not_one(name: str, fragment: str) -> None:
    for more in ([], ["--json"]):
        result = run("species", name, *more)
        assert (result.exit_code, result.stdout) == (2, "")
        assert result.stderr.startswith("dovelayout: ")
        assert result.stderr.count("\n") == 1
        assert fragment in result.stderr


# --- the process ---


def process(*args: str, **options: Any) -> subprocess.CompletedProcess[bytes]:
    """The command in a process of its own."""
    code = "from dovelayout.cli.main import main; main()"
    return subprocess.run([sys.executable, "-c", code, *args], capture_output=True, timeout=60, check=False, **options)


def test_help_loads_no_heavy_rooms() -> None:
    code = """
import sys
from dovelayout.cli.main import app
try:
    app(["check", "--help"])
except SystemExit as done:
    assert not done.code
heavy = {"shapely", "reportlab", "svgwrite", "numpy", "fontTools", "dovelayout.joints"} & set(sys.modules)
print("loaded:", *sorted(heavy))
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False)
    assert done.stderr == ""
    assert done.stdout.splitlines()[-1].strip() == "loaded:"


@pytest.mark.parametrize("command", ["check", "slope", "species"])
def test_checking_loads_no_renderer(command: str) -> None:
    args = {"check": ["check", str(SAMPLES[0])], "slope": ["slope", "1:7"], "species": ["species"]}[command]
    code = f"""
import sys
from dovelayout.cli.main import app
try:
    app({args!r})
except SystemExit as done:
    assert not done.code
print("loaded:", *sorted({{"reportlab", "svgwrite", "fontTools"}} & set(sys.modules)))
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False)
    assert done.stdout.splitlines()[-1].strip() == "loaded:", done.stderr


@pytest.mark.parametrize("encoding", ["utf-8", "ascii", "cp1252", "latin-1"])
def test_a_terminal_of_few_letters_gets_what_it_can_show(encoding: str) -> None:
    environment = {**os.environ, "PYTHONIOENCODING": encoding}
    done = process("check", str(SAMPLES[0]), env=environment)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"\x1b" not in done.stdout
    assert b"Verdict: " in done.stdout
    as_json = process("check", str(SAMPLES[0]), "--json", env=environment)
    assert contract.broken(json.loads(as_json.stdout.decode(encoding)), contract.CHECK) == []


def test_colour_is_for_terminals_only(shop: Path) -> None:
    environment = {**os.environ, "TERM": "xterm-256color"}
    for name in ("FORCE_COLOR", "PY_COLORS", "CLICOLOR_FORCE"):
        environment.pop(name, None)
    done = process("check", "stop.toml", cwd=shop, env=environment)
    assert done.returncode == 1
    assert b"\x1b" not in done.stdout + done.stderr


def test_a_reader_that_goes_away_is_no_fault() -> None:
    code = "from dovelayout.cli.main import main; main()"
    with subprocess.Popen(
        [sys.executable, "-c", code, "species"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as running:
        assert running.stdout is not None
        assert running.stderr is not None
        running.stdout.close()
        assert b"Traceback" not in running.stderr.read()


def test_a_job_in_inches_is_told_its_findings_in_inches_too(tmp_path: Path) -> None:
    board = 'species = "eastern white pine"\nlength = 12\nwidth = 6\nthickness = "3/4"\n'
    job = tmp_path / "job.toml"
    job.write_text(
        f'units = "in"\n[[board]]\nname = "a"\n{board}[[board]]\nname = "b"\n{board}'
        '[[corner]]\nname = "A"\ntails = "a.left"\npins = "b.right"\ntail_count = 5\npin = "1/32"\nhalf_pin = "1/4"\n'
    )
    said = " ".join(CliRunner().invoke(app, ["check", str(job)]).stdout.split())
    assert "the 0.79 mm (≈ 1/32 in) between the tails" in said
    machine = json.loads(CliRunner().invoke(app, ["check", str(job), "--json"]).stdout)
    assert not any("(≈ 1/32 in)" in finding["message"] for finding in machine["corners"][0]["findings"])


# --- paper and nesting ---


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
    assert f"{nested['nested_sheets']} sheets of pieces; by their area and gaps alone {least['by_area']} would do" in said


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
