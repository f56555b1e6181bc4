"""`dovelayout suggest JOB`."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from dovelayout.cli.console import clean, console, put_json, put_table, told
from dovelayout.place import Place
from dovelayout.planning.taste import Taste


@told
def suggest(
    job: Annotated[Path, typer.Argument(help="The job file (TOML).", show_default=False)],
    only: Annotated[str | None, typer.Option("--only", help="This corner alone, whether it has counts or not.")] = None,
    taste: Annotated[Taste, typer.Option("--taste", help="fine, plain or strong.")] = Taste.PLAIN,
    most: Annotated[int, typer.Option("--most", help="How many layouts to show.", min=1, max=20)] = 5,
    write: Annotated[
        bool, typer.Option("--write", help="Write the first layout into the job; comments are kept.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="As JSON on standard output.")] = False,
) -> None:
    """Propose layouts that pass every check, best first, for the corners that leave their counts open.

    Exit 1 when no layout passes for a corner.
    """
    from dovelayout.errors import JobError
    from dovelayout.job.reader import read_job
    from dovelayout.job.writer import written_into
    from dovelayout.planning.suggest import describe, job_keys
    from dovelayout.planning.suggest import suggest as suggest_for
    from dovelayout.render.files import MayReplace, write_files

    understood = read_job(job)
    unit = understood.unit
    names = [joint.name for joint in understood.joints]
    if only is not None and only not in names:
        raise JobError(
            file=str(job),
            place=Place(kind="--only"),
            problem=f"there is no corner {only!r}",
            remedy=f"the corners are {', '.join(names)}",
        )
    # the corners of a box share one table: the first of them speaks for all; so do those at the front of a drawer, and
    # those at its back
    origins: dict[tuple[tuple[str, str], str], Any] = {}
    for joint in understood.joints:
        wanted = joint.name == only if only is not None else bool(joint.proposed)
        if wanted:
            origins.setdefault(joint.spec.keys_of, joint)
    found = {}
    for origin, joint in origins.items():
        siblings = [other for other in understood.joints if other.spec.keys_of == origin and other is not joint]
        found[origin] = suggest_for(joint, understood.shop, taste=taste, most=most, siblings=siblings, unit=unit)
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
            out.print(
                clean(
                    f"{table} {name}: no layout passes"
                    + (f", of {suggestions.tried} tried." if suggestions.tried else ".")
                )
            )
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
            out.print(clean(f"wrote {job}"), soft_wrap=True)
    if as_json:
        put_json(
            {
                "layouts": [
                    {
                        "corner": suggestions.corner,
                        "tail_count": len(layout.joint.tails),
                        "pin_mm": layout.pin_mm,
                        "half_pin_mm": layout.half_pin_mm,
                        "slope_ratio": None if layout.joint.slope.is_straight else layout.joint.slope.ratio,
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
