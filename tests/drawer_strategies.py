"""Strategies for drawers: openings, woods and years as they come, within what makes a drawer at all."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

TABLE_13_5 = {
    "hard maple": (0.00353, 0.00165),
    "northern red oak": (0.00369, 0.00158),
    "white oak": (0.00365, 0.00180),
    "black cherry": (0.00248, 0.00126),
    "black walnut": (0.00274, 0.00190),
    "yellow poplar": (0.00289, 0.00158),
    "eastern white pine": (0.00212, 0.00071),
}
"""Coefficients of dimensional change, tangential and radial, per percent (Wood Handbook FPL-GTR-190, Table 13-5)."""

TABLE_4_2_70_F = {30: 6.2, 35: 6.9, 40: 7.7, 45: 8.4, 50: 9.2, 55: 10.1, 60: 11.0, 65: 12.0, 70: 13.1}
"""Equilibrium moisture content at 70 F by relative humidity (Wood Handbook FPL-GTR-190, Table 4-2)."""

FITS = {"piston": (0.10, 0.3), "good": (0.25, 0.5), "workaday": (0.60, 1.0)}
"""What each fit promises in the dampest month: at each side, and above (TRADE: common practice; above: ours)."""


def tenths(low: int, high: int) -> st.SearchStrategy[float]:
    """A length in tenths of a mm."""
    return st.integers(low * 10, high * 10).map(lambda n: n / 10)


@st.composite
def drawer_tables(draw: st.DrawFn, *, styles: tuple[str, ...] = ("inset", "lipped")) -> dict[str, Any]:
    """The tables of a job with one drawer and a year; nothing in it is decided but what has to be."""
    woods = st.sampled_from(tuple(TABLE_13_5))
    rings = st.sampled_from(("flat", "quarter"))
    air = draw(st.lists(st.sampled_from(tuple(TABLE_4_2_70_F)), min_size=3, max_size=3).map(sorted))
    side_mm = draw(st.sampled_from((8.0, 9.5, 12.0, 15.0, 19.0)))
    drawer = {
        "name": "d",
        "width": draw(tenths(150, 900)),
        "height": draw(tenths(50, 300)),
        "depth": draw(tenths(200, 600)),
        "front": draw(st.sampled_from(styles)),
        "fit": draw(st.sampled_from(tuple(FITS))),
        "species": draw(woods),
        "front_species": draw(woods),
        "case_species": draw(woods),
        "front_rings": draw(rings),
        "side_rings": draw(rings),
        "bottom_rings": draw(rings),
        "case_rings": draw(rings),
        "bottom": draw(st.sampled_from(("solid", "plywood"))),
        "front_thickness": draw(st.sampled_from((16.0, 19.0, 20.0, 22.0))),
        "side_thickness": side_mm,
        "back_thickness": draw(st.sampled_from((8.0, 10.0, 12.0))),
        "runner": draw(st.sampled_from((0.0, 0.3, 1.0))),
        "muntin": draw(st.booleans()),
    }
    if drawer["width"] < 250:
        drawer["muntin"] = False
    return {
        "title": "random",
        "shop": {"humidity": [air[0], air[2]], "built_at": air[1], "temperature": "70 F"},
        "drawer": [drawer],
    }
