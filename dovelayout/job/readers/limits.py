"""How much one job may hold in all, so that it is judged in seconds; each table has limits of its own besides. All ours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from dovelayout.job.places import Here
from dovelayout.job.tables.board import BoardTable
from dovelayout.job.tables.season import AcrossTable
from dovelayout.joints.corner import CornerJoint

MOST_TAILS_IN_ALL = 20_000
"""1000 corners of 20 tails. Ten times as many take minutes and fill hundreds of sheets."""
MOST_CUTOUTS_IN_ALL = 2000
MOST_FIXINGS_IN_ALL = 5000
"""Screws, slots and stretches of glue."""


def few_enough(joints: Iterable[CornerJoint], here: Here) -> Iterator[CornerJoint]:
    """The corners, as long as their tails are few enough in all. Raises JobError before the next one is worked out."""
    total = _Total(most=MOST_TAILS_IN_ALL, what="tails")
    for joint in joints:
        total.add(len(joint.tails), here.entry(*joint.spec.origin))
        yield joint


def check_totals(boards: Sequence[BoardTable], across: Sequence[AcrossTable], here: Here) -> None:
    """Raises JobError for more cut-outs or fixings than one job may hold."""
    cutouts = _Total(most=MOST_CUTOUTS_IN_ALL, what="cut-outs")
    for board in boards:
        cutouts.add(len(board.cutout), here.entry("board", board.name).at("cutout"))
    fixings = _Total(most=MOST_FIXINGS_IN_ALL, what="screws, slots and stretches of glue")
    for part in across:
        fixings.add(len(part.screws) + len(part.slots) + len(part.glue or ()), here.entry("across", part.name))


@dataclass
class _Total:
    """A sum that is refused where it goes too far."""

    most: int
    what: str
    so_far: int = 0

    def add(self, count: int, here: Here) -> None:
        self.so_far += count
        if self.so_far > self.most:
            problem = f"with this there are more than {self.most} {self.what}"
            raise here.error(problem, "part the job: a file for each piece of furniture")
