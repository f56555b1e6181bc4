"""The ends of a job's corners, each with what is written on its template and at the head of its sheet.

A bank's drawers share templates: ends that are the same in all that is cut are drawn once.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from dovelayout.drawing.style import Heading, Style
from dovelayout.drawing.template.tile import Tile
from dovelayout.drawing.template.wrap import FULL_SKIRTS, Caption, Skirts, Template, fold_over
from dovelayout.joints.board import Board, BoardEnd
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, Part
from dovelayout.words import grouped, listed

SHARING = frozenset({"drawer", "bank"})
"""Tables of a job whose corners may share templates; a corner that was named one by one keeps its own."""


@dataclass(frozen=True, kw_only=True)
class CornerEnd:
    """One end of a corner, in the style of its job. `corner_names`: the corners that its template is for, its own first."""

    joint: CornerJoint
    faces: EndFaces
    style: Style
    corner_names: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """'Corner A: tails on side.left'."""
        return f"Corner {self.joint.name}: {self.faces.part.value} on {self.faces.end.label}"

    @property
    def mate(self) -> BoardEnd:
        """The end that it meets."""
        return self.joint.spec.pins if self.faces.part is Part.TAILS else self.joint.spec.tails

    @property
    def gauges(self) -> tuple[str, ...]:
        """The gauge settings of this board: one for its faces, and for sockets a second one on its end."""
        faces, setting = self.faces, self.style.setting
        if faces.end_gauge_mm is None:
            return (f"gauge {setting(faces.baseline_mm)}",)
        return f"gauge, inside: {setting(faces.baseline_mm)}", f"gauge, end: {setting(faces.end_gauge_mm)}"

    @property
    def shared_by(self) -> tuple[str, ...]:
        """Which corners its template serves, where it is more than its own."""
        return (f"serves {listed(self.corner_names)}",) if len(self.corner_names) > 1 else ()

    @property
    def size(self) -> str:
        """The board's width and thickness."""
        board = self.faces.end.board
        return f"{self.style.length(board.width_mm)} × {self.style.length(board.thickness_mm)}"

    @property
    def numbers(self) -> tuple[str, ...]:
        """The numbers at the head of its piece."""
        return (*self.shared_by, *self.gauges, self.joint.slope.words, f"mates with {self.mate.label}")

    @cached_property
    def caption(self) -> Caption:
        """The words on its template, most important first."""
        joint, faces = self.joint, self.faces
        outside = (
            "AGAINST A STOP" if self.style.stamp else "",
            f"{faces.part.value.upper()} on {faces.end.label}",
            *self.shared_by,
            self._outside_face(),
            *self.gauges,
            self._proud(),
            f"mates with {self.mate.label}",
            joint.slope.words,
            self.size,
            faces.end.board.wood.name,
            f"{len(joint.tails)} {joint.tail}s",
            *self._cant(),
            *(f"mitre {span.start_mm:g}-{span.end_mm:g} mm" for span in joint.mitres),
            "" if joint.saw_line_mm is None else f"lid sawn off at {joint.saw_line_mm:.1f} mm (dots)",
        )
        inside = (
            f"{faces.part.value} on {faces.end.label}",
            *self.gauges,
            self._groove(),
            "paper doesn't rule",
            "the baseline",
        )
        return Caption(letter=joint.name, outside=tuple(filter(None, outside)), inside=tuple(filter(None, inside)))

    def _outside_face(self) -> str:
        if self.faces.lip is not None:
            return f"lip {self.faces.lip.overhang_mm:g} mm, fold inward"
        return "nothing is cut on this face" if self.faces.outside_is_blank else ""

    def _proud(self) -> str:
        proud_mm = self.faces.proud_mm
        stands = "proud" if proud_mm > 0 else "shy"
        return f"({self.style.length(abs(proud_mm))} {stands} of its mate)" if proud_mm else ""

    def _groove(self) -> str:
        groove, length = self.faces.groove, self.style.length
        if groove is None:
            return ""
        place = f"{length(groove.from_edge_mm)} to {length(groove.far_mm)}"
        return f"groove {place}, {length(groove.depth_mm)} deep: even dashes"

    def _cant(self) -> tuple[str, ...]:
        cant = self.joint.spec.cant
        if cant.is_square:
            return ()
        if self.faces.part is Part.TAILS:
            return f"end at {cant.angle_deg:g}° to the face edge", "tails along the long edge"
        return (f"edges bevelled {abs(cant.lean_deg):g}°",)

    def heading(self, tile: Tile | None = None) -> Heading:
        """The head of a sheet that holds its template, or one tile of it."""
        shown = ""
        if tile is not None and not (tile.first and tile.last):
            shown = f", {tile.start_mm:.1f} to {tile.end_mm:.1f} mm from the face edge"
        numbers = (
            *self.shared_by,
            *self.gauges,
            self.joint.slope.words,
            f"{self.faces.end.board.wood.name} {self.size}",
            f"mates with {self.mate.label}",
        )
        return self.style.heading(f"{self.name}{shown}", " · ".join(numbers))

    def template(self, skirts: Skirts = FULL_SKIRTS) -> Template:
        """Its template, with its caption."""
        return fold_over(self.faces, self.caption, skirts)


def ends_of(joints: Sequence[CornerJoint], style: Style) -> Iterator[CornerEnd]:
    """The ends of all corners, tails before pins, each kind of end once, in the order of the first of it.

    Two ends are the same when their joints agree in every line (kind, boards' widths, thicknesses and woods, tails,
    gauge settings, groove, lip) and they are the same end, left or right, of the same half of it: a left hand never
    serves a right one.
    """
    same = grouped(
        (_key(joint, part) if joint.spec.origin[0] in SHARING else (index, part), (joint, part))
        for index, joint in enumerate(joints)
        for part in Part
    )
    for ends in same.values():
        joint, part = ends[0]
        (faces,) = (faces for faces in joint.end_faces() if faces.part is part)
        yield CornerEnd(joint=joint, faces=faces, style=style, corner_names=tuple(other.name for other, _ in ends))


def _key(joint: CornerJoint, part: Part) -> tuple[object, ...]:
    spec = joint.spec
    lines = [joint.covers.start_mm, joint.covers.end_mm, joint.pin_offset_mm, joint.slope.ratio, joint.lap_mm]
    lines += [mm for tail in joint.tails for mm in (tail.start_mm, tail.end_mm, tail.neck_start_mm, tail.neck_end_mm)]
    lines += [spec.proud_tails_mm, spec.proud_pins_mm]
    return (
        joint.kind,
        part,
        (spec.tails if part is Part.TAILS else spec.pins).end,
        _board(spec.tails.board),
        _board(spec.pins.board),
        tuple(round(value, 6) for value in lines),
        spec.groove,
        spec.lip,
        joint.saw_line_mm,
        joint.mitres,
    )


def _board(board: Board) -> tuple[object, ...]:
    return (board.wood.name, round(board.width_mm, 6), round(board.thickness_mm, 6))
