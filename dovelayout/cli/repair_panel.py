"""`dovelayout repair panel`: cupped sides, split bottoms, panels that were held."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from dovelayout.cli import repair_options as options
from dovelayout.cli.command import Force, one_line_errors, option
from dovelayout.cli.repair_options import JOB, JSON, OUT, PAPER
from dovelayout.cli.repair_shown import CardsToDraw, finish
from dovelayout.errors import LayoutError

if TYPE_CHECKING:
    from dovelayout.casework.drawer.drawer import Drawer
    from dovelayout.repair.panel import HeldPanel

T = TypeVar("T")


@one_line_errors
def panel(
    *,
    trouble: Annotated[str, typer.Argument(help="cupped, split or held.")],
    hollow: Annotated[str | None, option("--hollow", "Cupped: its depth under a straightedge.")] = None,
    inward: Annotated[bool, option("--inward", "Cupped: it bows away from what is beside it.")] = False,
    play: Annotated[str | None, option("--play", "Cupped: the air beside it in the dampest month.")] = None,
    width: Annotated[str | None, option("--width", "Cupped: of the side.")] = None,
    crack: Annotated[str | None, option("--crack", "Split, held: how wide it is open.")] = None,
    length_: Annotated[
        str | None, option("--length", "Split: of the bottom, side to side. Held: of the crack.")
    ] = None,
    overhang: Annotated[str | None, option("--overhang", "Split: how far it reaches past the back now.")] = None,
    thickness: Annotated[str | None, option("--thickness", "Of the side, the bottom or the panel.")] = None,
    job: JOB = None,
    in_drawer: Annotated[str | None, option("--drawer", "With a job: cupped and split, the drawer's name.")] = None,
    named: Annotated[str | None, option("--panel", "With a job: held, the panel's name.")] = None,
    out: OUT = None,
    force: Force = False,
    paper: PAPER = "A4",
    as_json: JSON = False,
) -> None:
    """A cupped side, a split bottom, a panel that was held: what is planed, set free or let in. Exit 1: make it anew."""
    from dovelayout.drawing.cards.let_in import strip_card
    from dovelayout.drawing.sheets.frame import Legend
    from dovelayout.repair.panel import CuppedSide, PanelTrouble, SplitBottom, mend_bottom, mend_panel, mend_side

    what, strip = options.chosen("WHAT", trouble, PanelTrouble), None
    drawer = None if job is None or what is PanelTrouble.HELD else _drawer_of(job, in_drawer)
    if what is PanelTrouble.CUPPED:
        board = None if drawer is None else drawer.board("side")
        because = "what is planed off hangs on it"
        side = CuppedSide(
            hollow_mm=options.needed("--hollow", hollow, (0.05, 50), because),
            width_mm=board.width_mm if board else options.needed("--width", width, (10, 2000), because),
            thickness_mm=board.thickness_mm if board else options.needed("--thickness", thickness, (3, 100), because),
            play_mm=drawer.clearances.side_dampest_mm if drawer else options.given("--play", play, 0, 20) or 0.0,
            inward=inward,
        )
        advice = mend_side(side)
    elif what is PanelTrouble.SPLIT:
        board = None if drawer is None else drawer.board("bottom")
        because = "the strip is made for it"
        past_mm = options.given("--overhang", overhang, 0, 100)
        if past_mm is None:
            past_mm = drawer.bottom.overhang_mm if drawer else options.needed("--overhang", None, (0, 100), because)
        bottom = SplitBottom(
            crack_mm=options.needed("--crack", crack, (0.05, 50), because),
            overhang_mm=past_mm,
            length_mm=board.length_mm if board else options.needed("--length", length_, (20, 3000), because),
            thickness_mm=board.thickness_mm if board else options.needed("--thickness", thickness, (2, 50), because),
            slot_mm=drawer.bottom.slot_mm if drawer else None,
        )
        advice, strip = mend_bottom(bottom), (bottom.thickness_mm, bottom.strip_mm, bottom.length_mm)
    else:
        because = "what to do hangs on it"
        crack_mm = options.needed("--crack", crack, (0.05, 50), because)
        length_mm = options.needed("--length", length_, (5, 3000), because)
        thickness_mm = options.given("--thickness", thickness, 2, 100)
        held = _held(job, named, (crack_mm, length_mm, thickness_mm))
        # from its end: as thick as the panel, as wide as the crack
        advice = mend_panel(held)
        strip = (held.thickness_mm, held.crack_mm if held.keyed else 0.0, held.crack_length_mm)
    drawing = None
    if strip is not None and strip[1] > 0:
        thick_mm, wide_mm, long_mm = strip
        title = f"Strip, {wide_mm:.1f} mm wide"
        cards = [strip_card(title, thick_mm=thick_mm, wide_mm=wide_mm, long_mm=long_mm)]
        drawing = CardsToDraw(cards=cards, what=title, legend=Legend.SLIP, paper=paper)
    finish(advice, as_json=as_json, drawing=drawing, out=out, force=force)


def _one_of(known: dict[str, T], name: str | None, words: str) -> T:
    """The one of that name, or the only one where none is named. Raises LayoutError."""
    if name is None and len(known) == 1:
        return next(iter(known.values()))
    if name is None or name not in known:
        raise LayoutError(
            f"{words} {name or ''!r} is not in the job", remedy=f"one of {', '.join(known)}" if known else ""
        )
    return known[name]


def _drawer_of(path: Path, name: str | None) -> Drawer:
    """A drawer of a job. Raises JobError, LayoutError."""
    from dovelayout.job.reader import read_job

    return _one_of({drawer.name: drawer for drawer in read_job(path).drawers}, name, "--drawer")


def _held(path: Path | None, name: str | None, sizes_mm: tuple[float, float, float | None]) -> HeldPanel:
    """A held panel, with what a job says of how far it reaches into its grooves. Raises JobError, LayoutError."""
    from dovelayout.repair.panel import HeldPanel

    crack_mm, length_mm, thickness_mm = sizes_mm
    hold_mm = None
    if path is not None:
        from dovelayout.job.reader import read_job

        job = read_job(path)
        one = _one_of({panel.name: panel for panel in job.panels}, name, "--panel")
        moves = one.swing(job.shop)
        hold_mm = None if moves is None or one.groove_mm is None else one.hold_mm(moves)
        thickness_mm = one.board.thickness_mm
    if thickness_mm is None:
        raise LayoutError("--thickness is needed: a strip is as thick as the panel", remedy="measure it, or give --job")
    return HeldPanel(crack_mm=crack_mm, crack_length_mm=length_mm, thickness_mm=thickness_mm, hold_mm=hold_mm)
