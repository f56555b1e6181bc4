"""Everything the README shows is run, and what it says in figures is true."""

from __future__ import annotations

import doctest
import re
import shlex
import shutil
import tomllib
from pathlib import Path

import pytest
from typer.testing import CliRunner

import dovelayout
from dovelayout.cli.main import app
from dovelayout.job.reader import load_job
from dovelayout.wood.species import all_woods

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def _blocks(kind: str) -> list[str]:
    return re.findall(rf"```{kind}\n(.*?)```", README, flags=re.DOTALL)


def _commands() -> list[list[str]]:
    """Arguments of every dovelayout call in a shell block, in their order."""
    lines = [line for block in _blocks("sh") for line in block.splitlines()]
    calls = [part.strip() for line in lines for part in line.split("&&")]
    return [shlex.split(call, comments=True)[1:] for call in calls if call.startswith(".venv/bin/dovelayout")]


def test_every_command_of_the_readme_runs_one_after_the_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(ROOT / "samples", tmp_path / "samples")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("DOVELAYOUT_CONFIG", str(tmp_path / "config"))
    commands = _commands()
    assert len(commands) >= 6
    shown: list[str] = []
    monkeypatch.setattr("dovelayout.page.server.serve", lambda folder, **_: shown.append(folder.opened))
    for arguments in commands:
        result = CliRunner().invoke(app, arguments)
        assert result.exit_code == 0, (arguments, result.output)
    assert (tmp_path / "templates_out" / "sewing-chest" / "sewing-chest.pdf").is_file()
    assert (tmp_path / "gauge.pdf").is_file()
    assert shown == ["sewing-chest.toml"]


def test_every_python_example_of_the_readme_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(ROOT / "samples", tmp_path / "samples")
    monkeypatch.chdir(tmp_path)
    known: dict[str, object] = {}  # examples go on where the one before ended
    for number, code in enumerate(_blocks("python"), 1):
        exec(compile(code, f"README.md, Python example {number}", "exec"), known)


def test_every_example_of_the_package_does_what_it_says() -> None:
    done = doctest.testmod(dovelayout, raise_on_error=False, report=True)
    assert done.attempted > 20
    assert done.failed == 0


def test_every_job_of_the_readme_loads() -> None:
    jobs = _blocks("toml")
    assert jobs
    for text in jobs:
        assert load_job(tomllib.loads(text), source="README.md").joints


def test_pictures_and_files_named_are_there() -> None:
    for target in re.findall(r"\]\(([^)]+)\)", README):
        assert (ROOT / target).is_file(), target


def test_the_number_of_woods_is_true() -> None:
    (said,) = set(re.findall(r"(\d+) woods", README))
    assert int(said) == len(all_woods())


def test_keys_named_in_running_text_are_keys_of_a_job() -> None:
    from dovelayout.job.tables.schema import BoardTable, CornerTable, JobTable

    known = {*CornerTable.model_fields, *BoardTable.model_fields, *JobTable.model_fields}
    named = set(re.findall(r"`(\w+) = ", README)) | set(re.findall(r"`\[+(\w+)\]+`", README))
    assert named
    assert named <= known
