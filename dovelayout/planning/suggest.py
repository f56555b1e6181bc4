"""Suggested layouts: every layout of a grid of counts, pin widths and slopes is measured, and those that pass are ranked.

Every layout that is returned has been through the checks and carries neither a warning nor a stop. The ranking is
ours: a taste sets how wide the tails are to be against the pins, and a layout that uses its limits less, that suits
the shop's chisels and that keeps to round figures goes before one that doesn't.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.checks import corner_findings, measure_joint, measures_clean
from dovelayout.checks.corner.tools import clearings
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.keys import job_value, key_of
from dovelayout.checks.rule import rule_of
from dovelayout.errors import LayoutError
from dovelayout.joints.corner import CornerJoint
from dovelayout.joints.slope import Slope
from dovelayout.joints.spec import LayoutSpec
from dovelayout.planning.taste import Taste
from dovelayout.shop import Shop
from dovelayout.units import Unit, format_both, format_inches

TAIL_TO_PIN: dict[Taste, float] = {Taste.FINE: 4.0, Taste.PLAIN: 2.0, Taste.STRONG: 1.2}
"""Width of a tail at its end over a pin's wide side (common practice, no source: about 2 in hand work, 1 for strength,
3 to 5 in fine work)."""

SLOPES = (5.0, 6.0, 7.0, 8.0, 9.0)
"""Slopes 1:n that are tried where the job gives none (common practice, no source: 1:5 to 1:9)."""
MOST_TAILS = 40
"""Counts are tried up to this; ours."""

MOST_LAYOUTS = 5
"""Layouts shown, best first; ours."""
ENOUGH = 3
"""With fewer near the taste than this, the whole grid is tried as well; ours."""

MOST_CHECKED = 60
"""Clean layouts that are put through the checks for one list; where so many fail, others fail too. Ours."""
MOST_TRIED_ON_CHANGES = 600
"""Layouts measured for a change outside the layout (a thicker board), spread evenly over the whole grid, before it counts
as one that doesn't help; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """A layout that passes, and why it stands where it does.

    `margins` is the share of each limit that it uses, the tightest rule of each check; 1 would be at the limit.
    """

    joint: CornerJoint
    pin_mm: float
    half_pin_mm: float
    margins: dict[str, float]
    score: float
    reason: str
    slope_is_ours: bool = False  # the job leaves the slope open
    sensitivity: str = ""

    @property
    def tightest(self) -> tuple[str, float]:
        """The check with the least room left, and the share it uses."""
        return max(self.margins.items(), key=lambda row: row[1])


@dataclass(frozen=True, slots=True, kw_only=True)
class Suggestions:
    """What was found for one corner: layouts, best first, or the checks that no layout meets and what would help."""

    corner: str
    layouts: tuple[Layout, ...]
    tried: int
    blockers: tuple[str, ...] = ()
    remedies: tuple[str, ...] = ()


def suggest(
    joint: CornerJoint,
    shop: Shop,
    *,
    taste: Taste = Taste.PLAIN,
    most: int = MOST_LAYOUTS,
    siblings: Sequence[CornerJoint] = (),
    unit: Unit = Unit.MM,
) -> Suggestions:
    """The best layouts of a corner's boards for a taste: never one that the checks warn of.

    `unit` is the job's: pins come in halves and wholes of a mm, or in 32nds of an inch. `siblings` are other corners
    that take the same layout (those of one box): it has to pass on them too. A slope that the maker gave is kept. Looks
    at the layouts near the taste first, and at all others when few of those pass.
    """
    fixed = [finding for finding in _against((joint, *siblings), shop) if not _of_the_layout(finding)]
    if fixed:
        return Suggestions(
            corner=joint.name,
            layouts=(),
            tried=0,
            blockers=tuple(
                dict.fromkeys(f"{f.check} ({f.level.value}), whatever the layout: {f.message}" for f in fixed)
            ),
            remedies=tuple(dict.fromkeys(f"{f.check}: {f.untried_fix}" for f in fixed if f.untried_fix)),
        )
    search = _Search(joint=joint, shop=shop, taste=taste, most=most, siblings=tuple(siblings), unit=unit)
    near = search.found(near_taste=True)
    return near if len(near.layouts) >= min(ENOUGH, most) else search.found(near_taste=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Search:
    joint: CornerJoint
    shop: Shop
    taste: Taste
    most: int
    siblings: tuple[CornerJoint, ...]
    unit: Unit

    def found(self, *, near_taste: bool) -> Suggestions:
        """Measures the grid, ranks what passes, and puts the best through the checks."""
        joint, shop = self.joint, self.shop
        tried = 0
        passing: list[Layout] = []
        nearest: tuple[float, CornerJoint] | None = None
        for pin_mm, half_pin_mm, candidate in _grid(joint, self.unit, TAIL_TO_PIN[self.taste] if near_taste else None):
            tried += 1
            clean = measures_clean(candidate, shop)
            if not (clean or passing or near_taste):  # the nearest is named only where none passes
                worst = max(measure.rule.share_used(measure.value) for measure in measure_joint(candidate, shop))
                if nearest is None or worst < nearest[0]:
                    nearest = (worst, candidate)
            if clean:
                ranked = _layout(candidate, (pin_mm, half_pin_mm), shop, self.taste)
                passing.append(replace(ranked, slope_is_ours="slope" in joint.proposed))
        passing.sort(key=lambda layout: (round(layout.score, 6), len(layout.joint.tails), layout.pin_mm))
        kept = tuple(self._varied(passing))
        if kept or near_taste:
            layouts = tuple(replace(layout, sensitivity=_sensitivity(layout, shop)) for layout in kept)
            return Suggestions(corner=joint.name, layouts=layouts, tried=tried)
        stuck = passing[0].joint if passing else joint if nearest is None else nearest[1]
        corners = [stuck, *(varied for varied in self._siblings_as(stuck) if varied is not None)]
        findings = list(_against(corners, shop))
        return Suggestions(
            corner=joint.name,
            layouts=(),
            tried=tried,
            blockers=tuple(dict.fromkeys(f"{f.check} ({f.level.value}): {f.message}" for f in findings)),
            remedies=_remedies(joint, shop, findings, self.unit),
        )

    def _siblings_as(self, chosen: CornerJoint) -> Iterator[CornerJoint | None]:
        """The siblings with the same layout; None for one on which it can't be."""
        for sibling in self.siblings:
            yield _with_layout(sibling, replace(chosen.spec.layout, spacing=sibling.spec.spacing))

    def _varied(self, ranked: list[Layout]) -> Iterator[Layout]:
        """The best of the ranking that the checks themselves pass, no two of them near twins."""
        chosen: list[Layout] = []
        checked = 0
        for layout in ranked:
            if len(chosen) >= self.most or checked >= MOST_CHECKED:
                return
            twin = any(
                len(other.joint.tails) == len(layout.joint.tails)
                and (abs(other.pin_mm - layout.pin_mm) < 1.5 or other.joint.slope == layout.joint.slope)
                for other in chosen
            )
            if twin:
                continue
            checked += 1
            if self._passes(layout.joint):
                chosen.append(layout)
                yield layout

    def _passes(self, chosen: CornerJoint) -> bool:
        corners = [chosen, *self._siblings_as(chosen)]
        return all(corner is not None and not any(_against([corner], self.shop)) for corner in corners)


