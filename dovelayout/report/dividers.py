"""Dividers in the commands: their JSON, and their table for people."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from dovelayout.casework.divider import Divider, setting_out
from dovelayout.checks.finding import Finding
from dovelayout.checks.sliding.router import first_pass
from dovelayout.joints.sliding import SlidingJoint
from dovelayout.joints.spacing import Span
from dovelayout.report.findings import findings_json
from dovelayout.report.numbers import lengths, mm
from dovelayout.units import Unit, format_both, format_slope


def _span(span: Span) -> dict[str, float]:
    return lengths(span, ("start_mm", "end_mm"))


def divider_json(divider: Divider, findings: Sequence[Finding]) -> dict[str, Any]:
    """One of `dividers` in `check --json`. Spans run from the end of the host that the divider is measured from."""
    joint = divider.joint
    return {
        "name": divider.name,
        "joint": "sliding",
        "key_board": joint.key.name,
        **lengths(joint, ("depth_mm", "tongue_mm", "length_mm")),
        "stop_mm": mm(joint.front_mm),
        **lengths(joint, ("notch_mm",)),
        **lengths(divider, ("rear_gap_mm", "glue_zone_mm")),
        "slope": {"ratio": round(joint.slope.ratio, 4), "degrees": round(joint.slope.degrees, 2)},
        "sloped": joint.spec.sloped.value,
        "taper": None
        if joint.spec.taper_ratio is None
        else {"ratio": joint.spec.taper_ratio, "on": joint.taper_on.value},
        "router": _router_json(joint),
        "housings": [_housing_json(one) for one in divider.joints],
        "findings": findings_json(findings),
    }


def _housing_json(joint: SlidingJoint) -> dict[str, Any]:
    """The housing and the tongue at the key's rear and where the tongue begins."""
    stations = {"rear": joint.rear_mm, "front": joint.front_mm}
    return {
        "host": joint.spec.host.label,
        "key_end": joint.spec.key.label,
        **{
            name: {
                "neck": _span(joint.neck_at(station)),
                "floor": _span(joint.floor_at(station)),
                "tongue_root": _span(joint.tongue_at(station, 0.0)),
                "tongue_end": _span(joint.tongue_at(station, joint.tongue_mm)),
            }
            for name, station in stations.items()
        },
        "setting_out": [{"what": row.what, **lengths(row, ("value_mm",))} for row in setting_out(joint)],
    }


def _router_json(joint: SlidingJoint) -> dict[str, Any] | None:
    bit = joint.spec.bit
    if bit is None:
        return None
    plough = first_pass(bit, joint.depth_mm)
    return {
        **lengths(bit, ("diameter_mm",)),
        "degrees": round(bit.slope.degrees, 2),
        "neck_mm": mm(bit.neck_mm(joint.depth_mm)),
        "first_pass": None if plough is None else lengths(plough, ("wide_mm", "deep_mm")),
    }


COLUMNS = ("", "slides into", "at", "housing", "tongue", "bevel", "taper")


def divider_rows(dividers: Sequence[Divider], unit: Unit) -> list[tuple[str, ...]]:
    """A row for each divider, under `COLUMNS`."""

    def cells(divider: Divider) -> tuple[str, ...]:
        joint, ratio = divider.joint, divider.joint.spec.taper_ratio
        return (
            divider.name,
            " and ".join(one.spec.host.label for one in divider.joints),
            format_both(joint.spec.at_mm, unit=unit),
            f"{format_both(joint.depth_mm, unit=unit)} deep",
            f"{format_both(joint.length_mm, unit=unit)} long",
            format_slope(joint.slope.ratio),
            "none" if ratio is None else f"1:{ratio:g}, {joint.taper_on.value}",
        )

    return [cells(divider) for divider in dividers]
