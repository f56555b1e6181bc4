"""How much one job may hold in all, so that it is judged in seconds; each table has limits of its own besides. All ours."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from dovelayout.job.places import Here
from dovelayout.job.tables.board import BoardTable
from dovelayout.job.tables.season import AcrossTable
from dovelayout.joints.corner import CornerJoint

MOST_TAILS_IN_ALL = 20_000
"""1000 corners of 20 tails. Ten times as many take minutes and fill hundreds of sheets."""
MOST_CUTOUTS_IN_ALL = 2000
MOST_FIXINGS_IN_ALL = 5000
"""Screws, slots and stretches of glue."""

_PART_IT = "part the job: a file for each piece of furniture"


def few_enough(joints: Iterable[CornerJoint], here: Here) -> Iterator[CornerJoint]:
    """The corners, as long as their tails are few enough in all. Raises JobError before the next one is worked out."""
    tails = 0
    for joint in joints:
        tails += len(joint.tails)
        if tails > MOST_TAILS_IN_ALL:
            place = here.entry(*joint.spec.origin)
            raise place.error(f"with this there are more than {MOST_TAILS_IN_ALL} tails", _PART_IT)
        yield joint


def check_totals(boards: Sequence[BoardTable], across: Sequence[AcrossTable], here: Here) -> None:
    """Raises JobError for more cut-outs or fixings than one job may hold."""
    cutouts = fixings = 0
    for board in boards:
        cutouts += len(board.cutout)
        if cutouts > MOST_CUTOUTS_IN_ALL:
            problem = f"with these there are more than {MOST_CUTOUTS_IN_ALL} cut-outs"
            raise here.entry("board", board.name).at("cutout").error(problem, _PART_IT)
    for part in across:
        fixings += len(part.screws) + len(part.slots) + len(part.glue or ())
        if fixings > MOST_FIXINGS_IN_ALL:
            problem = f"with these there are more than {MOST_FIXINGS_IN_ALL} screws, slots and stretches of glue"
            raise here.entry("across", part.name).error(problem, _PART_IT)
