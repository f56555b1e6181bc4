"""How the tests call a command, and the jobs they call it with."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from typer.testing import CliRunner, Result

from dovelayout.cli.main import app
from tests.cli import contract

ROOT = Path(__file__).parents[2]

SAMPLES = sorted((ROOT / "samples").glob("*.toml"))

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


def run(*args: str | Path, typed: str = "") -> Result:
    """The command in this process, with what is typed into it; anything but an exit is a failure of ours."""
    result = CliRunner().invoke(app, [str(arg) for arg in args], input=typed)
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
    """What stands below a folder, by its name from there."""
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def process(*args: str, **options: Any) -> subprocess.CompletedProcess[bytes]:
    """The command in a process of its own."""
    code = "from dovelayout.cli.main import main; main()"
    return subprocess.run([sys.executable, "-c", code, *args], capture_output=True, timeout=60, check=False, **options)
