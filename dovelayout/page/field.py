"""One field of the page's forms."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field. `kind`: length, number, count, slope, angle, choice, wood, glue, text, list, board, boards, end, flag,
    paper; `term` names a picture; `slider` is (least, most, step) in mm or in the count's own unit; a key with a point
    goes into an inline table; fields of one `group` stand together, folded away until one of them is used."""

    key: str
    label: str
    kind: str = "length"
    term: str = ""
    hint: str = ""
    choices: tuple[str, ...] = ()
    slider: tuple[float, float, float] | None = None
    group: str = ""