def _against(corners: Iterable[CornerJoint], shop: Shop) -> Iterator[Finding]:
    """The warnings and stops on these corners."""
    found = (finding for corner in corners for finding in corner_findings(corner, shop))
    return (finding for finding in found if finding.level.rank >= Level.WARN.rank)


def _of_the_layout(finding: Finding) -> bool:
    """Whether another count, pin or slope can change what a check says."""
    rule = rule_of(finding)
    return rule is not None and rule.layout


def _with_layout(joint: CornerJoint, layout: LayoutSpec) -> CornerJoint | None:
    """A corner with another layout; None where that can't be built."""
    try:
        return type(joint).worked_out(joint.spec.with_layout(layout))
    except LayoutError:
        return None


THIRTY_SECOND_MM = 25.4 / 32
"""1/32 in, by definition: the finest mark of most rules in inches."""


def _pins_mm(joint: CornerJoint, unit: Unit) -> tuple[float, ...]:
    """Narrow widths worth trying, from about 1.5 mm up to the thinner board's thickness: by halves of a mm, above 8 mm
    by whole ones; or by 32nds of an inch, above 5/16 in by 16ths."""
    if unit is Unit.IN:
        steps = [*range(2, 11), *range(12, 64, 2)]
        widths = [step * THIRTY_SECOND_MM for step in steps]
    else:
        widths = [step / 2 for step in range(3, 17)] + [float(step) for step in range(9, 60)]
    return tuple(pin_mm for pin_mm in widths if pin_mm <= max(3.2, joint.spec.thinner_mm))


def _half_pins_mm(pin_mm: float, unit: Unit) -> tuple[float, ...]:
    """Half pins to try beside a pin: its equal, a quarter wider, and a stouter one."""
    step_mm = THIRTY_SECOND_MM if unit is Unit.IN else 0.5
    wished = (pin_mm, max(5.0, pin_mm * 1.25), max(7.0, pin_mm + 2))
    return tuple(dict.fromkeys(round(width_mm / step_mm) * step_mm for width_mm in wished))


