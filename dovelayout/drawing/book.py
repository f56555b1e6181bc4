"""The sheets of a job: what is written on each template, and the order they come in."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from dovelayout.casework.divider import Divider
from dovelayout.drawing.advice import how_to_use
from dovelayout.drawing.divider_book import divider_pages
from dovelayout.drawing.flow import Line, flowed, heading, item
from dovelayout.drawing.gauge import gauge_size_mm, slope_gauge
from dovelayout.drawing.primitives import Item, Sheet, moved
from dovelayout.drawing.section import Section, socket_section
from dovelayout.drawing.sheet import CARD_LINE, WASTE_LINE, Heading, framed, made_to_measure, room_mm
from dovelayout.drawing.slide_advice import divider_lines
from dovelayout.drawing.tiling import tiles
from dovelayout.drawing.wrap import (
    FULL_SKIRTS,
    LEAST_SKIRTS,
    Caption,
    Skirts,
    Template,
    Tile,
    across_mm,
    fold_over,
    tile_items,
    whole,
)
from dovelayout.errors import PrintError
from dovelayout.joints.board import Groove
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.face import EndFaces, Part
from dovelayout.joints.slope import Slope
from dovelayout.paper import Paper
from dovelayout.units import Unit, format_both, format_inches, format_mm, format_slope

AIR_MM = 2.0  # between a template and the edge of the sheet's room
SECTION_AIR_MM = 6.0  # between a template and the section above it


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


def caption(joint: CornerJoint, faces: EndFaces, style: Style) -> Caption:
    """What the template of one end says, most important first."""
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
        blank,
        *gauges,
        proud,
        f"mates with {mate.label}",
        joint.slope.words,
        f"{length(board.width_mm, style)} × {length(board.thickness_mm, style)}",
        board.wood.name,
        f"{len(joint.tails)} tails",
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


def _heading(joint: CornerJoint, faces: EndFaces, style: Style, tile: Tile | None = None) -> Heading:
    board = faces.end.board
    mate = joint.spec.pins if faces.part is Part.TAILS else joint.spec.tails
    shown = ""
    if tile is not None and not (tile.first and tile.last):
        shown = f", {tile.start_mm:.1f} to {tile.end_mm:.1f} mm from the face edge"
    return Heading(
        job=style.job,
        what=f"Corner {joint.name}: {faces.part.value} on {faces.end.label}{shown}",
        numbers=(
            f"{' · '.join(gauge_rows(faces, style))} · {joint.slope.words} · "
            f"{board.wood.name} {length(board.width_mm, style)} × {length(board.thickness_mm, style)} · "
            f"mates with {mate.label}"
        ),
        stamp=style.stamp,
    )


def template_of(joint: CornerJoint, faces: EndFaces, style: Style, skirts: Skirts = FULL_SKIRTS) -> Template:
    """The template of one end of a corner, with its caption."""
    return fold_over(faces, caption(joint, faces, style), skirts)


def _placed(items: Iterable[Item], template: Template, tile: Tile) -> tuple[Item, ...]:
    return tuple(moved(item, AIR_MM - template.u_min_mm, AIR_MM - tile.window.start_mm) for item in items)


def _section(faces: EndFaces, style: Style) -> Section | None:
    """The section that goes with a template: of a socket, on the pin board of a half-blind corner."""
    if faces.end_gauge_mm is None:
        return None
    thickness_mm = faces.end.board.thickness_mm
    return socket_section(
        lip=faces.lip,
        thickness_mm=thickness_mm,
        lap=length(thickness_mm - faces.end_gauge_mm, style),
        lap_mm=thickness_mm - faces.end_gauge_mm,
        socket_mm=faces.baseline_mm,
        inside_gauge=gauge_setting(faces.baseline_mm, style),
        end_gauge=gauge_setting(faces.end_gauge_mm, style),
    )


def _above(section: Section, height_mm: float) -> tuple[Item, ...]:
    """A section set above a drawing of that height."""
    return tuple(moved(entry, AIR_MM, height_mm + SECTION_AIR_MM) for entry in section.items)


def free_sheet(joint: CornerJoint, faces: EndFaces, style: Style) -> Sheet:
    """One template whole, on a sheet just large enough."""
    template = template_of(joint, faces, style)
    tile = whole(template)
    head = _heading(joint, faces, style)
    content = _placed(tile_items(template, tile), template, tile)
    width_mm, height_mm = template.across_mm + 2 * AIR_MM, template.height_mm + 2 * AIR_MM
    section = _section(faces, style)
    if section is not None:
        content = (*content, *_above(section, height_mm))
        width_mm = max(width_mm, section.width_mm + 2 * AIR_MM)
        height_mm += SECTION_AIR_MM + section.height_mm
    return framed(
        content,
        on=made_to_measure(width_mm, height_mm),
        heading=head,
        number=1,
        of=1,
        title=f"{style.job}: {head.what}",
        description=head.numbers,
    )


def skirts_for(faces: EndFaces, on: Paper) -> Skirts:
    """Skirts as wide as the paper allows. Raises PrintError that names the width needed."""
    spare_mm = room_mm(on)[0] - 2 * AIR_MM - across_mm(faces, Skirts(outside_mm=0.0, inside_mm=0.0))
    full_mm = FULL_SKIRTS.outside_mm + FULL_SKIRTS.inside_mm
    share = min(1.0, spare_mm / full_mm)
    skirts = Skirts(outside_mm=FULL_SKIRTS.outside_mm * share, inside_mm=FULL_SKIRTS.inside_mm * share)
    if skirts.outside_mm < LEAST_SKIRTS.outside_mm or skirts.inside_mm < LEAST_SKIRTS.inside_mm:
        raise PrintError(
            f"the template of {faces.end.label} is {across_mm(faces, LEAST_SKIRTS):.0f} mm across its folds and {on.name} "
            f"has {room_mm(on)[0] - 2 * AIR_MM:.0f} mm of room; larger paper would do"
        )
    return skirts


@dataclass(frozen=True, slots=True, kw_only=True)
class _Page:
    content: tuple[Item, ...]
    heading: Heading
    legend: str = WASTE_LINE


def _template_pages(joint: CornerJoint, faces: EndFaces, style: Style, on: Paper) -> list[_Page]:
    template = template_of(joint, faces, style, skirts_for(faces, on))
    parts = tiles(template, room_mm=room_mm(on)[1] - 2 * AIR_MM)
    pages = [
        _Page(
            content=_placed(tile_items(template, tile), template, tile),
            heading=_heading(joint, faces, style, tile),
        )
        for tile in parts
    ]
    section = _section(faces, style)
    if section is None or section.width_mm > room_mm(on)[0]:
        return pages
    height_mm = parts[-1].window.width_mm + 2 * AIR_MM
    if height_mm + SECTION_AIR_MM + section.height_mm <= room_mm(on)[1]:
        last = pages.pop()
        pages.append(replace(last, content=(*last.content, *_above(section, height_mm))))
    else:
        pages.append(_Page(content=_above(section, 0.0), heading=_heading(joint, faces, style)))
    return pages


def job_sheets(
    joints: Sequence[CornerJoint],
    style: Style,
    on: Paper,
    notes: Sequence[Line] = (),
    dividers: Sequence[Divider] = (),
) -> tuple[Sheet, ...]:
    """All sheets of a job on one paper: how to use them and the numbers first, then each corner's tails and pins, then
    each divider's cards.

    Raises PrintError when a template doesn't fit the paper.
    """
    paragraphs = (
        *corner_lines(joints, style),
        *(line for divider in dividers for line in divider_lines(divider, style.unit)),
        *notes,
        *how_to_use(),
    )
    pages = [
        _Page(
            content=content,
            heading=Heading(job="", what=style.job, numbers="Read this first", stamp=style.stamp),
            legend="",
        )
        for content in flowed(paragraphs, on)
    ]
    for joint in joints:
        for faces in joint.end_faces():
            pages.extend(_template_pages(joint, faces, style, on))
    for divider in dividers:
        rows = divider_pages(divider, job=style.job, unit=style.unit, stamp=style.stamp, on=on)
        pages.extend(_Page(content=row.content, heading=row.heading, legend=CARD_LINE) for row in rows)
    return tuple(
        framed(
            page.content,
            on=on,
            heading=page.heading,
            number=number,
            of=len(pages),
            title=f"{style.job}: {page.heading.what}",
            description=page.heading.numbers,
            legend=page.legend,
        )
        for number, page in enumerate(pages, 1)
    )


def positions(joint: CornerJoint, style: Style) -> str:
    """Where each tail starts and ends, from the tail board's face edge, to check the paper with a rule."""
    return ", ".join(
        f"{length(tail.start_mm, style)} to {length(tail.end_mm, style)}".replace("≈ ", "") for tail in joint.tails
    )


