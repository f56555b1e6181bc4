"""Every sample with each of its names a text that means harm: all commands still work, and on paper, on the screen and in
every file it stays a text."""

from __future__ import annotations

import csv
import io
import json
import re
import tomllib
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import ezdxf
import pikepdf
import pytest
import tomlkit
from typer.testing import CliRunner, Result

from dovelayout.cli.main import app
from tests.gallery import LIGHT
from tests.job.hostile_texts import HOSTILE

COMMANDS = (
    ("check",),
    ("draw", "--as", "pdf", "--as", "svg", "--as", "dxf", "-o", "out"),
    ("season", "-o", "out", "--as", "svg"),
    ("fit", "-o", "out", "--joints", "100"),
    ("glueup", "-o", "out", "--anyway"),
    ("suggest",),
)


def names_of(job: Mapping[str, Any]) -> list[str]:
    """All names that a job gives, in order."""
    rows = [row for table in job.values() if isinstance(table, list) for row in table if isinstance(row, dict)]
    return list(dict.fromkeys(row["name"] for row in rows if "name" in row))


def renamed(value: Any, names: Mapping[str, str]) -> Any:
    """A job with its names changed, wherever they stand."""
    if isinstance(value, dict):
        return {key: one if key == "kind" else renamed(one, names) for key, one in value.items()}
    if isinstance(value, list):
        return [renamed(one, names) for one in value]
    if isinstance(value, str):
        name, dot, end = value.rpartition(".")
        return f"{names[name]}{dot}{end}" if name in names else names.get(value, value)
    return value


def run(*args: str) -> Result:
    result = CliRunner().invoke(app, list(args))
    for said in (result.stdout, result.stderr):
        assert all(c == "\n" or c.isprintable() for c in said), said
        assert not re.search("[\u202a-\u202e\u2066-\u2069]", said), "text may be turned round"
    return result


def look(path: Path) -> None:
    """That there is nothing in a file but what is drawn and said."""
    data = path.read_bytes()
    if path.suffix == ".svg":
        tags = {element.tag.partition("}")[2] for element in ET.fromstring(data).iter()}
        assert tags <= {"svg", "title", "desc", "defs", "style", "path", "text"}
        keys = {key for element in ET.fromstring(data).iter() for key in element.attrib}
        assert not [key for key in keys if key.startswith("on") or "href" in key]
        assert not re.search(rb"url\(|@import|<!(?!\[CDATA\[@page)|<\?(?!xml )", data)
    elif path.suffix == ".pdf":
        with pikepdf.open(path) as pdf:
            assert set(pdf.Root.keys()) <= {"/Type", "/Pages", "/PageMode", "/Lang", "/ViewerPreferences"}
            for page in pdf.pages:
                assert set(page.keys()).isdisjoint({"/Annots", "/AA"})
    elif path.suffix == ".dxf":
        document = ezdxf.read(io.StringIO(data.decode("utf-8")))
        assert document.audit().errors == []
        assert {entity.dxftype() for entity in document.modelspace()} <= {"LINE", "LWPOLYLINE", "TEXT", "POLYLINE"}
    elif path.suffix == ".csv":
        for row in csv.reader(io.StringIO(data.decode("utf-8"), newline="")):
            assert not [cell for cell in row if cell.lstrip().startswith(("=", "+", "-", "@", "＝", "\t", "\r"))]
    else:
        raise AssertionError(path)


@pytest.mark.parametrize("turn", range(2))
@pytest.mark.parametrize("sample", LIGHT, ids=lambda path: path.stem)
def test_names_stay_names(sample: Path, turn: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    texts = [text for text in HOSTILE.values() if any(c.isprintable() and not c.isspace() for c in text)]
    job = tomllib.loads(sample.read_text(encoding="utf-8"))
    first = (turn * 17 + LIGHT.index(sample) * 3) % len(texts)
    wanted = [*texts[first:], *texts[:first]]
    job = renamed(job, dict(zip(names_of(job), wanted, strict=False)))
    job["title"] = wanted[-1]
    shop = tmp_path / "deep" / "shop"
    shop.mkdir(parents=True)
    monkeypatch.chdir(shop)
    (shop / "job.toml").write_text(tomlkit.dumps(job), encoding="utf-8")
    commands = [*COMMANDS, *([("drawers", "--cut-list", "out/cuts.csv")] if "drawer" in job else [])]
    for command, *options in commands:
        result = run(command, "job.toml", *options)
        no_season = command == "season" and "home" not in job and "[home] humidity" in result.stderr
        assert result.exit_code in (0, 1) or no_season, (command, result.output, result.exception)
        assert result.exception is None or isinstance(result.exception, SystemExit)
    json.loads(run("check", "job.toml", "--json").stdout)
    files = [path for path in tmp_path.rglob("*") if path.is_file() and path.name != "job.toml"]
    assert files
    for path in files:
        assert path.parent == shop / "out"
        assert path.name.isprintable()
        look(path)
