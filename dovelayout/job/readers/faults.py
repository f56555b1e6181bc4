"""Validation errors of a job's tables as place, problem and remedy."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import ValidationError

from dovelayout.errors import DovelayoutError, JobError
from dovelayout.job.described import described, keys_of
from dovelayout.job.places import nearest
from dovelayout.job.tables.schema import TABLES
from dovelayout.place import Place


def first_fault(error: ValidationError, data: Mapping[str, Any], source: str) -> JobError:
    """The first fault, with its place in the job; how many more there are is named as well."""
    faults = error.errors(include_url=False)
    more = f" (and {len(faults) - 1} more to mend after it)" if len(faults) > 1 else ""
    problem, remedy = fault_words(faults[0])
    return JobError(file=source, place=_place(faults[0]["loc"], data), problem=problem, remedy=remedy + more)


def _place(loc: Sequence[int | str], data: Mapping[str, Any]) -> Place | None:
    """('corner', 0, 'tail_count') -> corner 'A', key tail_count."""
    if not loc:
        return None
    head, rest = str(loc[0]), loc[1:]
    if not rest:
        return Place(kind="", key=head)
    name, number = "", None
    if isinstance(index := rest[0], int):
        rows, rest = data.get(head), rest[1:]
        row = rows[index] if isinstance(rows, list) and index < len(rows) else None
        named = row.get("name") if isinstance(row, dict) else None
        name, number = (named, None) if isinstance(named, str) and named else ("", index + 1)
    keys = (str(key + 1) if isinstance(key, int) else key for key in rest)  # entries of lists count from 1
    return Place(kind=head, name=name, number=number, key=".".join(keys))


_LIMITS = {
    "greater_than_equal": ("ge", "at least"),
    "less_than_equal": ("le", "at most"),
    "greater_than": ("gt", "more than"),
    "less_than": ("lt", "less than"),
}
"""Kinds of fault of a number that is out of range: the key of the limit in pydantic's context, and its words."""


def fault_words(fault: Any) -> tuple[str, str]:
    """The problem and the remedy of one of pydantic's faults."""
    kind, loc = fault["type"], fault["loc"]
    context, value = fault.get("ctx", {}), fault["input"]
    match kind:
        case "extra_forbidden":
            known = keys_of(_table_of(loc))
            return "this key is not known", nearest(str(loc[-1]), known, f"known keys: {', '.join(known)}", quote="")
        case "missing" if isinstance(loc[-1], int):
            return "is missing", f"a list of {loc[-1] + 1} is wanted"
        case "missing":
            return "is missing", f"add {loc[-1]} = {described(_table_of(loc), str(loc[-1])).example_text}"
        case "value_error":
            cause = context["error"]
            return (cause.problem, cause.remedy) if isinstance(cause, DovelayoutError) else (str(cause), "")
        case "enum":
            return f"{_shown(value)} is not known", f"one of {context['expected']}"
        case "too_long" | "string_too_long":
            return "is too long", f"{context['max_length']} is the most"
        case "string_too_short" | "too_short":
            return "is empty", "give it a text"
        case "string_type":
            return f"a text in quotes is wanted, not {_shown(value)}", ""
        case "int_type":
            return f"a whole number is wanted, not {_shown(value)}", ""
        case "tuple_type" | "list_type" if len(loc) == 1:
            return f"a list of tables is wanted, not {_shown(value)}", f"each begins with [[{loc[0]}]]"
        case "tuple_type" | "list_type":
            return f"a list is wanted, not {_shown(value)}", "write [ ... ]"
        case "model_type" | "dict_type" | "model_attributes_type":
            return f"a table is wanted, not {_shown(value)}", "write { key = value } or a [table]"
        case _ if kind in _LIMITS:
            limit, words = _LIMITS[kind]
            return f"{_shown(value)} is out of range", f"{words} {context[limit]:g} would be right"
        case _:
            message = str(fault["msg"])
            return f"{_shown(value)} won't do: {message[:1].lower()}{message[1:]}", ""


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _table_of(loc: Sequence[int | str]) -> str:
    """The table whose keys a place names: the innermost on the way to it."""
    return next((str(key) for key in reversed(loc[:-1]) if key in TABLES), "")
