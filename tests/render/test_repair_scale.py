"""A repair's sheets are full size: what is read back from the PDF and the SVG by readers that aren't ours."""

from __future__ import annotations

import math
import shlex
from pathlib import Path

import pytest
from typer.testing import CliRunner

from dovelayout.cli.main import app
from dovelayout.drawing.primitives import PENS, Role
from tests import readers

CHIP = "--width-of-break 8 --length-of-break 14"
CORNER = f"repair corner --thickness 19 {CHIP} --species cherry --board-width 300 --grain-angle 70"
CHEST = Path(__file__).parents[2] / "samples" / "sewing-chest.toml"
BOTH = f"repair corner --part both --width-of-break '14 and 9' --length-of-break 30 --job '{CHEST}' --corner A"
SLIVER = "repair gap --width 1.0 --length 12 --depth 18 --place cheek"
TOLERANCE_MM = 0.01

# The plane of the corner's cut, worked out here from its definition: (sin 70, -cos 70) square to the rings, leaning 1 in 5,
# 1 mm from the worst corner (8, 0, 0) of the chip.
A, B = math.sin(math.radians(70)), -math.cos(math.radians(70))
S = A / 5
C = 8 * A + math.sqrt(1 + S * S)
X_OUT, X_IN = C / A, (C - 19 * B) / A
Y_OUT, Y_IN = C / S, (C - 19 * B) / S
SEAMS = (
    math.hypot(X_OUT, Y_OUT),
    math.hypot(X_IN, Y_IN),
    math.hypot(X_IN - X_OUT, 19),
    math.hypot(Y_IN - Y_OUT, 19),
)


def drawn(command: str, path: Path) -> Path:
    result = CliRunner().invoke(app, [*shlex.split(command), "-o", str(path)])
    assert result.exit_code == 0, result.output
    return path


def pen_strokes(path: Path, role: Role, page: int = 0) -> list[readers.Stroke]:
    """Strokes of one pen, from a page of a file of either kind."""
    if path.suffix == ".svg":
        return readers.svg_drawing(path.read_text(encoding="utf-8")).strokes.get(role.value, [])
    pen = PENS[role]
    return [
        stroke
        for stroke in readers.pdf_segments(path, page)
        if stroke.width_mm == pytest.approx(pen.width_mm, abs=1e-4)
        and stroke.dash_mm == pytest.approx(pen.dash_mm, abs=1e-3)
    ]


def long(stroke: readers.Stroke) -> float:
    return math.dist(stroke[:2], stroke[2:4])


@pytest.mark.parametrize("suffix", [".pdf", ".svg"])
def test_the_corners_seams_measure_as_the_plane_says(tmp_path: Path, suffix: str) -> None:
    path = drawn(CORNER, tmp_path / f"patch{suffix}")
    found = [long(stroke) for stroke in pen_strokes(path, Role.KNIFE)]
    for wanted in SEAMS:
        assert min(abs(one - wanted) for one in found) < TOLERANCE_MM
    # its lean on the end: the stroke of that length lies at 70 degrees to the fold
    (end,) = (s for s in pen_strokes(path, Role.KNIFE) if abs(long(s) - SEAMS[2]) < TOLERANCE_MM)
    assert math.degrees(math.atan2(abs(end.y2 - end.y1), abs(end.x2 - end.x1))) == pytest.approx(70.0, abs=0.05)


@pytest.mark.parametrize("suffix", [".pdf", ".svg"])
def test_the_folds_are_a_thickness_apart(tmp_path: Path, suffix: str) -> None:
    path = drawn(CORNER, tmp_path / f"patch{suffix}")
    upright = sorted(s.x1 for s in pen_strokes(path, Role.FOLD) if abs(s.x1 - s.x2) < 1e-3)
    assert upright[1] - upright[0] == pytest.approx(19.0, abs=TOLERANCE_MM)


@pytest.mark.parametrize("suffix", [".pdf", ".svg"])
def test_both_halves_of_a_corner_measure_and_the_joints_lines_cross_each_paper(tmp_path: Path, suffix: str) -> None:
    # side 16 mm, front 19 mm; rings square, so each plane is x + y/5 = c, 1 mm from the worst corner (14 or 9, 0)
    path = drawn(BOTH, tmp_path / f"both{suffix}")
    knife, dots = (_all_strokes(path, role) for role in (Role.KNIFE, Role.SAW))
    for wide_mm, thick_mm in ((14, 16), (9, 19)):
        reach_mm = wide_mm + math.sqrt(1.04)
        for wanted, least in ((math.hypot(reach_mm, 5 * reach_mm), 2), (thick_mm, 2)):  # on both faces; end and edge
            assert sum(abs(long(one) - wanted) < TOLERANCE_MM for one in knife) >= least, wanted
    # a tail's cheek on both faces of the side: 1 : 7 along the front's 19 mm and 0.4 mm proud
    cheek = math.hypot(19.4, 19.4 / 7)
    assert sum(abs(long(one) - cheek) < TOLERANCE_MM for one in dots) >= 2
    # a pin's cheek on both faces of the front: as deep as the side's 16 mm and 0.2 mm proud
    assert sum(abs(long(one) - 16.2) < TOLERANCE_MM for one in dots) >= 2


