"""How far a piece has moved, against the Wood Handbook's own table and coefficient, and what a piece has."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from dovelayout.job.reader import read_job
from dovelayout.joints.moving import Axis
from dovelayout.repair.symptoms.piece import HAS, KnownPiece, all_moved, moved
from dovelayout.report.diagnosis import piece_of

SAMPLES = Path(__file__).parents[3] / "samples"


def sample(name: str, **more: object) -> KnownPiece:
    return replace(piece_of(read_job(SAMPLES / f"{name}.toml")), **more)  # type: ignore[arg-type]


def test_what_has_moved_is_the_handbooks_coefficient_times_the_moisture_lost() -> None:
    # Wood Handbook FPL-GTR-190, Table 4-2 at 21 °C: 9.2 % at 50 % relative humidity, 6.9 % at 35 %; Table 13-5: black cherry,
    # tangential 0.00248 a point
    piece = sample("linen-press", now_pct=35.0)
    side = next(board for board in piece.boards if board.name == "side")
    row = moved(piece, side, Axis.WIDTH)
    assert row is not None
    assert row.lost_mm == pytest.approx(420 * 0.00248 * (9.2 - 6.9), rel=0.03)
    assert (row.gained_mm, row.size_mm) == (0.0, 420)


def test_what_was_read_counts_before_what_the_job_says() -> None:
    dry, damp = (sample("linen-press", then_pct=65.0, now_pct=now_pct) for now_pct in (25.0, 65.0))
    (side, *_) = dry.boards
    lost, still = moved(dry, side, Axis.WIDTH), moved(damp, side, Axis.WIDTH)
    assert lost is not None
    assert still is not None
    assert lost.lost_mm > 5
    assert still.most_mm == 0


def test_without_any_air_nothing_is_known() -> None:
    piece = sample("sewing-chest")
    assert list(all_moved(piece, piece.boards, Axis.WIDTH)) == []
    told = replace(piece, then_pct=60.0, now_pct=30.0)
    assert len(list(all_moved(told, told.boards, Axis.WIDTH))) == 3


@pytest.mark.parametrize(
    ("name", "has"),
    [
        ("linen-press", {"corner", "panel", "breadboard end"}),
        ("sewing-drawers", {"corner", "half-blind", "groove", "drawer"}),
        ("yarn-cabinet", {"corner", "cut-out", "divider"}),
    ],
)
def test_what_a_piece_has(name: str, has: set[str]) -> None:
    assert {part for part, there in HAS.items() if there(sample(name))} >= has
    assert not HAS["moulding"](sample(name))
