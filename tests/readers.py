"""Reading drawings back, with nothing of the package: what a file holds, in mm, y upwards."""

from __future__ import annotations

import io
import itertools
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

import pikepdf
import pypdfium2

MM_PER_PT = 25.4 / 72.0
SVG_NS = "{http://www.w3.org/2000/svg}"

Matrix = tuple[float, float, float, float, float, float]
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


class Stroke(NamedTuple):
    """One straight stroke and the pen that drew it, mm."""

    x1: float
    y1: float
    x2: float
    y2: float
    width_mm: float
    dash_mm: tuple[float, ...] = ()

    @property
    def ends(self) -> tuple[float, float, float, float]:
        """The two ends alone."""
        return self[:4]


class Place(NamedTuple):
    """Where a text starts on its base line, its size, and how far it is turned to the left."""

    x: float
    y: float
    size_mm: float
    degrees: float


@dataclass
class Page:
    """What a content stream draws."""

    strokes: list[Stroke]
    places: list[Place]
    fills: int = 0
    images: int = 0


def times(first: Sequence[float], then: Sequence[float]) -> Matrix:
    """The matrix that applies `first`, then `then` (ISO 32000-1, 8.3.4)."""
    a, b, c, d, e, f = first
    g, h, i, j, k, m = then
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def at(matrix: Sequence[float], x: float, y: float) -> tuple[float, float]:
    """A point through a matrix."""
    a, b, c, d, e, f = matrix
    return (a * x + c * y + e, b * x + d * y + f)


def opened(source: Path | str | bytes) -> pikepdf.Pdf:
    """A PDF from a file or from memory."""
    return pikepdf.open(io.BytesIO(source) if isinstance(source, bytes) else source)


def pdf_page(source: Path | str | bytes, page: int = 0) -> Page:
    """Everything that one page draws, through its transformations and the forms that it calls."""
    found = Page([], [])
    with opened(source) as pdf:
        _run(pdf.pages[page].obj, found, IDENTITY)
    return found


def pdf_segments(source: Path | str | bytes, page: int = 0) -> list[Stroke]:
    """The strokes of one page."""
    return pdf_page(source, page).strokes


def _run(holder: Any, found: Page, ctm: Matrix) -> None:
    """Runs the content of a page or of a form."""
    state: dict[str, Any] = {"ctm": ctm, "width": 1.0, "dash": (), "size": 0.0}
    saved: list[dict[str, Any]] = []
    points: list[tuple[tuple[float, float], tuple[float, float]]] = []
    start = now = (0.0, 0.0)
    text: Matrix = IDENTITY
    line: Matrix = IDENTITY
    leading = 0.0
    for operands, operator in pikepdf.parse_content_stream(holder):
        op = str(operator)
        if op in ("q", "Q", "cm", "w", "d", "gs"):
            _graphics(op, operands, state, saved, holder)
        elif op == "m":
            start = now = at(state["ctm"], *map(float, operands))
        elif op == "l":
            here = at(state["ctm"], *map(float, operands))
            points.append((now, here))
            now = here
        elif op in ("c", "v", "y"):
            raise AssertionError("a curve, where only straight strokes are drawn")
        elif op == "h":
            points.append((now, start))
            now = start
        elif op == "re":
            x, y, w, h = map(float, operands)
            corners = [at(state["ctm"], *c) for c in ((x, y), (x + w, y), (x + w, y + h), (x, y + h))]
            points.extend(itertools.pairwise([*corners, corners[0]]))
        elif op in ("S", "s"):
            if op == "s" and now != start:
                points.append((now, start))
            found.strokes.extend(_stroke(a, b, state) for a, b in points)
            points = []
        elif op in ("f", "F", "f*", "B", "B*", "b", "b*", "sh"):
            found.fills += 1
            points = []
        elif op == "n":
            points = []
        elif op == "BT":
            text = line = IDENTITY
        elif op == "Tf":
            state["size"] = float(operands[1])
        elif op == "TL":
            leading = float(operands[0])
        elif op == "Tm":
            text = line = tuple(map(float, operands))
        elif op in ("Td", "TD"):
            text = line = times((1, 0, 0, 1, *map(float, operands)), line)
        elif op == "T*":
            text = line = times((1, 0, 0, 1, 0.0, -leading), line)
        elif op in ("Tj", "TJ"):
            found.places.append(_place(text, state))
        elif op == "Do":
            _call(holder, str(operands[0]), found, state["ctm"])
        elif op in ("BI", "INLINE IMAGE"):
            found.images += 1
    assert not saved, "unbalanced q and Q"


