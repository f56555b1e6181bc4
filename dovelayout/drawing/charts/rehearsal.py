"""A rehearsed corner as a chart: how many joints go home and how far they gap, against the fit that is aimed at."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from dovelayout.drawing.lettering import shortened, width_mm, wrapped
from dovelayout.drawing.primitives import Anchor, Item, Lines, Role, Segment, Sheet, Text, moved
from dovelayout.planning.rehearsal import SEEN_MM, Aim, PinLines, Rehearsal, words

LEFT_MM, PLOT_MM, RIGHT_MM = 17.0, 135.0, 8.0
PANEL_MM, BETWEEN_MM = 50.0, 15.0
MARGIN_MM = 6.0
TEXT_MM = 3.2
DASH_MM = (3.0, 1.6)
WIDTH_MM = LEFT_MM + PLOT_MM + RIGHT_MM


@dataclass(frozen=True, slots=True, kw_only=True)
class _Panel:
    """One plot: where it stands and what its axes hold."""

    bottom_mm: float
    low: float
    high: float
    top: float  # value at its upper edge; its lower edge is 0

    def x_mm(self, fit_mm: float) -> float:
        return LEFT_MM + (fit_mm - self.low) / (self.high - self.low) * PLOT_MM

    def y_mm(self, value: float) -> float:
        return self.bottom_mm + min(value, self.top) / self.top * PANEL_MM


def rehearsal_sheet(rehearsal: Rehearsal, *, title: str) -> Sheet:
    """The chart with its words under it, on a sheet of its own size."""
    lines = [line for sentence in words(rehearsal) for line in wrapped(sentence, TEXT_MM, WIDTH_MM)]
    words_mm = len(lines) * TEXT_MM * 1.45
    head = shortened(title, 4.2, WIDTH_MM)
    left, bottom = MARGIN_MM, MARGIN_MM + words_mm + 4
    height_mm = bottom + CHART_MM + 8 + MARGIN_MM
    items: list[Item] = [
        Text(x_mm=left, y_mm=height_mm - MARGIN_MM - 3.4, text=head, size_mm=4.2),
        *(moved(item, left, bottom) for item in rehearsal_chart(rehearsal)),
    ]
    for number, line in enumerate(lines, 1):
        y_mm = MARGIN_MM + words_mm - number * TEXT_MM * 1.45 + 1.2
        items.append(Text(x_mm=left, y_mm=y_mm, text=line, size_mm=TEXT_MM))
    return Sheet(
        width_mm=WIDTH_MM + 2 * MARGIN_MM,
        height_mm=height_mm,
        items=tuple(items),
        title=head,
        description=" ".join(words(rehearsal)),
    )


CHART_MM = 2 * PANEL_MM + BETWEEN_MM + 30.0
"""Height of the chart."""


def rehearsal_chart(rehearsal: Rehearsal) -> tuple[Item, ...]:
    """Two plots over one axis, lower left at (0, 0); what goes home above, the worst gap below."""
    first = rehearsal.outcomes[0].curve
    low, high = first[0].fit_mm, first[-1].fit_mm
    most_gap = max(point.worst_gap_mm for outcome in rehearsal.outcomes for point in outcome.curve)
    gaps = _Panel(bottom_mm=13.0, low=low, high=high, top=max(0.2, math.ceil(most_gap * 10) / 10))
    home = _Panel(bottom_mm=gaps.bottom_mm + PANEL_MM + BETWEEN_MM, low=low, high=high, top=1.0)
    return (
        *_frame(
            home, "joints of a hundred that go home without paring", [(n / 100, f"{n}") for n in range(0, 101, 25)]
        ),
        *_frame(gaps, "worst gap, mm (mean of all joints)", _gap_ticks(gaps.top)),
        *_below(gaps),
        *_curves(home, rehearsal, lambda point: point.home_share),
        *_curves(gaps, rehearsal, lambda point: point.worst_gap_mm),
        *_marks(home, gaps, rehearsal),
        *_key(home),
    )


def _gap_ticks(top: float) -> list[tuple[float, str]]:
    step = 0.1 if top <= 0.5 else 0.2 if top <= 1.0 else math.ceil(top / 5 * 10) / 10
    return [(n * step, f"{n * step:.1f}") for n in range(int(top / step + 1e-9) + 1)]


def _frame(panel: _Panel, caption: str, ticks: Sequence[tuple[float, str]]) -> Iterator[Item]:
    left, right = LEFT_MM, LEFT_MM + PLOT_MM
    segments: list[Segment] = [
        (left, panel.bottom_mm, right, panel.bottom_mm),
        (left, panel.bottom_mm, left, panel.bottom_mm + PANEL_MM),
    ]
    for value, text in ticks:
        y_mm = panel.y_mm(value)
        segments.append((left - 1.5, y_mm, left, y_mm))
        yield Text(x_mm=left - 2.5, y_mm=y_mm - 1.1, text=text, size_mm=TEXT_MM, anchor=Anchor.END)
    yield Lines(role=Role.BAR, segments=tuple(segments))
    yield Text(x_mm=left, y_mm=panel.bottom_mm + PANEL_MM + 2.5, text=caption, size_mm=TEXT_MM)


def _below(panel: _Panel) -> Iterator[Item]:
    segments: list[Segment] = []
    for tenth in range(math.ceil(panel.low * 10 - 1e-9), math.floor(panel.high * 10 + 1e-9) + 1):
        x_mm = panel.x_mm(tenth / 10)
        segments.append((x_mm, panel.bottom_mm, x_mm, panel.bottom_mm - 1.5))
        text = "0" if tenth == 0 else f"{abs(tenth) / 10:.1f}"
        yield Text(x_mm=x_mm, y_mm=panel.bottom_mm - 5.2, text=text, size_mm=TEXT_MM, anchor=Anchor.MIDDLE)
    yield Lines(role=Role.BAR, segments=tuple(segments))
    y_mm = panel.bottom_mm - 10.5
    yield Text(x_mm=LEFT_MM, y_mm=y_mm, text="← sawn clear of the line, mm", size_mm=TEXT_MM)
    full = "sawn full, mm →"
    yield Text(x_mm=LEFT_MM + PLOT_MM, y_mm=y_mm, text=full, size_mm=TEXT_MM, anchor=Anchor.END)


def _curves(panel: _Panel, rehearsal: Rehearsal, value: Callable[[Aim], float]) -> Iterator[Item]:
    for outcome in rehearsal.outcomes:
        places = [(panel.x_mm(point.fit_mm), panel.y_mm(value(point))) for point in outcome.curve]
        solid = outcome.method is PinLines.SCRIBED
        yield Lines(role=Role.MARK, segments=tuple(_strokes(places) if solid else _dashes(places)))


def _strokes(places: Sequence[tuple[float, float]]) -> Iterator[Segment]:
    for (x1, y1), (x2, y2) in itertools.pairwise(places):
        yield (x1, y1, x2, y2)


def _dashes(places: Sequence[tuple[float, float]]) -> Iterator[Segment]:
    """The same line in dashes that run on over its corners: a pen's own dashes begin anew at each stroke."""
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


