"""What the repair commands share: reading their options, and showing advice to people and machines."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from dovelayout.cli.console import clean, console, put_findings, put_json, put_table

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.drawing.cards.card import Card
    from dovelayout.render.files import MayReplace
    from dovelayout.repair.diagnosis import Diagnosis, Symptom
    from dovelayout.repair.repair import Advice, Figure

C = TypeVar("C", bound=str)

AIR_HELP = "Relative humidity when all was well and now, percent, such as 65:25."
_AIR = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*%?\s*(?::|to|-|,|;)\s*(\d+(?:[.,]\d+)?)\s*%?\s*")
_ANGLE = re.compile(r"\s*([+-]?\d+(?:[.,]\d+)?)\s*(?:°|deg(?:rees?)?\.?)?\s*")


def length(option: str, text: str, low_mm: float, high_mm: float) -> float:
    """A length as typed, in mm; a bare number is mm. Raises UnitsError that names the option and what would do."""
    from dovelayout.errors import UnitsError
    from dovelayout.units import Unit, parse_length

    try:
        got_mm = float(parse_length(text, unit=Unit.MM))
    except UnitsError as error:
        raise UnitsError(f"{option}: {error}") from None
    if not low_mm <= got_mm <= high_mm:
        raise UnitsError(f"{option} {text!r} is {got_mm:g} mm", remedy=f"{low_mm:g} to {high_mm:g} mm would be right")
    return got_mm


def given(
    option: str, text: str | None, low_mm: float, high_mm: float, *, default: float | None = None
) -> float | None:
    """A length as typed, or the default where it wasn't."""
    return default if text is None else length(option, text, low_mm, high_mm)


def ratio(option: str, text: str) -> float:
    """The n of a slope 1:n as typed."""
    from dovelayout.errors import UnitsError
    from dovelayout.units import parse_slope

    try:
        return parse_slope(text)
    except UnitsError as error:
        raise UnitsError(f"{option}: {error}") from None


def angle_deg(option: str, text: str) -> float:
    """An angle as typed, -180 to 180 degrees."""
    from dovelayout.errors import UnitsError

    found = _ANGLE.fullmatch(text) if len(text) <= 40 else None
    if found is None:
        raise UnitsError(
            f"{option} {text[:40]!r} is not an angle", remedy="degrees such as 60 or '-35 deg' would be right"
        )
    value = float(found[1].replace(",", "."))
    if abs(value) > 180:
        raise UnitsError(f"{option} {text!r} is {value:g} degrees", remedy="-180 to 180 would be right")
    return value


def air_pair(option: str, text: str) -> tuple[float, float]:
    """Two relative humidities as typed, when all was well and now."""
    from dovelayout.errors import UnitsError

    found = _AIR.fullmatch(text) if len(text) <= 40 else None
    if found is None:
        raise UnitsError(
            f"{option} {text[:40]!r} is not two humidities",
            remedy="'then:now' in percent, such as 65:25, would be right",
        )
    then, now = (float(value.replace(",", ".")) for value in found.groups())
    if not (5 <= then <= 95 and 5 <= now <= 95):
        raise UnitsError(f"{option} {text!r}: 5 to 95 % each would be right")
    return then, now


def chosen(option: str, text: str, known: Iterable[C]) -> C:
    """One of a few words."""
    from dovelayout.errors import LayoutError

    words = tuple(known)
    for word in words:
        if word.casefold() == text.strip().casefold():
            return word
    raise LayoutError(f"{option} {text[:40]!r} is not known", remedy=f"one of {', '.join(words)}")


def written(
    out: Path, cards: Sequence[Card], what: str, paper: str, legend: str = "corner", *, may_replace: MayReplace
) -> tuple[Path, ...]:
    """Draws cards to a file, .pdf on the paper or .svg on a sheet to measure. Raises PrintError."""
    from dovelayout.drawing.cards.card import card_sheets
    from dovelayout.drawing.sheets.frame import Legend
    from dovelayout.drawing.style import Heading
    from dovelayout.errors import PrintError
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import write_files
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text

    head = Heading(job="repair", what=what, numbers="a repair of one's own work: try the fit on an offcut first")
    match out.suffix.lower():
        case ".svg":
            (sheet,) = card_sheets(cards, head, Legend(legend), None)
            data = svg_text(sheet).encode("utf-8")
        case ".pdf":
            sheets = card_sheets(cards, head, Legend(legend), paper_named(paper))
            data = pdf_bytes(sheets, title=sheets[0].title)
        case _:
            raise PrintError(f"{out}: a repair is drawn as .pdf or .svg", remedy="give the file one of these endings")
    write_files({out: data}, may_replace=may_replace)
    return (out,)