def corner_lines(joints: Sequence[CornerJoint], style: Style) -> tuple[Line, ...]:
    """The corners' numbers for the bench; corners whose numbers are all the same have them said once."""
    alike: dict[tuple[Line, ...], list[str]] = {}
    for joint in joints:
        name = f"Corner {joint.name}: {joint.spec.tails.label} (tails) to {joint.spec.pins.label} (pins)"
        alike.setdefault(_numbers(joint, style), []).append(name)
    return tuple(line for numbers, names in alike.items() for line in (*(heading(name) for name in names), *numbers))


def _numbers(joint: CornerJoint, style: Style) -> tuple[Line, ...]:
    """One corner's numbers."""
    tails, pins = joint.end_faces()

    def both(value_mm: float) -> str:
        return format_both(value_mm, unit=style.unit)

    lines = [
        *_canted_lines(joint, both),
        item(f"gauge: {both(tails.baseline_mm)} for the tail board, {both(pins.baseline_mm)} for the pin board"),
        *_socket_lines(pins, both),
        item(f"{joint.slope.words}, {len(joint.tails)} tails"),
    ]
    if joint.full_pins:
        pin = min(joint.full_pins, key=lambda p: p.width_mm)
        if joint.slope.is_straight:
            lines.append(item(f"pins {both(pin.width_mm)}, the same on both faces"))
        else:
            lines.append(item(f"pins {both(pin.width_mm)} at the narrow side, {both(pin.root_mm)} at the wide"))
    narrow, wide = (choose(joint.tails, key=lambda t: t.width_mm) for choose in (min, max))
    across = both(wide.width_mm)
    if wide.width_mm - narrow.width_mm > 0.05:
        across = f"{both(narrow.width_mm)} to {across}"
    groove = joint.spec.groove
    for mitre in joint.mitres:
        hides = groove is not None and mitre.start_mm <= groove.from_edge_mm and groove.far_mm <= mitre.end_mm
        lines.append(
            item(
                f"mitred shoulder from {mitre.start_mm:g} to {mitre.end_mm:g} mm of the width: saw from the outer arris to "
                f"the inner baseline, on both boards, {'the groove inside it' if hides else 'square shoulder beside it'}"
            )
        )
    if joint.saw_line_mm is not None and joint.spec.lid is not None:
        lines.append(
            item(
                f"lid sawn off after the glue-up, {both(joint.saw_line_mm)} from the face edge: between the dotted lines "
                f"{both(joint.spec.lid.lost_mm)} go to kerf and planing"
            )
        )
    lines.append(item(f"tails from the face edge, at their ends when flush: {positions(joint, style)}"))
    neck = "" if joint.slope.is_straight else f" at the end, narrowest neck {both(min(t.neck_mm for t in joint.tails))}"
    lines.append(item(f"tails {across}{neck}"))
    return tuple(lines)


