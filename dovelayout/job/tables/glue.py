"""[glue]: what the label of the maker's own bottle says, over the row of its type in the glue table."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated, Any

from pydantic import BeforeValidator, Field

from dovelayout.errors import WoodError
from dovelayout.job.places import ErrorAt, told
from dovelayout.job.tables.fields import Celsius, Name, Number, Small, Table, minutes_range
from dovelayout.place import Place
from dovelayout.wood.glue import OWN_ID, Glue, find_glue

Minutes = Annotated[tuple[float, float], BeforeValidator(minutes_range)]


class GlueTable(Table):
    """[glue]. Times in minutes at 21 degrees C, one or [cautious, hopeful]; spread in g/m2 on one side."""

    name: Name | None = None
    open: Minutes | None = None
    closed: Minutes | None = None
    clamp: Minutes | None = None
    floor: Celsius | None = None
    gap: Small | None = None
    water: Annotated[Number, Field(ge=0, lt=1)] | None = None
    spread: Annotated[Number, Field(gt=0, le=1000)] | None = None
    swell: Annotated[Number, Field(ge=0, le=2)] | None = None
    slippery: bool | None = None
    reversible: bool | None = None


_FIELDS = {
    "open": "open_minutes",
    "closed": "closed_minutes",
    "clamp": "clamp_minutes",
    "floor": "floor_c",
    "gap": "gap_mm",
    "water": "water_share",
    "spread": "spread_g_m2",
    "swell": "swell_factor",
}
"""Keys that a glue can't be without -> fields of a Glue."""


def read_glue(named: str, label: GlueTable | None, *, error: ErrorAt) -> Glue | None:
    """The job's glue: the row that [shop] glue or the label's own name means, with the label's numbers over it.

    None where the job names none. A glue of a name unknown to the table needs every number. Raises JobError.
    """
    label_name = (label.name or "") if label is not None else ""
    own = bool(label_name) and (not named or _same(named, label_name)) and not _known(label_name)
    if label is None and not named:
        return None
    if own and label is not None:
        base = _all_own(label_name, label, error)
    else:
        base = _row(
            named or label_name, Place(kind="shop", key="glue") if named else Place(kind="glue", key="name"), error
        )
    return base if label is None else _labelled(base, label, error)


def _same(one: str, other: str) -> bool:
    return " ".join(one.casefold().split()) == " ".join(other.casefold().split())


def _known(name: str) -> bool:
    try:
        find_glue(name)
    except WoodError:
        return False
    return True


def _row(name: str, place: Place, error: ErrorAt) -> Glue:
    if not name:
        raise error(
            Place(kind="glue"), "says which numbers, but not of which glue", 'name its type: [shop] glue = "pva"'
        )
    try:
        return find_glue(name)
    except WoodError as unknown:
        raise told(unknown, place, error) from None


def _all_own(name: str, label: GlueTable, error: ErrorAt) -> Glue:
    missing = [key for key in _FIELDS if getattr(label, key) is None]
    if missing:
        raise error(
            Place(kind="glue"),
            f"{name!r} is not in the glue table, and its {', '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing",
            'add them, or name the type it is like: [shop] glue = "pva"',
        )
    values: dict[str, Any] = {field: getattr(label, key) for key, field in _FIELDS.items()}
    return Glue(id=OWN_ID, name=name, reversible=False, slippery=False, **values)


def _labelled(row: Glue, label: GlueTable, error: ErrorAt) -> Glue:
    said: dict[str, Any] = {
        field: value
        for key, field in {**_FIELDS, "name": "name", "slippery": "slippery", "reversible": "reversible"}.items()
        if (value := getattr(label, key)) is not None
    }
    glue: Glue = replace(row, **said)
    if not glue.has_water and glue.swell_factor > 0:
        if label.swell is not None:
            raise error(
                Place(kind="glue", key="swell"),
                f"{glue.swell_factor:g} of no water at all",
                "swell = 0, or its water share",
            )
        glue = replace(glue, swell_factor=0.0)
    elif glue.has_water and glue.swell_factor == 0 and label.swell is None:
        # water over the row of a glue without any: the worst, until the label says otherwise
        glue = replace(glue, swell_factor=1.0)
    return _in_order(glue, label, error)


def _in_order(glue: Glue, label: GlueTable, error: ErrorAt) -> Glue:
    """The glue with its clamps on no sooner than its open time ends: what the label doesn't say gives way."""
    pairs = tuple(zip(glue.open_minutes, glue.closed_minutes, strict=True))
    if all(open_minutes <= closed_minutes for open_minutes, closed_minutes in pairs):
        return glue
    if label.open is not None and label.closed is not None:
        raise error(
            Place(kind="glue", key="closed"),
            f"{glue.closed_minutes[1]:g} minutes is less than the {glue.open_minutes[1]:g} it may stay open",
            "closed counts from the first spread to the clamps: at least as long as open",
        )
    if label.closed is None:
        longer: Glue = replace(glue, closed_minutes=(max(pairs[0]), max(pairs[1])))
        return longer
    shorter: Glue = replace(glue, open_minutes=(min(pairs[0]), min(pairs[1])))
    return shorter
