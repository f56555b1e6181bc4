"""The page's fields for what moves with the seasons, and for the glue-up."""

from __future__ import annotations

from dovelayout.casework.across import AcrossKind
from dovelayout.casework.panel import Glued
from dovelayout.page.field import Field

SEASON_FORMS: dict[str, tuple[Field, ...]] = {
    "home": (
        Field(key="humidity", label="Air at home %", kind="list", hint="[35, 65], or twelve months"),
        Field(key="temperature", label="Temperature", kind="text", hint='20 or "68 F"'),
    ),
    "across": (
        Field(key="name", label="Name", kind="text"),
        Field(
            key="kind",
            label="What it is",
            kind="choice",
            choices=tuple(AcrossKind),
            term="across",
        ),
        Field(key="part", label="The part", kind="board"),
        Field(key="host", label="On the board", kind="board"),
        Field(key="from", label="From the front edge"),
        Field(key="length", label="Length across"),
        Field(key="grain", label="Its grain", kind="choice", choices=("across", "along")),
        Field(key="glue", label="Glued from, to", kind="list", hint="[[0, 75]]"),
        Field(key="screws", label="Screws at", kind="list", hint="[25]"),
        Field(key="slots", label="Slots", kind="list", hint="[{ at = 300, play = 4 }]"),
        Field(key="meets", label="Meets", kind="choice", choices=("front", "rear", "both", "nothing"), group="more"),
        Field(key="rear_stop", label="Short of the rear by", group="more"),
        Field(key="tongue", label="Tongue", kind="choice", choices=("continuous", "tenons"), group="more"),
    ),
    "panel": (
        Field(key="name", label="Name", kind="text"),
        Field(key="board", label="Board", kind="board", term="panel"),
        Field(key="groove", label="Groove depth"),
        Field(key="play", label="Play over the width"),
        Field(key="clearance", label="Clearance in the groove"),
        Field(key="glued", label="Glued", kind="choice", choices=tuple(Glued)),
        Field(key="pieces", label="Glued up of", kind="count"),
        Field(key="frame", label="Held flat by the board", kind="board", group="more"),
    ),
    "captured": (
        Field(key="name", label="Name", kind="text"),
        Field(key="in", label="Held by the corners", kind="list", hint='["A", "B"], or a box'),
        Field(key="finish_first", label="Finished first", kind="flag"),
        Field(key="reach", label="Reached", kind="choice", choices=("open", "inside")),
        Field(key="left_long", label="Left long", kind="flag"),
        Field(key="faces", label="Faces to spread", kind="count"),
    ),
    "stage": (
        Field(key="name", label="Name", kind="text"),
        Field(key="joins", label="Joins", kind="list", hint='["A", "B"]'),
        Field(key="before", label="Before", kind="list"),
        Field(key="after", label="After", kind="list"),
    ),
    "glueup": (
        Field(key="seconds_a_face", label="Seconds a face", kind="number"),
        Field(key="seconds_a_corner", label="Seconds a corner", kind="number"),
        Field(key="seconds_a_clamp", label="Seconds a clamp", kind="number"),
        Field(key="open_minutes", label="Open time, minutes", kind="number"),
        Field(key="wood_temperature", label="Temperature of the wood", kind="text"),
    ),
    "rehearsal": (
        Field(key="marking", label="Marking misses by"),
        Field(key="sawing", label="Sawing misses by"),
        Field(key="transfer", label="Transfer misses by"),
        Field(key="placing", label="The template misses by"),
        Field(key="held_flush", label="Held flush", kind="flag"),
    ),
}
