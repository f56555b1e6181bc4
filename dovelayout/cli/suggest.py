"""`dovelayout suggest JOB`."""

from __future__ import annotations

from typing import Annotated

import typer

from dovelayout.cli.command import JobFile, no_corner, one_line_errors, option
from dovelayout.cli.console import clean, console, put_json, put_table, put_written
from dovelayout.planning.taste import Taste
from dovelayout.words import grouped


@one_line_errors
def suggest(
    job: JobFile,
    only: Annotated[str | None, option("--only", "This corner alone, whether it has counts or not.")] = None,
    taste: Annotated[Taste, option("--taste", "fine, plain or strong.")] = Taste.PLAIN,
    most: Annotated[int, option("--most", "How many layouts to show.", min=1, max=20)] = 5,
    write: Annotated[bool, option("--write", "Write the first layout into the job; comments are kept.")] = False,
    as_json: Annotated[bool, option("--json", "As JSON on standard output.")] = False,
) -> None:
    """Propose layouts that pass every check, best first, for the corners that leave their counts open.

    Exit 1 when no layout passes for a corner.
    """
    from dovelayout.job.editing import written_into
    from dovelayout.job.reader import read_job
    from dovelayout.planning.suggest import describe, job_keys
    from dovelayout.planning.suggest import suggest as suggest_for
    from dovelayout.render.files import MayReplace, write_files

    understood = read_job(job)
    unit = understood.unit
    names = [joint.name for joint in understood.joints]
    if only is not None and only not in names:
        raise no_corner(job, only, names)
    # one layout for all corners that share their keys: those of a box, those at a drawer's front, those at its back
    groups = grouped((joint.spec.keys_of, joint) for joint in understood.joints)
    found = {}
    for keys, corners in groups.items():
        joint = next((one for one in corners if (one.proposed if only is None else one.name == only)), None)
        if joint is not None:
            siblings = [other for other in corners if other is not joint]
            found[keys] = suggest_for(joint, understood.shop, taste=taste, most=most, siblings=siblings, unit=unit)
    out = console(to_stderr=as_json)
    if not found:
        out.print("Every corner has its counts already; name one with --only to see others for it.")
    for ((table, name), _), suggestions in found.items():
        if suggestions.layouts:
            put_table(
                out,
                f"{table} {name}: layouts that pass, of {suggestions.tried} tried",
                ("", "layout", "why", "if changed"),
                (
                    (str(number), describe(layout, unit), layout.reason, layout.sensitivity)
                    for number, layout in enumerate(suggestions.layouts, 1)
                ),
            )
        else:
            tried = f", of {suggestions.tried} tried" if suggestions.tried else ""
            out.print(clean(f"{table} {name}: no layout passes{tried}."))
            for blocker in suggestions.blockers:
                out.print(clean(f"  not met: {blocker}"))
            for remedy in suggestions.remedies:
                out.print(clean(f"  would do: {remedy}"))
    if write:
        changes = [
            (table, name, job_keys(suggestions.layouts[0], unit))
            for ((table, name), _), suggestions in found.items()
            if suggestions.layouts
        ]
        if changes:
            write_files({job: written_into(job, changes)}, may_replace=MayReplace.ANYTHING)
            put_written(out, (job,))
    if as_json:
        put_json(
            {
                "layouts": [
                    {
                        "corner": suggestions.corner,
                        "tail_count": len(layout.joint.tails),
                        "pin_mm": layout.pin_mm,
                        "half_pin_mm": layout.half_pin_mm,
                        "slope_ratio": layout.joint.slope.ratio if layout.joint.flares else None,
                        "margins": layout.margins,
                        "reason": layout.reason,
                        "sensitivity": layout.sensitivity,
                    }
                    for suggestions in found.values()
                    for layout in suggestions.layouts
                ],
                "none_for": [
                    {"corner": s.corner, "not_met": list(s.blockers), "would_do": list(s.remedies)}
                    for s in found.values()
                    if not s.layouts
                ],
            }
        )
    if any(not suggestions.layouts for suggestions in found.values()):
        raise typer.Exit(1)
