"""Parts fastened across a moving board: what holds too long, slots too short, runners too long."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import partial

from dovelayout.casework.across import GIVES_MM, Across, AcrossKind, Slot, Tongue
from dovelayout.change import Change, changes_of
from dovelayout.checks.finding import COMMON_PRACTICE, Finding, Level
from dovelayout.checks.movement.ladder import HANDBOOK, held
from dovelayout.checks.movement.neighbours import check_woods
from dovelayout.checks.remedy import Remedies, Remedy, by_setting, mm_text
from dovelayout.checks.rule import rule
from dovelayout.checks.sliding.housing import ZONE
from dovelayout.errors import LayoutError
from dovelayout.joints.moving import Swing, unknown
from dovelayout.joints.moving import swing as board_swing
from dovelayout.joints.spacing import Span
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.texts import Texts
from dovelayout.wood.species import WoodKind

TEXTS = Texts("checks.movement", "findings")

CONFLICT = held("cross-grain", "movement over the length that holds, less what it lets go")
SLOT = held("slot-play", "movement at a slot less its play")
PUSH = held("runner-push", "how far what holds a part pushes its front end against what it meets")
RIGID = rule("cross-grain", "length of a rigid fixing across the grain", unit="mm", warn=150.0, below=False)
MIDDLE = rule(
    ZONE.check,
    "glued stretch in the middle of a support",
    unit="mm",
    note=50.0,
    below=False,
    source=COMMON_PRACTICE,
)
ROOM = rule(
    "runner-length",
    "room left behind a runner or a rail in the driest month",
    unit="mm",
    warn=0.0,
    stop=-1.0,
    source=HANDBOOK,
)
TONGUE = rule("thin-breadboard", "width of a breadboard end on one continuous tongue", unit="mm", warn=75.0)

MARGIN_MM = 1.0
"""What a slot, a gap or a length is given beyond the computed movement (common practice, no source)."""

INSET_MM = 25.0
"""How far from the end of a part its slot is put; ours."""


def check_across(part: Across, shop: Shop) -> Iterator[Finding]:
    """All findings on one part across a host."""
    swing = part.swing(shop)
    yield from _tongue(part)
    if swing is None:
        boards = (part.host, part.part) if part.along else (part.host,)
        board = next(board for board in boards if board_swing(board, shop) is None)
        yield CONFLICT.not_checked(place(part), *unknown(board, shop))
        if not part.along and part.host.wood.kind is not WoodKind.PLYWOOD:
            yield from _rigid(part)
    elif part.along:
        yield from check_woods(
            place(part), (part.host, part.part), part.rigid_mm, shop, less_glue=partial(_less_glue, part)
        )
    else:
        for check in (_conflict, _slots, _zone, _push, _room):
            yield from check(part, swing)


def place(part: Across, what: str = "") -> Place:
    """The place of a finding: 'runner left on side, slot at 440 mm'."""
    kind = "" if part.kind.value in part.name.casefold() else part.kind.value
    return Place(kind=kind, name=f"{part.name} on {part.host.name}", part=what)


def conflict_mm(part: Across, swing: Swing) -> float:
    """Movement over the length that holds."""
    return swing.most_share * part.rigid_mm


def needed_mm(part: Across, at_mm: float, swing: Swing) -> float:
    """How far the host moves under a place of the part, away from what holds."""
    return swing.most_share * abs(at_mm - part.anchor_mm)


def room_left_mm(part: Across, swing: Swing) -> float:
    """What is left behind the part when the host is driest; below 0 it pushes."""
    start_mm = part.from_mm if part.meets_front or part.held is None else part.anchor_mm
    return part.room_mm - swing.shrinks_share * (part.rear_stop_mm - start_mm)


def well_fixed(part: Across, swing: Swing) -> Across:
    """The same part so fixed that it works: one short glued stretch, and slots with the play that they need.

    Slots and screws keep their places where they lie outside of the glue.
    """
    if part.kind.held_in_the_middle:
        half_mm = min(math.floor(GIVES_MM / 2), part.length_mm / 2)
        middle_mm = (part.from_mm + part.end_mm) / 2
        zone = Span(middle_mm - half_mm, middle_mm + half_mm)
        usual: tuple[float, ...] = (part.from_mm + INSET_MM, part.end_mm - INSET_MM)
    else:
        zone = Span(part.from_mm, part.from_mm + _front_glue_mm(part, swing))
        usual = (part.end_mm - INSET_MM,)
    taken = sorted({slot.at_mm for slot in part.slots} | set(part.screws_mm))
    held = replace(part, glue=(zone,), screws_mm=(), slots=())

    def free(places: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(
            at for at in places if part.from_mm <= at <= part.end_mm and not zone.start_mm <= at <= zone.end_mm
        )

    at_mm = free(tuple(taken)) or free(usual)
    return replace(held, slots=tuple(_slot(at, needed_mm(held, at, swing)) for at in at_mm))


def _front_glue_mm(part: Across, swing: Swing) -> float:
    """How far back the glue at a front end goes: what gives, and no further than its middle may push the end forward."""
    most_mm = min(GIVES_MM, part.length_mm)
    if part.meets_front and swing.shrinks_share > 0:
        most_mm = min(most_mm, math.floor(2 * (PUSH.note or 0) / swing.shrinks_share))
    return most_mm


def _slot(at_mm: float, moves_mm: float) -> Slot:
    """A slot with play for so much movement and a margin, to the next tenth."""
    return Slot(at_mm=at_mm, play_mm=math.ceil((moves_mm + MARGIN_MM) * 10 - 1e-9) / 10)


def fixing_words(part: Across) -> str:
    """How a part is held, in words: 'glue 0-76 mm; a slot at 483 mm with 7.1 mm of play to either side'."""
    words = [TEXTS("fixing.glue", start=span.start_mm, end=span.end_mm) for span in part.glue]
    words += [TEXTS("fixing.screw", at=at) for at in part.screws_mm]
    words += [TEXTS("fixing.slot", at=slot.at_mm, play=slot.play_mm) for slot in part.slots]
    return "; ".join(words) or TEXTS("fixing.none")


def _fixed(part: Across, better: Across) -> tuple[Change, ...]:
    values = {
        "glue": [[mm_text(span.start_mm), mm_text(span.end_mm)] for span in better.glue],
        "screws": [mm_text(at) for at in better.screws_mm],
        "slots": [{"at": mm_text(slot.at_mm), "play": mm_text(slot.play_mm)} for slot in better.slots],
    }
    return changes_of("across", part.name, values)


def _well_fixed(part: Across, swing: Swing) -> Iterator[Remedy]:
    """The part held where such parts usually are, in the middle or at the front, then at the other of these."""
    other = AcrossKind.RUNNER if part.kind.held_in_the_middle else AcrossKind.BATTEN
    for held_there in (part, replace(part, kind=other)):
        better = well_fixed(held_there, swing)
        yield Remedy(changes=_fixed(part, better), words=fixing_words(better))


def _says(part: Across, key: str, **values: object) -> str:
    return TEXTS(f"{key}.message", part=part.part.name, host=part.host.name, **values)


def _conflict(part: Across, swing: Swing) -> Iterator[Finding]:
    moves_mm = conflict_mm(part, swing)
    breach = CONFLICT.breach(moves_mm)
    rigid = RIGID.breach(part.rigid_mm) if swing.most_share > 0 else None
    if rigid and (breach is None or breach.level is Level.NOTE):
        yield from _rigid(part, swing)
    elif breach:
        message = _says(part, "conflict", moves=f"{moves_mm:.1f} mm", over=part.rigid_mm)
        yield breach.finding(place(part), message, remedies=partial(_well_fixed, part, swing))


def _rigid(part: Across, swing: Swing | None = None) -> Iterator[Finding]:
    if breach := RIGID.breach(part.rigid_mm):
        moves = TEXTS("rigid.unknown") if swing is None else f"{conflict_mm(part, swing):.1f} mm"
        message = _says(part, "rigid", moves=moves, over=part.rigid_mm)
        if swing is None:
            fix = TEXTS("rigid.fix", start=part.from_mm, end=part.from_mm + GIVES_MM)
            yield breach.finding(place(part), message, fix=fix)
        else:
            yield breach.finding(place(part), message, remedies=partial(_well_fixed, part, swing))


def _slots(part: Across, swing: Swing) -> Iterator[Finding]:
    moves = {slot: needed_mm(part, slot.at_mm, swing) for slot in part.slots}
    breaches = {slot: SLOT.breach(moves_mm - slot.play_mm) for slot, moves_mm in moves.items()}
    # all slots that are short are mended together: each holds back what the others would let go
    mended = {slot: _slot(slot.at_mm, moves[slot]) if breach else slot for slot, breach in breaches.items()}
    changes = _fixed(part, replace(part, slots=tuple(mended[slot] for slot in part.slots)))
    for slot, breach in breaches.items():
        if breach:
            far_mm = abs(slot.at_mm - part.anchor_mm)
            message = _says(part, "slot", moves=f"{moves[slot]:.1f} mm", far=far_mm, play=slot.play_mm)
            fix = TEXTS("slot.fix", play=mended[slot].play_mm)
            at, otherwise = place(part, f"slot at {slot.at_mm:g} mm"), partial(_well_fixed, part, swing)
            yield breach.finding(at, message, fix=fix, changes=changes, remedies=otherwise)


def _zone(part: Across, swing: Swing) -> Iterator[Finding]:
    """Stretches that are longer than makers glue, though no conflict comes of it in this air."""
    if part.held is None or swing.most_share == 0:
        return
    if CONFLICT.breach(conflict_mm(part, swing)) or RIGID.breach(part.rigid_mm):
        return  # found already
    of_a_support = part.in_the_middle and not part.kind.held_in_the_middle
    zone, where = (MIDDLE, "zone.middle") if of_a_support else (ZONE, "zone.stretch")
    if breach := zone.breach(part.held.width_mm):
        message = _says(part, "zone", over=part.held.width_mm, most=zone.note, where=TEXTS(where))
        yield breach.finding(place(part, "glue"), message, remedies=partial(_well_fixed, part, swing))


def _push(part: Across, swing: Swing) -> Iterator[Finding]:
    behind_mm = part.anchor_mm - part.from_mm
    breach = PUSH.breach(swing.shrinks_share * behind_mm) if part.meets_front and part.held is not None else None
    if breach:
        at_front = replace(part, kind=AcrossKind.RUNNER) if part.kind.held_in_the_middle else part
        message = _says(part, "push", far=behind_mm, forward=breach.measured)
        yield breach.finding(place(part, "front end"), message, remedies=partial(_well_fixed, at_front, swing))


def _room(part: Across, swing: Swing) -> Iterator[Finding]:
    left_mm = room_left_mm(part, swing)
    breach = ROOM.breach(left_mm) if part.meets_rear else None
    if breach:
        longest_mm = math.floor((part.length_mm + left_mm - MARGIN_MM) * 2) / 2
        changes: tuple[Change, ...] = ()
        fix = TEXTS("room.none", margin=MARGIN_MM)
        if longest_mm > 0:
            changes = _shorter(part, longest_mm)
            fix = TEXTS("room.fix", length=longest_mm, left=left_mm + part.length_mm - longest_mm)
        sizes = {"length": part.length_mm, "deep": part.rear_stop_mm - part.from_mm, "loses": part.room_mm - left_mm}
        yield breach.finding(place(part, "length"), _says(part, "room", **sizes), fix=fix, changes=changes)


def _shorter(part: Across, length_mm: float) -> tuple[Change, ...]:
    """The part cut to a length, with what held its rear end moved along."""
    end_mm = part.from_mm + length_mm
    spans = [Span(span.start_mm, min(span.end_mm, end_mm)) for span in part.glue if span.start_mm < end_mm]
    try:
        cut = replace(
            part,
            length_mm=length_mm,
            glue=tuple(spans),
            screws_mm=tuple(min(at, end_mm) for at in part.screws_mm),
            slots=tuple(Slot(at_mm=min(slot.at_mm, end_mm), play_mm=slot.play_mm) for slot in part.slots),
        )
    except LayoutError:
        return ()
    length = {"length": mm_text(length_mm)}
    board = changes_of("board", part.part.name, length) if part.length_mm == part.part.length_mm else ()
    return (*changes_of("across", part.name, length), *_fixed(part, cut), *board)


def _less_glue(part: Across, most_mm: float) -> Remedies:
    glue = [[mm_text(part.from_mm), mm_text(part.from_mm + most_mm)]]
    return by_setting("across", part.name, {"glue": glue}, TEXTS("woods.less", over=most_mm))


def _tongue(part: Across) -> Iterator[Finding]:
    width_mm = part.part.width_mm
    breach = TONGUE.breach(width_mm) if part.tongue is Tongue.CONTINUOUS else None
    if breach and part.kind is AcrossKind.BREADBOARD:
        texts = TEXTS.finding("tongue", width=width_mm, most=TONGUE.warn)
        tenons = changes_of("across", part.name, {"tongue": "tenons"})
        wider = by_setting("board", part.part.name, {"width": mm_text(TONGUE.warn or 0.0)})
        yield breach.finding(place(part, "tongue"), **texts, changes=tenons, remedies=wider)
