"""`dovelayout species [NAME]`."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated

import typer

from dovelayout.cli.command import one_line_errors, option
from dovelayout.cli.console import console, put_json, put_table


@one_line_errors
def species(
    name: Annotated[str | None, typer.Argument(help="A wood, by its trade or everyday name.")] = None,
    as_json: Annotated[bool, option("--json", "As JSON on standard output.")] = False,
) -> None:
    """List the wood table, or all that is known of one wood, with where each figure comes from."""
    from dovelayout.wood.species import all_woods, find_wood

    woods = all_woods() if name is None else (find_wood(name),)
    if as_json:
        put_json({"woods": [asdict(wood) for wood in woods]})
        return
    out = console()
    if name is None:
        put_table(
            out,
            "Woods (averages of small clear specimens: good for comparing, not design values)",
            ("wood", "kind", "SG", "MOR, MPa", "comp. across, MPa", "shrinks T / R, %"),
            (
                (
                    wood.name,
                    wood.kind.value,
                    _figure(wood.sg_12),
                    _figure(wood.mor_mpa),
                    _figure(wood.comp_perp_mpa),
                    f"{_figure(wood.shrink_tangential_pct)} / {_figure(wood.shrink_radial_pct)}",
                )
                for wood in woods
            ),
        )
        return
    wood = woods[0]
    rows = [(key.replace("_", " "), _figure(value)) for key, value in asdict(wood).items() if key != "name"]
    put_table(out, wood.name, ("", ""), rows)


def _figure(value: object) -> str:
    if value is None or value == "":
        return "not known"
    return f"{value:g}" if isinstance(value, float) else str(value)
