"""`dovelayout repair corner`: a corner that broke off one board, or off both boards of a joint."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated

from dovelayout.cli import repair_options as options
from dovelayout.cli.command import Force, one_line_errors, option
from dovelayout.cli.repair_options import IN_CORNER, JOB, JSON, OUT, PAPER, SPECIES
from dovelayout.cli.repair_shown import CardsToDraw, finish
from dovelayout.errors import LayoutError

if TYPE_CHECKING:
    from dovelayout.drawing.cards.card import Card
    from dovelayout.joints.board import BoardEnd, End
    from dovelayout.joints.corner import CornerJoint
    from dovelayout.joints.face import EndFaces
    from dovelayout.repair.advice import Advice
    from dovelayout.repair.mated import BrokenHalf
    from dovelayout.repair.patch import EdgeRoom, Patch
    from dovelayout.repair.trace import Trace
    from dovelayout.wood.species import Wood

TURNS = "Rings to the outside face, on the end: 90 is square; above 0 deeper away from the break, below 0 towards it."
BOTH = "both"
"""The part that stands for both boards of a joint."""
MEET_MM = 1.0
"""Edges of two boards that lie further apart are no one corner: ours."""
_AND = re.compile(r"\s+and\s+", re.IGNORECASE)


@one_line_errors
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
    part: Annotated[str, option("--part", "With a job: the tails' board, the pins', or both.")] = "tails",
    edge: Annotated[str, option("--edge", "With a job: face or far, the edge that broke.")] = "face",
    out: OUT = None,
    force: Force = False,
    paper: PAPER = "A4",
    as_json: JSON = False,
) -> None:
    """A broken corner: where the clean cut goes, and the patch, full size. Exit 1: recut.

    With --part both each size may be given for each board, the tails' first: --width-of-break "14 and 9".
    """
    from dovelayout.checks.finding import Level
    from dovelayout.drawing.sheets.frame import Legend
    from dovelayout.repair.mated import mated_advice

    typed = {"--thickness": thickness, "--species": species, "--board-width": board_width, "--hand": hand}
    if job is not None and (twice := [name for name, text in typed.items() if text is not None]):
        raise LayoutError(f"{twice[0]} stands in the job already", remedy="leave it out, or leave --job out")
    if job is None and part.strip().casefold() == BOTH:
        raise options.missing("--part both", "--job", "the two boards and their joint stand in it")
    boards = (typed_board(typed),) if job is None else boards_of(options.corner_of(job, in_corner)[1], part, edge)
    sizes = {
        "--width-of-break": width_of_break,
        "--length-of-break": length_of_break,
        "--depth-of-break": depth_of_break,
        "--grain-angle": grain_angle,
        "--runout": runout,
    }
    mends = [
        _mended(board, said, chip=not block) for board, said in zip(boards, _each(sizes, len(boards)), strict=True)
    ]
    both = len(mends) == 2
    advice = mated_advice(*(mend.half for mend in mends)) if both else mends[0].advice
    patched = [mend for mend in mends if not mend.cut_away]
    drawing = None
    if advice.worst is not Level.STOP and patched:
        what = mends[0].what
        if both:
            what = f"For a broken corner: {'; '.join(mend.half.end.label for mend in patched)}"
        cards = [card for mend in patched for card in mend.cards(named=both)]
        drawing = CardsToDraw(cards=cards, what=what, legend=Legend.CORNER, paper=paper)
    finish(advice, as_json=as_json, drawing=drawing, out=out, force=force)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Mend:
    """One board's patch and what is said of it; `cut_away`: the joint takes the wood that broke anyway."""

    board: BrokenBoard
    patch: Patch
    advice: Advice
    cut_away: bool

    @property
    def half(self) -> BrokenHalf:
        """What the advice for both boards is made of. Raises ValueError for a board without a joint."""
        from dovelayout.repair.mated import BrokenHalf

        if self.board.end is None:
            raise ValueError("a board that was typed has no joint")
        return BrokenHalf(end=self.board.end, advice=self.advice, cut_away=self.cut_away)

    @property
    def what(self) -> str:
        """The title of its sheets where it is alone."""
        board, at = self.board, f", {self.board.end.label}" if self.board.end else ""
        return f"Patch for a broken {board.hand} corner{at}, {board.wood.name} {board.thickness_mm:g} mm"

    def cards(self, *, named: bool) -> tuple[Card, ...]:
        """Its paper and its patch, the board in their titles where they are `named`."""
        from dovelayout.drawing.cards.patch import corner_cards
        from dovelayout.joints.board import End

        name = self.board.end.label if named and self.board.end else ""
        return corner_cards(self.patch, right=self.board.hand is End.RIGHT, trace=self.board.trace, board=name)


