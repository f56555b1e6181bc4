"""Sentences kept as data: every one is used, every one that is asked for is there, and its fields are filled in."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

import dovelayout.drawing
from dovelayout.drawing.prose import data_at, sentence, sentences
from dovelayout.drawing.sheets.frame import Legend

ROOM = Path(dovelayout.drawing.__file__).parent
SOURCE = "\n".join(path.read_text(encoding="utf-8") for path in ROOM.rglob("*.py"))
ASKED = set(re.findall(r"(?:sentences?|data_at)\(\s*f?\"([^\"]+)\"", SOURCE)) | set(
    re.findall(r"\"((?:bench|calibration|caul|patch|sheets|slide|template)\.[\w.]+)\"", SOURCE)
)
"""The keys in the source; those made with a field match by a pattern."""


def _keys() -> Iterator[str]:
    for path in (ROOM / "data").glob("*.toml"):
        yield from _below(path.stem, tomllib.loads(path.read_text(encoding="utf-8")))


def _below(start: str, table: dict[str, Any]) -> Iterator[str]:
    for name, value in table.items():
        if isinstance(value, dict):
            yield from _below(f"{start}.{name}", value)
        else:
            yield f"{start}.{name}"


def _pattern(asked: str) -> str:
    """A key of the source as a pattern: '{...}' in it stands for any word."""
    return r"\w+".join(re.escape(part) for part in re.split(r"\{[^}]*\}?", asked))


@pytest.mark.parametrize("key", sorted(key for key in _keys() if not key.startswith("pens.")))
def test_every_sentence_is_used(key: str) -> None:
    assert any(re.fullmatch(_pattern(asked), key) for asked in ASKED), f"nothing asks for {key}"


@pytest.mark.parametrize("key", sorted(key for key in ASKED if "{" not in key))
def test_every_key_in_the_source_is_there(key: str) -> None:
    assert data_at(key)


@pytest.mark.parametrize("legend", Legend)
def test_every_legend_has_words(legend: Legend) -> None:
    assert bool(legend.words) is (legend is not Legend.NONE)


def test_fields_are_filled_in_and_a_missing_one_is_an_error() -> None:
    assert sentence("patch.run_out", length=14.25) == "it runs out at the edge 14.2 mm from the end; arrows: the grain"
    assert "Groove" in sentence("bench.drawer.sides")
    assert len(sentences("bench.cautions")) == 3
    with pytest.raises(KeyError):
        sentence("patch.run_out")
    with pytest.raises(KeyError):
        sentence("patch.no_such_sentence")


def test_braces_in_a_value_are_kept_as_they_are() -> None:
    assert sentence("slide.side", side="left", host="{0} {host}") == "left is towards the end of {0} {host}"
