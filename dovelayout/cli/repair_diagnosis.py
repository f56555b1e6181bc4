"""`dovelayout repair diagnose`."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.command import one_line_errors, option
from dovelayout.cli.console import clean, console, put_json, put_table
from dovelayout.cli.repair_options import AIR_HELP, air_now, air_pair, chosen
from dovelayout.errors import LayoutError
from dovelayout.words import capital

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.joints.corner import CornerJoint
    from dovelayout.repair.symptoms import Diagnosis, Fact, KnownPiece, Question, Symptom

STAGES = ("open", "set", "finished")
"""How far the glue is, in the order of a symptom's stages."""

MOST_READ = 2000
"""Letters of one answer that are read; ours."""


@one_line_errors
def diagnose(
    *,
    report: Annotated[str | None, typer.Argument(help="What you see, in a few words.", show_default=False)] = None,
    where: Annotated[str | None, option("--where", "Where it is: cheek, lap, drawer ...")] = None,
    what: Annotated[str | None, option("--what", "What you see: gap, crack, stain ...")] = None,
    when: Annotated[str | None, option("--when", "When it came: sawing, glue-up, first season ...")] = None,
    glue: Annotated[str | None, option("--glue", "open, set or finished: only what to do then.")] = None,
    symptom: Annotated[str | None, option("--symptom", "One by its name; --list shows them.")] = None,
    humidity: Annotated[str | None, option("--humidity", f"{AIR_HELP} With a job the one now will do.")] = None,
    job: Annotated[
        Path | None, option("--job", "The job file of the piece: its woods, fits, glue and air count.")
    ] = None,
    in_corner: Annotated[str | None, option("--corner", "With a job: the corner's name.")] = None,
    in_drawer: Annotated[str | None, option("--drawer", "With a job: the drawer's name.")] = None,
    list_: Annotated[bool, option("--list", "All symptoms that are known.")] = False,
    as_json: Annotated[bool, option("--json", "The advice as JSON on standard output.")] = False,
) -> None:
    """What a trouble comes from, how to tell, what to do. Lists the nearest when unsure, asks when nothing is said. Exit 1:
    recut."""
    from dovelayout.repair.symptoms import Diagnosis, all_symptoms

    if list_:
        rows = tuple(all_symptoms().values())
        _put(Diagnosis(sure=False, symptoms=rows, doubt="all that are known"), _Shown(as_json=as_json, brief=True))
        return
    stage = None if glue is None else chosen("--glue", glue, STAGES)
    facets = {"where": where, "what": what, "when": when}
    if symptom is not None and (report is not None or any(facets.values())):
        raise LayoutError("say what you see in a few words, or name a --symptom", remedy="one of the two")
    air_pct = _air(humidity, with_job=job is not None)
    piece = _piece(job, in_corner, in_drawer, air_pct)
    air = _air_change(air_pct, piece)
    shown = _Shown(as_json=as_json, stage=stage, piece=piece, job=job)
    found = _named(symptom, air) if symptom is not None else _found(report, facets, shown, air)
    _put(found, shown)
    if found.sure and found.symptoms[0].level.value == "stop":
        raise typer.Exit(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Shown:
    """How a diagnosis is shown, and the piece it is of: `stage`, how far the glue is; `brief`, titles alone; `job`, the file
    that commands take their figures from."""

    as_json: bool
    brief: bool = False
    stage: str | None = None
    piece: KnownPiece | None = None
    job: Path | None = None

    @property
    def corner(self) -> CornerJoint | None:
        """The one corner that the piece has; None where it has several, of which none was named."""
        joints = () if self.piece is None else self.piece.joints
        return joints[0] if len(joints) == 1 else None


def _air(humidity: str | None, *, with_job: bool) -> tuple[float | None, float | None]:
    """Relative humidity when all was well and now, as far as they are said; the one now alone will do with a job."""
    if humidity is None:
        return None, None
    return air_now(humidity) if with_job else air_pair("--humidity", humidity)


def _piece(
    path: Path | None, corner: str | None, drawer: str | None, air_pct: tuple[float | None, float | None]
) -> KnownPiece | None:
    """The piece of a job, or one part of it. Raises JobError, LayoutError."""
    if path is None:
        if corner is not None or drawer is not None:
            raise LayoutError("--corner and --drawer name a part of a job", remedy="give --job too")
        return None
    if corner is not None and drawer is not None:
        raise LayoutError("--corner and --drawer name two parts of a job", remedy="one of the two")
    from dovelayout.job.reader import read_job
    from dovelayout.report.diagnosis import piece_of

    return piece_of(read_job(path), corner=corner, drawer=drawer, air_pct=air_pct)


def _air_change(air_pct: tuple[float | None, float | None], piece: KnownPiece | None) -> str:
    """'drier' or 'damper' for what is said of the air, and what a job says of that in which it was built; '' for none."""
    from dovelayout.repair.symptoms import air_change

    then_pct, now_pct = air_pct
    if then_pct is None and piece is not None:
        then_pct = piece.shop.built_at_pct
    return "" if then_pct is None or now_pct is None else air_change((then_pct, now_pct))


def _named(symptom: str, air: str) -> Diagnosis:
    """A symptom by its name: in doubt where it is one of other air."""
    from dovelayout.repair.symptoms import Diagnosis, find_symptom

    row = find_symptom(symptom)
    other_air = bool(air and row.air and row.air != air)
    doubt = f"the air has become {air}, and this is a trouble of air that has become {row.air}" if other_air else ""
    return Diagnosis(sure=not other_air, symptoms=(row,), doubt=doubt)


def _found(report: str | None, facets: Mapping[str, str | None], shown: _Shown, air: str) -> Diagnosis:
    """What report and facets come down to; asks for what is missing where someone can answer."""
    from dovelayout.repair.symptoms import diagnose as looked_up
    from dovelayout.repair.symptoms import favoured, report_of

    asked = report is None and (at_a_terminal() or not any(facets.values()))
    text = report_of(_asked(facets, shown) if asked else [report or "", *(facets[name] or "" for name in facets)])
    found = looked_up(text, air=air, favoured={} if shown.piece is None else favoured(shown.piece))
    return _after_question(found) if asked else found


def at_a_terminal() -> bool:
    """Whether someone can answer a question."""
    return sys.stdin.isatty()


def _asked(facets: Mapping[str, str | None], shown: _Shown) -> list[str]:
    """What was said of each facet, the rest asked for, one line each. Raises LayoutError where nothing is said, and where
    nobody can answer, the questions shown instead."""
    from dovelayout.repair.symptoms import facets as all_facets

    nothing = LayoutError(
        "nothing is said of what you see", remedy="a few words, or --where, --what and --when, or a --symptom would do"
    )
    if not at_a_terminal():
        rows = [{"ask": row.ask, "option": f"--{row.name}", "words": list(row.words)} for row in all_facets()]
        if shown.as_json:
            put_json({"questions": rows})
        else:
            for row in all_facets():
                console().print(f"{row.line}  [--{row.name}]", soft_wrap=True)
        raise nothing
    answers = [facets[row.name] or _answer(row.line) for row in all_facets()]
    if not any(answer.strip() for answer in answers):
        raise nothing
    return answers


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
    """One line from standard input, the question shown on standard error. '' at its end."""
    typer.echo(f"{question}: ", nl=False, err=True)
    return sys.stdin.readline(MOST_READ)


def _put(found: Diagnosis, shown: _Shown) -> None:
    """A diagnosis, for people or as JSON, its commands with the job's figures."""
    from dovelayout.repair.symptoms import question_for
    from dovelayout.report.diagnosis import for_job

    question = None if found.sure or found.likely or shown.brief else question_for(found.symptoms)
    rows = [for_job(row, shown.job, shown.corner) for row in found.symptoms]
    if shown.as_json:
        put_json(
            {
                "sure": found.sure,
                "likely": found.likely,
                "doubt": found.doubt,
                "question": None if question is None else _question_json(question),
                "symptoms": [_symptom_json(row, shown) for row in rows],
            }
        )
        return
    out = console()
    if shown.brief:
        put_table(out, "Symptoms", ("--symptom", "what is seen"), ((row.id, row.title) for row in rows))
    elif found.sure or found.likely:
        if found.likely:
            out.print(f"Likely, not sure: {found.doubt}.")
        _show_symptom(out, rows[0], shown)
        stop = rows[0].level.value == "stop"
        out.print("Verdict: STOP. The honest remedy is to recut." if stop else "Verdict: it can be mended, or left.")
    else:
        _show_nearest(out, replace(found, symptoms=tuple(rows)), question, shown)


def _facts(row: Symptom, shown: _Shown) -> tuple[Fact, ...]:
    """What the piece says of a symptom."""
    from dovelayout.repair.symptoms import facts

    return () if shown.piece is None else facts(shown.piece, row)


def _show_nearest(out: Console, found: Diagnosis, question: Question | None, shown: _Shown) -> None:
    out.print(f"Not sure: {clean(found.doubt)}. The nearest:")
    for row in found.symptoms:
        out.print(f"{capital(row.title)}  [--symptom {row.id}]")
        out.print(f"      how to tell: {row.tell}")
        for fact in _facts(row, shown):
            out.print(f"      your piece: {clean(fact.text)}")
    if question is not None:
        out.print(f"To tell them apart: {question.ask}")
        for name, text in question.answers:
            out.print(f"  - {text}  [--symptom {name}]")
    out.print("Say more of what you see, or name one with --symptom.")


def _show_symptom(out: Console, row: Symptom, shown: _Shown) -> None:
    out.print(f"{capital(row.title)}  [--symptom {row.id}]")
    for name, text in (
        ("what it looks like", row.seen),
        *((f"cause {number}", cause) for number, cause in enumerate(row.causes, 1)),
        ("how to tell", row.tell),
        *(("your piece", clean(fact.text)) for fact in _facts(row, shown)),
        *(("ask", question) for question in row.asks),
        *(
            (name.casefold(), text)
            for key, (name, text) in zip(STAGES, row.stages, strict=True)
            if shown.stage in (None, key)
        ),
        ("when to leave it", row.leave),
        ("next time", row.next_time),
        ("figures (put in your own sizes)", clean(row.command)),
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


def _symptom_json(row: Symptom, shown: _Shown) -> dict[str, Any]:
    stages = dict(zip(STAGES, row.stages, strict=True))
    return {
        "piece": [{"says": fact.says.value, "text": fact.text} for fact in _facts(row, shown)],
        "now": "" if shown.stage is None else stages[shown.stage][1],
        **{key: getattr(row, key) for key in _SYMPTOM_KEYS},
    }