def _marks(home: _Panel, gaps: _Panel, rehearsal: Rehearsal) -> Iterator[Item]:
    """The fit that is aimed at, through both plots, and the gap that is seen."""
    aim_mm = rehearsal.outcomes[0].fit_mm
    if home.low <= aim_mm <= home.high:
        x_mm = home.x_mm(aim_mm)
        upright = ((x_mm, gaps.bottom_mm, x_mm, home.bottom_mm + PANEL_MM),)
        yield Lines(role=Role.OUTLINE, segments=upright)
        text = f"aimed at: {aim_mm:.2f}"
        left = x_mm + 1.5 + width_mm(text, TEXT_MM) > LEFT_MM + PLOT_MM
        yield Text(
            x_mm=x_mm - 1.5 if left else x_mm + 1.5,
            y_mm=gaps.bottom_mm + PANEL_MM + 8.5,  # between the plots, where no curve runs
            text=text,
            size_mm=TEXT_MM,
            anchor=Anchor.END if left else Anchor.START,
        )
    y_mm = gaps.y_mm(SEEN_MM)
    yield Lines(role=Role.OUTLINE, segments=((LEFT_MM, y_mm, LEFT_MM + PLOT_MM, y_mm),))
    seen = f"a gap is seen from {SEEN_MM:g}"
    yield Text(x_mm=LEFT_MM + 1.5, y_mm=y_mm + 1.2, text=seen, size_mm=TEXT_MM)


def _key(home: _Panel) -> Iterator[Item]:
    y_mm = home.bottom_mm + PANEL_MM + 10
    x_mm = LEFT_MM
    for method in PinLines:
        places = ((x_mm, y_mm + 1.1), (x_mm + 11, y_mm + 1.1))
        dashed = method is not PinLines.SCRIBED
        yield Lines(role=Role.MARK, segments=tuple(_dashes(places) if dashed else _strokes(places)))
        yield Text(x_mm=x_mm + 13, y_mm=y_mm, text=method.words, size_mm=TEXT_MM)
        x_mm += 13 + width_mm(method.words, TEXT_MM) + 8
