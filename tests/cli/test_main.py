"""The command itself, and as a process: help, slips, what is loaded, and words that a pipe can read."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from dovelayout import __version__
from dovelayout.cli.main import app
from tests.cli import contract
from tests.cli.calling import SAMPLES, process, run

COMMANDS = [command.name or "" for command in app.registered_commands]


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


def test_a_file_name_can_not_speak_to_the_terminal(shop: Path) -> None:
    assert run("new", "-o", "a\x1b[31m\nb.toml").exit_code == 0  # run() looks for the escape
    assert run("slope", "1:7", "--gauge", "a\x1b[31m\nb.svg").exit_code == 0
    assert run("draw", "stop.toml", "--anyway", "-o", "a\x1b[31m\nb").exit_code == 1


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
