"""Preferred proportions of a layout; apart from the search, so that naming one doesn't load it."""

from __future__ import annotations

from enum import StrEnum


class Taste(StrEnum):
    """Preferred proportions of tails and pins."""

    FINE = "fine"
    PLAIN = "plain"
    STRONG = "strong"
