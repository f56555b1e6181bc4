"""A corner that broke off both boards of a joint: the two patches in one advice.

What is said stands in `data/patch.toml`; common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.checks.finding import OURS, Finding
from dovelayout.joints.board import BoardEnd
from dovelayout.repair.advice import Advice, RepairFigure
from dovelayout.repair.patch import TEXTS


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenHalf:
    """One board's end of a joint and the advice for it alone; `cut_away`: the joint takes the wood that broke anyway."""

    end: BoardEnd
    advice: Advice
    cut_away: bool

    def named(self, what: str) -> str:
        """What is said of this board alone."""
        return TEXTS("mated.named", board=self.end.label, what=what)


def mated_advice(tails: BrokenHalf, pins: BrokenHalf) -> Advice:
    """What to do where both boards of a joint lost wood at one corner: the tails are patched first, the pins to them.

    Figures and findings name their board; the allowances hold for both.
    """
    halves = (tails, pins)
    patched = [half for half in halves if not half.cut_away]
    if not patched:
        method, steps = tails.advice.method, tails.advice.steps
    else:
        method = TEXTS("mated.method") if len(patched) == 2 else TEXTS("mated.method_one", board=patched[0].end.label)
        steps = tuple(_steps(halves, patched))
    return Advice(
        trouble="; ".join(half.named(half.advice.trouble) for half in halves),
        method=method,
        looks=_looks(halves),
        glue=tails.advice.glue,
        steps=steps,
        cautions=tuple(dict.fromkeys(line for half in (*patched, *halves) for line in half.advice.cautions)),
        figures=tuple(_figures(patched or halves)),
        findings=tuple(_placed(half.end, finding) for half in halves for finding in half.advice.findings),
    )


def _looks(halves: Sequence[BrokenHalf]) -> str:
    if len({half.advice.looks for half in halves}) == 1:
        return halves[0].advice.looks
    return " ".join(half.named(half.advice.looks) for half in halves)


def _steps(halves: Sequence[BrokenHalf], patched: Sequence[BrokenHalf]) -> Iterator[str]:
    yield from (TEXTS("mated.apart"), TEXTS("mated.chip"))
    yield from (TEXTS("mated.leave", board=half.end.label) for half in halves if half.cut_away)
    first = patched[0].end.label
    yield TEXTS("mated.first", board=first)
    yield from TEXTS.rows("steps")
    yield TEXTS("mated.trim", board=first)
    for half in patched[1:]:
        yield TEXTS("mated.second", board=half.end.label, first=first)
        yield TEXTS("mated.trim", board=half.end.label)
    yield TEXTS("mated.dry")


def _figures(halves: Sequence[BrokenHalf]) -> Iterator[RepairFigure]:
    own = [(half, figure) for half in halves for figure in half.advice.figures if figure.source != OURS]
    yield from (replace(figure, what=half.named(figure.what)) for half, figure in own)
    yield from (figure for figure in halves[0].advice.figures if figure.source == OURS)


def _placed(end: BoardEnd, finding: Finding) -> Finding:
    return replace(finding, place=replace(finding.place, name=end.board_label, end=end.board.end_name(end.end)))
