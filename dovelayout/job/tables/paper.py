"""[paper] in a job file: a name, a size of the maker's own, or a roll."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import BeforeValidator, Field, ValidationInfo

from dovelayout.errors import FieldError
from dovelayout.job.tables.fields import Table, length_between
from dovelayout.paper import LEAST_SIDE_MM, MOST_SIDE_MM

_side = length_between(LEAST_SIDE_MM, MOST_SIDE_MM)


def _size(value: Any, info: ValidationInfo) -> Any:
    if not isinstance(value, list | tuple):
        return value
    if len(value) != 2:
        raise FieldError("a size is two lengths", remedy="write [width, height], such as [210, 400]")
    return tuple(_side(side, info) for side in value)


class PaperTable(Table):
    """[paper]"""

    size: Annotated[Annotated[str, Field(strict=True, max_length=40)] | tuple[float, float], BeforeValidator(_size)] = (
        "A4"
    )
    margin: Annotated[float, BeforeValidator(length_between(0.0, 40.0))] = 8.0
    nest: Annotated[bool, Field(strict=True)] = True
