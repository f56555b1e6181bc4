"""What the bench sheet says about dividers: setting-out distances, numbers for hand and router, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.divider import Divider, setting_out
from dovelayout.checks.sliding.router import first_pass_words
from dovelayout.drawing.bench.sheet import Figures, Number, figure, titled
from dovelayout.drawing.prose import sentence, sentences
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.units import Unit, format_both, format_slope
from dovelayout.words import grouped


def divider_figures(dividers: Sequence[Divider], unit: Unit) -> tuple[Figures, ...]:
    """Key figures of all dividers; those whose figures are all the same share one part of the sheet."""
    same = grouped((_figures(divider, unit), divider.name) for divider in dividers)
    return tuple(titled("Divider", names, figures, unit) for figures, names in same.items())


def _figures(divider: Divider, unit: Unit) -> Figures:
    """One divider's figures, without its name; ends whose numbers are the same share a grid."""
    labels = [end.spec.host.label for end in divider.joints]
    grids = grouped((_setting_out(end, unit), label) for end, label in zip(divider.joints, labels, strict=True))
    ends = "; then ".join(" and ".join(same) for same in grids.values())
    order = sentence("bench.divider.order", ends=ends) if len(grids) > 1 else ""
    about = sentence("bench.divider.about", joint=divider.joint, hosts=" and ".join(labels), order=order)
    return Figures(title="", about=(about,), grids=tuple(grids), lines=tuple(_lines(divider, unit)))


def _setting_out(joint: SlidingJoint, unit: Unit) -> tuple[tuple[str, Number], ...]:
    host = f"end of {joint.spec.host.label}"
    return tuple((row.what.replace(host, "host's end"), figure(row.value_mm, unit)) for row in setting_out(joint))


def _lines(divider: Divider, unit: Unit) -> Iterator[str]:
    joint, spec = divider.joint, divider.joint.spec
    cheeks = sentence(f"bench.divider.cheeks_{'both' if spec.sloped == 'both' else 'one'}", joint=joint)
    tapers = "parallel" if spec.taper_ratio is None else "taper"
    taper = sentence(f"bench.divider.{tapers}", joint=joint, taper_mm=joint.taper_mm(joint.front_mm))
    yield sentence("bench.divider.bevel", bevel=format_slope(joint.slope.ratio), cheeks=cheeks, taper=taper)
    if spec.glue_zone_mm is not None:
        yield sentence("bench.divider.glue", zone=format_both(divider.glue_zone_mm, unit=unit))
    yield from sentences("bench.divider.hand")
    if spec.bit is not None:
        diameter, first_pass = format_both(spec.bit.diameter_mm, unit=unit), first_pass_words(spec.bit, joint.depth_mm)
        values = {"bit": spec.bit, "diameter": diameter, "neck_mm": spec.bit.neck_mm(joint.depth_mm)}
        yield sentence("bench.divider.bit", first_pass=first_pass, **values)
        yield from sentences("bench.divider.router")
