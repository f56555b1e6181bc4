"""Every number on the printed bench sheet is the one that `check --json` gives."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from dovelayout.cli.main import app
from dovelayout.units import Unit, format_inches, format_mm
from tests import readers
from tests.gallery import draw

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))


def _said(value_mm: float, unit: Unit, decimals: int = 1) -> str:
    text = format_inches(value_mm) if unit is Unit.IN else format_mm(value_mm, decimals=decimals)
    return text.rpartition(" ")[0]


def _bench_text(path: Path) -> str:
    """The words of the bench sheets alone, as a reader copies them."""
    with readers.opened(path) as document:
        pages = len(document.pages)
    texts = [" ".join(readers.pdf_texts(path, page).split()) for page in range(pages)]
    return " ".join(text for text in texts if "Bench sheet: read this first" in text)


def _holds(text: str, *figures: str) -> bool:
    """Whether these figures stand on the sheet, one right after the other's words."""
    return (
        re.search(r"(?<![\d.])" + r"\D{0,60}?".join(re.escape(figure) for figure in figures) + r"(?![\d.])", text)
        is not None
    )


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_number_is_that_of_the_check(path: Path, tmp_path: Path) -> None:
    draw(path, tmp_path, "--as", "pdf", "--no-pictures")
    (pdf,) = tmp_path.glob("*.pdf")
    text = _bench_text(pdf)
    result = CliRunner().invoke(app, ["check", str(path), "--json"])
    verdict: dict[str, Any] = json.loads(result.stdout)
    unit = Unit.IN if 'units = "in"' in path.read_text(encoding="utf-8") else Unit.MM

    def there(*values: str) -> None:
        assert _holds(text, *values), f"{values} are not on the sheet"

    for part in verdict["parts"]:
        if verdict["drawers"] and any(part["name"] in drawer["parts"] for drawer in verdict["drawers"]):
            continue
        there(f"{part['count']} ×")
    for part in verdict["parts"]:
        for key in ("length_mm", "width_mm", "thickness_mm"):
            there(_said(part[key], unit))
    for corner in verdict["corners"]:
        for key in ("tails_mm", "pins_mm"):
            there(_said(corner["gauge"][key], unit, 2))
        for tail in corner["tails"]:
            first, last = (_said(tail[key], unit).removeprefix("≈ ") for key in ("start_mm", "end_mm"))
            there(f"{first} to {last}")
        there(_said(min(tail["neck_end_mm"] - tail["neck_start_mm"] for tail in corner["tails"]), unit))
        full = [pin for pin in corner["pins"] if not pin["half"]]
        if full:
            least = min(full, key=lambda pin: round(pin["end_mm"] - pin["start_mm"], 4))
            there(_said(round(least["end_mm"] - least["start_mm"], 4), unit))
        if corner["slope"] is not None:
            there(f"1:{corner['slope']['ratio']:.2f}".rstrip("0").rstrip("."))
        if "lap_mm" in corner:
            there(_said(corner["lap_mm"], unit))
        for row in corner["chisels"]:
            room = _said(row["room_mm"], unit)
            there(*([room] if row["chisel_mm"] is None else [_said(row["chisel_mm"], unit), f"room {room}"]))
    for drawer in verdict["drawers"]:
        for key, value in drawer["opening"].items():
            assert _holds(text, _said(value, unit)), key
        there(f"{drawer['clearances']['side_mm']:.2f}".rstrip("0").rstrip("."))
    for divider in verdict["dividers"]:
        for housing in divider["housings"]:
            for row in housing["setting_out"]:
                there(_said(row["value_mm"], unit))
    for finding in verdict["findings"] + [one for corner in verdict["corners"] for one in corner["findings"]]:
        start = finding["message"].partition(",")[0]
        assert start[:30] in text
