"""A side that cracked along its grain: before the glue-up, in it, or long after it.

What to do is common practice, no source, and stands in `data/cracked.toml`; figures marked ours are ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level, worst_level
from dovelayout.checks.rule import rule
from dovelayout.joints.board import Rings
from dovelayout.place import Place
from dovelayout.repair.advice import MEASURED, SHRINKAGE, Advice, RepairFigure, both, cautions, figures
from dovelayout.texts import Texts
from dovelayout.wood.moisture import emc_pct, size_change_share
from dovelayout.wood.species import Wood

TEXTS = Texts("repair", "cracked")
RULE_WORDS = Texts("repair", "rules")

CRACK = rule("crack-length", unit="share", warn=0.25, stop=0.5, below=False, **RULE_WORDS.table("crack"))
HELD = rule("cross-grain", unit="mm", source=COMMON_PRACTICE, **RULE_WORDS.table("held"))

CLOSED_MM = 0.1
"""A crack up to this is glued and closed; a wider one that has cured open gets wood: ours."""


class CrackStage(StrEnum):
    """When a side cracked: before any glue, with the glue still wet, or after it had cured."""

    DRY = "dry"
    WET = "wet"
    CURED = "cured"


@dataclass(frozen=True, slots=True, kw_only=True)
class Crack:
    """A crack along the grain of a side; `fixed`: something across its grain holds the side from moving.

    `air_pct` is the relative humidity when the piece was made and now.
    """

    length_mm: float
    width_mm: float
    stage: CrackStage
    fixed: bool = False
    board_length_mm: float | None = None
    board_width_mm: float | None = None
    wood: Wood | None = None
    rings: Rings = Rings.FLAT
    air_pct: tuple[float, float] | None = None


def shrunk_mm(crack: Crack) -> float | None:
    """How far the side would have shrunk in its width from the air it was made in to the air now, mm; None: not known."""
    if crack.wood is None or crack.board_width_mm is None or crack.air_pct is None:
        return None
    made, now = (emc_pct(air) for air in crack.air_pct)
    share = size_change_share(crack.wood, crack.rings.across_width, from_mc_pct=made, to_mc_pct=now)
    return None if share is None else max(0.0, -share * crack.board_width_mm)


def mend_crack(crack: Crack) -> Advice:
    """What to do about a cracked side."""
    shrunk, findings = shrunk_mm(crack), tuple(_findings(crack))
    if worst_level(findings) is Level.STOP:
        remedy, method = "recut", "recut"
    elif crack.stage is not CrackStage.CURED or crack.width_mm <= CLOSED_MM:
        remedy, method = "glue", "glue and close"
    elif crack.fixed and shrunk is not None and shrunk >= crack.width_mm:
        remedy, method = "free", "free it first"
    else:
        remedy, method = "wood", "add wood"
    width, length, stage = both(crack.width_mm), both(crack.length_mm), TEXTS(f"stage.{crack.stage}")
    return Advice(
        trouble=TEXTS("trouble", width=width, length=length, stage=stage),
        method=method,
        looks=TEXTS(f"looks.{remedy}"),
        glue=TEXTS("glue"),
        steps=tuple(_steps(crack, remedy)),
        cautions=cautions("clamps", "chisels", "glues"),
        figures=tuple(_figures(crack, shrunk)),
        findings=findings,
    )


def _figures(crack: Crack, shrunk: float | None) -> Iterator[RepairFigure]:
    yield from figures(MEASURED, {"crack, length": crack.length_mm, "crack, width": crack.width_mm})
    if shrunk is not None:
        yield from figures(f"{SHRINKAGE}, {crack.rings}-sawn", {"the side has shrunk in its width by": shrunk})


def _steps(crack: Crack, remedy: str) -> Iterator[str]:
    if crack.fixed and remedy != "recut":
        yield TEXTS("free")
    for name in (crack.stage.value, "close") if remedy == "glue" else (remedy,):
        yield from TEXTS.rows(f"steps.{name}")


def _findings(crack: Crack) -> Iterator[Finding]:
    place = Place(kind="board", part="crack")
    if crack.board_length_mm is None:
        yield CRACK.not_checked(place, **TEXTS.unchecked("no_length"))
    elif breach := CRACK.breach(crack.length_mm / crack.board_length_mm):
        passes = both(crack.board_length_mm * (CRACK.warn or 1.0))
        yield breach.finding(place, **TEXTS.finding(breach.level, share=breach.measured, passes=passes))
    if crack.stage is CrackStage.CURED and crack.fixed:
        shrunk = shrunk_mm(crack)
        known = {} if shrunk is None else {"shrunk": both(shrunk), "width": both(crack.width_mm)}
        limits = {"measured": round(crack.width_mm, 4), "limit": None if shrunk is None else round(shrunk, 4)}
        texts = TEXTS.finding("held_shrunk" if known else "held", **known)
        yield HELD.said(Level.WARN, place, **texts, **limits, unit=HELD.unit)
