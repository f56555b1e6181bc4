"""dovelayout suggest: the best layout written into the job, and exit codes where none passes."""

from __future__ import annotations

import json
from pathlib import Path

from dovelayout.job.reader import read_job
from tests.cli.calling import run


def test_write_keeps_comments_and_order_and_the_job_passes_afterwards(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    text = """# my chest
units = "mm"
[[board]]
name = "side"   # the nice one
species = "cherry"
length = 300
width = 150
thickness = 16
[[board]]
name = "top"
species = "cherry"
length = 300
width = 150
thickness = 16

[[corner]]
name = "A"
tails = "side.left"
pins = "top.right"   # last
"""
    job.write_text(text)
    result = run("suggest", job, "--write", "--json")
    assert result.exit_code == 0
    best = json.loads(result.stdout)["layouts"][0]
    written = job.read_text()
    for line in text.splitlines():
        assert line in written
    joint = read_job(job).joints[0]
    assert len(joint.tails) == best["tail_count"]
    assert not joint.proposed
    again = run("suggest", job)
    assert again.exit_code == 0
    assert "has its counts already" in again.stdout


def test_none_passes_exits_1_and_an_unknown_corner_2(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    board = 'species = "balsa"\nlength = 300\nwidth = 100\nthickness = 10\n'
    job.write_text(
        f'[[board]]\nname = "a"\n{board}[[board]]\nname = "b"\n{board}'
        '[[corner]]\nname = "A"\ntails = "a.left"\npins = "b.right"\n'
    )
    result = run("suggest", job, "--json")
    assert result.exit_code == 1
    assert json.loads(result.stdout)["none_for"][0]["not_met"]
    assert run("suggest", job, "--only", "Z").exit_code == 2
