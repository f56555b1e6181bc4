"""From [[corner]] and [[box]] tables to joints: boards and ends looked up, what was left open filled in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dovelayout.casework.box import box_corners
from dovelayout.errors import JobError, LayoutError
from dovelayout.job.places import ErrorAt, each_once, told
from dovelayout.job.readers.boards import Boards
from dovelayout.job.readers.letters import letters
from dovelayout.job.tables.schema import BoxTable, CornerTable, JobTable, LayoutTable
from dovelayout.joints import KINDS
from dovelayout.joints.board import Board, BoardEnd, End, Groove
from dovelayout.joints.cant import SQUARE, Cant
from dovelayout.joints.corner import CornerJoint, CornerSpec
from dovelayout.joints.slope import Slope
from dovelayout.joints.spacing import KERF_MM, Spacing, Span
from dovelayout.place import Place

DEFAULT_SLOPE = Slope(7.0)
"""Where the job gives none: 1:7, the usual one for drawers and show work (common practice, no source)."""


def read_corners(table: JobTable, *, boards: Boards, error: ErrorAt) -> Iterator[CornerJoint]:
    """The joints of a job, those of boxes after the single ones. Raises JobError."""
    reader = _CornerReader(boards=boards, kerf_mm=table.shop.kerf or KERF_MM, error=error)
    for corner, place in each_once(table.corner, "corner", error):
        yield reader.single(corner, place)
    taken = {corner.name for corner in table.corner}
    free = (letter for letter in letters() if letter not in taken)
    for box, place in each_once(table.box, "box", error):
        yield from reader.box(box, place, free)


@dataclass(frozen=True, slots=True, kw_only=True)
class _CornerReader:
    """What every corner of a job is read with."""

    boards: Boards
    kerf_mm: float
    error: ErrorAt

    def single(self, corner: CornerTable, place: Place) -> CornerJoint:
        tail_board, tail_end = self.boards.end_of(corner.tails, place.at(key="tails"))
        pin_board, pin_end = self.boards.end_of(corner.pins, place.at(key="pins"))
        if tail_board.name == pin_board.name and tail_board.count == 1:
            raise self.error(
                place,
                f"board {tail_board.name!r} can't meet itself",
                "name two boards, or say count = 2 where they are a pair",
            )
        tail_end = tail_end or (pin_end.opposite if pin_end else End.LEFT)
        pin_end = pin_end or tail_end.opposite
        if pin_end is tail_end:
            raise self.error(
                place,
                f"two {tail_end} ends can't meet with both outside faces out and both face edges down",
                f"{pin_board.name}.{tail_end.opposite} would meet {tail_board.name}.{tail_end}",
            )
        return self._joint(
            corner,
            place,
            name=corner.name,
            tails=BoardEnd(board=tail_board, end=tail_end),
            pins=BoardEnd(board=pin_board, end=pin_end),
            origin=("corner", corner.name),
        )

    def box(self, box: BoxTable, place: Place, free: Iterator[str]) -> Iterator[CornerJoint]:
        def pair(given: str | tuple[str, str], key: str) -> tuple[Board, Board]:
            one, other = (given, given) if isinstance(given, str) else given
            return self.boards.named(one, place.at(key=key)), self.boards.named(other, place.at(key=key))

        tails, pins = pair(box.tails, "tails"), pair(box.pins, "pins")
        shared = {board.name for board in tails} & {board.name for board in pins}
        if shared:
            raise self.error(
                place, f"board {min(shared)!r} can't carry both tails and pins of one box", "name another board"
            )
        try:
            corners = box_corners(tails=tails, pins=pins)
        except LayoutError as fault:
            raise told(fault, place, self.error) from None
        for corner in corners:
            yield self._joint(
                box,
                place,
                name=next(free),
                tails=corner.tails,
                pins=corner.pins,
                origin=("box", box.name),
            )

    def _joint(
        self,
        layout: LayoutTable,
        place: Place,
        *,
        name: str,
        tails: BoardEnd,
        pins: BoardEnd,
        origin: tuple[str, str],
    ) -> CornerJoint:
        spec = CornerSpec(
            name=name,
            tails=tails,
            pins=pins,
            slope=DEFAULT_SLOPE if layout.slope is None else Slope(layout.slope),
            slope_given=layout.slope is not None,
            tail_count=layout.tail_count,
            pin_mm=self._pin_mm(layout),
            half_pin_mm=layout.half_pin,
            tails_at=None if layout.tails_at is None else tuple(Span(*pair) for pair in layout.tails_at),
            spacing=Spacing(layout.spacing),
            covers=None if layout.covers is None else Span(*layout.covers),
            proud_tails_mm=layout.proud.tails,
            proud_pins_mm=layout.proud.pins,
            groove=self._groove(layout, tails.board, place),
            lap_mm=layout.lap,
            lid=None if layout.lid is None else layout.lid.cut(),
            lip=None if layout.lip is None else layout.lip.lip(),
            mitre_face_edge_mm=layout.mitre.face_edge,
            mitre_far_edge_mm=layout.mitre.far_edge,
            cant=Cant(layout.angle) if isinstance(layout, CornerTable) else SQUARE,
            origin=origin,
        )
        try:
            joint = KINDS[layout.joint](spec)
        except LayoutError as fault:
            raise told(fault, place, self.error) from None
        if spec.groove is not None:  # the faces of hundreds of tails are work that is wanted later, if at all
            groove = joint.end_faces()[1].groove
            if groove is not None and groove.depth_mm >= pins.board.thickness_mm:
                raise self._through(groove, pins.board, place)
        return joint

    def _pin_mm(self, layout: LayoutTable) -> float | None:
        """The pins' narrow width: the saw's kerf where kerf pins are asked for and nothing else is said."""
        if layout.pin is None and layout.tails_at is None and Spacing(layout.spacing) is Spacing.KERF_PINS:
            return self.kerf_mm
        return layout.pin

    def _groove(self, layout: LayoutTable, board: Board, place: Place) -> Groove | None:
        if layout.groove is None:
            return None
        groove = layout.groove.groove()
        if groove.far_mm > board.width_mm:
            raise self.error(
                place.at(key="groove"),
                f"it reaches {groove.far_mm:g} mm from the face edge, and {board.name} is {board.width_mm:g} mm wide",
                "move it nearer to the face edge",
            )
        if groove.depth_mm >= board.thickness_mm:
            raise self._through(groove, board, place)
        return groove

    def _through(self, groove: Groove, board: Board, place: Place) -> JobError:
        return self.error(
            place.at(key="groove"),
            f"{groove.depth_mm:g} mm deep goes through {board.name}, {board.thickness_mm:g} mm thick",
            f"{board.thickness_mm / 3:.1f} mm is a third of it",
        )
