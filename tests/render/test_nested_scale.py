"""Every template at full size wherever it stands on a sheet, turned or not; tiles that join; whole banks of drawers.

What is measured is read back from the PDF; where a template stands is not asked of the package but looked for.
"""

from __future__ import annotations

import functools
import io
import itertools
import math
from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from dovelayout.drawing.book import Book, job_book
from dovelayout.drawing.lettering import box
from dovelayout.drawing.primitives import PENS, Lines, Role, Text
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.ends import CornerEnd
from dovelayout.job.reader import Job, read_job
from dovelayout.joints.board import Board, BoardEnd, End
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.slope import Slope
from dovelayout.joints.through import build_through
from dovelayout.paper import Paper, paper
from dovelayout.render.pdf import pdf_bytes
from dovelayout.wood.species import find_wood
from tests import readers
from tests.banks import bank
from tests.drawing.test_texts import _check, _check_frame
from tests.gallery import SAMPLES
from tests.jobs import loaded
from tests.readers import Stroke

Row = tuple[float, float, float, float]
Point = tuple[float, float]
NEAR_MM = 0.01
JOINED_MM = 0.02
SOLID_MM = PENS[Role.KNIFE].width_mm


def book(joints: Sequence[CornerJoint], on: Paper) -> Book:
    return job_book(joints, Style(job="scale"), on)


@functools.cache
def strokes(data: bytes) -> tuple[tuple[Stroke, ...], ...]:
    """What every page of a PDF draws."""
    with readers.opened(data) as pdf:
        count = len(pdf.pages)
    return tuple(tuple(readers.pdf_segments(data, number)) for number in range(count))


def solid(page: Iterable[Stroke]) -> list[Row]:
    return [stroke.ends for stroke in page if not stroke.dash_mm and abs(stroke.width_mm - SOLID_MM) < 0.02]


def turned(row: Row) -> Row:
    x1, y1, x2, y2 = row
    return (-y1, x1, -y2, x2)


class Grid:
    """Strokes by where they are, to ask whether one is there; either end first."""

    def __init__(self, rows: Iterable[Row]) -> None:
        self.cells: dict[tuple[int, int], list[Row]] = {}
        self.rows = list(rows)
        for row in self.rows:
            self.cells.setdefault(self._cell(row), []).append(row)

    @staticmethod
    def _cell(row: Row) -> tuple[int, int]:
        return (math.floor((row[0] + row[2]) / 2), math.floor((row[1] + row[3]) / 2))

    def has(self, row: Row, near_mm: float = NEAR_MM) -> bool:
        x, y = self._cell(row)
        other = (row[2], row[3], row[0], row[1])
        return any(
            max(abs(a - b) for a, b in zip(want, found, strict=True)) <= near_mm
            for i, j in itertools.product((x - 1, x, x + 1), (y - 1, y, y + 1))
            for found in self.cells.get((i, j), ())
            for want in (row, other)
        )


def standings(shape: Sequence[Row], grid: Grid) -> list[Point]:
    """Every place on a page where a shape stands whole: how far it was moved."""
    first = max(shape, key=lambda row: math.dist(row[:2], row[2:]))
    found: dict[Point, Point] = {}
    for row in grid.rows:
        for x1, y1, x2, y2 in (row, (row[2], row[3], row[0], row[1])):
            if math.hypot((x2 - x1) - (first[2] - first[0]), (y2 - y1) - (first[3] - first[1])) > NEAR_MM:
                continue
            dx, dy = x1 - first[0], y1 - first[1]
            if all(grid.has((a + dx, b + dy, c + dx, d + dy)) for a, b, c, d in shape):
                found[round(dx, 1), round(dy, 1)] = (dx, dy)  # a stroke drawn twice is one
    return list(found.values())


def knife(joint: CornerJoint, which: int) -> list[Row]:
    """The knife lines of a template as the joint has them, folded by hand: outside, end, inside side by side."""
    faces = joint.end_faces()[which]
    template = CornerEnd(joint=joint, faces=faces, style=Style(job="x")).template()
    return [s for lines in template.strokes if lines.role is Role.KNIFE for s in lines.segments]


def one_shape(rows: Sequence[Row]) -> tuple[Row, ...]:
    """The same whatever place it was drawn at and whichever end first, to compare templates by."""
    left, low = min(min(r[0], r[2]) for r in rows), min(min(r[1], r[3]) for r in rows)
    ends = [
        sorted(((round(a - left, 1), round(b - low, 1)), (round(c - left, 1), round(d - low, 1))))
        for a, b, c, d in rows
    ]
    return tuple(sorted((*one, *other) for one, other in ends))


