"""`dovelayout repair loose | broken`: what is loose all over, and what broke in the joint itself."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

import typer

from dovelayout.cli import repair_options as options
from dovelayout.cli.command import Force, one_line_errors, option
from dovelayout.cli.repair_options import IN_CORNER, JOB, JSON, OUT, PAPER, SPECIES
from dovelayout.cli.repair_shown import CardsToDraw, finish
from dovelayout.errors import LayoutError, PrintError

if TYPE_CHECKING:
    from dovelayout.drawing.cards.card import Card
    from dovelayout.joints.corner import CornerJoint
    from dovelayout.repair.advice import Advice
    from dovelayout.repair.broken import BrokenPart, SnappedPin
    from dovelayout.wood.species import Wood

LOOSE = ("joint", "housing")


@one_line_errors
def loose(
    *,
    part: Annotated[str, typer.Argument(help="joint or housing.")],
    gap: Annotated[str, option("--gap", "At one cheek, or beside the key, measured with a feeler.")],
    depth: Annotated[str | None, option("--depth", "How far a gap goes in; of a housing, its depth.")] = None,
    length_: Annotated[str | None, option("--length", "How long it is at the surface.")] = None,
    cheeks: Annotated[int | None, option("--cheeks", "Of the corner: two for each tail.")] = None,
    carries: Annotated[bool, option("--carries", "Weight or a daily pull hangs on the corner.")] = False,
    glue: Annotated[str | None, option("--glue", "A glue you have in mind.")] = None,
    slope: Annotated[str | None, option("--slope", "Of a dovetail key's cheek, such as 1:7.")] = None,
    taper: Annotated[str | None, option("--taper", "Of a tapered key, such as 1:320.")] = None,
    room: Annotated[str | None, option("--room", "How far a tapered key can still go in.")] = None,
    job: JOB = None,
    in_corner: IN_CORNER = None,
    divider: Annotated[str | None, option("--divider", "With a job: the shelf's or partition's name.")] = None,
    out: OUT = None,
    force: Force = False,
    paper: PAPER = "A4",
    as_json: JSON = False,
) -> None:
    """A corner that is loose at every cheek: wedges, full size. A shelf or key that rattles: a shim. Exit 1: recut."""
    from dovelayout.drawing.cards.let_in import shim_card
    from dovelayout.drawing.cards.patch import slip_card
    from dovelayout.drawing.sheets.frame import Legend
    from dovelayout.joints.slope import Slope
    from dovelayout.repair.loose import LooseCorner, LooseKey, mend_corner, mend_key
    from dovelayout.wood.glue import find_glue

    gap_mm = options.length("--gap", gap, 0.01, 20)
    if options.chosen("PART", part, LOOSE) == "joint":
        joint = None if job is None else options.corner_of(job, in_corner)[1]
        corner = LooseCorner(
            gap_mm=gap_mm,
            depth_mm=options.given("--depth", depth, 1, 300) or (joint.tail_board.thickness_mm if joint else None),
            length_mm=options.given("--length", length_, 1, 300) or (joint.pin_board.thickness_mm if joint else None),
            cheeks=cheeks or (2 * len(joint.tails) if joint else None),
            carries=carries,
            glue=None if glue is None else find_glue(glue),
        )
        wedge, drawing = corner.wedge, None
        if wedge is not None:
            what = f"Wedges for a loose corner, {gap_mm:g} mm at every cheek"
            drawing = CardsToDraw(cards=[slip_card(wedge, "wedge")], what=what, legend=Legend.SLIP, paper=paper)
        elif out is not None and not corner.rule_broken and corner.depth_mm is None:
            raise PrintError(f"{out}: to draw the wedges give --depth and --length, or --job with --corner")
        finish(mend_corner(corner), as_json=as_json, drawing=drawing, out=out, force=force)
        return
    slide = None if job is None else options.divider_of(job, divider)
    ratio = None if taper is None else options.taper("--taper", taper)
    typed_slope = None if slope is None else Slope(options.ratio("--slope", slope))
    key = LooseKey(
        gap_mm=gap_mm,
        depth_mm=slide.depth_mm
        if slide
        else options.needed("--depth", depth, (1, 100), "a shim lines the whole cheek"),
        length_mm=slide.length_mm if slide else options.needed("--length", length_, (5, 3000), "a shim lines it all"),
        slope=typed_slope or (slide.slope if slide else None),
        taper_ratio=ratio or (slide.spec.taper_ratio if slide else None),
        room_mm=options.given("--room", room, 0, 3000) or 0.0,
    )
    shim = None
    if key.way == "shim":
        what = f"Shim for a housing, {gap_mm:g} mm"
        shim = CardsToDraw(cards=[shim_card(key)], what=what, legend=Legend.SLIP, paper=paper)
    finish(mend_key(key), as_json=as_json, drawing=shim, out=out, force=force)


@one_line_errors
def broken(
    *,
    part: Annotated[str, typer.Argument(help="pin, tail, socket or baseline.")],
    narrow: Annotated[str | None, option("--narrow", "Pin: its width on the outside face.")] = None,
    wide: Annotated[str | None, option("--wide", "Pin: its width on the inside face.")] = None,
    length_: Annotated[str | None, option("--length", "Pin: end to baseline. Tail, socket: of the crack.")] = None,
    lost: Annotated[int, option("--lost", "Pins of this end that broke.")] = 1,
    half: Annotated[bool, option("--half", "It is a half pin.")] = False,
    hand: Annotated[str, option("--hand", "Half pin: left or right edge, from outside, end up.")] = "left",
    width: Annotated[str | None, option("--width", "Tail, socket: of the crack, where it is widest.")] = None,
    stage: Annotated[str, option("--stage", "Tail, socket: dry, wet or cured.")] = "dry",
    tail_length: Annotated[str | None, option("--tail-length", "Tail: end to baseline.")] = None,
    board_length: Annotated[str | None, option("--board-length", "Socket: of the front.")] = None,
    socket: Annotated[str | None, option("--socket", "Baseline: the socket's width there.")] = None,
    below: Annotated[str | None, option("--below", "Baseline: how far below the line it is torn.")] = None,
    into: Annotated[str | None, option("--into", "Baseline: how deep, from the face that shows.")] = None,
    thickness: Annotated[str | None, option("--thickness", "Of the board.")] = None,
    species: SPECIES = None,
    job: JOB = None,
    in_corner: IN_CORNER = None,
    number: Annotated[int, option("--pin", "With a job: which pin, from the face edge.")] = 1,
    out: OUT = None,
    force: Force = False,
    paper: PAPER = "A4",
    as_json: JSON = False,
) -> None:
    """A snapped pin, a split tail, a cracked socket, a torn baseline; what is let in, full size. Exit 1: recut."""
    from dovelayout.repair.broken import BrokenPart

    typed = {
        "--narrow": narrow,
        "--wide": wide,
        "--length": length_,
        "--width": width,
        "--thickness": thickness,
        "--tail-length": tail_length,
        "--board-length": board_length,
        "--socket": socket,
        "--below": below,
        "--into": into,
        "--stage": stage,
        "--hand": hand,
        "--species": species,
    }
    joint = None if job is None else options.corner_of(job, in_corner)[1]
    request = _Request(typed=typed, joint=joint, number=number, lost=lost, half=half)
    what = options.chosen("PART", part, BrokenPart)
    if what is BrokenPart.PIN:
        advice, cards, title = _pin(request)
    elif what is BrokenPart.BASELINE:
        advice, cards, title = _baseline(request)
    else:
        advice, cards, title = _split(request, what)
    drawing = None
    if cards and advice.worst.value != "stop":
        from dovelayout.drawing.sheets.frame import Legend

        drawing = CardsToDraw(cards=cards, what=title, legend=Legend.LET_IN, paper=paper)
    finish(advice, as_json=as_json, drawing=drawing, out=out, force=force)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Request:
    """What `broken` is request: options as typed by their names, and the joint of the job with the pin's number."""

    typed: Mapping[str, str | None]
    joint: CornerJoint | None
    number: int
    lost: int
    half: bool

    def mm(self, name: str, most_mm: float, because: str) -> float:
        """A length that is needed. Raises LayoutError, UnitsError."""
        return options.needed(name, self.typed[name], (0.1, most_mm), because)

    @property
    def wood(self) -> Wood | None:
        """The wood as typed."""
        from dovelayout.wood.species import find_wood

        species = self.typed["--species"]
        return None if species is None else find_wood(species)