def _built(joint: CornerJoint, layout: LayoutSpec) -> tuple[float, float, CornerJoint] | None:
    """The pin, half pin and corner of a layout; None where that can't be built."""
    candidate = _with_layout(joint, layout)
    if candidate is None:
        return None
    if layout.pin_mm is not None and layout.half_pin_mm is not None:
        return layout.pin_mm, layout.half_pin_mm, candidate
    pins = candidate.full_pins or candidate.half_pins
    return min(pin.width_mm for pin in pins), candidate.half_pins[0].width_mm, candidate


def _grid(joint: CornerJoint, unit: Unit, taste: float | None = None) -> Iterator[tuple[float, float, CornerJoint]]:
    """Every corner of the grid that can be built; with a taste (tail over pin), those within half of it either way."""
    return (made for layout in _choices(joint, unit, taste) if (made := _built(joint, layout)) is not None)


def _choices(joint: CornerJoint, unit: Unit, taste: float | None = None) -> Iterator[LayoutSpec]:
    """Layouts of the grid; widths are left open where the kind of joint sets its own."""
    layout = replace(joint.spec.layout, tails_at=None)
    if "pin_mm" in joint.settles:
        counts: Iterable[int | None] = (None,) if "tail_count" in joint.settles else range(1, MOST_TAILS + 1)
        yield from (replace(layout, tail_count=count) for count in counts)
        return
    room_mm = joint.covers.width_mm
    for ratio in dict.fromkeys((joint.slope.ratio, *(SLOPES if "slope" in joint.proposed else ()))):
        slope = Slope(ratio)
        flare_mm = joint.spec.shifts(slope).flare_mm
        for pin_mm in _pins_mm(joint, unit):
            for half_pin_mm in _half_pins_mm(pin_mm, unit):
                for count in range(1, MOST_TAILS + 1):
                    tail_mm = (room_mm - 2 * half_pin_mm - (count - 1) * pin_mm) / count
                    if tail_mm <= 2 * flare_mm + 3:
                        break
                    if tail_mm > 90:
                        continue
                    if taste is not None and not 0.6 < tail_mm / (pin_mm + 2 * flare_mm) / taste < 1.5:
                        continue
                    yield replace(layout, tail_count=count, pin_mm=pin_mm, half_pin_mm=half_pin_mm, slope=slope)


def _layout(joint: CornerJoint, pins_mm: tuple[float, float], shop: Shop, taste: Taste) -> Layout:
    """A corner of the grid with its score; `pins_mm` are the widths of its pins and half pins."""
    pin_mm, half_pin_mm = pins_mm
    margins: dict[str, float] = {}
    for measure in measure_joint(joint, shop):
        used = round(measure.rule.share_used(measure.value), 3)
        margins[measure.rule.check] = max(used, margins.get(measure.rule.check, 0.0))
    root_mm = pin_mm + 2 * joint.flare_mm
    tail_mm = math.fsum(tail.width_mm for tail in joint.tails) / len(joint.tails)
    off_taste = abs(tail_mm / root_mm / TAIL_TO_PIN[taste] - 1)
    tight = max(margins.values())
    chisels = [row.chisel_mm for row in clearings(joint, shop)] if shop.chisels_mm else []
    no_chisel = sum(1 for chisel in chisels if chisel is None) + (
        1 if shop.chisels_mm and pin_mm < min(shop.chisels_mm) else 0
    )
    off_slope = 0.0 if not joint.flares or joint.slope.ratio in (6.0, 7.0, 8.0) else 0.1
    off_half = abs(half_pin_mm - 1.25 * pin_mm) / (10 * pin_mm)
    uneven = 0.03 if pin_mm * 2 == int(pin_mm * 2) and pin_mm != int(pin_mm) else 0.0
    # a limit that is half used is comfortable; beyond that it counts more and more
    score = off_taste + max(0.0, tight - 0.5) + 0.3 * no_chisel + off_slope + off_half + uneven
    tightest = max(margins, key=lambda check: margins[check])
    if "pin_mm" in joint.settles:
        width = f"{joint.tail}s {tail_mm:.1f} mm wide"
    else:
        width = f"tails {tail_mm / root_mm:.1f} times as wide as the pins' wide side ({taste.value})"
    reason = f"{width}; tightest limit: {tightest}, {margins[tightest]:.0%} used"
    if shop.chisels_mm:
        reason += "; a chisel for every waste" if no_chisel == 0 else "; no chisel goes in at the pins' narrow side"
    return Layout(joint=joint, pin_mm=pin_mm, half_pin_mm=half_pin_mm, margins=margins, score=score, reason=reason)


