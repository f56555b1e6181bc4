"""A place in a piece or in its job: a value for code. Only this module turns it into words."""

from __future__ import annotations

from dataclasses import dataclass, replace

from dovelayout.words import listed

__all__ = ["Place"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A place, from the whole to the part; what isn't needed is left out.

    `kind` is what stands there as people call it ('corner', 'board', 'row', 'shop', '--only'), `name` its name in the job,
    and `also` the names of others of which the same holds. `end` is an end of a board ('left'), `part` a part of the thing
    ('pin', 'lap', 'half pin at the face edge'), `board` the board that the part is of. `number` counts from 1: such parts, or
    the things themselves where they have no name. `key` is a key of the job's table, dotted where it lies in a table of its
    own, with numbers for entries of lists: 'groove.depth', 'cutout.2.width'.
    """

    kind: str
    name: str = ""
    also: tuple[str, ...] = ()
    end: str = ""
    part: str = ""
    board: str = ""
    number: int | None = None
    key: str = ""

    def at(self, *, key: str) -> Place:
        """A key of the table that this is the place of."""
        return replace(self, key=f"{self.key}.{key}" if self.key else key)

    def within(self, part: str) -> Place:
        """A part of the part that this is the place of: 'cut-out 1' becomes 'cut-out 1, at the left end'."""
        own = self.part if self.number is None or not self.part else f"{self.part} {self.number}"
        number = self.number if not self.part else None
        return replace(self, part=", ".join(filter(None, (own, part))), number=number)

    def __str__(self) -> str:
        """As findings say it: 'corner A, pin 2', 'corners A, B, lap', 'board side, left end'."""
        return self._words(listed([self.name, *self.also]) if self.name else "")

    @property
    def quoted(self) -> str:
        """As refusals say it, names as the job has them: "corner 'A', key tail_count"."""
        return self._words(", ".join(map(repr, (self.name, *self.also))) if self.name else "")

    def _words(self, names: str) -> str:
        count = "" if self.number is None else str(self.number)
        head = [f"{self.kind}s" if self.also else self.kind, names]
        if not names and count:
            head, count = [self.kind, "" if self.kind in _COUNTED else "number", count], ""
        keys = (f"number {key}" if key.isdigit() else key for key in self.key.split("."))
        parts = (
            " ".join(filter(None, head)),
            f"{self.end} end" if self.end else "",
            " of ".join(filter(None, (f"{self.part} {count}".strip(), self.board))),
            f"key {' '.join(keys)}" if self.key else "",
        )
        return ", ".join(filter(None, parts))


_COUNTED = ("row", "line", "printer")
"""Things that go by their number: 'row 3', where an unnamed corner is 'corner number 3'."""
