"""Full-size cards for what is let in at a joint: a new pin and its notch, a patch at a baseline, a shim for a housing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from shapely import Polygon

from dovelayout.drawing.cards.card import Card, captioned
from dovelayout.drawing.cards.patch import HATCH_MM, LETTER_MM, arrow, listed
from dovelayout.drawing.hatch import hatch
from dovelayout.drawing.primitives import (
    XY,
    Anchor,
    Item,
    Role,
    Stroke,
    closed,
    mirrored,
    path,
    placed,
    strokes,
    text_at,
)
from dovelayout.repair.advice import at_least, both
from dovelayout.repair.broken import SnappedPin, TornBaseline
from dovelayout.repair.gap import PATCH_OVER_MM
from dovelayout.repair.loose import LooseKey
from dovelayout.repair.patch import FACE_OVER_MM, LONG_MM, OVER_MM
from dovelayout.texts import Texts

TEXTS = Texts("drawing", "let_in")

BESIDE_MM = 16.0  # paper beside the notch, with its words and arrow
BEYOND_MM = 8.0  # and past its ends
ARROW_MM = 6.0  # a shorter root has no room for an arrow
APART_MM = 14.0  # between two views of a piece
MOST_LONG_MM = 120.0  # of a shim's side that is drawn


def new_pin_cards(pin: SnappedPin, *, right: bool = False) -> tuple[Card, ...]:
    """The paper for the notch and the new pin; `right`: a half pin at the right edge, seen from outside, end up."""
    return _notch(pin, right=right), _new_pin(pin, right=right)


def _notch(pin: SnappedPin, *, right: bool) -> Card:
    """The paper that folds over the floor: outside face below, floor, inside face above; the outside arris at v = 0."""
    thick, root = pin.thickness_mm, pin.root_mm
    section = pin.section()
    (left, _), (narrow, _), (wide, _), (wide_left, _) = section
    low, high = -root - BEYOND_MM, thick + root + BEYOND_MM
    far, near = wide + BESIDE_MM, 0.0 if pin.half else -wide - BESIDE_MM
    outside = [(left, -root), (narrow, -root), (narrow, 0.0), (left, 0.0)]
    inside = [(wide_left, thick), (wide, thick), (wide, thick + root), (wide_left, thick + root)]
    gone = [Polygon(outside), Polygon(section), Polygon(inside)]
    drawn = (
        strokes(Role.HATCH, hatch(gone, pitch_mm=HATCH_MM)),
        strokes(Role.KNIFE, list(_cuts(pin, (outside, list(section), inside)))),
        strokes(Role.FOLD, [(near, 0.0, far, 0.0), (near, thick, far, thick)]),
        strokes(Role.OUTLINE, closed([(near, low), (far, low), (far, high), (near, high)])),
        *((strokes(Role.MARK, arrow(far - 4.0, -root + 1.0, root - 2.0)),) if root > ARROW_MM else ()),
    )
    middle = (near + far) / 2 * (-1 if right else 1)
    labels: list[Item] = [
        text_at((middle, low + 2.5), "outside face", LETTER_MM, Anchor.MIDDLE),
        text_at((middle, high - 2.5 - LETTER_MM / 2), "inside face", LETTER_MM, Anchor.MIDDLE),
    ]
    if thick > LETTER_MM + 2.0:
        beside = (far - BESIDE_MM / 2) * (-1 if right else 1)
        labels.append(text_at((beside, thick / 2 - LETTER_MM * 0.3), "floor", LETTER_MM, Anchor.MIDDLE))
    items = (*(mirrored(drawn, 0.0) if right else drawn), *labels)
    content = placed(items, far if right else -near, -low)
    sizes = {"root": both(round(root, 1)), "narrow": both(pin.narrow_mm), "wide": both(pin.wide_mm)}
    words = list(TEXTS.rows("notch", **sizes))
    if pin.half:
        words.insert(1, TEXTS("half_pin", side="right" if right else "left"))
    return captioned("Paper for the notch", content, (far - near, high - low), listed(words))


def _cuts(pin: SnappedPin, outlines: tuple[list[XY], ...]) -> Iterator[Stroke]:
    """The notch's outlines without what lies on a fold, and for a half pin without the board's edge."""
    for outline in outlines:
        for stroke in closed(outline):
            u1, v1, u2, v2 = stroke
            on_a_fold = v1 == v2 and v1 in (0.0, pin.thickness_mm)
            on_the_edge = pin.half and u1 == u2 == 0.0
            if not on_a_fold and not on_the_edge:
                yield stroke


def _new_pin(pin: SnappedPin, *, right: bool) -> Card:
    """The new pin from its inside face, its root below, and its end beside it, the outside face down."""
    along, across, thick = pin.blank_mm
    section = pin.section(FACE_OVER_MM)
    left = min(x for x, _ in section)

    def seen(x: float) -> float:
        """From inside a half pin at the left edge has that edge on its right."""
        return across - (x - left) if pin.half and not right else x - left

    at = across + 6.0 + APART_MM
    hidden = [x for x in sorted(seen(x) for x, z in section if z < 0) if 1e-6 < x < across - 1e-6]
    end = [(at + seen(x), z + FACE_OVER_MM) for x, z in section]
    drawn = (
        strokes(Role.KNIFE, (*closed([(0.0, 0.0), (across, 0.0), (across, along), (0.0, along)]), *closed(end))),
        strokes(Role.FOLD, [(-4.0, pin.root_mm, across + 2.0, pin.root_mm)]),
        strokes(Role.MARK, arrow(across + 5.0, 1.0, along - 2.0)),
        *((strokes(Role.GROOVE, [(x, 0.0, x, along) for x in hidden]),) if hidden else ()),
    )
    words = TEXTS.rows(
        "new_pin",
        along=at_least(along),
        across=at_least(across),
        thick=at_least(thick),
        long=both(LONG_MM),
        face=both(FACE_OVER_MM),
    )
    size_mm = (at + across + 4.0, max(along, thick))
    return captioned("New pin, to saw from an offcut", placed(drawn, 4.0, 0.0), size_mm, listed(words))


def baseline_cards(torn: TornBaseline) -> tuple[Card, ...]:
    """The patch for a torn baseline from the face, its point down, and its section."""
    half, deep, thick = torn.socket_mm / 2, torn.deep_mm, torn.patch_into_mm + FACE_OVER_MM
    (_, _), (_, _), (_, side), _, _ = torn.outline
    top = deep + OVER_MM
    face = [(0.0, top), (2 * half, top), (2 * half, deep - side), (half, 0.0), (0.0, deep - side)]
    at = 2 * half + 6.0 + APART_MM
    drawn = (
        strokes(Role.KNIFE, (*closed(face), *closed([(at, 0.0), (at + thick, 0.0), (at + thick, top), (at, top)]))),
        strokes(Role.FOLD, [(-4.0, deep, 2 * half + 2.0, deep)]),
        strokes(Role.MARK, arrow(2 * half + 5.0, 1.0, top - 2.0)),
    )
    wide_mm = at + thick + 4.0
    words = TEXTS.rows(
        "floor_patch",
        over=both(OVER_MM),
        wide=both(torn.socket_mm),
        deep=both(round(deep, 2)),
        thick=both(round(thick, 2)),
        into=both(round(torn.patch_into_mm, 2)),
    )
    return (captioned("Patch for the baseline", placed(drawn, 4.0, 0.0), (wide_mm, top), listed(words)),)


def shim_card(key: LooseKey) -> Card:
    """A shim for a housing: its section as it slides in, and its side, as far as MOST_LONG_MM."""
    words = TEXTS.rows(
        "shim",
        thick=both(key.gap_mm),
        sawn=both(round(key.gap_mm + PATCH_OVER_MM, 2)),
        wide=both(round(key.shim_wide_mm, 2)),
        long=both(key.length_mm),
    )
    return _lath("Shim for the housing", (key.gap_mm, key.shim_wide_mm, key.length_mm), words)


def strip_card(title: str, *, thick_mm: float, wide_mm: float, long_mm: float) -> Card:
    """A strip that is glued to an edge or into a crack: its section, and its face, as far as MOST_LONG_MM."""
    words = TEXTS.rows("strip", thick=both(thick_mm), wide=both(round(wide_mm, 2)), long=both(long_mm))
    return _lath(title, (thick_mm, wide_mm, long_mm), words)


def _lath(title: str, sizes_mm: tuple[float, float, float], words: Sequence[str]) -> Card:
    """A thin piece, (thick, wide, long), from its end and lying beside that, with its words."""
    thick, wide, whole = sizes_mm
    at = thick + APART_MM
    end, broken = at + min(whole, MOST_LONG_MM), whole > MOST_LONG_MM
    side = [(at, wide, at, 0.0), (at, 0.0, end, 0.0), (at, wide, end, wide)]
    zigzag = [(end, 0.0), (end + 1.5, wide / 3), (end - 1.5, 2 * wide / 3), (end, wide)]
    grain = arrow(0.0, 0.0, end - at - 4.0)
    lying = [(at + 2.0 + v1, wide + 3.0 + u1, at + 2.0 + v2, wide + 3.0 + u2) for u1, v1, u2, v2 in grain]
    drawn = (
        strokes(Role.KNIFE, (*closed([(0.0, 0.0), (thick, 0.0), (thick, wide), (0.0, wide)]), *side)),
        strokes(Role.MARK, lying),
        strokes(Role.NOTE, path(zigzag)) if broken else strokes(Role.KNIFE, [(end, 0.0, end, wide)]),
    )
    words = [words[0], *([TEXTS("shim_broken")] if broken else []), *words[1:]]
    return captioned(title, drawn, (end + 4.0, wide + 5.0), listed(words))
