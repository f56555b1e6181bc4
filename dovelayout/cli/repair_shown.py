"""What the repair commands share: reading their options, and showing advice to people and machines."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import typer

from dovelayout.cli.console import clean, console, put_findings, put_json, put_table

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.drawing.cards.slide import Card
    from dovelayout.render.files import Over
    from dovelayout.repair.repair import Advice, Figure
    from dovelayout.repair.symptoms import Diagnosis, Question, Symptom

C = TypeVar("C", bound=str)

AIR_HELP = "Relative humidity when all was well and now, percent, such as 65:25."
MOST_READ = 2000
"""Letters of one answer that are read; ours."""

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
    out: Path, cards: Sequence[Card], what: str, paper: str, legend: str | None = None, *, over: Over
) -> tuple[Path, ...]:
    """Draws cards to a file, .pdf on the paper or .svg on a sheet to measure. Raises PrintError."""
    from dovelayout.drawing.cards.patch import CORNER_LINE, repair_sheets
    from dovelayout.drawing.sheets.frame import Heading
    from dovelayout.errors import PrintError
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import write_files
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text

    head = Heading(job="repair", what=what, numbers="a repair of one's own work: try the fit on an offcut first")
    line = legend or CORNER_LINE
    match out.suffix.lower():
        case ".svg":
            (sheet,) = repair_sheets(cards, heading=head, on=None, legend=line)
            data = svg_text(sheet).encode("utf-8")
        case ".pdf":
            sheets = repair_sheets(cards, heading=head, on=paper_named(paper), legend=line)
            data = pdf_bytes(sheets, title=sheets[0].title)
        case _:
            raise PrintError(f"{out}: a repair is drawn as .pdf or .svg", remedy="give the file one of these endings")
    write_files({out: data}, over=over)
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


def asked_report() -> str:
    """A report asked for in three questions, one line each, on standard error. Raises LayoutError where nothing is said."""
    from dovelayout.errors import LayoutError
    from dovelayout.repair.symptoms import facets, report_of

    report = report_of([_answer(facet.line) for facet in facets()])
    if not report:
        raise LayoutError("say what you see in a few words, or name a --symptom", remedy="one of the two")
    return report


def told_apart(found: Diagnosis) -> Diagnosis:
    """A diagnosis after the question that tells its symptoms apart, if there is one and it is answered by a number."""
    from dovelayout.repair.symptoms import answered, question_for

    question = None if found.sure else question_for(found.symptoms)
    if question is None:
        return found
    choices = "".join(f"\n  {number} {text}" for number, (_, text) in enumerate(question.answers, 1))
    answer = _answer(f"{question.ask}{choices}\nA number, or nothing").strip()
    if not answer.isdecimal() or not 1 <= int(answer) <= len(question.answers):
        return found
    return answered(found, question.answers[int(answer) - 1][0])


def _answer(question: str) -> str:
    """One line from standard input; the question is shown where someone sits at it. '' at its end."""
    if sys.stdin.isatty():
        typer.echo(f"{question}: ", nl=False, err=True)
    return sys.stdin.readline(MOST_READ)


def put_diagnosis(found: Diagnosis, as_json: bool, *, brief: bool = False) -> None:
    """A diagnosis, for people or as JSON; `brief`: titles alone."""
    from dovelayout.repair.symptoms import question_for

    question = None if found.sure or found.likely or brief else question_for(found.symptoms)
    if as_json:
        put_json(
            {
                "sure": found.sure,
                "likely": found.likely,
                "doubt": found.doubt,
                "question": None if question is None else _question_json(question),
                "symptoms": [_symptom_json(row) for row in found.symptoms],
            }
        )
        return
    out = console()
    if brief:
        put_table(out, "Symptoms", ("--symptom", "what is seen"), ((row.id, row.title) for row in found.symptoms))
    elif found.sure or found.likely:
        if found.likely:
            out.print(f"Likely, not sure: {found.doubt}.")
        _show_symptom(out, found.symptoms[0])
        stop = found.symptoms[0].level.value == "stop"
        out.print("Verdict: STOP. The honest remedy is to recut." if stop else "Verdict: it can be mended, or left.")
    else:
        _show_nearest(out, found, question)


def _show_nearest(out: Console, found: Diagnosis, question: Question | None) -> None:
    out.print(f"Not sure: {clean(found.doubt)}. The nearest:")
    for row in found.symptoms:
        out.print(f"{row.title[0].upper()}{row.title[1:]}  [--symptom {row.id}]")
        out.print(f"      how to tell: {row.tell}")
    if question is not None:
        out.print(f"To tell them apart: {question.ask}")
        for name, text in question.answers:
            out.print(f"  - {text}  [--symptom {name}]")
    out.print("Say more of what you see, or name one with --symptom.")


def _show_symptom(out: Console, row: Symptom) -> None:
    out.print(f"{row.title[0].upper()}{row.title[1:]}  [--symptom {row.id}]")
    for name, text in (
        ("what it looks like", row.seen),
        *((f"cause {number}", cause) for number, cause in enumerate(row.causes, 1)),
        ("how to tell", row.tell),
        *(("ask", question) for question in row.asks),
        *((stage.casefold(), text) for stage, text in row.stages),
        ("when to leave it", row.leave),
        ("next time", row.next_time),
        ("figures (put in your own sizes)", row.command),
        ("source", row.source),
        *(("take care", caution) for caution in row.cautions),
    ):
        if text:
            out.print(f"      {name}: {text}")


def _question_json(question: Question) -> dict[str, Any]:
    return {
        "ask": question.ask,
        "answers": [{"symptom": name, "answer": text} for name, text in question.answers],
    }


def _symptom_json(row: Symptom) -> dict[str, Any]:
    return {
        "id": row.id,
        "also": list(row.also),
        "title": row.title,
        "seen": row.seen,
        "cause": row.cause,
        "causes": list(row.causes),
        "tell": row.tell,
        "remedy": row.remedy,
        "glue_open": row.glue_open,
        "glue_set": row.glue_set,
        "finished": row.finished,
        "leave": row.leave,
        "next_time": row.next_time,
        "asks": list(row.asks),
        "cautions": list(row.cautions),
        "command": row.command,
        "air": row.air,
        "level": row.level.value,
        "source": row.source,
    }
