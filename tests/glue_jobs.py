"""Jobs to glue up: a box of four corners, everything else as the test says; and findings applied to them."""

from __future__ import annotations

import copy
from collections.abc import Iterable, Mapping
from typing import Any

from hypothesis import strategies as st

from dovelayout.change import Change
from dovelayout.checks.finding import Finding, Level, worst_level
from dovelayout.glueup.plan import GlueUp, plan_glue_up
from tests.jobs import loaded


def glue_box(
    *,
    tail_count: int = 4,
    width: float = 160,
    thickness: float = 19,
    length: float = 500,
    across: float = 400,
    tails: str = "side",
    shop: Mapping[str, Any] | None = None,
    box: Mapping[str, Any] | None = None,
    **tables: Any,
) -> dict[str, Any]:
    """The tables of a box 'case' of two equal sides and two equal ends, in cherry; corners A and D are at its left side,
    B and C at its right."""
    pins = "end" if tails == "side" else "side"

    def board(name: str, long: float) -> dict[str, Any]:
        return {
            "name": name,
            "species": "black cherry",
            "length": long,
            "width": width,
            "thickness": thickness,
            "count": 2,
        }

    return {
        "title": "test",
        "shop": {"glue": "pva", "temperature": 21, **(shop or {})},
        "board": [board("side", length), board("end", across), *tables.pop("board", [])],
        "box": [
            {
                "name": "case",
                "tails": tails,
                "pins": pins,
                "tail_count": tail_count,
                "pin": 6,
                "half_pin": 8,
                "slope": "1:7",
                **(box or {}),
            }
        ],
        **tables,
    }


def shelf_between(host: str) -> dict[str, Any]:
    """Tables of a shelf on sliding dovetails between both boards of that name."""
    return {
        "board": [{"name": "shelf", "species": "black cherry", "length": 400, "width": 150, "thickness": 16}],
        "divider": [
            {"name": "shelf", "host": [f"{host}.left", f"{host}.right"], "key": "shelf", "at": 150, "depth": 6}
        ],
    }


def planned(tables: Mapping[str, Any]) -> GlueUp:
    """The glue-up of these tables."""
    job = loaded(tables)
    return plan_glue_up(joints=job.joints, dividers=job.dividers, spec=job.glueup, shop=job.shop)


def glue_findings(tables: Mapping[str, Any], check: str | None = None) -> tuple[Finding, ...]:
    """The findings of a glue-up, or those of one check."""
    return tuple(finding for finding in planned(tables).findings if check is None or finding.check == check)


def loudness(tables: Mapping[str, Any], check: str | None = None) -> Level:
    """The worst level of a glue-up, or of one check."""
    return worst_level(glue_findings(tables, check))


def with_changes(tables: Mapping[str, Any], changes: Iterable[Change]) -> dict[str, Any]:
    """The job with the changes of a finding written into it; a row that isn't there yet is added, and [shop] and
    [glueup] are tables of their own."""
    job = copy.deepcopy(dict(tables))
    for change in changes:
        if change.table in ("shop", "glueup"):
            job.setdefault(change.table, {})[change.key] = change.value
            continue
        rows = job.setdefault(change.table, [])
        row = next((row for row in rows if row["name"] == change.name), None)
        if row is None:
            row = {"name": change.name}
            rows.append(row)
        row[change.key] = change.value
    return job


@st.composite
def glue_jobs(draw: st.DrawFn) -> dict[str, Any]:
    """Boxes with captured parts, a shelf on either pair of boards, any glue, hands and temperature."""
    corners = "ABCD"
    held = st.one_of(st.just("case"), st.lists(st.sampled_from(corners), min_size=1, max_size=4, unique=True))
    captured = [
        {
            "name": name,
            "in": draw(held),
            "finish_first": draw(st.booleans()),
            "reach": draw(st.sampled_from(["open", "inside"])),
            "left_long": draw(st.booleans()),
            "faces": draw(st.integers(0, 8)),
        }
        for name in draw(st.lists(st.sampled_from(["rail", "panel", "bottom"]), max_size=3, unique=True))
    ]
    tables: dict[str, Any] = {"captured": captured}
    if draw(st.booleans()):
        tables |= shelf_between(draw(st.sampled_from(["side", "end"])))
    stages = draw(st.sampled_from([[], [["A", "D"]], [["A", "D"], ["B", "C"]], [["A"], ["C"]], [["B", "C"]]]))
    tables["stage"] = [{"name": f"go {n}", "joins": joins} for n, joins in enumerate(stages, 1)]
    return glue_box(
        tail_count=draw(st.integers(2, 7)),
        width=draw(st.sampled_from([160, 240])),
        tails=draw(st.sampled_from(["side", "end"])),
        shop={
            "glue": draw(st.sampled_from(["pva", "yellow pva", "hot hide", "liquid hide", "epoxy", "polyurethane"])),
            "temperature": draw(st.integers(2, 34)),
            "hands": draw(st.integers(1, 3)),
        },
        box={"proud": draw(st.sampled_from([0, 0.4, -0.2]))},
        glueup={"seconds_a_face": draw(st.integers(2, 15))},
        **tables,
    )