def _graphics(op: str, operands: Any, state: dict[str, Any], saved: list[dict[str, Any]], holder: Any) -> None:
    if op == "q":
        saved.append(dict(state))
    elif op == "Q":
        state.update(saved.pop())
    elif op == "cm":
        state["ctm"] = times(tuple(map(float, operands)), state["ctm"])
    elif op == "w":
        state["width"] = float(operands[0])
    elif op == "d":
        state["dash"] = tuple(map(float, operands[0]))
    else:
        settings = holder.Resources.ExtGState[str(operands[0])]
        if "/LW" in settings:
            state["width"] = float(settings.LW)


def _stroke(a: tuple[float, float], b: tuple[float, float], state: dict[str, Any]) -> Stroke:
    scale = math.sqrt(abs(state["ctm"][0] * state["ctm"][3] - state["ctm"][1] * state["ctm"][2])) * MM_PER_PT
    ends = (a[0] * MM_PER_PT, a[1] * MM_PER_PT, b[0] * MM_PER_PT, b[1] * MM_PER_PT)
    return Stroke(*ends, state["width"] * scale, tuple(dash * scale for dash in state["dash"]))


def _place(text: Matrix, state: dict[str, Any]) -> Place:
    a, b, c, d, e, f = times(text, state["ctm"])
    size = state["size"] * math.hypot(c, d) * MM_PER_PT
    return Place(e * MM_PER_PT, f * MM_PER_PT, size, math.degrees(math.atan2(b, a)))


def _call(holder: Any, name: str, found: Page, ctm: Matrix) -> None:
    form = holder.Resources.XObject[name]
    if form.Subtype == "/Image":
        found.images += 1
        return
    own = tuple(float(value) for value in form.get("/Matrix", IDENTITY))
    _run(form, found, times(own, ctm))


def pdf_texts(source: Path | str | bytes, page: int = 0) -> str:
    """The text of one page, as a reader would copy it."""
    document = pypdfium2.PdfDocument(source)
    try:
        sheet = document[page]
        words = sheet.get_textpage()
        # pdfium marks a hyphen that ends a line by U+FFFE
        return words.get_text_bounded().replace("\ufffe", "-").replace("\x02", "-")
    finally:
        document.close()


@dataclass
class Svg:
    """A drawing in SVG: its size in mm, its strokes by class, its texts."""

    width_mm: float
    height_mm: float
    strokes: dict[str, list[Stroke]]
    texts: list[tuple[str, Place, str]]
    """Text, where it is anchored, and by which point."""
    root: ET.Element


_MOVES = re.compile(r"([MmLlHhVvZz])([^MmLlHhVvZz]*)")
_TURN = re.compile(r"rotate\((-?[\d.]+)[ ,]+(-?[\d.]+)[ ,]+(-?[\d.]+)\)")


def svg_drawing(text: str) -> Svg:
    """Reads an SVG of one user unit to the mm; fails where it isn't."""
    root = ET.fromstring(text)
    assert root.tag == f"{SVG_NS}svg"
    width, height = (_mm(root.attrib[key]) for key in ("width", "height"))
    view = [float(value) for value in re.split(r"[ ,]+", root.attrib["viewBox"].strip())]
    assert view == [0.0, 0.0, width, height], f"viewBox {view} of a drawing of {width} x {height} mm"
    strokes: dict[str, list[Stroke]] = {}
    texts: list[tuple[str, Place, str]] = []
    for element in root.iter():
        name = element.tag.removeprefix(SVG_NS)
        if name == "path":
            assert "transform" not in element.attrib
            pen = float(element.attrib["stroke-width"])
            dash = tuple(float(d) for d in re.split(r"[ ,]+", element.get("stroke-dasharray", "")) if d)
            strokes.setdefault(element.attrib["class"], []).extend(
                Stroke(x1, height - y1, x2, height - y2, pen, dash) for x1, y1, x2, y2 in _path(element.attrib["d"])
            )
        elif name == "text":
            texts.append(_svg_text(element, height))
        elif name in ("line", "polyline", "polygon", "rect", "circle", "ellipse", "use", "image", "g"):
            raise AssertionError(f"<{name}> is not read here")
    return Svg(width, height, strokes, texts, root)


