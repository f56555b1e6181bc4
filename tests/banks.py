"""Banks of drawers as jobs: real drawers from a measured table, and boxes of many heights of which nothing is shared."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from dovelayout.job.openings import read_openings
from dovelayout.joints.corner import CornerJoint
from tests.jobs import loaded

MOST_IN_A_SET = 100  # boxes that one job file takes, three boards each


def bank(drawers: int, *, first: int = 1, seed: int = 7) -> dict[str, Any]:
    """Drawers of sides 80 to 250 mm high: 12 mm sides and backs, 19 mm fronts, four corners each."""
    heights = random.Random(seed + first)
    boards: list[dict[str, Any]] = []
    boxes: list[dict[str, Any]] = []
    for number in range(first, first + drawers):
        width = heights.randint(80, 250)
        for name, length, thickness, count in (("side", 450, 12, 2), ("front", 400, 19, 1), ("back", 400, 12, 1)):
            boards.append(
                {
                    "name": f"{name} {number}",
                    "species": "white oak",
                    "length": length,
                    "width": width,
                    "thickness": thickness,
                    "count": count,
                }
            )
        boxes.append(
            {
                "name": f"drawer {number}",
                "tails": f"side {number}",
                "pins": [f"front {number}", f"back {number}"],
                "slope": "1:7",
            }
        )
    return {"title": f"Bank of {drawers}", "board": boards, "box": boxes}


def bank_joints(drawers: int, *, seed: int = 7) -> tuple[CornerJoint, ...]:
    """The corners of a bank of any number, more than one job file takes."""
    return tuple(_numbered(drawers, seed))


def _numbered(drawers: int, seed: int) -> Iterator[CornerJoint]:
    for first in range(1, drawers + 1, MOST_IN_A_SET):
        part = min(MOST_IN_A_SET, drawers + 1 - first)
        for joint in loaded(bank(part, first=first, seed=seed)).joints:
            yield joint.varied(name=joint.name if first == 1 else f"{joint.name}{first // MOST_IN_A_SET + 1}")


OPENINGS = Path(__file__).parents[1] / "samples" / "thread-library.csv"


def drawer_jobs(drawers: int) -> tuple[dict[str, Any], ...]:
    """Jobs of 60 drawers each from the measured openings of the sample: every further cabinet has rows of other heights,
    so that it takes templates of its own. As many jobs as it takes: one file holds 500 drawers."""
    rows = read_openings(OPENINGS).rows
    jobs = []
    for number in range(math.ceil(drawers / len(rows))):
        part = rows[: drawers - number * len(rows)]
        taller = 1.0 + 0.037 * number
        jobs.append(
            {
                "title": f"Cabinet {number + 1}",
                "drawers": {"species": "hard maple", "fit": "good"},
                "drawer": [
                    {
                        **row.values,
                        "name": f"{row.values['name']}.{number + 1}",
                        "height": round(float(row.values["height"]) * taller, 1),
                    }
                    for row in part
                ],
            }
        )
    return tuple(jobs)