def _all_strokes(path: Path, role: Role) -> list[readers.Stroke]:
    """Strokes of one pen on all pages."""
    if path.suffix == ".svg":
        return pen_strokes(path, role)
    with readers.opened(path) as pdf:
        pages = len(pdf.pages)
    return [stroke for page in range(pages) for stroke in pen_strokes(path, role, page)]


@pytest.mark.parametrize("suffix", [".pdf", ".svg"])
@pytest.mark.parametrize("command", [CORNER, SLIVER])
def test_both_bars_measure_150_mm(tmp_path: Path, suffix: str, command: str) -> None:
    path = drawn(command, tmp_path / f"repair{suffix}")
    bars = pen_strokes(path, Role.BAR)
    for axis in (0, 1):
        longest = max(abs(stroke[axis + 2] - stroke[axis]) for stroke in bars)
        assert longest == pytest.approx(150.0, abs=TOLERANCE_MM)


@pytest.mark.parametrize("suffix", [".pdf", ".svg"])
def test_a_slivers_taper_measures_three_tenths_in_eighteen(tmp_path: Path, suffix: str) -> None:
    path = drawn(SLIVER, tmp_path / f"sliver{suffix}")
    level = sorted(long(s) for s in pen_strokes(path, Role.KNIFE) if abs(s.y1 - s.y2) < 1e-3)
    assert level[:2] == pytest.approx([0.7, 1.25], abs=TOLERANCE_MM)  # tip and head, 33 mm apart
    assert level[2:] == pytest.approx([14.0, 14.0], abs=TOLERANCE_MM)


@pytest.mark.parametrize("paper", ["A4", "A3", "Letter"])
def test_nothing_is_off_the_page_and_print_scaling_is_none(tmp_path: Path, paper: str) -> None:
    path = drawn(f"{CORNER} --paper {paper}", tmp_path / "patch.pdf")
    with readers.opened(path) as pdf:
        assert pdf.Root.ViewerPreferences.PrintScaling == "/None"
        pages = [[float(side) / 72 * 25.4 for side in page.mediabox] for page in pdf.pages]
    for number, (_, _, wide, high) in enumerate(pages):
        for x1, y1, x2, y2, *_ in readers.pdf_segments(path, number):
            assert min(x1, x2, y1, y2) > 0
            assert max(x1, x2) < wide
            assert max(y1, y2) < high
        assert "ACTUAL SIZE" in readers.pdf_texts(str(path), number)


def test_the_same_repair_gives_the_same_bytes(tmp_path: Path) -> None:
    for suffix in (".pdf", ".svg"):
        first, again = (drawn(CORNER, tmp_path / f"{name}{suffix}").read_bytes() for name in ("one", "two"))
        assert first == again


PIECES = {
    # wedge: 0.4 thick, 1/60 of 18 and 15 mm more at the head, 33 high, 18 long
    "repair loose joint --gap 0.4 --depth 18 --length 16": (0.4, 0.95, 18, 33, math.hypot(33, 0.275)),
    # shim: as wide as the cheek of 1:7 over 7 mm
    "repair loose housing --gap 0.5 --depth 7 --length 100 --slope 1:7": (0.5, math.hypot(7, 1), 100),
    # strip: 20 mm at least, 6 thick, 100 long
    "repair panel split --crack 1.5 --overhang 6 --length 100 --thickness 6": (20, 6, 100),
    # pin of 6 and 10 mm in 20: root and slants, the blank 42 long and 10.1 wide
    "repair broken pin --narrow 6 --wide 10 --length 16 --thickness 20": (6, 10, 16, math.hypot(20, 2), 42, 10.1, 5.9),
    # patch: 11 wide, a point of 90 degrees, 2 mm over the line, let in 4 and sawn 4.5
    "repair broken baseline --socket 11 --below 1.5 --into 3 --thickness 16": (11, 11 / math.sqrt(2), 4.5, 10),
}


@pytest.mark.parametrize("command", PIECES)
def test_what_is_let_in_is_full_size_in_the_pdf_and_the_svg(command: str, tmp_path: Path) -> None:
    svg = readers.svg_drawing(drawn(command, tmp_path / "x.svg").read_text(encoding="utf-8")).strokes["knife"]
    pen = PENS[Role.KNIFE].width_mm
    pdf = [row for row in readers.pdf_segments(drawn(command, tmp_path / "x.pdf")) if abs(row.width_mm - pen) < 0.005]
    for rows in (svg, pdf):
        found = [math.dist(row[:2], row[2:4]) for row in rows]
        for wanted in PIECES[command]:
            assert min(abs(wanted - length) for length in found) < TOLERANCE_MM, (wanted, sorted(found))
