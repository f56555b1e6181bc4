"""dovelayout slope: its verdict in numbers and words, and the gauge."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from pathlib import Path

import pypdf
import pytest

from tests.cli import contract
from tests.cli.calling import run, said_as_json


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
