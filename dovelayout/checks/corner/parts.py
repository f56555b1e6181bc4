"""The parts of a corner that findings speak of, as places."""

from __future__ import annotations

from dovelayout.joints.corner import CornerJoint, Pin, Tail
from dovelayout.place import Place


def part_of(joint: CornerJoint, part: str, *, board: str = "") -> Place:
    """A part of a corner; `board`: of which of its boards."""
    return Place(kind="corner", name=joint.name, part=part, board=board)


def place_of(joint: CornerJoint, part: Pin | Tail) -> Place:
    """The place of a tail or a pin, as the sheets number them."""
    if isinstance(part, Tail):
        return Place(kind="corner", name=joint.name, part="tail", number=joint.tails.index(part) + 1)
    if part.half:
        return part_of(joint, pin_name(joint, part))
    return Place(kind="corner", name=joint.name, part="pin", number=joint.full_pins.index(part) + 1)


def pin_name(joint: CornerJoint, pin: Pin) -> str:
    """'pin 2', or 'half pin at the face edge': as the sheets number them."""
    if not pin.half:
        return f"pin {joint.full_pins.index(pin) + 1}"
    return "half pin at the face edge" if pin is joint.pins[0] else "half pin at the far edge"
