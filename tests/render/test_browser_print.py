"""A template printed from a browser: people open the SVG and press print. Needs Chromium."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest

from tests import readers
from tests.gallery import GALLERY, SAMPLES
from tests.readers import Stroke

BROWSER = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), ""
)
NEEDED = os.environ.get("DOVELAYOUT_NEEDS_BROWSER") == "1"
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--disable-default-apps",
    "--disable-extensions",
    "--metrics-recording-only",
    "--mute-audio",
    "--no-pdf-header-footer",
)
BAR_MM = 150.0
BAR_TOLERANCE_MM = 0.1  # a standalone SVG is snapped to whole CSS pixels, 0.05 %
PAGE_TOLERANCE_MM = 0.3

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def browser() -> str:
    """The browser; where there is none, the reason to skip, unless one is asked for."""
    if not BROWSER:
        reason = "no chromium, chromium-browser or google-chrome on PATH"
        assert not NEEDED, f"{reason}, and DOVELAYOUT_NEEDS_BROWSER=1 asks for one"
        pytest.skip(reason)
    return BROWSER


def printed(browser: str, svg: Path, folder: Path) -> Path:
    """The PDF that the browser's print command makes of a file."""
    out = folder / "printed.pdf"
    subprocess.run(
        [browser, *FLAGS, f"--user-data-dir={folder / 'profile'}", f"--print-to-pdf={out}", svg.as_uri()],
        check=True,
        capture_output=True,
        timeout=120,
    )
    return out


def upright(stroke: Stroke, axis: int) -> Stroke:
    """The stroke from its lower or left end on."""
    return stroke if stroke[axis] <= stroke[axis + 2] else Stroke(*stroke[2:4], *stroke[:2], *stroke[4:])


def end_ticks(strokes: list[Stroke], axis: int) -> list[float]:
    """Where the ticks at the ends of a bar stand along it: strokes square to it, 7.5 mm long, 5 mm of that above."""
    (bar,) = {
        upright(stroke, axis)
        for stroke in strokes
        if abs(stroke[axis] - stroke[axis + 2]) == pytest.approx(BAR_MM, abs=1.0)
        and stroke[1 - axis] == pytest.approx(stroke[3 - axis], abs=0.01)
        and any(
            tick[axis] == pytest.approx(min(stroke[axis], stroke[axis + 2]), abs=0.1) and _is_tick(tick, axis)
            for tick in strokes
        )
    }
    return [
        tick[axis]
        for end in (bar[axis], bar[axis + 2])
        for tick in [min((s for s in strokes if _is_tick(s, axis)), key=lambda s: abs(s[axis] - end))]
    ]


def _is_tick(stroke: Stroke, axis: int) -> bool:
    return stroke[axis] == pytest.approx(stroke[axis + 2], abs=0.01) and abs(
        stroke[1 - axis] - stroke[3 - axis]
    ) == pytest.approx(7.5, abs=0.05)


@pytest.mark.parametrize("job", [pytest.param(job, id=job.stem) for job in SAMPLES])
def test_a_template_comes_out_of_a_browser_full_size(browser: str, job: Path, tmp_path: Path) -> None:
    svg = min((GALLERY / job.stem).glob("*-pins.svg"))
    drawing = readers.svg_drawing(svg.read_text(encoding="utf-8"))
    pdf = printed(browser, svg, tmp_path)
    with readers.opened(pdf) as document:
        (page,) = document.pages
        left, bottom, right, top = (float(side) * readers.MM_PER_PT for side in page.mediabox)
    assert right - left == pytest.approx(drawing.width_mm, abs=PAGE_TOLERANCE_MM)
    assert top - bottom == pytest.approx(drawing.height_mm, abs=PAGE_TOLERANCE_MM)
    strokes = readers.pdf_segments(pdf)
    # dashes come out as small filled shapes; every solid stroke must be there
    solid = [stroke.ends for group in drawing.strokes.values() for stroke in group if not stroke.dash_mm]
    match = readers.matched(solid, (stroke.ends for stroke in strokes), tolerance=PAGE_TOLERANCE_MM)
    assert len(solid) > 50
    assert match.missing == []
    for axis in (0, 1):
        first, last = end_ticks(strokes, axis)
        assert last - first == pytest.approx(BAR_MM, abs=BAR_TOLERANCE_MM)
