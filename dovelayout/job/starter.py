"""Commented starter jobs for `dovelayout new`: `data/starter`, with the choices of a key filled in."""

from __future__ import annotations

from enum import StrEnum
from importlib.resources import files
from string import Template


class Start(StrEnum):
    """What there is a starter job for."""

    CORNER = "corner"
    BOX = "box"
    PRESS = "press"
    DRAWER = "drawer"


_TITLES = {
    Start.BOX: "A box",
    Start.CORNER: "One corner",
    Start.DRAWER: "Drawers",
    Start.PRESS: "A press that moves with the seasons",
}
_PARTS = {Start.DRAWER: ("drawer",)}
"""Files that a starter job is made of, where they are others than the head, its own, and the layout of a corner."""


def starter(kind: Start) -> str:
    """The text of a starter job."""
    parts = _PARTS.get(kind, ("head", kind, "layout"))
    return filled("".join(map(part_text, parts)), title=_TITLES[kind])


def filled(text: str, **values: str) -> str:
    """A text of `data/starter` with its $names filled in: `values`, and what a key may be: $board_rings."""
    from dovelayout.job.described import described  # the tables, which the command line's options can do without

    template = Template(text)
    for name in template.get_identifiers():
        if name not in values:
            table, _, key = name.partition("_")
            values[name] = " | ".join(described("" if table == "job" else table, key).choices)
    return template.substitute(values)


def part_text(name: str) -> str:
    """A file of `data/starter`."""
    return (files("dovelayout.job") / "data" / "starter" / f"{name}.toml").read_text(encoding="utf-8")
