"""Reading a DXF by its group codes alone, with nothing of the package and no DXF library.

Codes as the public DXF reference has them: 0 starts a thing, 2 names a section, 8 is a layer, 10/20 and 11/21 are points,
70 of an LWPOLYLINE holds 'closed' as bit 1, 1 is a text, 40 its height, 50 its turn.
"""

from __future__ import annotations

from dataclasses import dataclass, field

Pair = tuple[int, str]


@dataclass
class Drawing:
    """What a file holds, mm."""

    header: dict[str, list[Pair]] = field(default_factory=dict)
    layers: dict[str, list[Pair]] = field(default_factory=dict)
    linetypes: dict[str, list[float]] = field(default_factory=dict)
    lines: list[tuple[str, tuple[float, float, float, float]]] = field(default_factory=list)
    rings: list[tuple[str, tuple[tuple[float, float], ...]]] = field(default_factory=list)
    texts: list[tuple[str, str, float, float, tuple[float, float, float, float]]] = field(default_factory=list)
    """Layer, text, height, turn, and the two points that it is fitted between."""
    kinds: set[str] = field(default_factory=set)


def pairs(data: bytes) -> list[Pair]:
    """Group codes and values; fails where the file isn't a list of pairs."""
    rows = data.decode("utf-8").replace("\r\n", "\n").removesuffix("\n").split("\n")
    assert len(rows) % 2 == 0
    return [(int(code), value) for code, value in zip(rows[0::2], rows[1::2], strict=True)]


def things(rows: list[Pair]) -> list[list[Pair]]:
    """Runs that each begin with code 0."""
    found: list[list[Pair]] = []
    for row in rows:
        if row[0] == 0:
            found.append([])
        found[-1].append(row)
    return found


def sections(rows: list[Pair]) -> dict[str, list[Pair]]:
    """The rows between SECTION and ENDSEC, by the section's name."""
    assert rows[-1] == (0, "EOF")
    found: dict[str, list[Pair]] = {}
    name = ""
    for number, row in enumerate(rows):
        if row == (0, "SECTION"):
            name = rows[number + 1][1]
            found[name] = []
        elif row == (0, "ENDSEC"):
            name = ""
        elif name and rows[number - 1] != (0, "SECTION"):
            found[name].append(row)
    return found


def dxf_drawing(data: bytes) -> Drawing:
    """Reads a file: its header, its layers and line types, and every entity of its entities section."""
    parts = sections(pairs(data))
    drawing = Drawing()
    name = ""
    for code, value in parts["HEADER"]:
        if code == 9:
            name = value
            drawing.header[name] = []
        else:
            drawing.header[name].append((code, value))
    for thing in things(parts["TABLES"]):
        if thing[0] == (0, "LAYER"):
            drawing.layers[one(thing, 2)] = thing
        if thing[0] == (0, "LTYPE"):
            drawing.linetypes[one(thing, 2)] = [float(value) for code, value in thing if code == 49]
    for thing in things(parts["ENTITIES"]):
        kind, layer = thing[0][1], one(thing, 8)
        drawing.kinds.add(kind)
        if kind == "LINE":
            drawing.lines.append((layer, (at(thing, 10), at(thing, 20), at(thing, 11), at(thing, 21))))
        elif kind == "LWPOLYLINE":
            assert int(one(thing, 70)) & 1, "an open ring"
            assert not any(code == 42 and float(value) for code, value in thing), "a ring with a bulge"
            xs, ys = ([float(value) for code, value in thing if code == wanted] for wanted in (10, 20))
            drawing.rings.append((layer, tuple(zip(xs, ys, strict=True))))
        elif kind == "TEXT":
            turn = next((float(value) for code, value in thing if code == 50), 0.0)
            points = (at(thing, 10), at(thing, 20), at(thing, 11), at(thing, 21))
            drawing.texts.append((layer, one(thing, 1), at(thing, 40), turn, points))
    return drawing


def one(thing: list[Pair], code: int) -> str:
    """The one value of a code."""
    (value,) = [value for found, value in thing if found == code]
    return value


def at(thing: list[Pair], code: int) -> float:
    """A coordinate or a length."""
    return float(one(thing, code))
