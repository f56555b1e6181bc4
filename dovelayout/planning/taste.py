"""What a maker likes to look at: apart from the search, so that the command line can name it without loading that."""

from __future__ import annotations

from enum import StrEnum


class Taste(StrEnum):
    """What the maker likes to look at."""

    FINE = "fine"
    PLAIN = "plain"
    STRONG = "strong"
