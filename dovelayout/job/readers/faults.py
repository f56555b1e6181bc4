"""What a job's tables are refused for, in the maker's own terms: place, problem and remedy."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from typing import Any

from pydantic import BaseModel, ValidationError

from dovelayout.errors import DovelayoutError, JobError
from dovelayout.job.tables.schema import TABLES, JobTable
from dovelayout.place import Place


def first_fault(error: ValidationError, data: Mapping[str, Any], source: str) -> JobError:
    """The first fault in the maker's own terms; how many more there are is said as well."""
    faults = error.errors(include_url=False)
    fault = faults[0]
    more = f" (and {len(faults) - 1} more to mend after it)" if len(faults) > 1 else ""
    place = _place(fault["loc"], data)
    problem, remedy = fault_words(fault)
    return JobError(file=source, place=place, problem=problem, remedy=remedy + more)


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
    keys = [str(key) for key in rest if not str(key).startswith(("tuple[", "function-", "constrained-"))]
    key = ".".join(str(int(key) + 1) if key.isdigit() else key for key in keys if key != "str")
    return Place(kind=head, name=name, number=number, key=key)


def fault_words(fault: Any) -> tuple[str, str]:
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
            cause = context.get("error")
            return (cause.problem, cause.remedy) if isinstance(cause, DovelayoutError) else (said, "")
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
