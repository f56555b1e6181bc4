"""Reports of trouble that the search is measured with: who said what, and what it was."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from dovelayout.errors import LayoutError
from dovelayout.repair.symptoms import diagnose, find_symptom
from dovelayout.repair.symptoms.ranking import index

HERE = Path(__file__).parent


@dataclass(frozen=True, slots=True, kw_only=True)
class Report:
    """One report; `symptom` is '' where no symptom would be right."""

    symptom: str
    text: str
    long: bool = False


def reports(name: str) -> tuple[Report, ...]:
    """The reports of trouble in one file."""
    table = tomllib.loads((HERE / f"{name}.toml").read_text(encoding="utf-8"))
    table.pop("none")
    return tuple(
        Report(symptom=find_symptom(symptom).id, text=text, long=kind == "long")
        for symptom, kinds in table.items()
        for kind, texts in kinds.items()
        for text in texts
    )


def no_troubles(name: str) -> tuple[str, ...]:
    """What is out of scope, vague or denied in one file."""
    table = tomllib.loads((HERE / f"{name}.toml").read_text(encoding="utf-8"))
    return tuple(text for texts in table["none"].values() for text in texts)


def ranks(rows: tuple[Report, ...]) -> tuple[int, ...]:
    """The place of the right symptom for each report, 1 for the best."""
    known = index()
    found = ([row.id for _, row in known.ranked(known.read(report.text))] for report in rows)
    return tuple(ids.index(report.symptom) + 1 for ids, report in zip(found, rows, strict=True))


def is_sure(text: str) -> str:
    """The symptom that a text is beyond doubt; '' where there is doubt."""
    try:
        found = diagnose(text)
    except LayoutError:
        return ""
    return found.symptoms[0].id if found.sure else ""


def share(hits: list[bool]) -> float:
    """Hits in percent, a tenth; 100 of nothing."""
    return round(100 * sum(hits) / len(hits), 1) if hits else 100.0


def figures(name: str) -> dict[str, float]:
    """How well the reports of a file are found, percent; `wrong` counts those that are answered firmly and wrongly."""
    rows = reports(name)
    places = ranks(rows)
    firm = [is_sure(row.text) for row in rows]
    long = [place for place, row in zip(places, rows, strict=True) if row.long]
    return {
        "reports": len(rows),
        "first": share([place == 1 for place in places]),
        "among three": share([place <= 3 for place in places]),
        "long": len(long),
        "long first": share([place == 1 for place in long]),
        "long among three": share([place <= 3 for place in long]),
        "firm": share([bool(name) for name in firm]),
        "wrong": sum(1 for name, row in zip(firm, rows, strict=True) if name not in ("", row.symptom)),
        "firm on nothing": sum(1 for text in no_troubles(name) if is_sure(text)),
    }


if __name__ == "__main__":
    import sys

    for file in sys.argv[1:]:
        print(file, figures(file))