def _sensitivity(layout: Layout, shop: Shop) -> str:
    """What one tail more and one tail fewer would do, with the tails kept as wide as they are."""
    joint = layout.joint
    outcomes = []
    for step, word in ((-1, "fewer"), (1, "more")):
        count = len(joint.tails) + step
        if count < 2:
            continue
        tail_mm = math.fsum(tail.width_mm for tail in joint.tails) / len(joint.tails)
        pin_mm = (joint.covers.width_mm - 2 * layout.half_pin_mm - count * tail_mm) / (count - 1)
        settled = "pin_mm" in joint.settles
        if pin_mm < 0.5 and not settled:
            outcomes.append(f"one tail {word}: no room for pins")
            continue
        try:
            other = joint.varied(tail_count=count, tails_at=None, **({} if settled else {"pin_mm": pin_mm}))
        except LayoutError:
            outcomes.append(f"one tail {word}: it can't be")
            continue
        measures = measure_joint(other, shop)
        tight = max(measures, key=lambda measure: measure.rule.share_used(measure.value))
        used = tight.rule.share_used(tight.value)
        pin_mm = other.pins[0].width_mm if settled else pin_mm
        outcomes.append(f"one tail {word}: pins {pin_mm:.1f} mm, {tight.rule.check} {used:.0%} of its limit")
    return "; ".join(outcomes)


def _remedies(joint: CornerJoint, shop: Shop, findings: list[Finding], unit: Unit) -> tuple[str, ...]:
    """Changes outside the layout after which something passes: a thicker board, another slope's wood, a finer knife."""
    found = []
    spec = joint.spec
    for name, key in ((spec.tails.board.name, "tails"), (spec.pins.board.name, "pins")):
        for extra_mm in (2.0, 4.0, 6.0, 10.0):
            end = getattr(spec, key)
            thicker = replace(end, board=replace(end.board, thickness_mm=end.board.thickness_mm + extra_mm))
            try:
                varied = joint.varied(**{key: thicker})
            except LayoutError:
                continue
            if _any_passes(varied, shop, unit):
                found.append(f"{name} {format_both(end.board.thickness_mm + extra_mm, unit=unit)} thick")
                break
    for key in ("tails", "pins"):
        end = getattr(spec, key)
        if end.board.runout_ratio is not None:
            straight = replace(end, board=replace(end.board, runout_ratio=None))
            if _any_passes(joint.varied(**{key: straight}), shop, unit):
                found.append(f"{end.board.name} with straight grain")
    found.extend(f"{finding.check}: {finding.fix}" for finding in findings if finding.fix)
    return tuple(dict.fromkeys(found))


def _any_passes(joint: CornerJoint, shop: Shop, unit: Unit) -> bool:
    choices = tuple(_choices(joint, unit))
    spread = choices[:: math.ceil(len(choices) / MOST_TRIED_ON_CHANGES) or 1]
    grid = (made[2] for layout in spread if (made := _built(joint, layout)) is not None)
    clean = (one for one in grid if measures_clean(one, shop))
    return any(not any(_against([candidate], shop)) for candidate in itertools.islice(clean, MOST_CHECKED // 10))


def _length(value_mm: float, unit: Unit) -> str:
    return format_inches(value_mm) if unit is Unit.IN else f"{round(value_mm, 3):g} mm"


def job_keys(layout: Layout, unit: Unit = Unit.MM) -> dict[str, object]:
    """The layout as keys of a job's corner (those of a drawer's back have a prefix); the slope only where it is open."""
    spec = layout.joint.spec
    fields: dict[str, object] = {
        "tail_count": len(layout.joint.tails),
        "pin_mm": _length(layout.pin_mm, unit),
        "half_pin_mm": _length(layout.half_pin_mm, unit),
    }
    if layout.slope_is_ours:
        fields["slope"] = job_value("slope", layout.joint.slope)
    return {key_of(spec, field): value for field, value in fields.items() if field not in layout.joint.settles}


def describe(layout: Layout, unit: Unit = Unit.MM) -> str:
    """The layout in a line."""
    if "pin_mm" in layout.joint.settles:
        joint = layout.joint
        widths = " and ".join(dict.fromkeys(_length(tail.width_mm, unit) for tail in joint.tails))
        return f"{len(joint.tails)} and {len(joint.pins)} {joint.tail}s of {widths}, {joint.slope.words}"
    return (
        f"{len(layout.joint.tails)} tails, pin {_length(layout.pin_mm, unit)}, "
        f"half pin {_length(layout.half_pin_mm, unit)}, {layout.joint.slope.words}"
    )
