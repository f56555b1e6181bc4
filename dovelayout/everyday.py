"""Small lengths in things that lie on a bench: shavings, paper, card. Thicknesses are ours, from a caliper."""

from __future__ import annotations

SHAVING_MM = 0.05
"""A fine shaving from a sharp smoothing plane."""

PAPER_MM = 0.1
"""A sheet of office paper, 80 g/m2."""

CARD_MM = 0.3
"""Thin card, such as a postcard."""


def shaving_words(value_mm: float) -> str:
    """A fit in shavings and paper: '0.4 of a fine shaving of 0.05 mm, 0.2 of a sheet of 0.1 mm office paper'."""
    if value_mm < SHAVING_MM / 10:
        return "nothing: cut to the line"
    shavings = _times(value_mm / SHAVING_MM, "a fine shaving", "fine shavings")
    sheets = _times(value_mm / PAPER_MM, "a sheet", "sheets")
    return f"{shavings} of {SHAVING_MM:g} mm, {sheets} of {PAPER_MM:g} mm office paper"


def _times(number: float, one: str, many: str) -> str:
    near = round(number, 1)
    if near == 1:
        return one
    return f"{near:g} of {one}" if near < 1 else f"{near:g} {many}"


def spacer_words(gap_mm: float) -> str:
    """How to hold a gap open while things are put together: which card makes a handy spacer, or that none is enough."""
    if gap_mm < PAPER_MM * 0.75:
        return (
            f"a gap of {gap_mm:.2f} mm is less than a sheet of office paper ({PAPER_MM:g} mm): too little for a spacer"
        )
    if gap_mm < CARD_MM * 0.75:
        sheets = round(gap_mm / PAPER_MM)
        return f"{_counted(sheets, 'sheet')} of office paper ({sheets * PAPER_MM:.1f} mm) as a spacer"
    two_mm = 2 * CARD_MM
    if gap_mm <= two_mm + 0.05:
        cards = round(gap_mm / CARD_MM)
        return f"{_counted(cards, 'thickness', 'thicknesses')} of thin card ({cards * CARD_MM:.1f} mm) as a spacer"
    return (
        f"two thicknesses of thin card (about {two_mm:g} mm) make a handy spacer, but that is too little here: "
        f"a strip planed to {gap_mm:.1f} mm"
    )


def _counted(number: int, one: str, many: str = "") -> str:
    words = {1: "one", 2: "two", 3: "three"}
    return f"{words.get(number, str(number))} {one if number == 1 else many or one + 's'}"
