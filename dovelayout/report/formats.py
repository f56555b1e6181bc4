"""Kinds of file; apart from what makes them, so that naming one loads nothing."""

from __future__ import annotations

from enum import StrEnum


class Format(StrEnum):
    """Kinds of file that can be drawn."""

    PDF = "pdf"
    SVG = "svg"
    DXF = "dxf"
    PNG = "png"
