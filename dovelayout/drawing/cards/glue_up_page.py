"""The page for the wall at a glue-up, on one sheet where it fits, with the cauls behind it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from dovelayout.checks.finding import Finding
from dovelayout.drawing.cards.caul import caul_pages
from dovelayout.drawing.primitives import Sheet
from dovelayout.drawing.sheets.flow import Paragraph, flowed, heading, item
from dovelayout.drawing.sheets.frame import Legend, Page, all_framed
from dovelayout.drawing.style import Heading, Style
from dovelayout.glueup import words as glue_words
from dovelayout.glueup.plan import GlueUp
from dovelayout.paper import Paper
from dovelayout.texts import Texts
from dovelayout.units import Unit, format_both
from dovelayout.words import grouped

TEXTS = Texts("drawing", "caul")

SIZES_MM = (3.1, 2.9, 2.7, 2.55)
"""Sizes of the text that are tried for one sheet; the last is about 7 point, as small as reads at the bench (ours)."""

RUN_ON_MM = 2.9
"""The size where one sheet won't do anyway."""

BLANK = "______"


def glue_up_sheets(plan: GlueUp, findings: Sequence[Finding], style: Style, on: Paper) -> tuple[Sheet, ...]:
    """The sheets of a glue-up. Raises PrintError where a caul doesn't fit the paper."""
    rows = page_lines(plan, findings, style.unit)
    attempts = (flowed(_sized(rows, size_mm), on) for size_mm in SIZES_MM)
    texts = next((found for found in attempts if len(found) == 1), None) or flowed(_sized(rows, RUN_ON_MM), on)
    title = f"{style.job}: glue-up"
    head = Heading(job="", what=title, numbers=glue_words.conditions(plan), stamp=style.stamp)
    pages = [replace(Page.of(content, head, Legend.NONE), title=title) for content in texts]
    cauls = glue_words.cauls_by_shape(plan.cauls)
    head = style.heading("Relieved cauls", TEXTS("heading"))
    pages += [Page.of(content, head, Legend.CAUL) for content in (caul_pages(cauls, style, on) if cauls else ())]
    return all_framed(pages, on)


def _sized(rows: Sequence[Paragraph], size_mm: float) -> tuple[Paragraph, ...]:
    """The rows at another size of text, headings and gaps in proportion."""
    share = size_mm / Paragraph(text="").size_mm
    return tuple(replace(row, size_mm=row.size_mm * share, before_mm=row.before_mm * share**2) for row in rows)


def page_lines(plan: GlueUp, findings: Sequence[Finding], unit: Unit) -> tuple[Paragraph, ...]:
    """What stands on the page, in the order of the work."""
    spreaders = grouped((round(one.length_mm, 3), one.where) for one in plan.spreaders)
    diagonals = grouped(((round(one.length_mm, 3), one.allowed_mm), one.where) for one in plan.diagonals)
    clamps = (f"spreader {format_both(mm, unit=unit)}: {'; '.join(places)}" for mm, places in spreaders.items())
    squares = (
        f"{'; '.join(places)}: {format_both(mm, unit=unit)}, may differ {allowed:g} mm; measured {BLANK} / {BLANK}"
        for (mm, allowed), places in diagonals.items()
    )
    order = (f"{count}. {words}" for count, (_, words) in enumerate(glue_words.step_lines(plan, unit), 1))
    sections: tuple[tuple[str, Iterable[Paragraph]], ...] = (
        ("Stages", map(item, _stages(plan))),
        ("Rehearse it dry", map(item, glue_words.rehearsal())),
        ("Order", (Paragraph(text=step, indent_mm=2.0) for step in order)),
        ("Glue", map(item, glue_words.habits(plan))),
        ("Clamps", map(item, (*glue_words.clamping(plan), *clamps))),
        ("Look, before it sets", map(item, (*squares, *glue_words.checking(plan)))),
        ("What the checks say", map(item, map(_finding_line, findings))),
        ("Take care", map(item, glue_words.cautions(plan))),
    )
    rows = [Paragraph(text=glue_words.label_first(), size_mm=3.5)]
    for title, paragraphs in sections:
        lines = tuple(paragraphs)
        if lines or title == "Order":
            rows += [heading(title), *lines]
    return tuple(rows)


def _stages(plan: GlueUp) -> Iterator[str]:
    """A row for each stage; stages with the same figures are one row."""
    rows: list[tuple[str, str]] = []
    for row in plan.stages:
        glue = "" if plan.work.glue is None else f", about {row.labour.glue_g(plan.work.glue):.1f} g of glue"
        joins = ", ".join(row.stage.joins)
        name = row.name if row.name.endswith(joins) else f"{row.name} ({joins})"
        figures = (
            f"{row.labour.faces} faces{glue}; spread in {row.spread_minutes:.1f} min, clamped at "
            f"{row.minutes:.1f} min; rehearsed: {BLANK}"
        )
        rows.append((figures, name))
    for figures, names in grouped(rows).items():
        yield f"{', '.join(names)}: {'each ' if len(names) > 1 else ''}{figures}"


def _finding_line(finding: Finding) -> str:
    fix = f" What would do: {finding.fix}." if finding.fix else ""
    return f"{finding.level.value.upper()}, {finding.where}: {finding.message}.{fix}"
