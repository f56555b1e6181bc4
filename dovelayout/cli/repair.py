"""`dovelayout repair gap | corner | sliding | crack | diagnose`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.console import Force, told
from dovelayout.cli.repair_job import board_of, corner_of, gap_board_of, missing, typed_board
from dovelayout.cli.repair_shown import (
    AIR_HELP,
    air_pair,
    angle_deg,
    chosen,
    length,
    put_advice,
    put_diagnosis,
    ratio,
    written,
)

if TYPE_CHECKING:
    from dovelayout.checks.finding import Level
    from dovelayout.joints.board import Rings
    from dovelayout.repair.gap import MovedBoard
    from dovelayout.wood.species import Wood

app = typer.Typer(
    help="When it went wrong anyway: gaps, broken corners, seized slides, cracks, and what a symptom comes from.",
    no_args_is_help=True,
    rich_markup_mode=None,
)


def option(name: str, words: str, *, default: bool | str = False) -> Any:
    """An option of a command, its default shown where there is one to show."""
    return typer.Option(name, help=words, show_default=default)


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
    from dovelayout.errors import PrintError
    from dovelayout.joints.board import Rings
    from dovelayout.joints.slope import Slope
    from dovelayout.render.files import Over
    from dovelayout.repair.gap import Gap, GapPlace, gap_advice, plan_gap
    from dovelayout.wood.glue import find_glue
    from dovelayout.wood.species import find_wood

    known = gap_board_of(job, in_corner)
    wood = known.wood if species is None else find_wood(species)
    thickness_mm = length("--wood-thickness", thickness, 0.5, 300) or known.thickness_mm
    sawn = known.rings if rings is None else chosen("--rings", rings, Rings)
    asked = Gap(
        width_mm=length("--width", width, 0.01, 50),
        length_mm=length("--length", length_, 0.5, 3000),
        place=chosen("--place", place, GapPlace),
        depth_mm=length("--depth", depth, 0.5, 300) or known.depth_mm,
        kerf_mm=length("--kerf", kerf, 0.1, 5) or known.kerf_mm,
        slope=known.slope if slope is None else Slope(ratio("--slope", slope)),
        loose=loose,
        glue=None if glue is None else find_glue(glue),
        season=None if season is None else _moved(season, wood, thickness_mm, sawn),
    )
    plan = plan_gap(asked)
    advice = gap_advice(asked, plan)
    files: tuple[Path, ...] = ()
    if out is not None and plan.slip is not None:
        what = f"{plan.method.capitalize()} for a gap of {asked.width_mm:g} mm" + (f", {wood.name}" if wood else "")
        cards = (slip_card(plan.slip, plan.method.value),)
        files = written(out, cards, what, paper=paper, legend=SLIP_LINE, over=Over.told(force))
    elif out is not None and plan.method.wooden:
        raise PrintError(f"{out}: to draw the {plan.method.value} give --depth, how far the gap goes in")
    put_advice(advice, files, as_json=as_json, undrawn=out if not files else None)
    _end(advice.worst)


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
    from dovelayout.errors import LayoutError
    from dovelayout.render.files import Over
    from dovelayout.repair.patch import Break, lay_patch, patch_advice

    typed = {"--thickness": thickness, "--species": species, "--board-width": board_width, "--hand": hand}
    if job is not None and (twice := [name for name, text in typed.items() if text is not None]):
        raise LayoutError(f"{twice[0]} stands in the job already", remedy="leave it out, or leave --job out")
    board = typed_board(typed) if job is None else board_of(corner_of(job, in_corner)[1], part, edge)
    lost = Break(
        width_mm=length("--width-of-break", width_of_break, 0.5, 150),
        depth_mm=length("--depth-of-break", depth_of_break, 0.5, 100) or board.thickness_mm,
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
    files: tuple[Path, ...] = ()
    if out is not None and advice.worst is not Level.STOP and not cut_away:
        what = f"Patch for a broken {board.hand} corner{board.label}, {board.wood.name} {board.thickness_mm:g} mm"
        cards = corner_cards(patch, right=board.hand == "right", trace=board.trace)
        files = written(out, cards, what, paper=paper, legend=CORNER_LINE, over=Over.told(force))
    put_advice(advice, files, as_json=as_json, undrawn=out if not files else None)
    _end(advice.worst)


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
    from dovelayout.errors import LayoutError
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
    advice = mend_slide(key)
    put_advice(advice, (), as_json=as_json)
    _end(advice.worst)


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
    from dovelayout.errors import LayoutError
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
        board_length_mm=length("--board-length", board_length, 5, 5000),
        board_width_mm=length("--board-width", board_width, 5, 2000),
        wood=None if species is None else find_wood(species),
        rings=chosen("--rings", rings, Rings),
        air_pct=None if season is None else air_pair("--season", season),
    )
    if asked.board_length_mm is not None and asked.length_mm > asked.board_length_mm + 1e-6:
        problem = f"--length is {asked.length_mm:g} mm and the side {asked.board_length_mm:g} mm long"
        raise LayoutError(problem, remedy="at most its length would do")
    advice = mend_crack(asked)
    put_advice(advice, (), as_json=as_json)
    _end(advice.worst)


@app.command("diagnose")
@told
def diagnose(
    *,
    report: Annotated[str | None, typer.Argument(help="What you see, in a few words.", show_default=False)] = None,
    symptom: Annotated[str | None, option("--symptom", "One by its name; --list shows them.")] = None,
    humidity: Annotated[str | None, option("--humidity", AIR_HELP)] = None,
    list_: Annotated[bool, option("--list", "All symptoms that are known.")] = False,
    as_json: JSON = False,
) -> None:
    """What a trouble comes from, how to tell, what to do. Lists the nearest when unsure. Exit 1: recut."""
    from dovelayout.errors import LayoutError
    from dovelayout.repair.diagnosis import Diagnosis, air_change, all_symptoms, find_symptom
    from dovelayout.repair.diagnosis import diagnose as looked_up

    if list_:
        rows = tuple(all_symptoms().values())
        put_diagnosis(Diagnosis(sure=False, symptoms=rows, doubt="all that are known"), as_json=as_json, brief=True)
        return
    if (report is None) == (symptom is None):
        raise LayoutError("say what you see in a few words, or name a --symptom", remedy="one of the two")
    air = "" if humidity is None else air_change(air_pair("--humidity", humidity))
    if symptom is None:
        found = looked_up(report or "", air=air)
    else:
        row = find_symptom(symptom)
        other_air = bool(air and row.air and row.air != air)
        doubt = f"the air has become {air}, and this is a trouble of air that has become {row.air}" if other_air else ""
        found = Diagnosis(sure=not other_air, symptoms=(row,), doubt=doubt)
    put_diagnosis(found, as_json=as_json)
    if found.sure:
        _end(found.symptoms[0].level)


def _end(worst: Level) -> None:
    if worst.value == "stop":
        raise typer.Exit(1)