@pytest.mark.parametrize("size", ["A4", "A3", "A4 or Letter", "roll 610 mm"])
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_template_stands_on_a_sheet_at_full_size(path: Path, size: str) -> None:
    job = read_job(path)
    drawn = book(job.joints, paper(size))
    pages = strokes(pdf_bytes(drawn, title="x"))
    grids = [Grid(solid(page)) for page in pages]
    words = [item.text for sheet in drawn for item in sheet.items if isinstance(item, Text)]
    wanted: Counter[tuple[Row, ...]] = Counter()
    shapes: dict[tuple[Row, ...], list[Row]] = {}
    for joint in job.joints:
        for which, faces in enumerate(joint.end_faces()):
            if any(
                word.startswith(f"Corner {joint.name}: {faces.part} on {faces.end.label}, tile 1") for word in words
            ):
                continue  # in tiles, below
            rows = knife(joint, which)
            wanted[one_shape(rows)] += 1
            shapes[one_shape(rows)] = rows
    for shape, number in wanted.items():
        rows = shapes[shape]
        found = sum(len(standings(way, grid)) for way in (rows, [turned(row) for row in rows]) for grid in grids)
        assert found == number, f"{number} templates of this shape, {found} found"
    assert sum(wanted.values()) == 2 * len(job.joints) or max(board.width_mm for board in job.boards) > 200


def test_the_search_would_notice_a_sheet_off_by_a_tenth_of_a_per_cent() -> None:
    rows = [(10.0, 20.0, 10.0, 120.0), (30.0, 20.0, 37.0, 70.0)]
    here = [(a + 7, b + 9, c + 7, d + 9) for a, b, c, d in rows]
    assert standings(rows, Grid(here)) == [(7.0, 9.0)]
    assert standings(rows, Grid([tuple(1.001 * v for v in row) for row in here])) == []  # type: ignore[misc]
    assert standings([turned(row) for row in rows], Grid([turned(row) for row in here])) == [(-9.0, 7.0)]
    mirrored = [(-a, b, -c, d) for a, b, c, d in here]
    assert standings(rows, Grid(mirrored)) == []


# --- tiles ---


def crosses(page: Iterable[Stroke]) -> list[Point]:
    """The middles of the crosses on match lines: slanting strokes of that pen, two by two."""
    dash = PENS[Role.MATCH].dash_mm
    slanting = [
        s for s in page if s.dash_mm == pytest.approx(dash, abs=0.01) and abs(s.x2 - s.x1) > 1 < abs(s.y2 - s.y1)
    ]
    middles = sorted({(round((s.x1 + s.x2) / 2, 4), round((s.y1 + s.y2) / 2, 4)) for s in slanting})
    assert 2 * len(middles) == len(slanting)
    return middles


def wide_joint(width_mm: float = 600.0) -> CornerJoint:
    """Boards 600 mm wide and thick; with full skirts the template is 158 mm across its folds, and two go on no sheet."""
    wood = find_wood("eastern white pine")
    side = Board(name="side", wood=wood, length_mm=900, width_mm=width_mm, thickness_mm=22)
    front = Board(name="front", wood=wood, length_mm=900, width_mm=width_mm, thickness_mm=24)
    return build_through(
        CornerSpec(
            name="A",
            tails=BoardEnd(board=side, end=End.RIGHT),
            pins=BoardEnd(board=front, end=End.LEFT),
            slope=Slope(7),
            tail_count=20,
            pin_mm=6.0,
            half_pin_mm=7.0,
        )
    )


def test_a_template_of_600_on_a4_is_three_tiles_that_join_at_their_crosses() -> None:
    joint = wide_joint()
    data = pdf_bytes(book([joint], paper("A4")), title="x")
    tiles = [page for page in strokes(data) if crosses(page)]
    assert len(tiles) == 6  # three for each of the two boards: two sheets could show 2 x 240 mm at most
    words = [readers.pdf_texts(data, number) for number in range(len(strokes(data)))]
    for part, name in ((0, "tails on side.right"), (1, "pins on front.left")):
        pages = []
        for tile in (1, 2, 3):
            (number,) = [n for n, text in enumerate(words) if f"{name}, tile {tile} of 3" in " ".join(text.split())]
            assert "2 seams: 0.3 mm off each at most, 0.6 mm in all" in " ".join(words[number].split())
            pages.append(strokes(data)[number])
        joined: list[Row] = []
        above: list[Point] = []
        up = 0.0
        over = 0.0
        for number, page in enumerate(pages):
            marks = crosses(page)
            if number:  # laid on the one below: the lower two crosses on its upper two
                low = sorted(marks, key=lambda point: point[1])[:2]
                over, up = above[0][0] - low[0][0], above[0][1] - low[0][1]
                assert math.dist(above[1], (low[1][0] + over, low[1][1] + up)) <= JOINED_MM
            joined.extend((a + over, b + up, c + over, d + up) for a, b, c, d in solid(page))
            above = [(x + over, y + up) for x, y in sorted(marks, key=lambda point: point[1])[-2:]]
        # the joined sheets hold the whole template: where every cheek's ends should be, something ends, to 0.02 mm
        wanted = knife(joint, part)
        first = [row for row in wanted if max(row[1], row[3]) < 150]
        dx, dy = min(standings(first, Grid(joined)), key=lambda move: move[1])  # the tails look alike further up
        points = Grid(r for row in joined for r in ((*row[:2], *row[:2]), (*row[2:], *row[2:])))
        for row in wanted:
            for x, y in (row[:2], row[2:]):
                assert points.has((x + dx, y + dy, x + dx, y + dy), JOINED_MM), f"no cheek ends at {x:.2f}, {y:.2f}"


