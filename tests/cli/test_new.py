"""dovelayout new: starters that are clean, and nothing overwritten."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from tests.cli import contract
from tests.cli.calling import files_in, run, said_as_json


@pytest.mark.parametrize("kind", ["box", "corner", "drawer", "press", None])
def test_a_starter_job_is_clean(kind: str | None, shop: Path) -> None:
    result = run("new", *([kind] if kind else []), "-o", "first.toml")
    assert result.exit_code == 0
    assert "dovelayout check first.toml" in result.stdout
    verdict = said_as_json(contract.CHECK, "check", "first.toml")
    found = [finding["message"].split(":")[0] for finding in verdict["findings"]]
    assert found == (["it isn't said in what air it is fitted"] if kind == "press" else [])
    assert verdict["worst"] == ("note" if kind == "press" else "ok")
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
