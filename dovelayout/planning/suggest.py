"""Layouts that propose themselves: the whole grid of counts, pin widths and slopes is measured, what passes is ranked.

Every layout that is returned has been through the checks and carries neither a warning nor a stop. The ranking is
ours: a taste sets how wide the tails are to be against the pins, and a layout that uses its limits less, that suits
the shop's chisels and that keeps to round figures goes before one that doesn't.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from dovelayout.checks import check_joint, measure_joint
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.pins import CHECK_KNIFE
from dovelayout.checks.tools import clearings
from dovelayout.errors import LayoutError
from dovelayout.joints.corner import CornerJoint, tail_depth_mm
from dovelayout.joints.slope import Slope
from dovelayout.planning.taste import Taste
from dovelayout.shop import Shop
from dovelayout.units import format_slope

TAIL_TO_PIN: dict[Taste, float] = {Taste.FINE: 4.0, Taste.PLAIN: 2.0, Taste.STRONG: 1.2}
"""Width of a tail at its end over a pin's wide side (common practice, no source: about 2 in hand work, 1 for strength,
3 to 5 in fine work)."""

SLOPES = (5.0, 6.0, 7.0, 8.0, 9.0)
MOST_TAILS = 40
MOST_LAYOUTS = 5


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
) -> Suggestions:
    """The best layouts of a corner's boards for a taste: never one that the checks warn of.

    `siblings` are other corners that take the same layout (those of one box): it has to pass on them too. Looks at the
    layouts near the taste first and at all others only when none of those passes.
    """
    search = _Search(joint=joint, shop=shop, taste=taste, most=most, siblings=tuple(siblings))
    near = search.found(near_taste=True)
    return near if near.layouts else search.found(near_taste=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Search:
    joint: CornerJoint
    shop: Shop
    taste: Taste
    most: int
    siblings: tuple[CornerJoint, ...]

    def found(self, *, near_taste: bool) -> Suggestions:
        """Measures the grid, ranks what passes, and puts the best through the checks."""
        joint, shop = self.joint, self.shop
        tried = 0
        passing: list[Layout] = []
        nearest: tuple[float, CornerJoint] | None = None
        for pin_mm, half_pin_mm, candidate in _grid(joint, TAIL_TO_PIN[self.taste] if near_taste else None):
            tried += 1
            measures = measure_joint(candidate)
            worst = max(measure.rule.share_used(measure.value) for measure in measures)
            if nearest is None or worst < nearest[0]:
                nearest = (worst, candidate)
            if all(measure.clean for measure in measures):
                passing.append(_layout(candidate, pin_mm, half_pin_mm, shop, self.taste))
        passing.sort(key=lambda layout: (round(layout.score, 6), len(layout.joint.tails), layout.pin_mm))
        kept = tuple(self._varied(passing))
        if kept or near_taste:
            layouts = tuple(replace(layout, sensitivity=_sensitivity(layout)) for layout in kept)
            return Suggestions(corner=joint.name, layouts=layouts, tried=tried)
        stuck = passing[0].joint if passing else joint if nearest is None else nearest[1]
        corners = [stuck, *(varied for varied in self._alike(stuck) if varied is not None)]
        findings = [f for corner in corners for f in check_joint(corner, shop) if f.level.rank >= Level.WARN.rank]
        return Suggestions(
            corner=joint.name,
            layouts=(),
            tried=tried,
            blockers=tuple(dict.fromkeys(f"{f.check} ({f.level.value}): {f.message}" for f in findings)),
            remedies=_remedies(joint, shop, findings),
        )

    def _alike(self, chosen: CornerJoint) -> Iterator[CornerJoint | None]:
        """The siblings with the same layout; None for one on which it can't be."""
        spec = chosen.spec
        for sibling in self.siblings:
            try:
                yield sibling.varied(
                    tail_count=spec.tail_count,
                    pin_mm=spec.pin_mm,
                    half_pin_mm=spec.half_pin_mm,
                    slope=spec.slope,
                    tails_at=None,
                )
            except LayoutError:
                yield None

    def _varied(self, ranked: list[Layout]) -> Iterator[Layout]:
        """The best of the ranking that the checks themselves pass, no two of them near twins."""
        seen: list[Layout] = []
        for layout in ranked:
            if len(seen) >= self.most:
                return
            twin = any(
                len(other.joint.tails) == len(layout.joint.tails)
                and (abs(other.pin_mm - layout.pin_mm) < 1.5 or other.joint.slope == layout.joint.slope)
                for other in seen
            )
            if not twin and self._passes(layout.joint):
                seen.append(layout)
                yield layout

    def _passes(self, chosen: CornerJoint) -> bool:
        corners = [chosen, *self._alike(chosen)]
        return all(
            corner is not None
            and all(finding.level.rank < Level.WARN.rank for finding in check_joint(corner, self.shop))
            for corner in corners
        )