# --- banks of drawers ---


@functools.cache
def bank_job() -> Job:
    return loaded(bank(60))


@pytest.mark.parametrize("size", ["A4", "A3", "Letter"])
def test_a_bank_of_sixty_takes_at_most_a_quarter_more_than_its_area(size: str) -> None:
    sheets = book(bank_job().joints, paper(size))
    assert sheets.least is not None
    assert len(bank_job().joints) == 240
    assert sheets.nested_sheets <= 1.25 * sheets.least.by_area
    assert sheets.nested_sheets <= 1.2 * sheets.least.by_any_nesting
    assert sheets.nested_sheets < 0.45 * 480


def test_the_bank_of_sixty_page_by_page() -> None:
    """No text on a line or on another, nothing off the part that printers reach, fonts embedded, two readers agree."""
    on = paper("A4")
    sheets = tuple(book(bank_job().joints, on))
    for sheet in sheets:
        _check(sheet, on.margin_mm)
        _check_frame(sheet)
    named = Counter(
        item.text
        for sheet in sheets
        for item in sheet.items
        if isinstance(item, Text)
        and item.text.startswith("Corner ")
        and (" tails on " in item.text or " pins on " in item.text)
    )
    assert set(named.values()) == {1}
    wanted = {
        f"Corner {joint.name}: {faces.part} on {faces.end.label}"
        for joint in bank_job().joints
        for faces in joint.end_faces()
    }
    assert {name.partition(", tile")[0] for name in named} == wanted
    data = pdf_bytes(sheets, title="bank")
    reads_in_two(data, len(sheets), on)


def reads_in_two(data: bytes, pages: int, on: Paper) -> None:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == pages
        assert pdf.check_pdf_syntax() == []
        for page in pdf.pages:
            for font in dict(page.obj.Resources.Font).values():
                assert font.FontDescriptor.FontFile2.read_bytes()
    document = pypdfium2.PdfDocument(data)
    try:
        assert len(document) == pages
        for number in range(pages):
            wide, high = document[number].get_size()
            assert (wide * readers.MM_PER_PT, high * readers.MM_PER_PT) == pytest.approx(
                (on.width_mm, on.height_mm), abs=0.01
            )
    finally:
        document.close()


@pytest.mark.parametrize(
    "size", ["A5", "A4", "A2", "Letter", "Legal", "A4 or Letter", "210 x 400 mm", "400 x 210 mm", "roll 24 in"]
)
def test_a_small_bank_on_every_kind_of_paper(size: str) -> None:
    joints = loaded(bank(4)).joints
    drawn = book(joints, paper(size))
    for sheet in drawn:
        _check(sheet, drawn.on.margin_mm)
        _check_frame(sheet)
    reads_in_two(pdf_bytes(drawn, title="x"), len(drawn), drawn.on)


def test_pages_of_pieces_come_in_the_order_of_work() -> None:
    names = [joint.name for joint in bank_job().joints]
    pages = [
        page.heading.what
        for page in book(bank_job().joints, paper("A4")).pages
        if page.heading.what.startswith("Corner")
    ]
    firsts = [min(names.index(name) for name in what.partition(" ")[2].split(", ")) for what in pages]
    assert firsts == sorted(firsts)
    # a corner's two templates are never far from each other
    where: dict[str, list[int]] = {}
    for number, what in enumerate(pages):
        for name in what.partition(" ")[2].split(", "):
            where.setdefault(name, []).append(number)
    assert max(max(numbers) - min(numbers) for numbers in where.values()) <= 32  # of 195 sheets


def test_the_overview_shows_every_piece_on_its_sheet() -> None:
    drawn = tuple(book(bank_job().joints, paper("A4")))
    shown: dict[int, list[str]] = {}
    for sheet in drawn:
        if not sheet.title.endswith("Which sheet holds what"):
            continue
        frames = [
            (min(a, c), min(b, d), max(a, c), max(b, d))
            for item in sheet.items
            if isinstance(item, Lines) and item.role is Role.MARK
            for (a, b, _, _), (_, _, c, d) in [(item.segments[0], item.segments[1])]
        ]
        texts = [item for item in sheet.items if isinstance(item, Text)]
        for frame in frames:
            (label,) = [
                t for t in texts if t.text.startswith("sheet ") and " of " not in t.text
                and abs(t.x_mm - frame[0]) < 0.1 and 0 < t.y_mm - frame[3] < 3
            ]  # fmt: skip
            inside = [
                t
                for t in texts
                if frame[0] < box(t)[0] and box(t)[2] < frame[2] and frame[1] < box(t)[1] and box(t)[3] < frame[3]
            ]
            shown[int(label.text.split()[1])] = [t.text for t in inside]
    holding = [n for n, sheet in enumerate(drawn, 1) if ": Corner" in sheet.title]
    assert sorted(shown) == holding
    for number, words in shown.items():
        names = {
            item.text.split()[1].rstrip(":")
            for item in drawn[number - 1].items
            if isinstance(item, Text) and item.text.startswith("Corner ") and ":" in item.text
        }
        assert names <= {word for text in words for word in text.split()}
