"""What is written on the templates and at the head of their sheets: settings, names, numbers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dovelayout.drawing.sheets.frame import Heading
from dovelayout.drawing.template.wrap import FULL_SKIRTS, Caption, Skirts, Template, Tile, fold_over
from dovelayout.joints.board import Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, Part
from dovelayout.units import Unit, format_inches, format_mm
from dovelayout.words import listed


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How a job wants its sheets: the job's name, its units, and the stamp of a `stop` that was overruled."""

    job: str
    unit: Unit = Unit.MM
    stamp: str = ""


def length(value_mm: float, style: Style) -> str:
    """A length for a sheet, in the job's unit alone: short enough to read at arm's length."""
    return format_inches(value_mm) if style.unit is Unit.IN else format_mm(value_mm)


def gauge_setting(value_mm: float, style: Style) -> str:
    """A gauge setting, to a hundredth of a mm, with the inches where the job thinks in them."""
    inches = f" ({format_inches(value_mm)})" if style.unit is Unit.IN else ""
    return f"{value_mm:.2f}".rstrip("0").rstrip(".") + f" mm{inches}"


def gauge_rows(faces: EndFaces, style: Style) -> tuple[str, ...]:
    """The gauge settings of this board: one for its faces, and for sockets a second one on its end."""
    if faces.end_gauge_mm is None:
        return (f"gauge {gauge_setting(faces.baseline_mm, style)}",)
    return (
        f"gauge, inside: {gauge_setting(faces.baseline_mm, style)}",
        f"gauge, end: {gauge_setting(faces.end_gauge_mm, style)}",
    )


def groove_row(groove: Groove, style: Style) -> str:
    """Where the groove lies and how deep it is."""
    return (
        f"groove {length(groove.from_edge_mm, style)} to {length(groove.far_mm, style)}, "
        f"{length(groove.depth_mm, style)} deep: even dashes"
    )


def serves_rows(serves: Sequence[str]) -> tuple[str, ...]:
    """Which corners a template is for, where it is more than its own."""
    return (f"serves {listed(serves)}",) if len(serves) > 1 else ()


def caption(joint: CornerJoint, faces: EndFaces, style: Style, serves: Sequence[str] = ()) -> Caption:
    """What the template of one end says, most important first; `serves` are the corners it is for, its own first."""
    board = faces.end.board
    mate = joint.spec.pins if faces.part is Part.TAILS else joint.spec.tails
    gauges = gauge_rows(faces, style)
    proud = ""
    if faces.proud_mm:
        stands = "proud" if faces.proud_mm > 0 else "shy"
        proud = f"({length(abs(faces.proud_mm), style)} {stands} of its mate)"
    blank = "nothing is cut on this face" if faces.outside_is_blank else ""
    if faces.lip is not None:
        blank = f"lip {faces.lip.overhang_mm:g} mm, fold inward"
    rows = [
        "AGAINST A STOP" if style.stamp else "",
        f"{faces.part.value.upper()} on {faces.end.label}",
        *serves_rows(serves),
        blank,
        *gauges,
        proud,
        f"mates with {mate.label}",
        joint.slope.words,
        f"{length(board.width_mm, style)} × {length(board.thickness_mm, style)}",
        board.wood.name,
        f"{len(joint.tails)} {joint.tail}s",
        *canted_rows(joint, faces),
        *(f"mitre {span.start_mm:g}-{span.end_mm:g} mm" for span in joint.mitres),
        "" if joint.saw_line_mm is None else f"lid sawn off at {joint.saw_line_mm:.1f} mm (dots)",
    ]
    groove = faces.groove
    inside = [
        f"{faces.part.value} on {faces.end.label}",
        *gauges,
        "" if groove is None else groove_row(groove, style),
        "paper doesn't rule",
        "the baseline",
    ]
    return Caption(
        letter=joint.name,
        outside=tuple(row for row in rows if row),
        inside=tuple(row for row in inside if row),
    )


def canted_rows(joint: CornerJoint, faces: EndFaces) -> tuple[str, ...]:
    """What a canted corner's template says besides."""
    cant = joint.spec.cant
    if cant.is_square:
        return ()
    if faces.part is Part.TAILS:
        return (f"end at {cant.angle_deg:g}° to the face edge", "tails along the long edge")
    return (f"edges bevelled {abs(cant.lean_deg):g}°",)


def heading_of(
    joint: CornerJoint, faces: EndFaces, style: Style, tile: Tile | None = None, serves: Sequence[str] = ()
) -> Heading:
    """The head of a sheet that holds one template, or one tile of it."""
    board = faces.end.board
    mate = joint.spec.pins if faces.part is Part.TAILS else joint.spec.tails
    shown = ""
    if tile is not None and not (tile.first and tile.last):
        shown = f", {tile.start_mm:.1f} to {tile.end_mm:.1f} mm from the face edge"
    return Heading(
        job=style.job,
        what=f"Corner {joint.name}: {faces.part.value} on {faces.end.label}{shown}",
        numbers=(
            f"{' · '.join((*serves_rows(serves), *gauge_rows(faces, style)))} · {joint.slope.words} · "
            f"{board.wood.name} {length(board.width_mm, style)} × {length(board.thickness_mm, style)} · "
            f"mates with {mate.label}"
        ),
        stamp=style.stamp,
    )


def template_of(
    joint: CornerJoint, faces: EndFaces, style: Style, skirts: Skirts = FULL_SKIRTS, serves: Sequence[str] = ()
) -> Template:
    """The template of one end of a corner, with its caption."""
    return fold_over(faces, caption(joint, faces, style, serves), skirts)
