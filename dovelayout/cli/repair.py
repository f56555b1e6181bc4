"""`dovelayout repair gap | corner | loose | broken | panel | sliding | crack | diagnose`."""

from __future__ import annotations

from typing import Annotated

import typer

from dovelayout.cli import repair_options as options
from dovelayout.cli.command import Force, one_line_errors, option
from dovelayout.cli.repair_corner import corner
from dovelayout.cli.repair_diagnosis import diagnose
from dovelayout.cli.repair_joint import broken, loose
from dovelayout.cli.repair_options import IN_CORNER, JOB, JSON, OUT, PAPER, SEASON, SPECIES
from dovelayout.cli.repair_panel import panel
from dovelayout.cli.repair_shown import CardsToDraw, finish
from dovelayout.errors import LayoutError, PrintError

app = typer.Typer(
    help="When it went wrong anyway: gaps, broken corners, seized slides, cracks, and what a symptom comes from.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
app.command("diagnose")(diagnose)
app.command("corner")(corner)
app.command("loose")(loose)
app.command("broken")(broken)
app.command("panel")(panel)

RING_HELP = "flat, quarter or rift."


@app.command("gap")
@one_line_errors
def gap(
    *,
    width: Annotated[str, option("--width", "The gap, measured with a feeler.")],
    length_: Annotated[str, option("--length", "How long it is.")],
    place: Annotated[str, option("--place", "end, cheek, baseline or lap.")] = "end",
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
    from dovelayout.drawing.cards.patch import slip_card
    from dovelayout.drawing.sheets.frame import Legend
    from dovelayout.joints.board import Rings
    from dovelayout.joints.slope import Slope
    from dovelayout.repair.gap import Gap, GapPlace, MovedBoard, gap_advice, plan_gap
    from dovelayout.wood.glue import find_glue
    from dovelayout.wood.species import find_wood

    joint, sawn_mm = None, options.given("--kerf", kerf, 0.1, 5)
    if job is not None:
        understood, joint = options.corner_of(job, in_corner)
        sawn_mm = sawn_mm or understood.shop.kerf_mm
    pins = joint.pin_board if joint else None  # its thickness is what moves
    wood = find_wood(species) if species is not None else pins.wood if pins else None
    thickness_mm = options.given("--wood-thickness", thickness, 0.5, 300) or (pins.thickness_mm if pins else None)
    lie = options.chosen("--rings", rings, Rings) if rings is not None else pins.rings if pins else None
    moved = None
    if season is not None:
        tight_pct, now_pct = options.air_pair("--season", season)
        if wood is None or thickness_mm is None:
            raise options.missing("--season", "--species and --wood-thickness", "how far the board moves hangs on both")
        air = {"tight_pct": tight_pct, "now_pct": now_pct}
        moved = MovedBoard(wood=wood, thickness_mm=thickness_mm, rings=lie, **air)
    gap_ = Gap(
        width_mm=options.length("--width", width, 0.01, 50),
        length_mm=options.length("--length", length_, 0.5, 3000),
        place=options.chosen("--place", place, GapPlace),
        depth_mm=options.given("--depth", depth, 0.5, 300) or (joint.tail_board.thickness_mm if joint else None),
        kerf_mm=sawn_mm,
        slope=Slope(options.ratio("--slope", slope)) if slope is not None else joint.slope if joint else None,
        loose=loose,
        glue=None if glue is None else find_glue(glue),
        season=moved,
    )
    plan = plan_gap(gap_)
    advice = gap_advice(gap_, plan)
    drawing = None
    if plan.slip is not None:
        what = f"{plan.method.capitalize()} for a gap of {gap_.width_mm:g} mm" + (f", {wood.name}" if wood else "")
        cards = [slip_card(plan.slip, plan.method.value)]
        drawing = CardsToDraw(cards=cards, what=what, legend=Legend.SLIP, paper=paper)
    elif out is not None and plan.method.wooden:
        raise PrintError(f"{out}: to draw the {plan.method.value} give --depth, how far the gap goes in")
    finish(advice, as_json=as_json, drawing=drawing, out=out, force=force)


@app.command("sliding")
@one_line_errors
def sliding(
    *,
    length_: Annotated[str, option("--length", "Of the key.")],
    from_home: Annotated[str, option("--from-home", "How far it stopped from home.")],
    glue: Annotated[str, option("--glue", "The glue in it.")] = "pva",
    is_set: Annotated[bool, option("--set", "The glue has set.")] = False,
    tapered: Annotated[bool, option("--tapered", "The key tapers.")] = False,
    stopped: Annotated[bool, option("--stopped", "The housing is closed at its front.")] = False,
    kerf: Annotated[str, option("--kerf", "Of the saw.")] = "1 mm",
    as_json: JSON = False,
) -> None:
    """A sliding joint that seized: what to do before the glue sets, and after. Exit 1: recut."""
    from dovelayout.repair.seized import SeizedKey, mend_slide
    from dovelayout.wood.glue import find_glue

    key = SeizedKey(
        length_mm=options.length("--length", length_, 5, 3000),
        from_home_mm=options.length("--from-home", from_home, 0.1, 3000),
        glue=find_glue(glue),
        tapered=tapered,
        stopped=stopped,
        kerf_mm=options.length("--kerf", kerf, 0.1, 5),
        glue_set=is_set,
    )
    if key.from_home_mm >= key.length_mm:
        problem = (
            f"--from-home is {key.from_home_mm:g} mm and the key {key.length_mm:g} mm long: it isn't in its housing"
        )
        raise LayoutError(problem, remedy="less than its length would be right")
    finish(mend_slide(key), as_json=as_json)


@app.command("crack")
@one_line_errors
def crack(
    *,
    length_: Annotated[str, option("--length", "How long it is.")],
    width: Annotated[str, option("--width", "Where it is widest.")],
    stage: Annotated[str, option("--stage", "dry, wet or cured: when it cracked.")] = "dry",
    fixed: Annotated[bool, option("--fixed", "Something across its grain holds it.")] = False,
    board_length: Annotated[str | None, option("--board-length", "Of the side.")] = None,
    board_width: Annotated[str | None, option("--board-width", "Of the side.")] = None,
    species: SPECIES = None,
    rings: Annotated[str, option("--rings", RING_HELP)] = "flat",
    season: SEASON = None,
    as_json: JSON = False,
) -> None:
    """A cracked side: glue and close it, or add wood, or make it anew. Exit 1: make it anew."""
    from dovelayout.joints.board import Rings
    from dovelayout.repair.cracked import Crack, CrackStage, mend_crack
    from dovelayout.wood.species import find_wood

    if season is not None and (species is None or board_width is None):
        raise options.missing("--season", "--species and --board-width", "how far the side moves hangs on both")
    cracked = Crack(
        length_mm=options.length("--length", length_, 0.5, 5000),
        width_mm=options.length("--width", width, 0.01, 50),
        stage=options.chosen("--stage", stage, CrackStage),
        fixed=fixed,
        board_length_mm=options.given("--board-length", board_length, 5, 5000),
        board_width_mm=options.given("--board-width", board_width, 5, 2000),
        wood=None if species is None else find_wood(species),
        rings=options.chosen("--rings", rings, Rings),
        air_pct=None if season is None else options.air_pair("--season", season),
    )
    if cracked.board_length_mm is not None and cracked.length_mm > cracked.board_length_mm + 1e-6:
        problem = f"--length is {cracked.length_mm:g} mm and the side {cracked.board_length_mm:g} mm long"
        raise LayoutError(problem, remedy="at most its length would do")
    finish(mend_crack(cracked), as_json=as_json)
