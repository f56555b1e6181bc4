"""What a job's tables are refused for, in the maker's own terms: place, problem and remedy."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import BaseModel, ValidationError

from dovelayout.errors import JobError, problem_and_remedy
from dovelayout.job.tables.schema import TABLES, JobTable


def first_fault(error: ValidationError, data: Mapping[str, Any], source: str) -> JobError:
    """The first fault in the maker's own terms; how many more there are is said as well."""
    faults = error.errors(include_url=False)
    fault = faults[0]
    more = f" (and {len(faults) - 1} more to mend after it)" if len(faults) > 1 else ""
    place = _place(fault["loc"], data)
    problem, remedy = _words(fault)
    return JobError(file=source, place=place, problem=problem, remedy=remedy + more)


def _place(loc: Sequence[int | str], data: Mapping[str, Any]) -> str:
    """('corner', 0, 'tail_count') -> "corner 'A', key tail_count"."""
    if not loc:
        return ""
    head = str(loc[0])
    rest = list(loc[1:])
    said = head
    if rest and isinstance(rest[0], int):
        rows = data.get(head)
        row = rows[rest[0]] if isinstance(rows, list) and rest[0] < len(rows) else None
        name = row.get("name") if isinstance(row, dict) else None
        said = f"{head} {name!r}" if isinstance(name, str) else f"{head} number {rest[0] + 1}"
        rest = rest[1:]
    elif not rest:
        return f"key {head}"
    keys = [str(key) for key in rest if not str(key).startswith(("tuple[", "function-", "constrained-"))]
    keys = [f"number {int(key) + 1}" if key.isdigit() else key for key in keys if key != "str"]
    return f"{said}, key {' '.join(keys)}" if keys else said


def _words(fault: Any) -> tuple[str, str]:
    kind, loc, value = fault["type"], fault["loc"], fault["input"]
    said = str(fault["msg"]).removeprefix("Value error, ")
    context = fault.get("ctx", {})
    match kind:
        case "extra_forbidden":
            known = [field.alias or name for name, field in _model_at(loc).model_fields.items()]
            key = str(loc[-1])
            near = difflib.get_close_matches(key, known, 1, 0.5)
            remedy = f"did you mean {near[0]}?" if near else f"known keys: {', '.join(known)}"
            return "this key is not known", remedy
        case "missing" if isinstance(loc[-1], int):
            return "is missing", f"a list of {loc[-1] + 1} is wanted"
        case "missing":
            return "is missing", f"add {loc[-1]} = ..."
        case "value_error":
            return problem_and_remedy(said)
        case "literal_error":
            return f"{_shown(value)} is not known", f"one of {context.get('expected', '')}"
        case "too_long" | "string_too_long":
            return "is too long", f"{context.get('max_length')} is the most"
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
        case _:
            limits = {"greater_than_equal": "ge", "less_than_equal": "le", "greater_than": "gt", "less_than": "lt"}
            if kind in limits:
                words = {"ge": "at least", "le": "at most", "gt": "more than", "lt": "less than"}[limits[kind]]
                return f"{_shown(value)} is out of range", f"{words} {context[limits[kind]]:g} would be right"
            return f"{_shown(value)} won't do: {said[:1].lower()}{said[1:]}", ""


def _shown(value: Any) -> str:
    text = repr(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def _model_at(loc: Sequence[int | str]) -> type[BaseModel]:
    """The model whose keys a place names: the innermost table on the way to it."""
    for key in reversed(loc[:-1]):
        if key in TABLES:
            return TABLES[str(key)]
    return JobTable