def _mended(board: BrokenBoard, said: Mapping[str, str | None], *, chip: bool) -> _Mend:
    """The patch of one board, from the options about its break. Raises LayoutError, UnitsError."""
    from dovelayout.repair.patch import Break, lay_patch, patch_advice

    lost = Break(
        width_mm=options.length("--width-of-break", said["--width-of-break"] or "", 0.5, 150),
        depth_mm=options.given("--depth-of-break", said["--depth-of-break"], 0.5, 100) or board.thickness_mm,
        length_mm=options.length("--length-of-break", said["--length-of-break"] or "", 0.5, 300),
        chip=chip,
    )
    turned, runout = said["--grain-angle"], said["--runout"]
    ring_deg = 90.0 if turned is None else options.angle_deg("--grain-angle", turned)
    ratio = None if runout is None else options.ratio("--runout", runout)
    cut_away = board.trace is not None and board.trace.cuts_away(lost)
    patch = lay_patch(lost, thickness_mm=board.thickness_mm, ring_deg=ring_deg, runout_ratio=ratio, room=board.room)
    advice = patch_advice(
        patch,
        board.wood,
        board_width_mm=board.width_mm,
        rings_given=turned is not None,
        hand=board.hand,
        cut_away=cut_away,
        room=board.room,
    )
    return _Mend(board=board, patch=patch, advice=advice, cut_away=cut_away)


def _each(sizes: Mapping[str, str | None], boards: int) -> Iterator[dict[str, str | None]]:
    """What the options say of each board: the same of two, or one of each as in '14 and 9'. Raises LayoutError."""
    said: dict[str, list[str | None]] = {}
    for name, text in sizes.items():
        texts: list[str | None] = [text] if text is None else [*_AND.split(text.strip())]
        if len(texts) not in (1, boards):
            remedy = "one, or with --part both two such as '14 and 9', the tails' first, would be right"
            raise LayoutError(f"{name} {text!r} is for {len(texts)} boards", remedy=remedy)
        said[name] = texts if len(texts) == boards else texts * boards
    return ({name: texts[number] for name, texts in said.items()} for number in range(boards))


@dataclass(frozen=True, slots=True, kw_only=True)
class BrokenBoard:
    """The board that broke, and at which hand as seen from outside with the end up. With a job: its `end`, `trace`, the
    joint's lines there, and `room`, what else is cut there."""

    wood: Wood
    thickness_mm: float
    width_mm: float | None
    hand: End
    end: BoardEnd | None = None
    trace: Trace | None = None
    room: EdgeRoom | None = None


def typed_board(typed: Mapping[str, str | None]) -> BrokenBoard:
    """The board of the options --thickness, --species, --board-width and --hand. Raises LayoutError, UnitsError."""
    from dovelayout.joints.board import End
    from dovelayout.wood.species import find_wood

    species, thickness = typed["--species"], typed["--thickness"]
    if species is None or thickness is None:
        raise options.missing("a broken corner", "--species and --thickness, or --job", "the patch is made for them")
    return BrokenBoard(
        wood=find_wood(species),
        thickness_mm=options.length("--thickness", thickness, 3, 100),
        width_mm=options.given("--board-width", typed["--board-width"], 5, 2000),
        hand=options.chosen("--hand", typed["--hand"] or End.LEFT, End),
    )


def boards_of(joint: CornerJoint, part: str, edge: str) -> tuple[BrokenBoard, ...]:
    """The board whose end carries the tails, the pins', or both, the tails' first. Raises LayoutError for a lipped front,
    whose paper is another, and for both where their edges don't meet."""
    from dovelayout.joints.face import Part
    from dovelayout.joints.faces import pin_width_mm

    kinds = dict(zip(Part, joint.end_faces(), strict=True))
    which = options.chosen("--part", part, (*Part, BOTH))
    far_edge = options.chosen("--edge", edge, ("face", "far")) == "far"
    faces = tuple(kinds.values()) if which == BOTH else (kinds[Part(which)],)
    if any(one.lip is not None for one in faces):
        problem = f"corner {joint.name}: a lipped front's end isn't flat"
        remedy = "give --thickness and the rest yourself"
        raise LayoutError(problem, remedy=f"--part tails would do; for the front {remedy}" if which == BOTH else remedy)
    apart_mm = abs(joint.pin_offset_mm + (pin_width_mm(joint) - joint.end_width_mm if far_edge else 0.0))
    if which == BOTH and apart_mm > MEET_MM:
        problem = f"corner {joint.name}: the two {edge} edges lie {apart_mm:.4g} mm apart, so no corner is both boards'"
        raise LayoutError(problem, remedy="--part tails or pins, whichever broke, would be right")
    return tuple(_board_at(one, far_edge=far_edge) for one in faces)


def _board_at(faces: EndFaces, *, far_edge: bool) -> BrokenBoard:
    from dovelayout.joints.board import End
    from dovelayout.repair.patch import edge_room
    from dovelayout.repair.trace import trace_of

    trace, board = trace_of(faces, far_edge=far_edge), faces.end.board
    return BrokenBoard(
        wood=board.wood,
        thickness_mm=board.thickness_mm,
        width_mm=board.width_mm,
        hand=End.LEFT if trace.on_the_left else End.RIGHT,
        end=faces.end,
        trace=trace,
        room=edge_room(board, faces.end.end, far_edge=far_edge, groove=faces.groove),
    )
