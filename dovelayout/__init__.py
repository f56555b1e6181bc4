"""dovelayout: layouts, checks and full-size templates for hand-cut dovetails.

The public names below are loaded when first used, so that a part of the package can be imported without the rest.

A job comes from a file (`read_job`) or from tables (`load_job`):

    >>> from dovelayout import load_job
    >>> board = {"species": "black cherry", "length": 400, "width": 120, "thickness": 16}
    >>> corner = {"name": "A", "tails": "side.right", "pins": "front.left", "slope": "1:7", "tail_count": 3, "pin": 6}
    >>> tables = {"title": "Thread tray", "board": [{"name": name, **board} for name in ("side", "front")]}
    >>> job = load_job({**tables, "corner": [corner]}, source="tables")
    >>> joint = job.joints[0]
    >>> [round(tail.width_mm, 2) for tail in joint.tails]
    [31.0, 31.0, 31.0]

What the checks say, worst first, each with its limit, its source and what would do:

    >>> from dovelayout import check_joint
    >>> [finding.check for finding in check_joint(joint, job.shop) if finding.level == "stop"]
    []

Sheets for the job's paper, as a PDF; corrected for a printer that makes 149.4 mm of 150 across, where there is one:

    >>> from dovelayout import Correction, Style, for_printer, job_sheets, pdf_bytes, room_for
    >>> printer = Correction(printer="study", across=150 / 149.4, up=1.0)
    >>> on = room_for(printer, job.paper)
    >>> sheets = job_sheets(job.joints, Style(job=job.title, unit=job.unit), on)
    >>> data = pdf_bytes([for_printer(sheet, printer, margin_mm=on.margin_mm) for sheet in sheets], title=job.title)
    >>> data[:8]
    b'%PDF-1.7'

One template for a screen or a plotter, and the same for a machine, with what is kept and what is cut away as closed rings:

    >>> from dovelayout import corner_plate, dxf_bytes, free_sheet, svg_text
    >>> tails, pins = joint.end_faces()
    >>> drawing = svg_text(free_sheet(joint, tails, Style(job=job.title)))
    >>> plate = corner_plate(joint, tails, Style(job=job.title))
    >>> sorted({region.kind.value for region in plate.regions})
    ['keep', 'waste']
    >>> flat = dxf_bytes(plate)  # needs the extra 'dxf'

Lengths are mm in floats, with the unit in every name. Invalid input raises `DovelayoutError`, whose text is one line:

    >>> from dovelayout import DovelayoutError
    >>> try:
    ...     load_job({**tables, "corner": [{**corner, "tail_count": 60}]}, source="tables")
    ... except DovelayoutError as error:
    ...     print(error)
    tables: corner 'A': 60 tails leave -8.7 mm necks in 120.0 mm; 8 fit
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dovelayout.drawing.book import free_sheet, job_sheets
    from dovelayout.drawing.correction import Correction, for_printer, room_for
    from dovelayout.drawing.plate import corner_plate, divider_plate
    from dovelayout.drawing.style import Style
    from dovelayout.errors import DovelayoutError
    from dovelayout.job.reader import Job, load_job, read_job
    from dovelayout.render.dxf import dxf_bytes
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.png import png_pages
    from dovelayout.render.svg import svg_text
    from dovelayout.verdict.corner import check_joint

__version__ = "0.2.0"

__all__ = [
    "Correction",
    "DovelayoutError",
    "Job",
    "Style",
    "check_joint",
    "corner_plate",
    "divider_plate",
    "dxf_bytes",
    "for_printer",
    "free_sheet",
    "job_sheets",
    "load_job",
    "pdf_bytes",
    "png_pages",
    "read_job",
    "room_for",
    "svg_text",
]

_HOME = {
    "Correction": "dovelayout.drawing.correction",
    "DovelayoutError": "dovelayout.errors",
    "Job": "dovelayout.job.reader",
    "Style": "dovelayout.drawing.style",
    "check_joint": "dovelayout.verdict.corner",
    "corner_plate": "dovelayout.drawing.plate",
    "divider_plate": "dovelayout.drawing.plate",
    "dxf_bytes": "dovelayout.render.dxf",
    "for_printer": "dovelayout.drawing.correction",
    "free_sheet": "dovelayout.drawing.book",
    "job_sheets": "dovelayout.drawing.book",
    "load_job": "dovelayout.job.reader",
    "pdf_bytes": "dovelayout.render.pdf",
    "png_pages": "dovelayout.render.png",
    "read_job": "dovelayout.job.reader",
    "room_for": "dovelayout.drawing.correction",
    "svg_text": "dovelayout.render.svg",
}


def __getattr__(name: str) -> Any:
    if name in _HOME:
        return getattr(import_module(_HOME[name]), name)
    raise AttributeError(f"module 'dovelayout' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted([*__all__, "__version__"])
