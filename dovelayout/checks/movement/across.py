"""Parts fastened across a moving board: what holds too long, slots too short, runners too long. The limits: `rules`."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from dovelayout.casework.across import GIVES_MM, Across, AcrossKind, Slot, Tongue
from dovelayout.change import Change, changes_of
from dovelayout.checks.finding import Finding, Level, not_checked
from dovelayout.checks.movement import rules
from dovelayout.checks.remedy import mm_text
from dovelayout.checks.rule import Rule
from dovelayout.checks.sliding.housing import ZONE
from dovelayout.errors import LayoutError
from dovelayout.joints.moving import Swing, unknown
from dovelayout.joints.moving import swing as board_swing
from dovelayout.joints.spacing import Span
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.wood.species import WoodKind

INSET_MM = 25.0
"""How far from the end of a part its slot is put; ours."""


def check_across(part: Across, shop: Shop) -> Iterator[Finding]:
    """All findings on one part across a host."""
    swing = part.swing(shop)
    yield from _tongue(part)
    if swing is None:
        boards = (part.host, part.part) if part.along else (part.host,)
        board = next(board for board in boards if board_swing(board, shop) is None)
        yield not_checked(rules.CHECK_CONFLICT, place(part), *unknown(board, shop))
        if not part.along and part.host.wood.kind is not WoodKind.PLYWOOD:
            yield from _rigid(part)
        return
    if part.along:
        yield from _neighbours(part, swing)
        return
    yield from _conflict(part, swing)
    yield from _slots(part, swing)
    yield from _zone(part, swing)
    yield from _push(part, swing)
    yield from _room(part, swing)


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
        most_mm = min(most_mm, math.floor(2 * (rules.PUSH.note or 0) / swing.shrinks_share))
    return most_mm


def _slot(at_mm: float, moves_mm: float) -> Slot:
    """A slot with play for so much movement and a margin, to the next tenth."""
    return Slot(at_mm=at_mm, play_mm=math.ceil((moves_mm + rules.MARGIN_MM) * 10 - 1e-9) / 10)


def fixing_words(part: Across) -> str:
    """How a part is held, in words: 'glue 0-76 mm; a slot at 483 mm with 7.1 mm of play to either side'."""
    words = [f"glue {span.start_mm:g}-{span.end_mm:g} mm" for span in part.glue]
    words += [f"a screw at {at:g} mm" for at in part.screws_mm]
    words += [f"a slot at {slot.at_mm:g} mm with {slot.play_mm:g} mm of play to either side" for slot in part.slots]
    return "; ".join(words) or "nothing holds it"


def _fixed(part: Across, better: Across) -> tuple[Change, ...]:
    values = {
        "glue": [[mm_text(span.start_mm), mm_text(span.end_mm)] for span in better.glue],
        "screws": [mm_text(at) for at in better.screws_mm],
        "slots": [{"at": mm_text(slot.at_mm), "play": mm_text(slot.play_mm)} for slot in better.slots],
    }
    return changes_of("across", part.name, values)


def _refixed(
    part: Across, rule: Rule, measured: float, swing: Swing | None, *, message: str, at: str = ""
) -> Iterator[Finding]:
    """A finding where a limit is crossed, whose fix is to fasten the part as `well_fixed` does."""
    level, limit = rule.judge(measured)
    if level is Level.OK:
        return
    better = None if swing is None else well_fixed(part, swing)
    yield Finding(
        check=rule.check,
        level=level,
        place=place(part, at),
        message=message,
        measured=round(measured, 3),
        limit=limit,
        unit=rule.unit,
        fix=f"glue {part.from_mm:g}-{part.from_mm + GIVES_MM:g} mm alone" if better is None else fixing_words(better),
        source=rule.source,
        changes=() if better is None else _fixed(part, better),
    )


def _conflict(part: Across, swing: Swing) -> Iterator[Finding]:
    moves_mm = conflict_mm(part, swing)
    warned = rules.CONFLICT.judge(moves_mm)[0].rank >= Level.WARN.rank
    if not warned and swing.most_share > 0 and rules.RIGID.judge(part.rigid_mm)[0] is Level.WARN:
        yield from _rigid(part, swing)
        return
    yield from _refixed(
        part,
        rules.CONFLICT,
        moves_mm,
        swing,
        message=f"{part.host.name} moves {moves_mm:.1f} mm over the {part.rigid_mm:.0f} mm that {part.part.name} holds "
        "across its grain, and nothing lets that go: it splits, or pulls the joint apart",
    )


def _rigid(part: Across, swing: Swing | None = None) -> Iterator[Finding]:
    moves = "an unknown amount" if swing is None else f"{conflict_mm(part, swing):.1f} mm"
    yield from _refixed(
        part,
        rules.RIGID,
        part.rigid_mm,
        swing,
        message=f"{part.part.name} is held across the grain of {part.host.name} over {part.rigid_mm:.0f} mm, which moves "
        f"by {moves} in the air that the job names, and by more in a worse year",
    )


def _slots(part: Across, swing: Swing) -> Iterator[Finding]:
    moves = [needed_mm(part, slot.at_mm, swing) for slot in part.slots]
    # all slots that are short are mended together: each holds back what the others would let go
    mended = tuple(
        slot if rules.SLOT.judge(moves_mm - slot.play_mm)[0] is Level.OK else _slot(slot.at_mm, moves_mm)
        for slot, moves_mm in zip(part.slots, moves, strict=True)
    )
    for slot, better, moves_mm in zip(part.slots, mended, moves, strict=True):
        level, limit = rules.SLOT.judge(moves_mm - slot.play_mm)
        if level is Level.OK:
            continue
        yield Finding(
            check=rules.SLOT.check,
            level=level,
            place=place(part, f"slot at {slot.at_mm:g} mm"),
            measured=round(moves_mm - slot.play_mm, 3),
            limit=limit,
            unit=rules.SLOT.unit,
            message=f"{part.host.name} moves {moves_mm:.1f} mm there, {abs(slot.at_mm - part.anchor_mm):.0f} mm from what "
            f"holds, and the slot lets {slot.play_mm:g} mm go to either side",
            fix=f"{better.play_mm:g} mm of play to either side of the screw as it is fitted",
            source=rules.SLOT.source,
            changes=_fixed(part, replace(part, slots=mended)),
        )


def _zone(part: Across, swing: Swing) -> Iterator[Finding]:
    """Stretches that are longer than makers glue, though no conflict comes of it in this air."""
    if part.held is None or swing.most_share == 0 or rules.CONFLICT.judge(conflict_mm(part, swing))[0] is not Level.OK:
        return
    if rules.RIGID.judge(part.rigid_mm)[0] is not Level.OK:
        return  # found already
    rule = rules.MIDDLE if part.in_the_middle and not part.kind.held_in_the_middle else ZONE
    yield from _refixed(
        part,
        rule,
        part.held.width_mm,
        swing,
        at="glue",
        message=f"{part.part.name} is held over {part.held.width_mm:.0f} mm across the grain; makers keep to "
        f"{rule.note:g} mm {'in the middle of a support' if rule is rules.MIDDLE else 'in one stretch'}",
    )


def _push(part: Across, swing: Swing) -> Iterator[Finding]:
    if not part.meets_front or part.held is None:
        return
    behind_mm = part.anchor_mm - part.from_mm
    yield from _refixed(
        replace(part, kind=AcrossKind.RUNNER) if part.kind.held_in_the_middle else part,
        rules.PUSH,
        swing.shrinks_share * behind_mm,
        swing,
        at="front end",
        message=f"held {behind_mm:.0f} mm behind its front end, {part.part.name} pushes what it meets there forward by "
        f"{swing.shrinks_share * behind_mm:.1f} mm as {part.host.name} shrinks: a front rail out of its sockets",
    )


def _room(part: Across, swing: Swing) -> Iterator[Finding]:
    if not part.meets_rear:
        return
    left_mm = room_left_mm(part, swing)
    level, limit = rules.ROOM.judge(left_mm)
    if level is Level.OK:
        return
    longest_mm = math.floor((part.length_mm + left_mm - rules.MARGIN_MM) * 2) / 2
    depth_mm = part.rear_stop_mm - part.from_mm
    changes: tuple[Change, ...] = ()
    fix = f"leave it out: no length leaves {rules.MARGIN_MM:g} mm there in the driest month"
    if longest_mm > 0:
        changes = _shorter(part, longest_mm)
        left_then_mm = left_mm + part.length_mm - longest_mm
        fix = f"at most {longest_mm:g} mm long, which leaves {left_then_mm:.1f} mm in the driest month"
    yield Finding(
        check=rules.ROOM.check,
        level=level,
        place=place(part, "length"),
        measured=round(left_mm, 3),
        limit=limit,
        unit=rules.ROOM.unit,
        message=f"{part.part.name} is {part.length_mm:g} mm long and stands in {depth_mm:g} mm, of which {part.host.name} "
        f"loses {part.room_mm - left_mm:.1f} mm by the driest month: it then pushes a rail out of its sockets, or the "
        "back off",
        fix=fix,
        source=rules.ROOM.source,
        changes=changes,
    )


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


def _neighbours(part: Across, swing: Swing) -> Iterator[Finding]:
    apart_mm = swing.most_share * part.rigid_mm
    level, limit = rules.NEIGHBOURS.judge(apart_mm)
    if level is Level.OK:
        return
    widest_mm = math.floor((rules.NEIGHBOURS.warn or 0) / swing.most_share)
    yield Finding(
        check=rules.NEIGHBOURS.check,
        level=level,
        place=place(part),
        measured=round(apart_mm, 3),
        limit=limit,
        unit=rules.NEIGHBOURS.unit,
        message=f"{part.host.name} ({part.host.wood.name}) and {part.part.name} ({part.part.wood.name}) part company by "
        f"{apart_mm:.1f} mm over the {part.rigid_mm:.0f} mm that they are glued together",
        fix=f"at most {widest_mm} mm glued together, or two boards of one wood, sawn alike and of the same moisture",
        source=rules.NEIGHBOURS.source,
        changes=changes_of("across", part.name, {"glue": [[mm_text(part.from_mm), mm_text(part.from_mm + widest_mm)]]}),
    )


def _tongue(part: Across) -> Iterator[Finding]:
    if part.kind is not AcrossKind.BREADBOARD or part.tongue is not Tongue.CONTINUOUS:
        return
    level, limit = rules.TONGUE.judge(part.part.width_mm)
    if level is Level.OK:
        return
    yield Finding(
        check=rules.TONGUE.check,
        level=level,
        place=place(part, "tongue"),
        measured=round(part.part.width_mm, 2),
        limit=limit,
        unit=rules.TONGUE.unit,
        message=f"an end {part.part.width_mm:g} mm wide on one continuous tongue is too weak to be kept straight by it: "
        "such ends have crowned by a millimetre and more",
        fix=f'separate tenons (tongue = "tenons"), or an end {rules.TONGUE.warn:g} mm wide or more',
        source=rules.TONGUE.source,
        changes=changes_of("across", part.name, {"tongue": "tenons"}),
    )