def _canted_lines(joint: CornerJoint, both: Callable[[float], str]) -> tuple[Line, ...]:
    """What a canted corner needs besides: the angle, the bevelled edges, and two settings of the bevel."""
    cant = joint.spec.cant
    if cant.is_square:
        return ()
    near, far = cant.cheek_deg(joint.slope)

    def towards(degrees: float) -> str:
        return f"{abs(degrees):.1f}° {'away from' if degrees >= 0 else 'towards'} the face edge"

    back = "back, away from its face edge" if cant.lean_deg > 0 else "forward, over its face edge"
    return (
        item(
            f"canted: the end of {joint.tail_board.name} is cut at {cant.angle_deg:g}° to its face edge, "
            f"{both(joint.end_width_mm)} long; {joint.pin_board.name} leans {abs(cant.lean_deg):g}° {back}, is as wide as "
            f"that end is long, and its edges are bevelled {abs(cant.lean_deg):g}°. Cut and bevel before you set out"
        ),
        item(
            "the tails follow the long edge, not the canted end, or their points would be short-grained: from a line square "
            f"to the end, set the bevel {towards(near)} for the cheeks nearer that edge and {towards(far)} for the others"
        ),
    )


def _socket_lines(pins: EndFaces, both: Callable[[float], str]) -> tuple[Line, ...]:
    """What a half-blind corner needs besides: two gauges, and floors that don't rise."""
    if pins.end_gauge_mm is None:
        return ()
    lap_mm = pins.end.board.thickness_mm - pins.end_gauge_mm
    lipped: tuple[Line, ...] = ()
    if pins.lip is not None:
        lipped = (
            item(
                f"lip {both(pins.lip.overhang_mm)} long, {both(pins.lip.thickness_mm)} thick: cut the rebate first; the "
                "sockets are measured from its shoulder, and the side stands that much in from the front's end"
            ),
        )
    return (
        *lipped,
        item(
            f"sockets {both(pins.end_gauge_mm)} deep, lap {both(lap_mm)}: gauge the pin board's end from its inside face. "
            "Keep two gauges, one for each setting"
        ),
        item(
            "socket floors lie level or fall inward, towards the baseline; a floor that rises keeps its tail out and "
            "opens a gap at the lap. Back the lap up while you chop: a mallet blow goes through it"
        ),
    )


