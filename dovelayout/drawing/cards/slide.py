"""Full-size cards of a sliding dovetail: to lay beside the work, prick through or scribe round; nothing is folded.

Each is drawn as it is seen when it lies on the work: a section on a front edge is the mirror image of one on a back edge.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon
from shapely.affinity import affine_transform

from dovelayout.drawing.cards.card import Card, captioned
from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.primitives import Role, Size, Stroke, closed, mirrored, rectangle, strokes, trapezoid
from dovelayout.drawing.style import Style
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.texts import Texts
from dovelayout.units import format_slope

TEXTS = Texts("drawing", "slide")

AROUND_MM = 12.0  # host that is shown on either side of a housing
ALONG_MM = 40.0  # of a housing that is shown at its front and at its rear
BELOW_MM = 14.0  # of the key that is shown behind its shoulder
SIDES = {True: "left", False: "right"}  # of a card, by whether the host's end lies on the left


def slide_cards(joint: SlidingJoint, style: Style) -> tuple[Card, ...]:
    """The housing at both its ends on the host's face, its section at the rear, the key's sections, and its notch."""
    cards = [
        _face(joint, style, front=True),
        _face(joint, style, front=False),
        _socket(joint, style),
        _key(joint, style, front=False),
    ]
    if joint.tapered or joint.notch_mm > 0:
        cards.append(_key(joint, style, front=True))
    if joint.notch_mm > 0:
        cards.append(_notch(joint, style))
    return tuple(cards)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Drawing:
    """A drawing whose u runs away from the host's end: its knife lines, its waste, hatched `pitch_mm` apart, other lines."""

    size_mm: Size
    knife: Sequence[Stroke]
    waste: Sequence[Polygon]
    others: Sequence[tuple[Role, Sequence[Stroke]]]
    pitch_mm: float = 1.0

    def card(self, title: str, words: Sequence[str], *, end_on_the_left: bool = True) -> Card:
        """The card, its drawing mirrored where the host's end lies on the right."""
        hatching = hatch(self.waste, pitch_mm=self.pitch_mm)
        rows = ((Role.KNIFE, self.knife), (Role.HATCH, hatching), *self.others)
        drawn = tuple(strokes(role, segments) for role, segments in rows)
        if end_on_the_left:
            return captioned(title, drawn, self.size_mm, words, waste=self.waste)
        wide_mm = self.size_mm[0]
        waste = [affine_transform(polygon, (-1.0, 0.0, 0.0, 1.0, wide_mm, 0.0)) for polygon in self.waste]
        return captioned(title, mirrored(drawn, wide_mm), self.size_mm, words, waste=waste)


def _face(joint: SlidingJoint, style: Style, *, front: bool) -> Card:
    """A piece of the host's face: across the card from its lower side to its upper, up the card from front to rear."""
    host = joint.host
    middle = joint.front_mm if front else joint.rear_mm
    first, last = max(0.0, middle - ALONG_MM), min(host.width_mm, middle + ALONG_MM)
    starts = max(first, joint.front_mm)
    near, far = joint.neck_at(starts), joint.neck_at(last)
    low = min(near.start_mm, far.start_mm) - AROUND_MM
    wide, high = max(near.end_mm, far.end_mm) + AROUND_MM - low, last - first
    corners = trapezoid((near, starts - first), (far, last - first), low)
    knife: list[Stroke] = [(*corners[1], *corners[2]), (*corners[3], *corners[0])]
    if joint.front_mm > first:
        knife.append((*corners[0], *corners[1]))  # the stop
    # the paper's lower or upper side lies on the host's edge, unless that is too far off to be shown
    away_mm = first if front else host.width_mm - last
    border = rectangle(0.0, 0.0, wide, high)
    edge = [] if away_mm > 0 else [border[0 if front else 2]]
    drawing = _Drawing(
        size_mm=(wide, high),
        knife=knife,
        waste=[Polygon(corners)],
        others=[(Role.FOLD, edge), (Role.OUTLINE, [side for side in border if side not in edge])],
        pitch_mm=2.0,
    )
    end, left, setting = joint.spec.host.label, joint.end_on_the_left, style.setting
    neck, where = joint.neck_at(middle), "front" if front else "rear"
    edge_name = "front" if front else "back"
    words = [
        TEXTS("side", side=SIDES[left], host=joint.spec.host.of_board),
        TEXTS("at_the_edge" if edge else "off_the_edge", edge=edge_name, away=setting(away_mm)),
        TEXTS(f"begins_{where}", lower=setting(neck.start_mm), upper=setting(neck.end_mm)),
        TEXTS("face_wide", neck_mm=neck.width_mm),
    ]
    if front and joint.front_mm > 0:
        words.append(TEXTS("stopped", front=setting(joint.front_mm)))
    title = f"Housing in {end}, {joint.spec.face.value} face, {where}"
    return drawing.card(title, words, end_on_the_left=left)


