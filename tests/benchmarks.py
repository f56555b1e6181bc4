"""What it costs: `python -m tests.benchmarks` from the root of the repository. Ratios of things timed in one run.

Against bare typer (the same help style), against importing the libraries of a job, and against plain reportlab
(defaults, a call a stroke) and matplotlib drawing the very same strokes and texts of a bank. Two kinds of bank: drawers
of a measured table, from the job's tables to the PDF with all checks, templates shared as a job shares them; and boxes of
which each has templates of its own, the worst there is. Not a test: a machine that does other work gives other figures.
Seconds are the processor's, which move less than the clock's; modules are compiled before the clock, as installing does.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

MM = 72.0 / 25.4
ROUNDS = 7
MATPLOTLIB_PAGES = 12

ONE_CORNER = """
title = "One corner"
board = [
  { name = "side", species = "black cherry", length = 300, width = 120, thickness = 12 },
  { name = "front", species = "black cherry", length = 300, width = 120, thickness = 16 },
]
corner = [{ name = "A", tails = "side.left", pins = "front.right", slope = "1:7" }]
"""
OURS = "from dovelayout.cli.main import main; main()"
BARE_TYPER = (
    "import typer; app = typer.Typer(rich_markup_mode=None, pretty_exceptions_enable=False)\n"
    "for name in 'new check draw slope suggest species'.split():\n"
    "    app.command(name, help='One of the commands.')(lambda: None)\n"
    "app()"
)
LIBRARIES = "import typer, rich.console, pydantic, tomllib, shapely, numpy, fontTools.ttLib, reportlab.pdfgen.canvas"


def cold(*commands: list[str]) -> list[float]:
    """Median processor seconds of whole processes, in turn so that a busy spell falls on all."""
    taken: list[list[float]] = [[] for _ in commands]
    with tempfile.TemporaryDirectory() as compiled:
        # where writing bytecode is switched off our modules would be compiled each time, and the libraries' not
        keeps = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
        for _ in range(ROUNDS + 1):
            for row, command in zip(taken, commands, strict=True):
                start = _of_children()
                subprocess.run(
                    [sys.executable, "-c", *command],
                    check=True,
                    capture_output=True,
                    env={**keeps, "PYTHONPYCACHEPREFIX": compiled},
                )
                row.append(_of_children() - start)
    return [statistics.median(row[1:]) for row in taken]


def _of_children() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def starting() -> dict[str, float]:
    """The help and a job of one corner."""
    with tempfile.TemporaryDirectory() as folder:
        job = Path(folder) / "one.toml"
        job.write_text(ONE_CORNER, encoding="utf-8")
        helps, bare, one, libraries = cold(
            [OURS, "--help"], [BARE_TYPER, "--help"], [OURS, "draw", str(job), "-o", folder, "--as", "pdf"], [LIBRARIES]
        )
    return {"help / bare typer": helps / bare, "one corner / its libraries": one / libraries, "one corner, s": one}


def plainly(sheets: Iterable[Any], draw_page: Callable[[Any], None]) -> float:
    """Seconds that a plain writer takes over the sheets, without those that drawing them up takes."""
    seconds = 0.0
    for sheet in sheets:
        start = time.process_time()
        draw_page(sheet)
        seconds += time.process_time() - start
    return seconds


def by_reportlab(sheets: Any, size: tuple[float, float]) -> float:
    """Plain reportlab: its defaults, one call a stroke, one call a text."""
    from reportlab import rl_config
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.pdfgen.canvas import Canvas

    from dovelayout.drawing.lettering import font_path
    from dovelayout.drawing.primitives import PENS, Anchor, Lines

    rl_config.useA85 = 1
    if "Plain" not in pdfmetrics.getRegisteredFontNames():
        pdfmetrics.registerFont(TTFont("Plain", str(font_path())))
    canvas = Canvas(io.BytesIO(), pagesize=(size[0] * MM, size[1] * MM), pageCompression=1)

    def page(sheet: Any) -> None:
        for item in sheet.items:
            if isinstance(item, Lines):
                pen = PENS[item.role]
                canvas.setLineWidth(pen.width_mm * MM)
                canvas.setDash([dash * MM for dash in pen.dash_mm])
                for x1, y1, x2, y2 in item.segments:
                    canvas.line(x1 * MM, y1 * MM, x2 * MM, y2 * MM)
                continue
            canvas.setFont("Plain", item.size_mm * MM)
            draw = {
                Anchor.START: canvas.drawString,
                Anchor.MIDDLE: canvas.drawCentredString,
                Anchor.END: canvas.drawRightString,
            }[item.anchor]
            if item.upwards:
                canvas.saveState()
                canvas.translate(item.x_mm * MM, item.y_mm * MM)
                canvas.rotate(90)
                draw(0, 0, item.text)
                canvas.restoreState()
            else:
                draw(item.x_mm * MM, item.y_mm * MM, item.text)
        canvas.showPage()

    seconds = plainly(sheets, page)
    start = time.process_time()
    canvas.save()
    return seconds + time.process_time() - start


def by_matplotlib(sheets: Iterable[Any], size: tuple[float, float]) -> float | None:
    """matplotlib's PDF pages, a line collection a role; None where it isn't installed."""
    try:
        import matplotlib
    except ImportError:
        return None
    matplotlib.use("pdf")
    from matplotlib.backends.backend_pdf import PdfPages
    from matplotlib.collections import LineCollection
    from matplotlib.figure import Figure

    from dovelayout.drawing.primitives import PENS, Lines

    out = io.BytesIO()
    pages = PdfPages(out)

    def page(sheet: Any) -> None:
        figure = Figure(figsize=(size[0] / 25.4, size[1] / 25.4))
        axes = figure.add_axes((0, 0, 1, 1), xlim=(0, size[0]), ylim=(0, size[1]))
        axes.axis("off")
        for item in sheet.items:
            if isinstance(item, Lines):
                rows = [((a, b), (c, d)) for a, b, c, d in item.segments]
                axes.add_collection(LineCollection(rows, linewidths=PENS[item.role].width_mm * MM, colors="black"))
            else:
                turn = 90 if item.upwards else 0
                axes.text(item.x_mm, item.y_mm, item.text, fontsize=item.size_mm * MM, rotation=turn)
        pages.savefig(figure)

    seconds = plainly(sheets, page)
    pages.close()
    return seconds


def drawers_to_pdf(drawers: int, *, compare: bool) -> dict[str, Any]:
    """A bank of drawers, its jobs read, checked, drawn and written; and, where it is wanted, against plain reportlab."""
    from dovelayout.job.reader import load_job
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.report.files import book_of
    from dovelayout.verdict.verdict import judged
    from tests.banks import drawer_jobs

    def made(job: Any) -> tuple[Any, bytes]:
        book = book_of(judged(load_job(job, source="bank")), pictures=False)
        return book, pdf_bytes(book, title=job["title"])

    jobs = drawer_jobs(drawers)
    made(drawer_jobs(1)[0])  # what a first job loads is loaded before the clock
    start = time.process_time()
    books, files = zip(*map(made, jobs), strict=True)
    found: dict[str, Any] = {
        "seconds": time.process_time() - start,
        "peak_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
        "sheets": sum(map(len, books)),
        "bytes": sum(map(len, files)),
    }
    if compare:
        found["reportlab"] = sum(by_reportlab(book, (book.on.width_mm, book.on.height_mm)) for book in books)
    return found


def one_bank(drawers: int, *, compare: bool) -> dict[str, Any]:
    """A bank of boxes from its corners to the bytes of its PDF; and, where it is wanted, against the plain writers."""
    from dovelayout.drawing.book import job_book
    from dovelayout.drawing.style import Style
    from dovelayout.drawing.template.wrap import Skirts  # noqa: F401  (what a first drawing loads is loaded before the clock)
    from dovelayout.paper import paper
    from dovelayout.render.pdf import pdf_bytes
    from tests.banks import bank_joints

    joints, on = bank_joints(drawers), paper("A4")
    pdf_bytes(job_book(joints[:1], Style(job="first"), on), title="first")
    start = time.process_time()
    book = job_book(joints, Style(job="bank"), on)
    planned = time.process_time() - start
    data = pdf_bytes(book, title="bank")
    whole = time.process_time() - start
    assert book.least is not None
    found: dict[str, Any] = {
        "seconds": whole,
        "planned": planned,
        "peak_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
        "templates": 2 * len(joints),
        "sheets": book.nested_sheets,
        "by_area": book.least.by_area,
        "by_any_nesting": book.least.by_any_nesting,
        "bytes": len(data),
    }
    if compare:
        size = (on.width_mm, on.height_mm)
        found["reportlab"] = by_reportlab(book, size)
        from itertools import islice

        some = list(islice(book, len(book) - book.nested_sheets, len(book) - book.nested_sheets + MATPLOTLIB_PAGES))
        start = time.process_time()
        pdf_bytes(some, title="some")
        ours = time.process_time() - start
        theirs = by_matplotlib(some, size)
        found["matplotlib_ratio"] = None if theirs is None else theirs / ours
        start = time.process_time()
        pdf_bytes(some, title="some")
        found["written"] = (time.process_time() - start) / by_reportlab(some, size)
    return found


def apart(kind: str, number: int, *, compare: bool) -> dict[str, Any]:
    """The same in a process of its own, so that its peak of memory is its own."""
    command = [sys.executable, "-m", "tests.benchmarks", kind, str(number)] + (["--compare"] if compare else [])
    return dict(json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout))


def told(measured: float | None, target: str = "") -> str:
    """A figure with what is aimed at, or that there is none."""
    said = "not measured (not installed)" if measured is None else f"{measured:.2f}"
    return f"{said:>10}   {f'aim: {target}' if target else ''}"


def main() -> None:
    """Runs all and prints them."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--boxes", type=int)
    options.add_argument("--drawers", type=int)
    options.add_argument("--compare", action="store_true")
    given = options.parse_args()
    if given.boxes:
        print(json.dumps(one_bank(given.boxes, compare=given.compare)))
        return
    if given.drawers:
        print(json.dumps(drawers_to_pdf(given.drawers, compare=given.compare)))
        return
    start = starting()
    print(f"help / bare typer                          {told(start['help / bare typer'], '1.4')}")
    print(f"one corner to PDF / its libraries          {told(start['one corner / its libraries'], '1.4')}")
    few, many = apart("--drawers", 60, compare=True), apart("--drawers", 600, compare=True)
    print(f"60 drawers, job to PDF / plain reportlab   {told(few['seconds'] / few['reportlab'], '1.0')}")
    print(f"600 drawers, job to PDF / plain reportlab  {told(many['seconds'] / many['reportlab'], '1.0')}")
    print(f"600 drawers / 60 drawers                   {told(many['seconds'] / few['seconds'], '11')}")
    small, large = apart("--boxes", 60, compare=True), apart("--boxes", 600, compare=False)
    drawn = apart("--boxes", 600, compare=True)
    for name, one in (("60", small), ("600", drawn)):
        print(f"{name:>3} boxes, corners to PDF / plain reportlab {told(one['seconds'] / one['reportlab'], '1.0')}")
        print(f"  of that writing alone / plain reportlab  {told(one['written'], '1.0')}")
        print(f"  matplotlib / writing                     {told(one['matplotlib_ratio'], '8')}")
    print(f"600 boxes / 60 boxes                       {told(large['seconds'] / small['seconds'], '11')}")
    print(f"peak memory for 600 boxes, MB              {told(large['peak_mb'], '300')}")
    print(f"seconds for 600 boxes                      {told(large['seconds'])}")
    print(f"bytes a template                           {told(large['bytes'] / large['templates'])}")
    for name, one in (("60", small), ("600", large)):
        print(f"sheets for {name}: {one['sheets']}, {one['sheets'] / one['by_area']:.2f} times the area bound (aim: 1.25), "
              f"{one['sheets'] / one['by_any_nesting']:.2f} times what no nesting goes below")  # fmt: skip


if __name__ == "__main__":
    main()