def gauge_sheet(
    slope: Slope, thickness_mm: float, style: Style, *, over_mm: float | None = None, on: Paper | None = None
) -> Sheet:
    """The slope gauges on a sheet of their own: just large enough, or on a paper.

    `thickness_mm` is the pin board's, for the flare; `over_mm` the thickness of the board that the saddle folds over
    (None: the same). Raises PrintError when the paper is too small.
    """
    saddle_mm = thickness_mm if over_mm is None else over_mm
    width, height = (side + 2 * AIR_MM for side in gauge_size_mm(saddle_mm))
    if on is not None and (width > room_mm(on)[0] or height > room_mm(on)[1]):
        raise PrintError(
            f"the gauge is {width:.0f} × {height:.0f} mm and {on.name} has no room for it; larger paper would do"
        )
    return framed(
        [moved(entry, AIR_MM, AIR_MM) for entry in slope_gauge(slope, saddle_mm)],
        on=on or made_to_measure(width, height),
        heading=Heading(
            job=style.job,
            what=f"Gauge for {format_slope(slope.ratio)}",
            numbers=f"flare {slope.flare_mm(thickness_mm):.2f} mm a side in {thickness_mm:g} mm stock",
            stamp=style.stamp,
        ),
        number=1,
        of=1,
        title=f"Gauge for a slope of {format_slope(slope.ratio)}",
        legend="Dash and dot: fold. Short dashes: cut the paper. The saddle folds over the end of the board.",
    )


def restyled(style: Style, stamp: str) -> Style:
    """The same style with a stamp."""
    return replace(style, stamp=stamp)