def svg_segments(text: str) -> list[Stroke]:
    """All strokes of an SVG."""
    return [stroke for strokes in svg_drawing(text).strokes.values() for stroke in strokes]


def _mm(value: str) -> float:
    assert value.endswith("mm"), f"{value!r} is not in mm"
    return float(value.removesuffix("mm"))


def _path(d: str) -> Iterator[tuple[float, float, float, float]]:
    """The straight strokes of path data."""
    assert re.fullmatch(r"[MmLlHhVvZz\d\s.,+-]*", d), "path data with curves or other letters"
    x = y = start_x = start_y = 0.0
    for letter, rest in _MOVES.findall(d):
        numbers = [float(n) for n in re.findall(r"[+-]?(?:\d+\.?\d*|\.\d+)", rest)]
        if letter in "Zz":
            yield x, y, start_x, start_y
            x, y = start_x, start_y
            continue
        per = 1 if letter in "HhVv" else 2
        assert numbers, f"{letter} without numbers"
        assert len(numbers) % per == 0
        for step in range(0, len(numbers), per):
            from_x, from_y = (x, y) if letter.islower() else (0.0, 0.0)
            to_x, to_y = x, y
            if letter in "Hh":
                to_x = from_x + numbers[step]
            elif letter in "Vv":
                to_y = from_y + numbers[step]
            else:
                to_x, to_y = from_x + numbers[step], from_y + numbers[step + 1]
            if letter in "Mm" and step == 0:
                start_x, start_y = to_x, to_y
            else:
                yield x, y, to_x, to_y
            x, y = to_x, to_y


def _svg_text(element: ET.Element, height_mm: float) -> tuple[str, Place, str]:
    x, y = float(element.attrib["x"]), float(element.attrib["y"])
    degrees = 0.0
    if "transform" in element.attrib:
        turn = _TURN.fullmatch(element.attrib["transform"])
        assert turn, element.attrib["transform"]
        assert (float(turn[2]), float(turn[3])) == (x, y), "turned about another point than its own"
        degrees = -float(turn[1])
    place = Place(x, height_mm - y, float(element.attrib["font-size"]), degrees)
    return (element.text or "", place, element.get("text-anchor", "start"))


class Match(NamedTuple):
    """Two bags of places compared."""

    worst_mm: float
    missing: list[tuple[float, ...]]
    extra: list[tuple[float, ...]]


def matched(wanted: Iterable[Sequence[float]], found: Iterable[Sequence[float]], tolerance: float = 0.01) -> Match:
    """Pairs each wanted row of coordinates with one found within the tolerance, in any order; tells what is left."""
    cell = 8 * tolerance
    bag: dict[tuple[int, ...], list[tuple[float, ...]]] = {}
    for row in found:
        bag.setdefault(tuple(math.floor(value / cell) for value in row), []).append(tuple(row))
    worst, missing = 0.0, []
    for row in wanted:
        cells = ({math.floor((value - tolerance) / cell), math.floor((value + tolerance) / cell)} for value in row)
        near = [
            (max((abs(a - b) for a, b in zip(row, other, strict=True)), default=0.0), key, other)
            for key in itertools.product(*cells)
            for other in bag.get(key, ())
        ]
        error, key, other = min(near, default=(math.inf, (), ()))
        if error > tolerance:
            missing.append(tuple(row))
            continue
        bag[key].remove(other)
        worst = max(worst, error)
    return Match(worst, missing, [row for rows in bag.values() for row in rows])
