"""Options of the repair commands, parsed, and the failed corner of a job."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

from dovelayout.cli.command import option
from dovelayout.errors import DovelayoutError, LayoutError, UnitsError
from dovelayout.units import Unit, parse_length, parse_slope

if TYPE_CHECKING:
    from dovelayout.job.reader import Job
    from dovelayout.joints.corner import CornerJoint
    from dovelayout.joints.sliding import SlidingJoint

C = TypeVar("C", bound=str)
V = TypeVar("V")

_AIR = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*%?\s*(?::|to|-|,|;)\s*(\d+(?:[.,]\d+)?)\s*%?\s*")
_TAPER = re.compile(r"\s*1\s*:\s*([0-9]{2,4})\s*")
_AIR_NOW = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*%?\s*")
_ANGLE = re.compile(r"\s*([+-]?\d+(?:[.,]\d+)?)\s*(?:°|deg(?:rees?)?\.?)?\s*")
MOST_LETTERS = 40
"""Longer angles and humidities are none."""

AIR_HELP = "Relative humidity when all was well and now, percent, such as 65:25."


JSON = Annotated[bool, option("--json", "The advice as JSON on standard output.")]
OUT = Annotated[Path | None, option("-o, --out", "Draw it full size, .pdf or .svg.")]
JOB = Annotated[Path | None, option("--job", "A job file to take the board and the joint from.")]
IN_CORNER = Annotated[str | None, option("--corner", "With a job: the corner's name.")]
PAPER = Annotated[str, option("--paper", "Paper of a PDF.")]
SPECIES = Annotated[str | None, option("--species", "The wood.")]
SEASON = Annotated[str | None, option("--season", AIR_HELP)]


def length(option: str, text: str, low_mm: float, high_mm: float) -> float:
    """A length as typed, in mm; a bare number is mm. Raises UnitsError that names the option and what would do."""
    got_mm = float(_parsed(option, text, lambda text: parse_length(text, unit=Unit.MM)))
    if not low_mm <= got_mm <= high_mm:
        raise UnitsError(f"{option} {text!r} is {got_mm:g} mm", remedy=f"{low_mm:g} to {high_mm:g} mm would be right")
    return got_mm


def given(option: str, text: str | None, low_mm: float, high_mm: float) -> float | None:
    """A length as typed, None where none was."""
    return None if text is None else length(option, text, low_mm, high_mm)


def needed(option: str, text: str | None, between_mm: tuple[float, float], because: str) -> float:
    """A length that has to be typed, in mm. Raises LayoutError where it wasn't, which says why."""
    if text is None:
        raise LayoutError(f"{option} is needed: {because}", remedy="measure it, or give --job")
    return length(option, text, *between_mm)


def ratio(option: str, text: str) -> float:
    """The n of a slope 1:n as typed."""
    return _parsed(option, text, parse_slope)


def taper(option: str, text: str) -> float:
    """The m of a taper 1:m as typed."""
    found = _TAPER.fullmatch(text) if len(text) <= MOST_LETTERS else None
    if found is None or not 10 <= int(found[1]) <= 2000:
        raise UnitsError(
            f"{option} {text[:MOST_LETTERS]!r} is no taper", remedy="'1:320', from 1:10 to 1:2000, would be right"
        )
    return float(found[1])


def _parsed(option: str, text: str, parse: Callable[[str], V]) -> V:
    try:
        return parse(text)
    except UnitsError as error:
        raise UnitsError(f"{option}: {error}") from None


def angle_deg(option: str, text: str) -> float:
    """An angle as typed, -180 to 180 degrees."""
    found = _ANGLE.fullmatch(text) if len(text) <= MOST_LETTERS else None
    if found is None:
        problem = f"{option} {text[:MOST_LETTERS]!r} is not an angle"
        raise UnitsError(problem, remedy="degrees such as 60 or '-35 deg' would be right")
    value = float(found[1].replace(",", "."))
    if abs(value) > 180:
        raise UnitsError(f"{option} {text!r} is {value:g} degrees", remedy="-180 to 180 would be right")
    return value


def air_pair(option: str, text: str) -> tuple[float, float]:
    """Two relative humidities as typed, when all was well and now."""
    found = _AIR.fullmatch(text) if len(text) <= MOST_LETTERS else None
    if found is None:
        problem = f"{option} {text[:MOST_LETTERS]!r} is not two humidities"
        raise UnitsError(problem, remedy="'then:now' in percent, such as 65:25, would be right")
    then, now = (float(value.replace(",", ".")) for value in found.groups())
    if not (5 <= then <= 95 and 5 <= now <= 95):
        raise UnitsError(f"{option} {text!r}: 5 to 95 % each would be right")
    return then, now


def air_now(text: str) -> tuple[float | None, float]:
    """--humidity as typed with a job: the relative humidity now alone, or that of when all was well before it."""
    alone = _AIR_NOW.fullmatch(text) if len(text) <= MOST_LETTERS else None
    if alone is None:
        return air_pair("--humidity", text)
    return None, air_pair("--humidity", f"50:{alone[1]}")[1]


def chosen(option: str, text: str, known: Iterable[C]) -> C:
    """One of a few words."""
    words = {word.casefold(): word for word in known}
    if text.strip().casefold() not in words:
        raise LayoutError(
            f"{option} {text[:MOST_LETTERS]!r} is not known", remedy=f"one of {', '.join(words.values())}"
        )
    return words[text.strip().casefold()]


def missing(option: str, needs: str, because: str) -> DovelayoutError:
    """An option that says nothing without others."""
    return LayoutError(f"{option} needs {needs} too: {because}")


def corner_of(path: Path, name: str | None) -> tuple[Job, CornerJoint]:
    """The job and the corner of that name; the only one where none is named. Raises JobError, LayoutError."""
    from dovelayout.job.reader import read_job

    job = read_job(path)
    known = {joint.name: joint for joint in job.joints}
    if not known:
        raise LayoutError(f"{path} has no dovetailed corner", remedy="give the sizes themselves")
    if name is None and len(known) == 1:
        return job, next(iter(known.values()))
    if name not in known:
        raise LayoutError(f"--corner {name or ''!r} is not in {path}", remedy=f"one of {', '.join(known)}")
    return job, known[name]


def divider_of(path: Path, name: str | None) -> SlidingJoint:
    """The joint of a job's divider of that name, of the only one where none is named. Raises JobError, LayoutError."""
    from dovelayout.job.reader import read_job

    known = {divider.name: divider.joint for divider in read_job(path).dividers}
    if not known:
        raise LayoutError(f"{path} has no divider", remedy="give the sizes themselves")
    if name is None and len(known) == 1:
        return next(iter(known.values()))
    if name not in known:
        raise LayoutError(f"--divider {name or ''!r} is not in {path}", remedy=f"one of {', '.join(known)}")
    return known[name]
