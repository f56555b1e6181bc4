"""`dovelayout repair diagnose`."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.console import clean, console, put_json, put_table, told
from dovelayout.cli.repair_options import AIR_HELP, air_pair, option
from dovelayout.errors import LayoutError

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.repair.diagnosis import Diagnosis, Symptom


@told
def diagnose(
    *,
    report: Annotated[str | None, typer.Argument(help="What you see, in a few words.", show_default=False)] = None,
    symptom: Annotated[str | None, option("--symptom", "One by its name; --list shows them.")] = None,
    humidity: Annotated[str | None, option("--humidity", AIR_HELP)] = None,
    list_: Annotated[bool, option("--list", "All symptoms that are known.")] = False,
    as_json: Annotated[bool, option("--json", "The advice as JSON on standard output.")] = False,
) -> None:
    """What a trouble comes from, how to tell, what to do. Lists the nearest when unsure. Exit 1: recut."""
    from dovelayout.repair.diagnosis import Diagnosis, air_change, all_symptoms, find_symptom
    from dovelayout.repair.diagnosis import diagnose as looked_up

    if list_:
        rows = tuple(all_symptoms().values())
        _put(Diagnosis(sure=False, symptoms=rows, doubt="all that are known"), as_json=as_json, brief=True)
        return
    if (report is None) == (symptom is None):
        raise LayoutError("say what you see in a few words, or name a --symptom", remedy="one of the two")
    air = "" if humidity is None else air_change(air_pair("--humidity", humidity))
    if symptom is None:
        found = looked_up(report or "", air=air)
    else:
        row = find_symptom(symptom)
        other_air = bool(air and row.air and row.air != air)
        doubt = f"the air has become {air}, and this is a trouble of air that has become {row.air}" if other_air else ""
        found = Diagnosis(sure=not other_air, symptoms=(row,), doubt=doubt)
    _put(found, as_json=as_json)
    if found.sure and found.symptoms[0].level.value == "stop":
        raise typer.Exit(1)


def _put(found: Diagnosis, *, as_json: bool, brief: bool = False) -> None:
    """A diagnosis, for people or as JSON; `brief`: titles alone."""
    if as_json:
        put_json({"sure": found.sure, "doubt": found.doubt, "symptoms": [_symptom_json(row) for row in found.symptoms]})
        return
    out = console()
    if brief:
        put_table(out, "Symptoms", ("--symptom", "what is seen"), ((row.id, row.title) for row in found.symptoms))
    elif not found.sure:
        out.print(f"Not sure: {clean(found.doubt)}. The nearest:")
        for row in found.symptoms:
            out.print(f"{row.title[0].upper()}{row.title[1:]}  [--symptom {row.id}]")
            out.print(f"      how to tell: {row.tell}")
        out.print("Say more of what you see, or name one with --symptom.")
    else:
        _show(out, found.symptoms[0])
        stop = found.symptoms[0].level.value == "stop"
        out.print("Verdict: STOP. The honest remedy is to recut." if stop else "Verdict: it can be mended, or left.")


def _show(out: Console, row: Symptom) -> None:
    from dovelayout.repair.advice import cautions

    out.print(f"{row.title[0].upper()}{row.title[1:]}  [--symptom {row.id}]")
    for name, text in (
        ("cause", row.cause),
        ("how to tell", row.tell),
        *(("ask", question) for question in row.asks),
        ("remedy", row.remedy),
        ("next time", row.next_time),
        ("figures", row.command),
        ("source", row.source),
        ("take care", "; ".join(cautions("chisels", "glues"))),
    ):
        if text:
            out.print(f"      {name}: {text}")


def _symptom_json(row: Symptom) -> dict[str, Any]:
    keys = ("id", "title", "cause", "tell", "remedy", "next_time", "asks", "command", "level", "source")
    return {key: getattr(row, key) for key in keys}
