"""The page server's answers by name: a JSON table in, a JSON table out. Input from the browser is checked here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from dovelayout import __version__
from dovelayout.errors import DovelayoutError, JobError
from dovelayout.job.editing import edited, fix_edits
from dovelayout.job.starter import Start, starter
from dovelayout.page import reports, view
from dovelayout.page.folder import Folder
from dovelayout.page.forms import forms_json
from dovelayout.page.requests import name_of, text_of, word_of
from dovelayout.paper import SIZES_MM
from dovelayout.printer.store import printers_path, read_printers
from dovelayout.repair.symptoms import all_symptoms
from dovelayout.words import listed

Answer = Callable[[Mapping[str, Any]], dict[str, Any]]


def answers_for(folder: Folder) -> dict[str, Answer]:
    """Every answer, for the folder that was opened."""

    def start(_: Mapping[str, Any]) -> dict[str, Any]:
        from dovelayout.wood.glue import all_glues
        from dovelayout.wood.species import all_woods

        return {
            "version": __version__,
            "folder": folder.path.name or str(folder.path),
            "files": folder.names(),
            "opened": folder.opened,
            "kinds": tuple(Start),
            "woods": [wood.name for wood in all_woods()],
            "glues": list(all_glues()),
            "papers": list(SIZES_MM),
            "printers": _printers(),
            "symptoms": [symptom.title for symptom in all_symptoms().values()],
            **forms_json(),
        }

    def files(_: Mapping[str, Any]) -> dict[str, Any]:
        return {"files": folder.names()}

    def read(request: Mapping[str, Any]) -> dict[str, Any]:
        opened = folder.read(word_of(request, "name"))
        return {"name": opened.name, "text": opened.text, "state": opened.state}

    def state(request: Mapping[str, Any]) -> dict[str, Any]:
        return {"state": folder.state(word_of(request, "name"))}

    def save(request: Mapping[str, Any]) -> dict[str, Any]:
        name = word_of(request, "name")
        return {"name": name, "state": folder.save(name, text_of(request), built_on=word_of(request, "state"))}

    return {
        "start": start,
        "files": files,
        "read": read,
        "state": state,
        "save": save,
        "new": _new,
        "look": _look,
        "edit": _edit,
        "suggest": _suggest,
        "picture": reports.picture,
        "season": reports.season,
        "fit": reports.fit,
        "glueup": reports.glue_up,
        "repair": reports.repair,
        "sheets": reports.sheets,
        "bank": reports.bank,
    }


def _printers() -> list[str]:
    """Names of the printers that are calibrated; none where their file can't be read (the command says why)."""
    try:
        return [printer.name for printer in read_printers(printers_path()).printers]
    except DovelayoutError:
        return []


def _new(request: Mapping[str, Any]) -> dict[str, Any]:
    kind = word_of(request, "kind")
    return {"text": starter(Start(kind) if kind in set(Start) else Start.CORNER)}


def _look(request: Mapping[str, Any]) -> dict[str, Any]:
    return view.look(text_of(request), name=name_of(request), show=word_of(request, "show"))


def _edit(request: Mapping[str, Any]) -> dict[str, Any]:
    """The text with edits or a finding's changes made, and what it looks like then."""
    edits, changes = request.get("edits", []), request.get("changes", [])
    if not isinstance(edits, list) or not all(isinstance(edit, dict) for edit in edits):
        raise JobError(file="", problem="a list of edits is wanted")
    if not isinstance(changes, list) or not all(_is_change(change) for change in changes):
        raise JobError(file="", problem="a list of changes is wanted")
    text = edited(text_of(request), [*edits, *fix_edits(changes)])
    return {"text": text, **view.look(text, name=name_of(request), show=word_of(request, "show"))}


def _is_change(change: object) -> bool:
    return (
        isinstance(change, dict) and {"table", "name", "values"} <= set(change) and isinstance(change["values"], dict)
    )


def _suggest(request: Mapping[str, Any]) -> dict[str, Any]:
    """Layouts that pass for one corner, each with its drawing and the changes that take it."""
    from dovelayout.drawing.screen import corner_drawing
    from dovelayout.planning.suggest import describe, job_keys, suggest
    from dovelayout.planning.taste import Taste

    job = view.job_of(text_of(request), name_of(request))
    wanted = word_of(request, "corner")
    joint = next((joint for joint in job.joints if joint.name == wanted), None)
    if joint is None:
        raise DovelayoutError(f"there is no corner {wanted!r}")
    taste = word_of(request, "taste")
    siblings = [other for other in job.joints if other.spec.keys_of == joint.spec.keys_of and other is not joint]
    found = suggest(
        joint,
        job.shop,
        taste=Taste(taste) if taste in set(Taste) else Taste.PLAIN,
        siblings=siblings,
        unit=job.unit,
    )
    table, name = joint.spec.origin
    return {
        "serves": listed([joint.name, *(other.name for other in siblings)]),
        "tried": found.tried,
        "layouts": [
            {
                "words": describe(layout, job.unit),
                "reason": layout.reason,
                "sensitivity": layout.sensitivity,
                "svg": view.inline_svg(corner_drawing(layout.joint).sheet),
                "changes": [{"table": table, "name": name, "values": job_keys(layout, job.unit)}],
            }
            for layout in found.layouts
        ],
        "not_met": list(found.blockers),
        "would_do": list(found.remedies),
    }