def _pins_mm(joint: CornerJoint) -> tuple[float, ...]:
    """Narrow widths worth trying: by halves from 1.5 to 8 mm, then by whole mm up to the thinner board's thickness."""
    thinner_mm = min(joint.tail_board.thickness_mm, joint.pin_board.thickness_mm)
    fine = [step / 2 for step in range(3, 17)]
    coarse = [float(step) for step in range(9, int(thinner_mm) + 1)]
    return tuple(pin_mm for pin_mm in (*fine, *coarse) if pin_mm <= max(3.0, thinner_mm))


def _grid(joint: CornerJoint, taste: float | None = None) -> Iterator[tuple[float, float, CornerJoint]]:
    """Every corner of the grid that can be built; with a taste (tail over pin), those within half of it either way."""
    room_mm = joint.covers.width_mm
    for ratio in dict.fromkeys((joint.slope.ratio, *SLOPES)):
        slope = Slope(ratio)
        flare_mm = slope.flare_mm(tail_depth_mm(joint.spec))
        for pin_mm in _pins_mm(joint):
            for half_pin_mm in dict.fromkeys((pin_mm, max(5.0, round(pin_mm * 2.5) / 2), max(7.0, pin_mm + 2))):
                for count in range(1, MOST_TAILS + 1):
                    tail_mm = (room_mm - 2 * half_pin_mm - (count - 1) * pin_mm) / count
                    if tail_mm <= 2 * flare_mm + 3:
                        break
                    if tail_mm > 90:
                        continue
                    if taste is not None and not 0.6 < tail_mm / (pin_mm + 2 * flare_mm) / taste < 1.5:
                        continue
                    try:
                        candidate = joint.varied(
                            tail_count=count,
                            pin_mm=pin_mm,
                            half_pin_mm=half_pin_mm,
                            slope=slope,
                            tails_at=None,
                        )
                    except LayoutError:
                        continue
                    yield pin_mm, half_pin_mm, candidate


