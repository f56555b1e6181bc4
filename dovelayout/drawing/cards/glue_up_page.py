"""The page for the wall at a glue-up, on one sheet where it goes, with the cauls behind it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from dovelayout.checks.finding import Finding
from dovelayout.drawing.cards.caul import LEGEND, caul_pages
from dovelayout.drawing.primitives import Item, Sheet
from dovelayout.drawing.sheets.flow import Line, flowed, heading, item
from dovelayout.drawing.sheets.frame import Heading, framed
from dovelayout.glueup import words as glue_words
from dovelayout.glueup.plan import GlueUp
from dovelayout.paper import Paper
from dovelayout.units import Unit, format_both

SIZES_MM = (3.1, 2.9, 2.7, 2.55)
"""Sizes of the text that are tried for one sheet; the last is about 7 point, as small as reads at the bench (ours)."""

RUN_ON_MM = 2.9
"""The size where one sheet won't do anyway."""

BLANK = "______"


def glue_up_sheets(
    plan: GlueUp, findings: Sequence[Finding], *, title: str, unit: Unit, on: Paper, stamp: str = ""
) -> tuple[Sheet, ...]:
    """The sheets of a glue-up. Raises PrintError where a caul doesn't fit the paper."""
    rows = page_lines(plan, findings, unit)
    tried = (flowed(_sized(rows, size_mm), on) for size_mm in SIZES_MM)
    texts = next((found for found in tried if len(found) == 1), None)
    pages: list[tuple[tuple[Item, ...], Heading, str]] = [
        (content, Heading(job="", what=f"{title}: glue-up", numbers=glue_words.conditions(plan), stamp=stamp), "")
        for content in texts or flowed(_sized(rows, RUN_ON_MM), on)
    ]
    cauls = [(caul, names) for caul, names in glue_words.cauls_by_shape(plan.cauls)]
    for content in caul_pages(cauls, unit=unit, on=on) if cauls else ():
        head = Heading(
            job=title,
            what="Relieved cauls",
            numbers="Clamps press the tails alone: the notches keep the strip off the pins, proud or not.",
            stamp=stamp,
        )
        pages.append((content, head, LEGEND))
    return tuple(
        framed(
            content,
            on=on,
            heading=head,
            number=number,
            of=len(pages),
            title=f"{title}: {head.what.removeprefix(f'{title}: ')}",
            description=head.numbers,
            legend=legend,
        )
        for number, (content, head, legend) in enumerate(pages, 1)
    )


def _sized(rows: Sequence[Line], size_mm: float) -> tuple[Line, ...]:
    """The rows at another size of text, headings and gaps in proportion."""
    share = size_mm / Line(text="").size_mm
    return tuple(replace(row, size_mm=row.size_mm * share, before_mm=row.before_mm * share**2) for row in rows)


def page_lines(plan: GlueUp, findings: Sequence[Finding], unit: Unit) -> tuple[Line, ...]:
    """What stands on the page, in the order of the work."""

    def both(value_mm: float) -> str:
        return format_both(value_mm, unit=unit)

    clamps = [*glue_words.clamping(plan)]
    clamps += [f"spreader {both(length)}: {where}" for where, length in _spreaders(plan)]
    squares = [
        f"{where}: {both(length)}, may differ {allowed:g} mm; measured {BLANK} / {BLANK}"
        for where, length, allowed in _diagonals(plan)
    ]
    sections = (
        ("Stages", _stages(plan)),
        ("Rehearse it dry", glue_words.rehearsal()),
        ("Glue", glue_words.habits(plan)),
        ("Clamps", tuple(clamps)),
        ("Look, before it sets", (*squares, *glue_words.checking(plan))),
        ("What the checks say", tuple(_said(finding) for finding in findings)),
        ("Take care", glue_words.cautions(plan)),
    )
    rows = [Line(text=glue_words.label_first(), size_mm=3.5)]
    for title, lines in sections:
        if lines:
            rows += [heading(title), *(item(line) for line in lines)]
        if title == "Rehearse it dry":
            steps = enumerate(glue_words.step_lines(plan, unit), 1)
            rows += [heading("Order"), *(Line(text=f"{n}. {words}", indent_mm=2.0) for n, (_, words) in steps)]
    return tuple(rows)


def _stages(plan: GlueUp) -> tuple[str, ...]:
    """A row for each stage; stages that ask for the same are one row."""
    alike: dict[str, list[str]] = {}
    for row in plan.stages:
        glue = "" if plan.work.glue is None else f", about {row.labour.glue_g(plan.work.glue):.1f} g of glue"
        numbers = (
            f"{row.labour.faces} faces{glue}; spread in {row.spread_minutes:.1f} min, clamped at "
            f"{row.minutes:.1f} min; rehearsed: {BLANK}"
        )
        joins = ", ".join(row.stage.joins)
        alike.setdefault(numbers, []).append(row.name if row.name.endswith(joins) else f"{row.name} ({joins})")
    return tuple(
        f"{', '.join(names)}: {'each ' if len(names) > 1 else ''}{numbers}" for numbers, names in alike.items()
    )


def _spreaders(plan: GlueUp) -> list[tuple[str, float]]:
    rows: dict[float, list[str]] = {}
    for spreader in plan.spreaders:
        rows.setdefault(round(spreader.length_mm, 3), []).append(spreader.where)
    return [("; ".join(places), length) for length, places in rows.items()]


def _diagonals(plan: GlueUp) -> list[tuple[str, float, float]]:
    rows: dict[tuple[float, float], list[str]] = {}
    for row in plan.diagonals:
        rows.setdefault((round(row.length_mm, 3), row.allowed_mm), []).append(row.where)
    return [("; ".join(places), length, allowed) for (length, allowed), places in rows.items()]


def _said(finding: Finding) -> str:
    fix = f" What would do: {finding.fix}." if finding.fix else ""
    return f"{finding.level.value.upper()}, {finding.where}: {finding.message}.{fix}"
