"""`dovelayout slope 1:7`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from dovelayout.cli.command import Force, Printer, exit_on_stop, one_line_errors, option
from dovelayout.cli.console import console, put_findings, put_json, put_table, put_written, verdict
from dovelayout.place import Place

if TYPE_CHECKING:
    from dovelayout.joints.slope import Slope
    from dovelayout.render.files import MayReplace


@one_line_errors
def slope(
    slope: Annotated[str, typer.Argument(help="Such as 1:7 or '8 deg'.", show_default=False)],
    species: Annotated[str | None, option("--species", "The tail board's wood.")] = None,
    thickness: Annotated[str, option("--thickness", "The pin board's thickness.")] = "19 mm",
    runout: Annotated[str | None, option("--runout", "Grain run-out, such as 1:15.")] = None,
    gauge: Annotated[Path | None, option("--gauge", "Write a full-size gauge, .svg or .pdf.")] = None,
    saddle_over: Annotated[
        str | None, option("--saddle-over", "Thickness of the board the saddle folds over.", default="as --thickness")
    ] = None,
    paper: Annotated[str, option("--paper", "Paper of a gauge in PDF.")] = "A4",
    printer: Printer = None,
    force: Force = False,
    as_json: Annotated[bool, option("--json", "The verdict as JSON on standard output.")] = False,
) -> None:
    """Check a slope before sawing, and print a gauge for it. Exit 1 when the slope would very likely break."""
    from dovelayout.checks.corner.grain import fibre_angle_deg, slope_findings
    from dovelayout.checks.finding import Finding, Level, worst_first, worst_level
    from dovelayout.errors import UnitsError
    from dovelayout.joints.slope import Slope
    from dovelayout.render.files import MayReplace
    from dovelayout.report.findings import findings_json
    from dovelayout.units import Unit, format_both, format_slope, parse_length, parse_slope
    from dovelayout.wood.species import find_wood
    from dovelayout.wood.strength import bending_share, impact_share

    lean = Slope(parse_slope(slope))

    def thick_mm(text: str) -> float:
        got_mm = float(parse_length(text, unit=Unit.MM))
        if not 0.5 <= got_mm <= 300:
            raise UnitsError(f"thickness {text!r} is {got_mm:g} mm", remedy="0.5 to 300 mm would be right")
        return got_mm

    thickness_mm = thick_mm(thickness)
    over_mm = thickness_mm if saddle_over is None else thick_mm(saddle_over)
    runout_deg = 0.0 if runout is None else Slope(parse_slope(runout)).degrees
    wood = None if species is None else find_wood(species)
    angle_deg = fibre_angle_deg(lean, runout_deg)
    share, impact = bending_share(angle_deg), impact_share(angle_deg)
    findings: tuple[Finding, ...] = ()
    if wood is not None:
        findings = worst_first(slope_findings(lean, wood, runout_deg, Place(kind="slope", name=slope)))
    if wood is None:
        from dovelayout.checks.corner.grain import SHARE_LEFT

        level, limit = SHARE_LEFT.judge(share)
    else:
        level, limit = worst_level(findings), None
    if gauge is not None:
        stamp = "AGAINST A STOP: see the verdict" if level is Level.STOP else ""
        may_replace = MayReplace.if_forced(force=force)
        _write_gauge(
            gauge, lean, (thickness_mm, over_mm), paper=paper, stamp=stamp, printer=printer, may_replace=may_replace
        )

    if as_json:
        put_json(
            {
                "slope": {"ratio": round(lean.ratio, 4), "degrees": round(lean.degrees, 2)},
                "species": None if wood is None else wood.name,
                "thickness_mm": round(thickness_mm, 4),
                "flare_mm": round(lean.flare_mm(thickness_mm), 4),
                "fibre_angle_degrees": round(angle_deg, 2),
                "bending_share": round(share, 4),
                "impact_share": round(impact, 4),
                "worst": level.value,
                "findings": findings_json(findings),
                "gauge": None if gauge is None else str(gauge),
            }
        )
    else:
        out = console()
        strength = []
        if wood is not None and wood.mor_mpa is not None:
            strength = [
                ("bending strength left at a tail's corner", f"{wood.mor_mpa * share:.0f} of {wood.mor_mpa:g} MPa"),
                ("left against a chisel blow", f"{wood.mor_mpa * impact:.0f} MPa"),
            ]
        put_table(
            out,
            f"Slope {format_slope(lean.ratio)}" + ("" if wood is None else f" in {wood.name}"),
            ("", ""),
            (
                ("from square", f"{lean.degrees:.2f}°"),
                ("flare a side", f"{lean.flare_mm(thickness_mm):.2f} mm in {format_both(thickness_mm, unit=Unit.MM)}"),
                ("fibres leave the wood at", f"{angle_deg:.1f}°"),
                ("share of bending strength left", f"{share:.0%}"),
                ("share left against a blow", f"{impact:.0%}"),
                *strength,
            ),
        )
        put_findings(out, findings)
        if wood is None and limit is not None:
            out.print(f"{level.value.upper()}: under {limit:.0%} of the strength is left whatever the wood")
        if wood is None:
            out.print("Name the wood (--species) to have its own strength judged.")
        out.print(verdict(level))
        put_written(out, () if gauge is None else (gauge,))
    exit_on_stop(level)


def _write_gauge(
    path: Path,
    lean: Slope,
    boards_mm: tuple[float, float],
    *,
    paper: str,
    stamp: str,
    printer: str | None,
    may_replace: MayReplace,
) -> None:
    """Writes the gauge for boards of these thicknesses: the pin board, and the one that the saddle folds over."""
    from dovelayout.drawing.cards.gauge import gauge_sheet
    from dovelayout.drawing.correction import for_printer, room_for
    from dovelayout.drawing.sheets.frame import FREE_MARGIN_MM
    from dovelayout.drawing.style import Style
    from dovelayout.errors import PrintError
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import write_files
    from dovelayout.render.pdf import pdf_bytes
    from dovelayout.render.svg import svg_text
    from dovelayout.report.listing import corrections_for

    style = Style(job="slope gauge", stamp=stamp)
    thickness_mm, over_mm = boards_mm
    match path.suffix.lower():
        case ".svg":
            sheet = gauge_sheet(lean, thickness_mm, style, saddle_mm=over_mm)
            corrected = for_printer(sheet, corrections_for(printer).free_standing, margin_mm=FREE_MARGIN_MM)
            data = svg_text(corrected).encode("utf-8")
        case ".pdf":
            correction = corrections_for(printer).on_paper
            on = room_for(correction, paper_named(paper))
            sheet = gauge_sheet(lean, thickness_mm, style, saddle_mm=over_mm, on=on)
            data = pdf_bytes([for_printer(sheet, correction, margin_mm=on.margin_mm)], title=sheet.title)
        case _:
            raise PrintError(f"{path}: a gauge is written as .svg or .pdf", remedy="give the file one of these endings")
    write_files({path: data}, may_replace=may_replace)