Mended = tuple["Advice", tuple["Card", ...], str]
"""What to do, the cards of what is let in, and their title."""


def _pin(request: _Request) -> Mended:
    """A pin that snapped off. Raises LayoutError, UnitsError."""
    from dovelayout.drawing.cards.let_in import new_pin_cards
    from dovelayout.joints.board import End
    from dovelayout.repair.broken import SnappedPin, mend_pin

    if request.joint is not None:
        pin, right = _pin_of(request.joint, request.number, request.lost)
    else:
        because = "the new pin has the old one's section"
        pin = SnappedPin(
            narrow_mm=request.mm("--narrow", 150, because),
            wide_mm=request.mm("--wide", 200, because),
            length_mm=request.mm("--length", 100, because),
            thickness_mm=request.mm("--thickness", 100, because),
            wood=request.wood,
            half=request.half,
            lost=request.lost,
        )
        right = request.half and options.chosen("--hand", request.typed["--hand"] or "left", End) is End.RIGHT
    if pin.wide_mm < pin.narrow_mm:
        problem = f"--wide is {pin.wide_mm:g} mm and --narrow {pin.narrow_mm:g} mm"
        raise LayoutError(problem, remedy="a pin is wider on the inside face: the other way round would be right")
    title = f"New pin, {pin.narrow_mm:.1f} mm on the outside face, {pin.length_mm:.1f} mm long"
    return mend_pin(pin), new_pin_cards(pin, right=right) if pin.root_mm > 0 else (), title


