"""Figures in what is said of symptoms: taken from the program's own models, and said in mm and inches, or °C and °F.

A text holds `{leave}` for a figure by its name, and `{0.1 to 0.2 mm}` or `{35 to 40 °C}` for lengths and temperatures that
are said in both systems.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache

from dovelayout.casework.drawer.choices import Fit
from dovelayout.casework.drawer.measures import BACK_GAP_MM, BOTTOM_PLAY_MM, OVERHANG_MM
from dovelayout.casework.drawer.spec import FITS, SHAVING_MM
from dovelayout.checks.corner.laps import LAP
from dovelayout.checks.corner.stock import OUT_OF_SQUARE
from dovelayout.checks.drawers import RACK
from dovelayout.checks.movement.across import MARGIN_MM
from dovelayout.checks.movement.panels import NARROW_MM
from dovelayout.checks.sliding.housing import FRONT_ONLY_MM, LONG, USUAL_TAPER
from dovelayout.everyday import PAPER_MM
from dovelayout.everyday import SHAVING_MM as FINE_SHAVING_MM
from dovelayout.glueup.squareness import CARCASE_MM, SMALL_MM
from dovelayout.glueup.timing import CLAMP_PITCH_MM, HALVING_C, TABLE_C
from dovelayout.joints.sliding import SLIP_MM
from dovelayout.repair.advice import FINE_MM
from dovelayout.repair.cracked import CLOSED_MM
from dovelayout.repair.gap import DUST_MM, LEAVE_MM, ONE_KERF_MM, PATCH_MM, SLIVER_MM, STEEPEST_USUAL, WEDGE_RATIO
from dovelayout.repair.seized import TRIM_MM
from dovelayout.units import format_inches
from dovelayout.wood.glue import Glue, find_glue
from dovelayout.wood.moisture import Direction, emc_pct, size_change_share
from dovelayout.wood.species import find_wood

_PLACE = re.compile(r"\{([^{}]+)\}")
_QUANTITY = re.compile(r"(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? (mm|°C)")


def filled(text: str) -> str:
    """A text with its figures filled in. Raises KeyError for a figure that there isn't."""
    return _PLACE.sub(lambda found: _figure_words(found[1]), text)


def _figure_words(what: str) -> str:
    quantity = _QUANTITY.fullmatch(what)
    if quantity is None:
        return figures()[what]
    low, high, unit = quantity.groups()
    values = [float(low)] if high is None else [float(low), float(high)]
    return lengths(*values) if unit == "mm" else temperatures(*values)


def lengths(*values_mm: float) -> str:
    """One length, or from one to another, in both systems: '0.1 to 0.2 mm (0.004 to 0.008 in)'."""
    shown = " to ".join(f"{value:.2f}".rstrip("0").rstrip(".") for value in values_mm)
    if max(values_mm) < FINE_MM:
        return f"{shown} mm ({' to '.join(f'{value / 25.4:.3f}' for value in values_mm)} in)"
    inches = " to ".join(
        format_inches(value, denominator=32).removeprefix("≈ ").removesuffix(" in") for value in values_mm
    )
    return f"{shown} mm (≈ {inches} in)"


def temperatures(*values_c: float) -> str:
    """One temperature, or from one to another, in both systems: '21 °C (70 °F)'."""
    fahrenheit = " to ".join(f"{value * 1.8 + 32:.0f}" for value in values_c)
    return f"{' to '.join(f'{value:g}' for value in values_c)} °C ({fahrenheit} °F)"


def _minutes(glue: Glue) -> str:
    low, high = glue.open_minutes
    return f"{low:g} to {high:g} minutes"


def _moves_mm(
    wood: str, size_mm: float, directions: tuple[Direction, ...], air_pct: tuple[float, float]
) -> list[float]:
    """How far a size of that wood moves from one relative humidity to another, mm, smallest first."""
    start, end = (emc_pct(air) for air in air_pct)
    shares = [size_change_share(find_wood(wood), one, from_mc_pct=start, to_mc_pct=end) for one in directions]
    return sorted(abs(share) * size_mm for share in shares if share is not None)


