"""A bench sheet of joints without a job, and the parts that close every bench sheet: how to use templates, cautions."""

from __future__ import annotations

from collections.abc import Sequence

from dovelayout.casework.divider import Divider
from dovelayout.drawing.bench.corner_lines import corner_figures
from dovelayout.drawing.bench.divider_lines import divider_figures
from dovelayout.drawing.bench.settings import all_settings
from dovelayout.drawing.bench.sheet import BenchSheet, Section, without_repeats
from dovelayout.joints.corner import CornerJoint
from dovelayout.texts import Texts
from dovelayout.units import Unit

TEXTS = Texts("drawing", "bench")


def bench_of(joints: Sequence[CornerJoint], dividers: Sequence[Divider], unit: Unit) -> BenchSheet:
    """The bench sheet of joints without a job: settings, key figures, how to use the templates. Lengths are in `unit`."""
    figures = without_repeats((*corner_figures(joints, unit), *divider_figures(dividers, unit)))
    return BenchSheet(gauges=all_settings(joints, dividers, unit), parts=(*figures, *how_to_use()))


def how_to_use() -> tuple[Section, ...]:
    """The parts that close every bench sheet."""
    return (
        Section(title="The templates", lines=TEXTS.rows("templates")),
        Section(title="Take care", lines=TEXTS.rows("cautions")),
    )
