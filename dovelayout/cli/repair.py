"""`dovelayout repair gap | corner | sliding | crack | diagnose`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dovelayout.cli.console import Force, told
from dovelayout.cli.repair_job import corner_of, end_of, known_of
from dovelayout.cli.repair_shown import (
    AIR_HELP,
    air_pair,
    angle_deg,
    chosen,
    given,
    length,
    put_advice,
    put_diagnosis,
    ratio,
    written,
)

if TYPE_CHECKING:
    from dovelayout.checks.finding import Level

app = typer.Typer(
    help="When it went wrong anyway: gaps, broken corners, seized slides, cracks, and what a symptom comes from.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

JSON = Annotated[bool, typer.Option("--json", help="The advice as JSON on standard output.")]
OUT = Annotated[Path | None, typer.Option("-o", "--out", help="Draw it full size, .pdf or .svg.", show_default=False)]
JOB = Annotated[Path | None, typer.Option("--job", help="A job file to take the board and the joint from.")]
IN_CORNER = Annotated[str | None, typer.Option("--corner", help="With a job: the corner's name.", show_default=False)]
PAPER = Annotated[str, typer.Option("--paper", help="Paper of a PDF.")]


@app.command("gap")
@told
def gap(
    width: Annotated[str, typer.Option("--width", help="The gap, measured with a feeler.", show_default=False)],
    length_: Annotated[str, typer.Option("--length", help="How long it is.", show_default=False)],
    place: Annotated[str, typer.Option("--place", help="end, cheek, baseline or lap.")] = "end",
    species: Annotated[str | None, typer.Option("--species", help="The wood.")] = None,
    depth: Annotated[str | None, typer.Option("--depth", help="How far it goes in.")] = None,
    thickness: Annotated[
        str | None, typer.Option("--wood-thickness", help="Of the board that moved: the pin board.")
    ] = None,
    season: Annotated[str | None, typer.Option("--season", help=AIR_HELP)] = None,
    rings: Annotated[str | None, typer.Option("--rings", help="flat, quarter or rift.")] = None,
    slope: Annotated[str | None, typer.Option("--slope", help="Of the tails, such as 1:7.")] = None,
    kerf: Annotated[str | None, typer.Option("--kerf", help="Of the saw that made the gap.")] = None,
    loose: Annotated[bool, typer.Option("--loose", help="The whole joint has it.")] = False,
    glue: Annotated[str | None, typer.Option("--glue", help="A glue you have in mind.")] = None,
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
    from dovelayout.repair.gap import Gap, GapPlace, Season, plan_gap
    from dovelayout.repair.gap_advice import gap_advice
    from dovelayout.wood.glue import find_glue
    from dovelayout.wood.species import find_wood

    known = known_of(job, in_corner)
    wood = known.wood if species is None else find_wood(species)
    thickness_mm = given("--wood-thickness", thickness, 0.5, 300, default=known.thickness_mm)
    moved = None
    if season is not None:
        tight_pct, now_pct = air_pair("--season", season)
        if wood is None or thickness_mm is None:
            raise missing("--season", "--species and --wood-thickness", "how far the board moves hangs on both")
        moved = Season(
            wood=wood,
            thickness_mm=thickness_mm,
            tight_pct=tight_pct,
            now_pct=now_pct,
            rings=known.rings if rings is None else chosen("--rings", rings, Rings),
        )
    asked = Gap(
        width_mm=length("--width", width, 0.01, 50),
        length_mm=length("--length", length_, 0.5, 3000),
        place=chosen("--place", place, GapPlace),
        depth_mm=given("--depth", depth, 0.5, 300, default=known.depth_mm),
        kerf_mm=given("--kerf", kerf, 0.1, 5, default=known.kerf_mm),
        slope=known.slope if slope is None else Slope(ratio("--slope", slope)),
        loose=loose,
        glue=None if glue is None else find_glue(glue),
        season=moved,
    )
    plan = plan_gap(asked)
    advice = gap_advice(asked, plan)
    files: tuple[Path, ...] = ()
    if out is not None and plan.slip is not None:
        what = f"{plan.method.value.capitalize()} for a gap of {asked.width_mm:g} mm"
        what += "" if wood is None else f", {wood.name}"
        files = written(out, (slip_card(plan.slip, plan.method.value),), what, paper, SLIP_LINE, over=Over.told(force))
    elif out is not None and plan.method.wooden:
        raise PrintError(f"{out}: to draw the {plan.method.value} give --depth, how far the gap goes in")
    put_advice(advice, files, as_json, undrawn=out if not files else None)
    _end(advice.worst)


@app.command("corner")
@told
def corner(
    width_of_break: Annotated[
        str, typer.Option("--width-of-break", help="How far it reaches along the end.", show_default=False)
    ],
    length_of_break: Annotated[
        str, typer.Option("--length-of-break", help="How far it reaches along the edge.", show_default=False)
    ],
    thickness: Annotated[str | None, typer.Option("--thickness", help="Of the board.", show_default=False)] = None,
    species: Annotated[str | None, typer.Option("--species", help="The wood.", show_default=False)] = None,
    depth_of_break: Annotated[
        str | None,
        typer.Option("--depth-of-break", help="From the outside face.", show_default="the thickness"),
    ] = None,
    grain_angle: Annotated[
        str | None,
        typer.Option(
            "--grain-angle",
            help="Rings to the outside face, seen on the end: 90 is square to it; above 0 they run deeper away from the "
            "broken edge, below 0 towards it.",
            show_default=False,
        ),
    ] = None,
    runout: Annotated[
        str | None, typer.Option("--runout", help="Fibres that run out at the broken edge, such as 1:4.")
    ] = None,
    board_width: Annotated[str | None, typer.Option("--board-width", help="Of the whole board.")] = None,
    hand: Annotated[
        str | None,
        typer.Option("--hand", help="left or right: where it broke, seen from outside, end up.", show_default="left"),
    ] = None,
    block: Annotated[
        bool, typer.Option("--block", help="It is a block, not a chip that runs out along the edge.")
    ] = False,
    job: JOB = None,
    in_corner: IN_CORNER = None,
    part: Annotated[str, typer.Option("--part", help="With a job: the tails' board or the pins'.")] = "tails",
    edge: Annotated[str, typer.Option("--edge", help="With a job: face or far, the edge that broke.")] = "face",
    out: OUT = None,
    force: Force = False,
    paper: PAPER = "A4",
    as_json: JSON = False,
) -> None:
    """A broken corner: where the clean cut goes, and the patch, full size. Exit 1: recut."""
    from dovelayout.checks.finding import Level
    from dovelayout.drawing.cards.patch import corner_cards
    from dovelayout.errors import LayoutError
    from dovelayout.joints.board import End
    from dovelayout.render.files import Over
    from dovelayout.repair.patch import Break, lay_patch
    from dovelayout.repair.patch_advice import patch_advice
    from dovelayout.repair.trace import trace_of
    from dovelayout.wood.species import find_wood

    if job is None:
        if species is None or thickness is None:
            raise missing("a broken corner", "--species and --thickness, or --job", "the patch is made for them")
        label, trace, wood = "", None, find_wood(species)
        thickness_mm = length("--thickness", thickness, 3, 100)
        board_width_mm = given("--board-width", board_width, 5, 2000)
        side = chosen("--hand", hand or End.LEFT, End)
    else:
        for name, text in (
            ("thickness", thickness),
            ("species", species),
            ("board-width", board_width),
            ("hand", hand),
        ):
            if text is not None:
                raise LayoutError(f"--{name} stands in the job already", remedy="leave it out, or leave --job out")
        end = end_of(corner_of(job, in_corner)[1], part)
        trace = trace_of(end, far_edge=chosen("--edge", edge, ("face", "far")) == "far")
        board = end.end.board
        label, wood, thickness_mm, board_width_mm = f", {end.end.label}", board.wood, board.thickness_mm, board.width_mm
        side = End.LEFT if trace.on_the_left else End.RIGHT
    lost = Break(
        width_mm=length("--width-of-break", width_of_break, 0.5, 150),
        depth_mm=thickness_mm if depth_of_break is None else length("--depth-of-break", depth_of_break, 0.5, 100),
        length_mm=length("--length-of-break", length_of_break, 0.5, 300),
        chip=not block,
    )
    patch = lay_patch(
        lost,
        thickness_mm=thickness_mm,
        ring_deg=90.0 if grain_angle is None else angle_deg("--grain-angle", grain_angle),
        runout_ratio=None if runout is None else ratio("--runout", runout),
    )
    cut_away = trace is not None and trace.cuts_away(lost)
    advice = patch_advice(
        patch,
        wood,
        board_width_mm=board_width_mm,
        cut_away=cut_away,
        rings_given=grain_angle is not None,
        hand=side,
    )
    files: tuple[Path, ...] = ()
    if out is not None and advice.worst is not Level.STOP and not cut_away:
        what = f"Patch for a broken {side} corner{label}, {wood.name} {thickness_mm:g} mm"
        files = written(
            out, corner_cards(patch, right=side == End.RIGHT, trace=trace), what, paper, over=Over.told(force)
        )
    put_advice(advice, files, as_json, undrawn=out if not files else None)
    _end(advice.worst)


@app.command("sliding")
@told
def sliding(
    length_: Annotated[str, typer.Option("--length", help="Of the key.", show_default=False)],
    from_home: Annotated[str, typer.Option("--from-home", help="How far it stopped from home.", show_default=False)],
    glue: Annotated[str, typer.Option("--glue", help="The glue in it.")] = "pva",
    is_set: Annotated[bool, typer.Option("--set", help="The glue has set.")] = False,
    tapered: Annotated[bool, typer.Option("--tapered", help="The key tapers.")] = False,
    stopped: Annotated[bool, typer.Option("--stopped", help="The housing is closed at its front.")] = False,
    kerf: Annotated[str, typer.Option("--kerf", help="Of the saw.")] = "1 mm",
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
        raise LayoutError(
            f"--from-home is {key.from_home_mm:g} mm and the key {key.length_mm:g} mm long: so it isn't in its housing",
            remedy="less than its length would be right",
        )
    advice = mend_slide(key)
    put_advice(advice, (), as_json)
    _end(advice.worst)


@app.command("crack")
@told
def crack(
    length_: Annotated[str, typer.Option("--length", help="How long it is.", show_default=False)],
    width: Annotated[str, typer.Option("--width", help="Where it is widest.", show_default=False)],
    stage: Annotated[str, typer.Option("--stage", help="dry, wet or cured: when it cracked.")] = "dry",
    fixed: Annotated[bool, typer.Option("--fixed", help="Something across its grain holds it.")] = False,
    board_length: Annotated[str | None, typer.Option("--board-length", help="Of the side.")] = None,
    board_width: Annotated[str | None, typer.Option("--board-width", help="Of the side.")] = None,
    species: Annotated[str | None, typer.Option("--species", help="The wood.")] = None,
    rings: Annotated[str, typer.Option("--rings", help="flat, quarter or rift.")] = "flat",
    season: Annotated[str | None, typer.Option("--season", help=AIR_HELP)] = None,
    as_json: JSON = False,
) -> None:
    """A cracked side: glue and close it, or add wood, or make it anew. Exit 1: make it anew."""
    from dovelayout.errors import LayoutError
    from dovelayout.joints.board import Rings
    from dovelayout.repair.cracked import Crack, Stage, mend_crack
    from dovelayout.wood.species import find_wood

    if season is not None and (species is None or board_width is None):
        raise missing("--season", "--species and --board-width", "how far the side moves hangs on both")
    asked = Crack(
        length_mm=length("--length", length_, 0.5, 5000),
        width_mm=length("--width", width, 0.01, 50),
        stage=chosen("--stage", stage, Stage),
        fixed=fixed,
        board_length_mm=given("--board-length", board_length, 5, 5000),
        board_width_mm=given("--board-width", board_width, 5, 2000),
        wood=None if species is None else find_wood(species),
        rings=chosen("--rings", rings, Rings),
        air_pct=None if season is None else air_pair("--season", season),
    )
    if asked.board_length_mm is not None and asked.length_mm > asked.board_length_mm + 1e-6:
        raise LayoutError(
            f"--length is {asked.length_mm:g} mm and the side {asked.board_length_mm:g} mm long",
            remedy="at most its length would do",
        )
    advice = mend_crack(asked)
    put_advice(advice, (), as_json)
    _end(advice.worst)


@app.command("diagnose")
@told
def diagnose(
    report: Annotated[str | None, typer.Argument(help="What you see, in a few words.", show_default=False)] = None,
    symptom: Annotated[
        str | None, typer.Option("--symptom", help="One by its name; --list shows them.", show_default=False)
    ] = None,
    humidity: Annotated[str | None, typer.Option("--humidity", help=AIR_HELP, show_default=False)] = None,
    list_: Annotated[bool, typer.Option("--list", help="All symptoms that are known.")] = False,
    as_json: JSON = False,
) -> None:
    """What a trouble comes from, how to tell, what to do. Lists the nearest when unsure. Exit 1: recut."""
    from dovelayout.errors import LayoutError
    from dovelayout.repair.diagnosis import Diagnosis, air_change, all_symptoms, find_symptom
    from dovelayout.repair.diagnosis import diagnose as looked_up

    if list_:
        rows = tuple(all_symptoms().values())
        put_diagnosis(Diagnosis(sure=False, symptoms=rows, doubt="all that are known"), as_json, brief=True)
        return
    if (report is None) == (symptom is None):
        raise LayoutError("say what you see in a few words, or name a --symptom", remedy="one of the two")
    air = "" if humidity is None else air_change(air_pair("--humidity", humidity))
    if symptom is not None:
        row = find_symptom(symptom)
        if air and row.air and row.air != air:
            doubt = f"the air has become {air}, and this is a trouble of air that has become {row.air}"
            found = Diagnosis(sure=False, symptoms=(row,), doubt=doubt)
        else:
            found = Diagnosis(sure=True, symptoms=(row,))
    else:
        found = looked_up(report or "", air=air)
    put_diagnosis(found, as_json)
    if found.sure:
        _end(found.symptoms[0].level)


def missing(option: str, needs: str, because: str) -> Exception:
    """An option that says nothing without others."""
    from dovelayout.errors import LayoutError

    return LayoutError(f"{option} needs {needs} too: {because}")


def _end(worst: Level) -> None:
    if worst.value == "stop":
        raise typer.Exit(1)