def _step() -> list[float]:
    return _moves_mm("cherry", 19.0, (Direction.RADIAL, Direction.TANGENTIAL), (65, 25))


def _wide(what: str, wood: str, width_mm: float, air_pct: tuple[float, float]) -> str:
    (moves_mm,) = _moves_mm(wood, width_mm, (Direction.TANGENTIAL,), air_pct)
    verb = "loses" if air_pct[1] < air_pct[0] else "grows"
    return (
        f"{what} of flat-sawn {wood} {width_mm:g} mm wide {verb} {lengths(round(moves_mm, 1))} from {air_pct[0]:g} to "
        f"{air_pct[1]:g} % relative humidity"
    )


@cache
def figures() -> Mapping[str, str]:
    """Every figure by its name, in words."""
    step_mm = [round(value, 2) for value in _step()]
    cheek_mm = round(_step()[-1] / STEEPEST_USUAL.ratio, 2)
    (maple_mm,) = _moves_mm("hard maple", 100.0, (Direction.TANGENTIAL,), (40, 70))
    known_mm: dict[str, float | None] = {
        "leave": LEAVE_MM,
        "dust": DUST_MM,
        "sliver": SLIVER_MM,
        "patch": PATCH_MM,
        "crack_closed": CLOSED_MM,
        "trim": TRIM_MM,
        "tongue_slip": SLIP_MM,
        "glue_front": FRONT_ONLY_MM,
        "slide_warn": LONG.warn,
        "square_small": SMALL_MM,
        "square_case": CARCASE_MM,
        "square_warn": OUT_OF_SQUARE.warn,
        "square_stop": OUT_OF_SQUARE.stop,
        "clamp_pitch": CLAMP_PITCH_MM,
        "margin": MARGIN_MM,
        "narrow": NARROW_MM,
        "good_fit": FITS[Fit.GOOD].side_mm,
        "piston_fit": FITS[Fit.PISTON].side_mm,
        "shaving_over": SHAVING_MM,
        "behind": BACK_GAP_MM,
        "overhang": OVERHANG_MM,
        "bottom_play": BOTTOM_PLAY_MM,
        "lap_thin": LAP.warn,
        "epoxy_gap": find_glue("epoxy").gap_mm,
        "shaving": FINE_SHAVING_MM,
        "paper": PAPER_MM,
    }
    return {name: lengths(value) for name, value in known_mm.items() if value is not None} | {
        "kerfs": lengths(*ONE_KERF_MM),
        "wedge": f"1 in {WEDGE_RATIO:g}",
        "taper": f"1:{USUAL_TAPER:g}",
        "rack": f"{RACK.warn:g}",
        "table_c": temperatures(TABLE_C),
        "halving": f"{HALVING_C:g} °C ({HALVING_C * 1.8:g} °F)",
        "pva_floor": temperatures(find_glue("pva").floor_c),
        "yellow_floor": temperatures(find_glue("yellow pva").floor_c),
        "pva_open": _minutes(find_glue("pva")),
        "hide_open": _minutes(find_glue("hot hide")),
        "liquid_hide_open": _minutes(find_glue("liquid hide")),
        "cherry_step": f"{lengths(*step_mm)} on 19 mm cherry from 65 to 25 % relative humidity",
        "cherry_cheek": f"{lengths(cheek_mm)} at most",
        "maple_growth": (
            f"100 mm of flat-sawn hard maple grows {lengths(round(maple_mm, 1))} from 40 to 70 % relative humidity"
        ),
        "top_moves": _wide("A top", "red oak", 600, (60, 25)),
        "side_moves": _wide("A case side", "black walnut", 500, (65, 30)),
        "panel_moves": _wide("A panel", "black cherry", 300, (35, 70)),
    }