def _socket(joint: SlidingJoint, style: Style) -> Card:
    """The housing's section on the host's back edge, the face with the housing upwards."""
    station, thick = joint.host.width_mm, joint.host.thickness_mm
    neck, floor = joint.neck_at(station), joint.floor_at(station)
    low = min(neck.start_mm, floor.start_mm) - AROUND_MM
    wide = max(neck.end_mm, floor.end_mm) + AROUND_MM - low
    corners = trapezoid((neck, thick), (floor, thick - joint.depth_mm), low)
    drawing = _Drawing(
        size_mm=(wide, thick),
        knife=closed(corners)[1:],
        waste=[Polygon(corners)],
        others=[
            (Role.FOLD, [(0.0, thick, wide, thick), (0.0, 0.0, wide, 0.0)]),
            (Role.OUTLINE, [(0.0, 0.0, 0.0, thick), (wide, 0.0, wide, thick)]),
        ],
        pitch_mm=2.0,
    )
    left = not joint.end_on_the_left  # seen from behind, with the same face up
    sloped = f"{joint.spec.sloped.value} {'cheeks' if joint.spec.sloped == 'both' else 'cheek'}"
    numbers = {"depth": style.setting(joint.depth_mm), "bevel": format_slope(joint.slope.ratio), "sloped": sloped}
    widths = {"thickness_mm": thick, "neck_mm": neck.width_mm, "floor_mm": floor.width_mm}
    words = TEXTS.rows("socket", side=SIDES[left], host=joint.spec.host.of_board, **widths, **numbers)
    return drawing.card(f"Housing in {joint.spec.host.label}, back edge", words, end_on_the_left=left)


def _key(joint: SlidingJoint, style: Style, *, front: bool) -> Card:
    """The tongue's section as it lies on the key's edge, its end upwards; what is hatched goes away beside it."""
    station = joint.front_mm if front else joint.rear_mm
    neck, end = joint.tongue_at(station, 0.0), joint.tongue_at(station, joint.tongue_mm)
    low, thick = joint.key_lower_mm, joint.key.thickness_mm
    shoulder, top = BELOW_MM, BELOW_MM + joint.tongue_mm
    tongue = trapezoid((neck, shoulder), (end, top), low)
    waste = [
        Polygon([(0.0, shoulder), tongue[0], tongue[3], (0.0, top)]),
        Polygon([tongue[1], (thick, shoulder), (thick, top), tongue[2]]),
    ]
    sides = [(0.0, 0.0, 0.0, top), (thick, 0.0, thick, top), (0.0, 0.0, thick, 0.0), (0.0, top, thick, top)]
    drawing = _Drawing(
        size_mm=(thick, top),
        knife=[(*tongue[3], *tongue[0]), (*tongue[1], *tongue[2])],
        waste=[polygon for polygon in waste if polygon.area > 1e-6],
        others=[(Role.BASELINE, [(0.0, shoulder, thick, shoulder)]), (Role.OUTLINE, sides)],
    )
    left = joint.end_on_the_left is not front  # upside down to how it slides in, and seen from the front or from behind
    words = TEXTS.rows(
        "key",
        side=SIDES[left],
        host=joint.spec.host.of_board,
        tongue=style.setting(joint.tongue_mm),
        slip_mm=joint.spec.slip_mm,
        neck_mm=neck.width_mm,
        end_mm=end.width_mm,
        from_mm=neck.start_mm - low,
        to_mm=neck.end_mm - low,
    )
    where = TEXTS("key_begins") if front else "back edge"
    return drawing.card(f"Key {joint.spec.key.label}, {where}", words, end_on_the_left=left)


def _notch(joint: SlidingJoint, style: Style) -> Card:
    """The key's face at its front edge: how much of the tongue is cut away for the stop."""
    notch, wide = joint.notch_mm, min(joint.key.width_mm, joint.notch_mm + ALONG_MM)
    shoulder, top = BELOW_MM, BELOW_MM + joint.tongue_mm
    drawing = _Drawing(
        size_mm=(wide, top),
        knife=[(notch, shoulder, notch, top)],
        waste=[Polygon([(0, shoulder), (notch, shoulder), (notch, top), (0, top)])],
        others=[
            (Role.BASELINE, [(0.0, shoulder, wide, shoulder)]),
            (Role.FOLD, [(0.0, 0.0, 0.0, top)]),
            (Role.OUTLINE, [(wide, 0.0, wide, top), (0.0, 0.0, wide, 0.0), (0.0, top, wide, top)]),
        ],
    )
    words = TEXTS.rows("notch", notch=style.setting(notch))
    return drawing.card(f"Key {joint.spec.key.label}, notch", words)
