"""A job in which much is wrong, under plain names and under names that look like the words of a message."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

import tomlkit

PLAIN = {
    "one": "Xqaxq",
    "two": "Xqbxq",
    "three": "Xqcxq",
    "A": "Xqdxq",
    "B": "Xqexq",
    "shelf": "Xqfxq",
    "runner": "Xqgxq",
    "panel": "Xqhxq",
    "drawer": "Xqixq",
}
"""Names that are found in no sentence of ours."""

ODD = {
    "one": "side, left",
    "two": "side",
    "three": "front; oak",
    "A": "corner A",
    "B": "pin 2",
    "shelf": "both ends",
    "runner": "left end",
    "panel": "groove; 8 mm",
    "drawer": "sides",
}
"""Names that hold commas and semicolons, that begin as others do, and that are words of places themselves."""


def job(names: Mapping[str, str]) -> dict[str, Any]:
    """Two corners, a divider, a runner, a panel and a drawer, each with faults of its own."""
    board = {"species": "eastern white pine", "length": 400, "width": 180, "thickness": 18}
    hole = {"from_end": 22, "from_edge": 4, "length": 30, "width": 120}
    groove = {"from_edge": 9, "width": 6, "depth": 8}
    corner = {"slope": "1:4", "tail_count": 5, "pin": 1, "half_pin": 2, "groove": groove}
    one, two, three = (names[name] for name in ("one", "two", "three"))
    return {
        "title": "Odd",
        "shop": {"humidity": [20, 80], "glue": "pva", "fit": 0.1, "chisels": [12], "knife": 1.2},
        "board": [
            {"name": one, **board, "out_of_square": 3, "cutout": [hole]},
            {"name": two, **board, "out_of_square": 3, "moisture": 25},
            {"name": three, **board, "species": "white oak", "width": 174, "thickness": 9},
        ],
        "corner": [
            {"name": names["A"], "tails": f"{one}.left", "pins": f"{three}.right", **corner},
            {
                "name": names["B"],
                "tails": f"{two}.right",
                "pins": f"{three}.left",
                **corner,
                "joint": "half_blind",
                "lap": 2,
            },
        ],
        "divider": [
            {"name": names["shelf"], "host": [f"{one}.left", f"{two}.right"], "key": three, "at": 4, "depth": 12}
        ],
        "across": [{"name": names["runner"], "kind": "runner", "part": three, "host": two, "screws": [20, 160]}],
        "panel": [{"name": names["panel"], "board": three, "groove": 4, "play": 0.2, "frame": one}],
        "drawer": [
            {"name": names["drawer"], "species": "beech", "width": 400, "height": 160, "depth": 420, "side_gap": 0.1}
        ],
    }


def text(names: Mapping[str, str]) -> str:
    """The job as a file."""
    return tomlkit.dumps(job(names))


def renamed(answer: Any) -> Any:
    """An answer about the plainly named job with the odd names in the place of the plain ones."""
    said = json.dumps(answer)
    for name, plain in PLAIN.items():
        said = said.replace(plain, json.dumps(ODD[name])[1:-1])
    return json.loads(said)