def _layout(joint: CornerJoint, pin_mm: float, half_pin_mm: float, shop: Shop, taste: Taste) -> Layout:
    margins: dict[str, float] = {}
    for measure in measure_joint(joint):
        used = round(measure.rule.share_used(measure.value), 3)
        margins[measure.rule.check] = max(used, margins.get(measure.rule.check, 0.0))
    root_mm = pin_mm + 2 * joint.flare_mm
    tail_mm = sum(tail.width_mm for tail in joint.tails) / len(joint.tails)
    off_taste = abs(tail_mm / root_mm / TAIL_TO_PIN[taste] - 1)
    tight = max(margins.values())
    chisels = [row.chisel_mm for row in clearings(joint, shop)] if shop.chisels_mm else []
    no_chisel = sum(1 for chisel in chisels if chisel is None) + (
        1 if shop.chisels_mm and pin_mm < min(shop.chisels_mm) else 0
    )
    off_slope = 0.0 if joint.slope.ratio in (6.0, 7.0, 8.0) else 0.1
    off_half = abs(half_pin_mm - 1.25 * pin_mm) / (10 * pin_mm)
    uneven = 0.0 if pin_mm == int(pin_mm) else 0.03
    # a limit that is half used is comfortable; beyond that it counts more and more
    score = off_taste + max(0.0, tight - 0.5) + 0.3 * no_chisel + off_slope + off_half + uneven
    tightest = max(margins, key=lambda check: margins[check])
    reason = (
        f"tails {tail_mm / root_mm:.1f} times as wide as the pins' wide side ({taste.value}); tightest limit: {tightest}, "
        f"{margins[tightest]:.0%} used"
    )
    if shop.chisels_mm:
        reason += "; a chisel for every waste" if no_chisel == 0 else "; no chisel goes in at the pins' narrow side"
    return Layout(
        joint=joint,
        pin_mm=pin_mm,
        half_pin_mm=half_pin_mm,
        margins=margins,
        score=score,
        reason=reason,
    )


def _sensitivity(layout: Layout) -> str:
    """What one tail more and one tail fewer would do, with the tails kept as wide as they are."""
    joint = layout.joint
    said = []
    for step, word in ((-1, "fewer"), (1, "more")):
        count = len(joint.tails) + step
        if count < 2:
            continue
        tail_mm = sum(tail.width_mm for tail in joint.tails) / len(joint.tails)
        pin_mm = (joint.covers.width_mm - 2 * layout.half_pin_mm - count * tail_mm) / (count - 1)
        if pin_mm < 0.5:
            said.append(f"one tail {word}: no room for pins")
            continue
        try:
            other = joint.varied(tail_count=count, pin_mm=pin_mm, tails_at=None)
        except LayoutError:
            said.append(f"one tail {word}: it can't be")
            continue
        measures = measure_joint(other)
        tight = max(measures, key=lambda measure: measure.rule.share_used(measure.value))
        used = tight.rule.share_used(tight.value)
        said.append(f"one tail {word}: pins {pin_mm:.1f} mm, {tight.rule.check} {used:.0%} of its limit")
    return "; ".join(said)


def _remedies(joint: CornerJoint, shop: Shop, findings: list[Finding]) -> tuple[str, ...]:
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
            if _any_passes(varied, shop):
                found.append(f"{name} {end.board.thickness_mm + extra_mm:g} mm thick")
                break
    for key in ("tails", "pins"):
        end = getattr(spec, key)
        if end.board.runout_ratio is not None:
            straight = replace(end, board=replace(end.board, runout_ratio=None))
            if _any_passes(joint.varied(**{key: straight}), shop):
                found.append(f"{end.board.name} with straight grain")
    if any(finding.check == CHECK_KNIFE for finding in findings):
        found.append("a thinner knife")
    found.extend(f"{finding.check}: {finding.fix}" for finding in findings if finding.fix)
    return tuple(dict.fromkeys(found))


def _any_passes(joint: CornerJoint, shop: Shop) -> bool:
    for _, _, candidate in _grid(joint):
        if all(measure.clean for measure in measure_joint(candidate)) and all(
            finding.level.rank < Level.WARN.rank for finding in check_joint(candidate, shop)
        ):
            return True
    return False


def job_keys(layout: Layout) -> dict[str, object]:
    """The layout as keys of a job's corner."""
    return {
        "tail_count": len(layout.joint.tails),
        "pin": f"{layout.pin_mm:g} mm",
        "half_pin": f"{layout.half_pin_mm:g} mm",
        "slope": f"1:{layout.joint.slope.ratio:g}",
    }


def describe(layout: Layout) -> str:
    """The layout in a line."""
    return (
        f"{len(layout.joint.tails)} tails, pin {layout.pin_mm:g} mm, half pin {layout.half_pin_mm:g} mm, "
        f"slope {format_slope(layout.joint.slope.ratio)}"
    )
