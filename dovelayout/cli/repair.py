"""`dovelayout repair gap | corner | sliding | crack | diagnose`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dovelayout.cli.console import Force, told
from dovelayout.cli.repair_diagnosis import diagnose
from dovelayout.cli.repair_options import (
    AIR_HELP,
    air_pair,
    angle_deg,
    board_of,
    chosen,
    corner_of,
    gap_board_of,
    given,
    length,
    missing,
    option,
    ratio,
    typed_board,
)
from dovelayout.cli.repair_shown import Drawing, finish
from dovelayout.errors import LayoutError, PrintError

if TYPE_CHECKING:
    from dovelayout.joints.board import Rings
    from dovelayout.repair.gap import MovedBoard
    from dovelayout.wood.species import Wood

app = typer.Typer(
    help="When it went wrong anyway: gaps, broken corners, seized slides, cracks, and what a symptom comes from.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
app.command("diagnose")(diagnose)


JSON = Annotated[bool, typer.Option("--json", help="The advice as JSON on standard output.")]
OUT = Annotated[Path | None, typer.Option("-o", "--out", help="Draw it full size, .pdf or .svg.", show_default=False)]
JOB = Annotated[Path | None, option("--job", "A job file to take the board and the joint from.")]
IN_CORNER = Annotated[str | None, option("--corner", "With a job: the corner's name.")]
PAPER = Annotated[str, option("--paper", "Paper of a PDF.", default=True)]
SPECIES = Annotated[str | None, option("--species", "The wood.")]
SEASON = Annotated[str | None, option("--season", AIR_HELP)]
RING_HELP = "flat, quarter or rift."
TURNS = (
    "Rings to the outside face, seen on the end: 90 is square to it; above 0 they run deeper away from the broken edge, "
    "below 0 towards it."
)


@app.command("gap")
@told
def gap(
    *,
    width: Annotated[str, option("--width", "The gap, measured with a feeler.")],
    length_: Annotated[str, option("--length", "How long it is.")],
    place: Annotated[str, option("--place", "end, cheek, baseline or lap.", default=True)] = "end",
    species: SPECIES = None,
    depth: Annotated[str | None, option("--depth", "How far it goes in.")] = None,
    thickness: Annotated[str | None, option("--wood-thickness", "Of the board that moved: the pin board.")] = None,
    season: SEASON = None,
    rings: Annotated[str | None, option("--rings", RING_HELP)] = None,
    slope: Annotated[str | None, option("--slope", "Of the tails, such as 1:7.")] = None,
    kerf: Annotated[str | None, option("--kerf", "Of the saw that made the gap.")] = None,
    loose: Annotated[bool, option("--loose", "The whole joint has it.")] = False,
    glue: Annotated[str | None, option("--glue", "A glue you have in mind.")] = None,
    job: JOB = None,
    in_corner: IN_CORNER = None,
    out: OUT = None,
    force: Force = False,
    paper: PAPER = "A4",
    as_json: JSON = False,
) -> None:
    """A gap of a given width, length and place: what fills it, or why it is left. Exit 1: recut."""
    from dovelayout.drawing.cards.patch import SLIP_LINE, slip_card
    from dovelayout.joints.board import Rings
    from dovelayout.joints.slope import Slope
    from dovelayout.repair.gap import Gap, GapPlace, gap_advice, plan_gap
    from dovelayout.wood.glue import find_glue
    from dovelayout.wood.species import find_wood

    known = gap_board_of(job, in_corner)
    wood = known.wood if species is None else find_wood(species)
    thickness_mm = given("--wood-thickness", thickness, 0.5, 300) or known.thickness_mm
    sawn = known.rings if rings is None else chosen("--rings", rings, Rings)
    asked = Gap(
        width_mm=length("--width", width, 0.01, 50),
        length_mm=length("--length", length_, 0.5, 3000),
        place=chosen("--place", place, GapPlace),
        depth_mm=given("--depth", depth, 0.5, 300) or known.depth_mm,
        kerf_mm=given("--kerf", kerf, 0.1, 5) or known.kerf_mm,
        slope=known.slope if slope is None else Slope(ratio("--slope", slope)),
        loose=loose,
        glue=None if glue is None else find_glue(glue),
        season=None if season is None else _moved(season, wood, thickness_mm, sawn),
    )
    plan = plan_gap(asked)
    advice = gap_advice(asked, plan)
    drawing = None
    if plan.slip is not None:
        what = f"{plan.method.capitalize()} for a gap of {asked.width_mm:g} mm" + (f", {wood.name}" if wood else "")
        drawing = Drawing(cards=[slip_card(plan.slip, plan.method.value)], what=what, legend=SLIP_LINE)
    elif out is not None and plan.method.wooden:
        raise PrintError(f"{out}: to draw the {plan.method.value} give --depth, how far the gap goes in")
    finish(advice, as_json=as_json, drawing=drawing, out=out, paper=paper, force=force)


def _moved(season: str, wood: Wood | None, thickness_mm: float | None, rings: Rings | None) -> MovedBoard:
    from dovelayout.repair.gap import MovedBoard

    tight_pct, now_pct = air_pair("--season", season)
    if wood is None or thickness_mm is None:
        raise missing("--season", "--species and --wood-thickness", "how far the board moves hangs on both")
    return MovedBoard(wood=wood, thickness_mm=thickness_mm, tight_pct=tight_pct, now_pct=now_pct, rings=rings)


@app.command("corner")
@told
def corner(
    *,
    width_of_break: Annotated[str, option("--width-of-break", "How far it reaches along the end.")],
    length_of_break: Annotated[str, option("--length-of-break", "How far it reaches along the edge.")],
    thickness: Annotated[str | None, option("--thickness", "Of the board.")] = None,
    species: SPECIES = None,
    depth_of_break: Annotated[
        str | None, option("--depth-of-break", "From the outside face.", default="the thickness")
    ] = None,
    grain_angle: Annotated[str | None, option("--grain-angle", TURNS)] = None,
    runout: Annotated[str | None, option("--runout", "Fibres that run out at the broken edge, such as 1:4.")] = None,
    board_width: Annotated[str | None, option("--board-width", "Of the whole board.")] = None,
    hand: Annotated[
        str | None, option("--hand", "left or right: where it broke, seen from outside, end up.", default="left")
    ] = None,
    block: Annotated[bool, option("--block", "It is a block, not a chip that runs out along the edge.")] = False,
    job: JOB = None,
    in_corner: IN_CORNER = None,
    part: Annotated[str, option("--part", "With a job: the tails' board or the pins'.", default=True)] = "tails",
    edge: Annotated[str, option("--edge", "With a job: face or far, the edge that broke.", default=True)] = "face",
    out: OUT = None,
    force: Force = False,
    paper: PAPER = "A4",
    as_json: JSON = False,
) -> None:
    """A broken corner: where the clean cut goes, and the patch, full size. Exit 1: recut."""
    from dovelayout.checks.finding import Level
    from dovelayout.drawing.cards.patch import CORNER_LINE, corner_cards
    from dovelayout.repair.patch import Break, lay_patch, patch_advice

    typed = {"--thickness": thickness, "--species": species, "--board-width": board_width, "--hand": hand}
    if job is not None and (twice := [name for name, text in typed.items() if text is not None]):
        raise LayoutError(f"{twice[0]} stands in the job already", remedy="leave it out, or leave --job out")
    board = typed_board(typed) if job is None else board_of(corner_of(job, in_corner)[1], part, edge)
    lost = Break(
        width_mm=length("--width-of-break", width_of_break, 0.5, 150),
        depth_mm=given("--depth-of-break", depth_of_break, 0.5, 100) or board.thickness_mm,
        length_mm=length("--length-of-break", length_of_break, 0.5, 300),
        chip=not block,
    )
    patch = lay_patch(
        lost,
        thickness_mm=board.thickness_mm,
        ring_deg=90.0 if grain_angle is None else angle_deg("--grain-angle", grain_angle),
        runout_ratio=None if runout is None else ratio("--runout", runout),
    )
    cut_away = board.trace is not None and board.trace.cuts_away(lost)
    advice = patch_advice(
        patch,
        board.wood,
        board_width_mm=board.width_mm,
        cut_away=cut_away,
        rings_given=grain_angle is not None,
        hand=board.hand,
    )
    drawing = None
    if advice.worst is not Level.STOP and not cut_away:
        what = f"Patch for a broken {board.hand} corner{board.label}, {board.wood.name} {board.thickness_mm:g} mm"
        cards = corner_cards(patch, right=board.hand == "right", trace=board.trace)
        drawing = Drawing(cards=cards, what=what, legend=CORNER_LINE)
    finish(advice, as_json=as_json, drawing=drawing, out=out, paper=paper, force=force)


@app.command("sliding")
@told
def sliding(
    *,
    length_: Annotated[str, option("--length", "Of the key.")],
    from_home: Annotated[str, option("--from-home", "How far it stopped from home.")],
    glue: Annotated[str, option("--glue", "The glue in it.", default=True)] = "pva",
    is_set: Annotated[bool, option("--set", "The glue has set.")] = False,
    tapered: Annotated[bool, option("--tapered", "The key tapers.")] = False,
    stopped: Annotated[bool, option("--stopped", "The housing is closed at its front.")] = False,
    kerf: Annotated[str, option("--kerf", "Of the saw.", default=True)] = "1 mm",
    as_json: JSON = False,
) -> None:
    """A sliding joint that seized: what to do before the glue sets, and after. Exit 1: recut."""
    from dovelayout.repair.seized import SeizedKey, mend_slide
    from dovelayout.wood.glue import find_glue

    key = SeizedKey(
        length_mm=length("--length", length_, 5, 3000),
        from_home_mm=length("--from-home", from_home, 0.1, 3000),
        glue=find_glue(glue),
        tapered=tapered,
        stopped=stopped,
        kerf_mm=length("--kerf", kerf, 0.1, 5),
        glue_set=is_set,
    )
    if key.from_home_mm >= key.length_mm:
        problem = (
            f"--from-home is {key.from_home_mm:g} mm and the key {key.length_mm:g} mm long: it isn't in its housing"
        )
        raise LayoutError(problem, remedy="less than its length would be right")
    finish(mend_slide(key), as_json=as_json)


@app.command("crack")
@told
def crack(
    *,
    length_: Annotated[str, option("--length", "How long it is.")],
    width: Annotated[str, option("--width", "Where it is widest.")],
    stage: Annotated[str, option("--stage", "dry, wet or cured: when it cracked.", default=True)] = "dry",
    fixed: Annotated[bool, option("--fixed", "Something across its grain holds it.")] = False,
    board_length: Annotated[str | None, option("--board-length", "Of the side.")] = None,
    board_width: Annotated[str | None, option("--board-width", "Of the side.")] = None,
    species: SPECIES = None,
    rings: Annotated[str, option("--rings", RING_HELP, default=True)] = "flat",
    season: SEASON = None,
    as_json: JSON = False,
) -> None:
    """A cracked side: glue and close it, or add wood, or make it anew. Exit 1: make it anew."""
    from dovelayout.joints.board import Rings
    from dovelayout.repair.cracked import Crack, CrackStage, mend_crack
    from dovelayout.wood.species import find_wood

    if season is not None and (species is None or board_width is None):
        raise missing("--season", "--species and --board-width", "how far the side moves hangs on both")
    asked = Crack(
        length_mm=length("--length", length_, 0.5, 5000),
        width_mm=length("--width", width, 0.01, 50),
        stage=chosen("--stage", stage, CrackStage),
        fixed=fixed,
        board_length_mm=given("--board-length", board_length, 5, 5000),
        board_width_mm=given("--board-width", board_width, 5, 2000),
        wood=None if species is None else find_wood(species),
        rings=chosen("--rings", rings, Rings),
        air_pct=None if season is None else air_pair("--season", season),
    )
    if asked.board_length_mm is not None and asked.length_mm > asked.board_length_mm + 1e-6:
        problem = f"--length is {asked.length_mm:g} mm and the side {asked.board_length_mm:g} mm long"
        raise LayoutError(problem, remedy="at most its length would do")
    finish(mend_crack(asked), as_json=as_json)
