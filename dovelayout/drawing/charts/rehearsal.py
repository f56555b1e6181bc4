"""A rehearsed corner as a chart: how many joints go home and how far they gap, against the fit that is aimed at."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from dovelayout.drawing.lettering import shortened, width_mm, wrapped
from dovelayout.drawing.primitives import XY, Anchor, Item, Items, Role, Sheet, Stroke, path, placed, strokes, text_at
from dovelayout.planning.rehearsal import VISIBLE_GAP_MM, Aim, PinLines, Rehearsal, words

LEFT_MM, PLOT_MM, RIGHT_MM = 17.0, 135.0, 8.0
PANEL_MM, BETWEEN_MM = 50.0, 15.0
MARGIN_MM = 6.0
TITLE_MM = 4.2
TEXT_MM = 3.2
LINE_MM = TEXT_MM * 1.45  # from one line of words to the next
DASH_MM = (3.0, 1.6)
WIDTH_MM = LEFT_MM + PLOT_MM + RIGHT_MM
CHART_MM = 2 * PANEL_MM + BETWEEN_MM + 30.0
"""Height of the chart."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Plot:
    """One plot: where it stands and what its axes hold."""

    bottom_mm: float
    low: float
    high: float
    top: float  # value at its upper edge; its lower edge is 0

    @property
    def top_mm(self) -> float:
        return self.bottom_mm + PANEL_MM

    def x_mm(self, fit_mm: float) -> float:
        return LEFT_MM + (fit_mm - self.low) / (self.high - self.low) * PLOT_MM

    def y_mm(self, value: float) -> float:
        return self.bottom_mm + min(value, self.top) / self.top * PANEL_MM


def rehearsal_sheet(rehearsal: Rehearsal, *, title: str) -> Sheet:
    """The chart with its words under it, on a sheet of its own size."""
    lines = [line for sentence in words(rehearsal) for line in wrapped(sentence, TEXT_MM, WIDTH_MM)]
    words_mm = len(lines) * LINE_MM
    head = shortened(title, TITLE_MM, WIDTH_MM)
    bottom = MARGIN_MM + words_mm + 4
    height_mm = bottom + CHART_MM + 8 + MARGIN_MM
    first = MARGIN_MM + words_mm + 1.2
    items = (
        text_at((MARGIN_MM, height_mm - MARGIN_MM - 3.4), head, TITLE_MM),
        *placed(rehearsal_chart(rehearsal), MARGIN_MM, bottom),
        *(text_at((MARGIN_MM, first - count * LINE_MM), line, TEXT_MM) for count, line in enumerate(lines, 1)),
    )
    description = " ".join(words(rehearsal))
    return Sheet(
        width_mm=WIDTH_MM + 2 * MARGIN_MM, height_mm=height_mm, items=items, title=head, description=description
    )


def rehearsal_chart(rehearsal: Rehearsal) -> Items:
    """Two plots over one axis, lower left at (0, 0); what goes home above, the worst gap below."""
    first = rehearsal.outcomes[0].curve
    low, high = first[0].fit_mm, first[-1].fit_mm
    most_gap = max(point.worst_gap_mm for outcome in rehearsal.outcomes for point in outcome.curve)
    gaps = _Plot(bottom_mm=13.0, low=low, high=high, top=max(0.2, math.ceil(most_gap * 10) / 10))
    home = _Plot(bottom_mm=gaps.top_mm + BETWEEN_MM, low=low, high=high, top=1.0)
    quarters = [(n / 100, f"{n}") for n in range(0, 101, 25)]
    return (
        *_frame(home, "joints of a hundred that go home without paring", quarters),
        *_frame(gaps, "worst gap, mm (mean of all joints)", _gap_ticks(gaps.top)),
        *_below(gaps),
        *_curves(home, rehearsal, lambda point: point.home_share),
        *_curves(gaps, rehearsal, lambda point: point.worst_gap_mm),
        *_marks(home, gaps, rehearsal),
        *_key(home.top_mm + 10),
    )


def _gap_ticks(top: float) -> list[tuple[float, str]]:
    step = 0.1 if top <= 0.5 else 0.2 if top <= 1.0 else math.ceil(top / 5 * 10) / 10
    return [(n * step, f"{n * step:.1f}") for n in range(int(top / step + 1e-9) + 1)]


