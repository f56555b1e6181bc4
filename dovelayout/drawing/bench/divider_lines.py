"""What the bench sheet says about dividers: setting-out distances, numbers for hand and router, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dovelayout.casework.divider import Divider, setting_out
from dovelayout.checks.sliding.router import first_pass_words
from dovelayout.drawing.bench.sheet import Figures, figure, titled
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
    grids = grouped(
        (
            tuple(
                (row.what.replace(f"end of {end.spec.host.label}", "host's end"), figure(row.value_mm, unit))
                for row in setting_out(end)
            ),
            end.spec.host.label,
        )
        for end in divider.joints
    )
    ends = "; then ".join(" and ".join(labels) for labels in grids.values())
    about = sentence(
        "bench.divider.about",
        key=divider.joint.key.name,
        hosts=" and ".join(end.spec.host.label for end in divider.joints),
        order=sentence("bench.divider.order", ends=ends) if len(grids) > 1 else "",
    )
    return Figures(title="", about=(about,), grids=tuple(grids), lines=tuple(_lines(divider, unit)))


def _lines(divider: Divider, unit: Unit) -> Iterator[str]:
    joint, spec = divider.joint, divider.joint.spec
    both = spec.sloped == "both"
    yield sentence(
        "bench.divider.bevel",
        bevel=format_slope(joint.slope.ratio),
        cheeks=sentence(f"bench.divider.cheeks_{'both' if both else 'one'}", cheek=spec.sloped.value),
        taper=_taper(joint),
    )
    if spec.glue_zone_mm is not None:
        yield sentence("bench.divider.glue", zone=format_both(divider.glue_zone_mm, unit=unit))
    yield from sentences("bench.divider.hand")
    if spec.bit is not None:
        yield sentence(
            "bench.divider.bit",
            diameter=format_both(spec.bit.diameter_mm, unit=unit),
            degrees=spec.bit.slope.degrees,
            neck=spec.bit.neck_mm(joint.depth_mm),
            first_pass=first_pass_words(spec.bit, joint.depth_mm),
        )
        yield from sentences("bench.divider.router")


def _taper(joint: SlidingJoint) -> str:
    ratio = joint.spec.taper_ratio
    if ratio is None:
        return sentence("bench.divider.parallel")
    taper_mm, cheek = joint.taper_mm(joint.front_mm), joint.taper_on.value
    return sentence("bench.divider.taper", cheek=cheek, ratio=ratio, taper=taper_mm, long=joint.length_mm)