def put_advice(advice: Advice, files: Sequence[Path], as_json: bool, *, undrawn: Path | None = None) -> None:
    """The advice, for people or as JSON; `undrawn`: a file that was asked for and holds nothing."""
    from dovelayout.report.findings import findings_json

    if as_json:
        put_json(
            {
                "trouble": advice.trouble,
                "method": advice.method,
                "worst": advice.worst.value,
                "looks": advice.looks,
                "glue": advice.glue,
                "steps": list(advice.steps),
                "cautions": list(advice.cautions),
                "figures": [
                    {"what": row.what, "value": round(row.value, 4), "unit": row.unit, "source": row.source}
                    for row in advice.figures
                ],
                "findings": findings_json(advice.findings),
                "files": [str(path) for path in files],
            }
        )
    else:
        _show(console(), advice, files)
    if undrawn is not None:
        because = "recut" if advice.worst.value == "stop" else f"'{advice.method}' puts in no piece of wood"
        console(to_stderr=True).print(f"{clean(str(undrawn))} is not drawn: {because}", soft_wrap=True)


def _show(out: Console, advice: Advice, files: Sequence[Path]) -> None:
    from dovelayout.checks.finding import worst_first

    out.print(f"{clean(advice.trouble[0].upper() + advice.trouble[1:])}: {advice.method.upper()}")
    put_table(out, "", ("figure", "", "source"), ((row.what, _value(row), row.source) for row in advice.figures))
    put_findings(out, worst_first(advice.findings))
    out.print(f"What it will look like: {advice.looks}")
    out.print(f"Glue: {advice.glue}")
    for number, step in enumerate(advice.steps, 1):
        out.print(f"  {number}. {clean(step)}")
    out.print("Take care:")
    for caution in advice.cautions:
        out.print(f"  - {clean(caution)}")
    recut = advice.worst.value == "stop"
    out.print("Verdict: STOP. No repair will hold: recut." if recut else f"Verdict: {advice.method}.")
    for path in files:
        out.print(f"wrote {clean(str(path))}", soft_wrap=True)


def _value(figure: Figure) -> str:
    from dovelayout.repair.repair import both

    return both(figure.value) if figure.unit == "mm" else f"{figure.value:g} {figure.unit}"


def put_diagnosis(found: Diagnosis, as_json: bool, *, brief: bool = False) -> None:
    """A diagnosis, for people or as JSON; `brief`: titles alone."""
    if as_json:
        put_json({"sure": found.sure, "doubt": found.doubt, "symptoms": [_symptom_json(row) for row in found.symptoms]})
        return
    out = console()
    if brief:
        put_table(out, "Symptoms", ("--symptom", "what is seen"), ((row.id, row.title) for row in found.symptoms))
        return
    if not found.sure:
        out.print(f"Not sure: {clean(found.doubt)}. The nearest:")
        for row in found.symptoms:
            out.print(f"{row.title[0].upper()}{row.title[1:]}  [--symptom {row.id}]")
            out.print(f"      how to tell: {row.tell}")
        out.print("Say more of what you see, or name one with --symptom.")
    else:
        _show_symptom(out, found.symptoms[0])
        stop = found.symptoms[0].level.value == "stop"
        out.print("Verdict: STOP. The honest remedy is to recut." if stop else "Verdict: it can be mended, or left.")


def _show_symptom(out: Console, row: Symptom) -> None:
    from dovelayout.repair.repair import CHISELS, GLUES, MAKERS_FIRST

    out.print(f"{row.title[0].upper()}{row.title[1:]}  [--symptom {row.id}]")
    for name, text in (
        ("cause", row.cause),
        ("how to tell", row.tell),
        *(("ask", question) for question in row.asks),
        ("remedy", row.remedy),
        ("next time", row.next_time),
        ("figures", row.command),
        ("source", row.source),
        ("take care", f"{CHISELS}; {GLUES}; {MAKERS_FIRST}"),
    ):
        if text:
            out.print(f"      {name}: {text}")


def _symptom_json(row: Symptom) -> dict[str, Any]:
    return {
        "id": row.id,
        "title": row.title,
        "cause": row.cause,
        "tell": row.tell,
        "remedy": row.remedy,
        "next_time": row.next_time,
        "asks": list(row.asks),
        "command": row.command,
        "level": row.level.value,
        "source": row.source,
    }