def _frame(plot: _Plot, caption: str, ticks: Sequence[tuple[float, str]]) -> Iterator[Item]:
    left, low = LEFT_MM, plot.bottom_mm
    segments: list[Stroke] = [(left, low, left + PLOT_MM, low), (left, low, left, plot.top_mm)]
    for value, text in ticks:
        y_mm = plot.y_mm(value)
        segments.append((left - 1.5, y_mm, left, y_mm))
        yield text_at((left - 2.5, y_mm - 1.1), text, TEXT_MM, Anchor.END)
    yield strokes(Role.BAR, segments)
    yield text_at((left, plot.top_mm + 2.5), caption, TEXT_MM)


def _below(plot: _Plot) -> Iterator[Item]:
    """The axis of fits under a plot."""
    segments: list[Stroke] = []
    for tenth in range(math.ceil(plot.low * 10 - 1e-9), math.floor(plot.high * 10 + 1e-9) + 1):
        x_mm = plot.x_mm(tenth / 10)
        segments.append((x_mm, plot.bottom_mm, x_mm, plot.bottom_mm - 1.5))
        text = "0" if tenth == 0 else f"{abs(tenth) / 10:.1f}"
        yield text_at((x_mm, plot.bottom_mm - 5.2), text, TEXT_MM, Anchor.MIDDLE)
    yield strokes(Role.BAR, segments)
    y_mm = plot.bottom_mm - 10.5
    yield text_at((LEFT_MM, y_mm), "← sawn clear of the line, mm", TEXT_MM)
    yield text_at((LEFT_MM + PLOT_MM, y_mm), "sawn full, mm →", TEXT_MM, Anchor.END)


def _curves(plot: _Plot, rehearsal: Rehearsal, value: Callable[[Aim], float]) -> Iterator[Item]:
    for outcome in rehearsal.outcomes:
        yield _curve(outcome.method, [(plot.x_mm(point.fit_mm), plot.y_mm(value(point))) for point in outcome.curve])


def _curve(method: PinLines, places: Sequence[XY]) -> Item:
    """Solid for pins scribed from the tails, in dashes for any other method."""
    return strokes(Role.MARK, path(places) if method is PinLines.SCRIBED else _dashes(places))


def _dashes(places: Sequence[XY]) -> Iterator[Stroke]:
    """Dashes that run on over the corners of a line: a pen's own dashes begin anew at each stroke."""
    on, left_mm = True, DASH_MM[0]
    for (x1, y1), (x2, y2) in itertools.pairwise(places):
        length, at = math.hypot(x2 - x1, y2 - y1), 0.0
        while length - at > 1e-9:
            step = min(left_mm, length - at)
            if on:
                a, b = at / length, (at + step) / length
                yield (x1 + a * (x2 - x1), y1 + a * (y2 - y1), x1 + b * (x2 - x1), y1 + b * (y2 - y1))
            at, left_mm = at + step, left_mm - step
            if left_mm <= 1e-9:
                on = not on
                left_mm = DASH_MM[0 if on else 1]


def _marks(home: _Plot, gaps: _Plot, rehearsal: Rehearsal) -> Iterator[Item]:
    """The fit that is aimed at, through both plots, and the gap that can be seen."""
    aim_mm, right = rehearsal.outcomes[0].fit_mm, LEFT_MM + PLOT_MM
    if home.low <= aim_mm <= home.high:
        x_mm = home.x_mm(aim_mm)
        yield strokes(Role.OUTLINE, [(x_mm, gaps.bottom_mm, x_mm, home.top_mm)])
        text = f"aimed at: {aim_mm:.2f}"
        y_mm = gaps.top_mm + 8.5  # between the plots, where no curve runs
        if x_mm + 1.5 + width_mm(text, TEXT_MM) > right:
            yield text_at((x_mm - 1.5, y_mm), text, TEXT_MM, Anchor.END)
        else:
            yield text_at((x_mm + 1.5, y_mm), text, TEXT_MM)
    y_mm = gaps.y_mm(VISIBLE_GAP_MM)
    yield strokes(Role.OUTLINE, [(LEFT_MM, y_mm, right, y_mm)])
    yield text_at((LEFT_MM + 1.5, y_mm + 1.2), f"a gap is seen from {VISIBLE_GAP_MM:g}", TEXT_MM)


def _key(y_mm: float) -> Iterator[Item]:
    """Which line is which method."""
    x_mm = LEFT_MM
    for method in PinLines:
        yield _curve(method, ((x_mm, y_mm + 1.1), (x_mm + 11, y_mm + 1.1)))
        yield text_at((x_mm + 13, y_mm), method.words, TEXT_MM)
        x_mm += 13 + width_mm(method.words, TEXT_MM) + 8
