"""What the bench sheet says about dividers: setting-out distances, numbers for hand and router, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.divider import Divider, setting_out
from dovelayout.checks.sliding.router import first_pass_words
from dovelayout.drawing.bench.sheet import Figures, Number, figure, titled
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.texts import Texts
from dovelayout.units import Unit, format_both, format_slope
from dovelayout.words import grouped

TEXTS = Texts("drawing", "bench")


def divider_figures(dividers: Sequence[Divider], unit: Unit) -> tuple[Figures, ...]:
    """Key figures of all dividers; those whose figures are all the same share one part of the sheet."""
    same = grouped((_figures(divider, unit), divider.name) for divider in dividers)
    return tuple(titled("Divider", names, figures, unit) for figures, names in same.items())


def _figures(divider: Divider, unit: Unit) -> Figures:
    """One divider's figures, without its name; ends whose numbers are the same share a grid."""
    labels = [end.spec.host.label for end in divider.joints]
    grids = grouped((_setting_out(end, unit), label) for end, label in zip(divider.joints, labels, strict=True))
    ends = "; then ".join(" and ".join(same) for same in grids.values())
    about = TEXTS("divider.about", key=divider.joint.key.name, hosts=" and ".join(labels))
    if len(grids) > 1:
        about += " " + TEXTS("divider.order", ends=ends)
    return Figures(title="", about=(about,), grids=tuple(grids), lines=tuple(_lines(divider, unit)))


def _setting_out(joint: SlidingJoint, unit: Unit) -> tuple[tuple[str, Number], ...]:
    return tuple((row.what, figure(row.value_mm, unit)) for row in setting_out(joint, "host's end"))


def _lines(divider: Divider, unit: Unit) -> Iterator[str]:
    joint, spec = divider.joint, divider.joint.spec
    cheeks = TEXTS(f"divider.cheeks_{'both' if spec.sloped == 'both' else 'one'}", cheek=spec.sloped.value)
    taper = TEXTS("divider.parallel")
    if spec.taper_ratio is not None:
        values = {"ratio": spec.taper_ratio, "taper_mm": joint.taper_mm(joint.front_mm), "length_mm": joint.length_mm}
        taper = TEXTS("divider.taper", cheek=joint.taper_on.value, **values)
    yield TEXTS("divider.bevel", bevel=format_slope(joint.slope.ratio), cheeks=cheeks, taper=taper)
    if spec.glue_zone_mm is not None:
        yield TEXTS("divider.glue", zone=format_both(divider.glue_zone_mm, unit=unit))
    yield from TEXTS.rows("divider.hand")
    if spec.bit is not None:
        diameter, first_pass = format_both(spec.bit.diameter_mm, unit=unit), first_pass_words(spec.bit, joint.depth_mm)
        values = {"angle_deg": spec.bit.slope.degrees, "neck_mm": spec.bit.neck_mm(joint.depth_mm)}
        yield TEXTS("divider.bit", diameter=diameter, first_pass=first_pass, **values)
        yield from TEXTS.rows("divider.router")
