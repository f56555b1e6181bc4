"""`dovelayout repair diagnose`."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.command import one_line_errors, option
from dovelayout.cli.console import clean, console, put_json, put_table
from dovelayout.cli.repair_options import AIR_HELP, air_pair
from dovelayout.errors import LayoutError
from dovelayout.words import capital

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.repair.symptoms import Diagnosis, Question, Symptom

MOST_READ = 2000
"""Letters of one answer that are read; ours."""


@one_line_errors
def diagnose(
    *,
    report: Annotated[str | None, typer.Argument(help="What you see, in a few words.", show_default=False)] = None,
    symptom: Annotated[str | None, option("--symptom", "One by its name; --list shows them.")] = None,
    humidity: Annotated[str | None, option("--humidity", AIR_HELP)] = None,
    list_: Annotated[bool, option("--list", "All symptoms that are known.")] = False,
    as_json: Annotated[bool, option("--json", "The advice as JSON on standard output.")] = False,
) -> None:
    """What a trouble comes from, how to tell, what to do. Lists the nearest when unsure, asks when nothing is said. Exit 1:
    recut."""
    from dovelayout.repair.symptoms import Diagnosis, air_change, all_symptoms, find_symptom
    from dovelayout.repair.symptoms import diagnose as looked_up

    if list_:
        rows = tuple(all_symptoms().values())
        _put(Diagnosis(sure=False, symptoms=rows, doubt="all that are known"), as_json=as_json, brief=True)
        return
    if report is not None and symptom is not None:
        raise LayoutError("say what you see in a few words, or name a --symptom", remedy="one of the two")
    air = "" if humidity is None else air_change(air_pair("--humidity", humidity))
    if symptom is not None:
        row = find_symptom(symptom)
        other_air = bool(air and row.air and row.air != air)
        doubt = f"the air has become {air}, and this is a trouble of air that has become {row.air}" if other_air else ""
        found = Diagnosis(sure=not other_air, symptoms=(row,), doubt=doubt)
    elif report is not None:
        found = looked_up(report, air=air)
    else:
        found = _after_question(looked_up(_report_by_questions(), air=air))
    _put(found, as_json=as_json)
    if found.sure and found.symptoms[0].level.value == "stop":
        raise typer.Exit(1)


def _report_by_questions() -> str:
    """A report asked for in three questions, one line each, on standard error. Raises LayoutError where nothing is said."""
    from dovelayout.repair.symptoms import facets, report_of

    report = report_of([_answer(facet.line) for facet in facets()])
    if not report:
        raise LayoutError("say what you see in a few words, or name a --symptom", remedy="one of the two")
    return report


def _after_question(found: Diagnosis) -> Diagnosis:
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


def _put(found: Diagnosis, *, as_json: bool, brief: bool = False) -> None:
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
        out.print(f"{capital(row.title)}  [--symptom {row.id}]")
        out.print(f"      how to tell: {row.tell}")
    if question is not None:
        out.print(f"To tell them apart: {question.ask}")
        for name, text in question.answers:
            out.print(f"  - {text}  [--symptom {name}]")
    out.print("Say more of what you see, or name one with --symptom.")


def _show_symptom(out: Console, row: Symptom) -> None:
    out.print(f"{capital(row.title)}  [--symptom {row.id}]")
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


_SYMPTOM_KEYS = (
    *("id", "also", "title", "seen", "cause", "causes", "tell", "remedy", "glue_open", "glue_set", "finished"),
    *("leave", "next_time", "asks", "cautions", "command", "air", "level", "source"),
)


def _symptom_json(row: Symptom) -> dict[str, Any]:
    return {key: getattr(row, key) for key in _SYMPTOM_KEYS}
