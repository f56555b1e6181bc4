"""A table for people, wherever it is shown."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportTable:
    """Rows of text under a title and the names of their columns."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