def _baseline(request: _Request) -> Mended:
    """End grain torn out at a baseline of the tail board. Raises LayoutError, UnitsError."""
    from dovelayout.drawing.cards.let_in import baseline_cards
    from dovelayout.repair.broken import TornBaseline, mend_baseline

    because, joint = "the patch is made for it", request.joint
    if joint is not None:
        socket_mm, thickness_mm = joint.pins[_index(joint, request.number)].root_mm, joint.tail_board.thickness_mm
    else:
        socket_mm, thickness_mm = (request.mm(name, 150, because) for name in ("--socket", "--thickness"))
    torn = TornBaseline(
        socket_mm=socket_mm,
        below_mm=request.mm("--below", 60, because),
        into_mm=request.mm("--into", 100, because),
        thickness_mm=thickness_mm,
        wood=request.wood if joint is None else joint.tail_board.wood,
    )
    if torn.into_mm > torn.thickness_mm + 1e-6:
        problem = f"--into is {torn.into_mm:g} mm in a board {torn.thickness_mm:g} mm thick"
        raise LayoutError(problem, remedy="at most its thickness would do")
    return mend_baseline(torn), baseline_cards(torn), f"Patch for a torn baseline, {torn.socket_mm:.1f} mm wide"


def _split(request: _Request, part: BrokenPart) -> Mended:
    """A split tail, or a front that cracked at a socket. Raises LayoutError, UnitsError."""
    from dovelayout.repair.broken import BrokenPart, Split, mend_split
    from dovelayout.repair.cracked import CrackStage

    name, because = "--tail-length" if part is BrokenPart.TAIL else "--board-length", "what to do hangs on it"
    whole_mm = options.given(name, request.typed[name], 2, 5000)
    if request.joint is not None:
        board_mm = request.joint.pin_board.length_mm
        whole_mm = request.joint.end_faces()[0].baseline_mm if part is BrokenPart.TAIL else board_mm
    split = Split(
        length_mm=request.mm("--length", 5000, because),
        width_mm=options.needed("--width", request.typed["--width"], (0.01, 20), because),
        stage=options.chosen("--stage", request.typed["--stage"] or "dry", CrackStage),
        whole_mm=whole_mm,
    )
    return mend_split(split, part), (), ""


def _index(joint: CornerJoint, number: int) -> int:
    """A pin's place in the list. Raises LayoutError."""
    if not 1 <= number <= len(joint.pins):
        raise LayoutError(
            f"--pin {number} is not in corner {joint.name}", remedy=f"1 to {len(joint.pins)} would be right"
        )
    return number - 1


def _pin_of(joint: CornerJoint, number: int, lost: int) -> tuple[SnappedPin, bool]:
    """The pin of a job's corner, and whether it is a half pin at the right edge, seen from outside with the end up."""
    from dovelayout.joints.board import End
    from dovelayout.repair.broken import SnappedPin, room_below

    if joint.lap_mm > 0:
        problem = f"corner {joint.name}: a half-blind pin stands on its lap and can't be let in from the face"
        raise LayoutError(
            problem, remedy="glue it back (dovelayout repair diagnose --symptom pin-broken), or make a new front"
        )
    _, faces = joint.end_faces()
    index = _index(joint, number)
    pin, board = joint.pins[index], joint.pin_board
    # pins are counted in the tail board's x, and the face edge of a left end is on the left
    start_mm, end_mm = (x - joint.pin_offset_mm for x in (pin.root_start_mm, pin.root_end_mm))
    groove = faces.groove
    last = index == len(joint.pins) - 1
    snapped = SnappedPin(
        narrow_mm=pin.width_mm,
        wide_mm=pin.root_mm,
        length_mm=faces.baseline_mm,
        thickness_mm=board.thickness_mm,
        wood=board.wood,
        half=pin.half,
        room_mm=room_below(board, faces.end.end, (start_mm, end_mm), faces.baseline_mm),
        grooved=groove is not None and groove.from_edge_mm < end_mm and groove.far_mm > start_mm,
        lost=lost,
    )
    return snapped, pin.half and ((faces.end.end is End.LEFT) == last)
