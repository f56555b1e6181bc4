"""dovelayout: layouts, checks and full-size templates for hand-cut dovetails.

The public names below are loaded when first used, so that a part of the package can be imported without the rest.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dovelayout.checks import check_joint
    from dovelayout.drawing.book import free_sheet, job_sheets
    from dovelayout.errors import DovelayoutError
    from dovelayout.job.reader import Job, load_job, read_job
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text

__version__ = "0.1.0"

__all__ = [
    "DovelayoutError",
    "Job",
    "check_joint",
    "free_sheet",
    "job_sheets",
    "load_job",
    "pdf_bytes",
    "read_job",
    "svg_text",
]

_HOME = {
    "DovelayoutError": "dovelayout.errors",
    "Job": "dovelayout.job.reader",
    "check_joint": "dovelayout.checks",
    "free_sheet": "dovelayout.drawing.book",
    "job_sheets": "dovelayout.drawing.book",
    "load_job": "dovelayout.job.reader",
    "pdf_bytes": "dovelayout.render.pdf",
    "read_job": "dovelayout.job.reader",
    "svg_text": "dovelayout.render.svg",
}


def __getattr__(name: str) -> Any:
    if name in _HOME:
        return getattr(import_module(_HOME[name]), name)
    raise AttributeError(f"module 'dovelayout' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted([*__all__, "__version__"])
