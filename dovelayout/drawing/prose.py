"""The sentences on sheets, from the files in `drawing/data`, which are read when the first sentence is needed."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any


def sentence(key: str, /, **values: object) -> str:
    """The sentence at 'file.key' or 'file.table.key', its {fields} filled in.

    Raises KeyError for a key that isn't there or a field without a value.
    """
    return str(data_at(key)).format(**values)


def sentences(key: str, /, **values: object) -> tuple[str, ...]:
    """The list of sentences at 'file.key', their {fields} filled in. Raises KeyError like `sentence`."""
    return tuple(str(one).format(**values) for one in data_at(key))


@cache
def data_at(key: str) -> Any:
    """What stands at 'file.key', as TOML gives it. Raises KeyError for a key that isn't there."""
    file, *names = key.split(".")
    found: Any = _file(file)
    for name in names:
        found = found[name]
    return found


@cache
def _file(name: str) -> dict[str, Any]:
    return tomllib.loads((files("dovelayout.drawing") / "data" / f"{name}.toml").read_text(encoding="utf-8"))
