"""Relieved cauls: a strip that presses a corner's tails and is notched over its pins."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dovelayout.checks.finding import Finding
from dovelayout.checks.rule import rule
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.spacing import Span
from dovelayout.place import Place
from dovelayout.texts import Texts

TEXTS = Texts("glueup", "findings")
RULE_WORDS = Texts("glueup", "rules")

CLEAR_MM = 1.0
"""How much wider than a pin its notch is, on either side; ours."""

LEAST_DEEP_MM = 3.0
"""A notch is at least so deep; ours."""

OVER_PROUD_MM = 2.0
"""And so much deeper than the pins stand proud; ours."""

BACK_MM = 16.0
"""Wood left behind the notches, so that the strip doesn't bend; ours."""

PAD = rule("caul-pad", unit="mm", note=3.0, **RULE_WORDS.table("pad"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Caul:
    """A caul for one corner. Spans run along the joint from `start_mm`, in the tail board's x.

    `high_mm` is the strip's height, notches included; `wide_mm` how wide it lies on the tail board: as the tails are long.
    """

    corner: str
    presses: str
    start_mm: float
    length_mm: float
    notches: tuple[Span, ...]
    deep_mm: float
    high_mm: float
    wide_mm: float

    @property
    def pads(self) -> tuple[Span, ...]:
        """What is left between the notches: the feet that press the tails."""
        edges = [0.0, *(at for notch in self.notches for at in (notch.start_mm, notch.end_mm)), self.length_mm]
        pairs = [Span(one, other) for one, other in zip(edges[::2], edges[1::2], strict=True)]
        return tuple(pad for pad in pairs if pad.width_mm > 1e-6)

    @property
    def shape(self) -> tuple[object, ...]:
        """What two cauls have in common that can be cut from one template."""
        rounded = tuple((round(notch.start_mm, 3), round(notch.end_mm, 3)) for notch in self.notches)
        return (rounded, *(round(value, 3) for value in (self.length_mm, self.deep_mm, self.high_mm, self.wide_mm)))


def caul_for(joint: CornerJoint) -> Caul:
    """The caul of a corner: notched over each pin's wide side, which is what lies under it at the baseline."""
    covers = joint.covers
    deep_mm = max(LEAST_DEEP_MM, joint.spec.proud_pins_mm + OVER_PROUD_MM)
    notches: list[Span] = []
    for pin in joint.pins:
        start_mm = max(0.0, pin.root_start_mm - CLEAR_MM - covers.start_mm)
        end_mm = min(covers.width_mm, pin.root_end_mm + CLEAR_MM - covers.start_mm)
        if notches and start_mm <= notches[-1].end_mm:
            start_mm = notches.pop().start_mm  # a tail too narrow for a foot: one notch over both pins
        notches.append(Span(start_mm, end_mm))
    return Caul(
        corner=joint.name,
        presses=joint.spec.tails.label,
        start_mm=covers.start_mm,
        length_mm=covers.width_mm,
        notches=tuple(notches),
        deep_mm=deep_mm,
        high_mm=deep_mm + BACK_MM,
        wide_mm=joint.depth_mm,
    )


def caul_findings(caul: Caul) -> Iterator[Finding]:
    """Feet that are too narrow to press with."""
    narrowest_mm = min((pad.width_mm for pad in caul.pads), default=0.0)
    if breach := PAD.breach(narrowest_mm):
        place = Place(kind="corner", name=caul.corner, part="caul")
        yield breach.finding(place, **TEXTS.finding("foot", foot=narrowest_mm))
