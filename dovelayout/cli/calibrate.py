"""`dovelayout calibrate`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from dovelayout.cli.command import Force, one_line_errors, option
from dovelayout.cli.console import clean, console, put_findings, put_json, put_table, put_written

if TYPE_CHECKING:
    from rich.console import Console

    from dovelayout.checks.finding import Finding
    from dovelayout.printer.reading import Calibration
    from dovelayout.printer.store import Printers
    from dovelayout.render.files import MayReplace

DEFAULT_SHEET = Path("templates_out") / "calibration.pdf"
USUAL_BAR = "150"


@one_line_errors
def calibrate(
    out: Annotated[Path | None, option("-o, --out", "The sheet to write, .pdf.", default=str(DEFAULT_SHEET))] = None,
    paper: Annotated[
        str | None, option("--paper", "Paper of the sheet, or the one it was printed on.", default="A4")
    ] = None,
    measured_x: Annotated[str | None, option("--measured-x", "What the bar across measures on paper, mm.")] = None,
    measured_y: Annotated[str | None, option("--measured-y", "What the bar up measures on paper, mm.")] = None,
    bar: Annotated[str, option("--bar", "Length of the bars that were measured: 100, 150 or 250.")] = USUAL_BAR,
    bar_y: Annotated[
        str | None, option("--bar-y", "Length of the bar up, if it was another.", default="as --bar")
    ] = None,
    printer: Annotated[str | None, option("--printer", "Keep the readings under this name.")] = None,
    anyway: Annotated[
        bool, option("--anyway", "Keep readings that look like 'fit to page', if it can't be switched off.")
    ] = False,
    use: Annotated[str | None, option("--use", "Correct for this printer from now on; 'none': for no printer.")] = None,
    remove: Annotated[str | None, option("--remove", "Forget this printer.")] = None,
    show: Annotated[bool, option("--show", "List the printers that are kept.")] = False,
    force: Force = False,
    as_json: Annotated[bool, option("--json", "The outcome as JSON on standard output.")] = False,
) -> None:
    """Print bars to measure, and keep what a printer makes of them. Templates are then drawn corrected for it.

    Without readings it writes the sheet with the bars. Exit 1 when 'fit to page' was on; nothing is kept
    then unless --anyway says so.
    """
    from dovelayout.checks.finding import Level, worst_level
    from dovelayout.errors import PrintError
    from dovelayout.printer.reading import reading_findings
    from dovelayout.printer.store import keep_printer, printers_path, read_printers, remove_printer, use_printer
    from dovelayout.render.files import MayReplace
    from dovelayout.report.findings import findings_json

    path = printers_path()
    screen = console(to_stderr=as_json)
    is_measured = measured_x is not None or measured_y is not None
    tasks = {
        "--measured-x and --measured-y": is_measured,
        "--use": use is not None,
        "--remove": remove is not None,
        "--show": show,
        "-o": out is not None,
    }
    given = [name for name, is_given in tasks.items() if is_given]
    if len(given) > 1:
        raise PrintError(f"calibrate does one thing at a time: {' or '.join(given)}, not both")
    if printer is not None and not is_measured:
        problem = "--printer keeps readings: give --measured-x and --measured-y as well"
        raise PrintError(problem, remedy="--use NAME chooses a printer")

    result: dict[str, Any] = {"sheet": None, "reading": None, "findings": [], "worst": "ok"}
    stopped = False
    if is_measured:
        measured = (measured_x, measured_y)
        calibration = _calibration(measured, bars=(bar, bar_y or bar), printer=printer, paper=paper)
        findings = reading_findings(calibration)
        worst = worst_level(findings)
        stopped = worst is Level.STOP
        kept = printer is not None and (anyway or not stopped)
        if kept:
            keep_printer(path, calibration)
        read = {"reading": printer_json(calibration), "findings": findings_json(findings), "worst": worst.value}
        result |= read
        _show_reading(screen, calibration, findings, kept=kept, stopped=stopped)
    elif use is not None:
        chosen = use_printer(path, None if use.strip().casefold() == "none" else use)
        screen.print(
            "No printer is corrected for unless draw --printer asks for it."
            if chosen is None
            else f"PDF sheets are corrected for {clean(chosen.name)} from now on; draw --printer none does without."
        )
    elif remove is not None:
        screen.print(f"removed {clean(remove_printer(path, remove).name)}")
    elif not show:
        sheet_path = out or DEFAULT_SHEET
        _write_sheet(sheet_path, paper or "A4", MayReplace.if_forced(force=force))
        result["sheet"] = str(sheet_path)
        put_written(screen, (sheet_path,))
        screen.print("Print it at 100 %, actual size; it says how to measure and what to type.")
    known = read_printers(path)
    if show and not as_json:
        _show_printers(screen, known, path)
    if as_json:
        rows = [printer_json(row) for row in known.printers]
        put_json({**result, "printers": rows, "default": known.default, "file": str(path)})
    if stopped:
        raise typer.Exit(1)


def _calibration(
    measured: tuple[str | None, str | None], *, bars: tuple[str, str], printer: str | None, paper: str | None
) -> Calibration:
    """The readings as typed, across and up. Raises PrintError unless both are given, or for an impossible one."""
    from dovelayout.errors import PrintError
    from dovelayout.paper import paper as paper_named
    from dovelayout.printer.reading import Calibration, PaperAxis, printer_name, reading

    across, up = measured
    if across is None or up is None:
        missing = "--measured-x" if across is None else "--measured-y"
        raise PrintError(
            f"{missing} is missing: a printer is seldom off alike both ways, so measure the bar across and the bar up"
        )
    return Calibration(
        name="" if printer is None else printer_name(printer),
        across=reading(PaperAxis.ACROSS, bar_mm=_mm(bars[0]), measured_mm=_mm(across)),
        up=reading(PaperAxis.UP, bar_mm=_mm(bars[1]), measured_mm=_mm(up)),
        paper="" if paper is None else paper_named(paper).name,
    )


def _show_reading(
    screen: Console, calibration: Calibration, findings: tuple[Finding, ...], *, kept: bool, stopped: bool
) -> None:
    put_findings(screen, findings)
    if calibration.good_as_it_is:
        screen.print("Good as it is: both ways within 0.3 %. No correction is needed.")
    name = clean(calibration.name)
    if kept:
        factors = calibration.correction
        screen.print(f"kept for {name}: across × {factors.across:.4f}, up × {factors.up:.4f}")
        screen.print(f"dovelayout draw JOB --printer '{name}' corrects by it; calibrate --use '{name}' does so always.")
    elif stopped:
        screen.print("Nothing was kept. --anyway keeps it, for a printer that can't be told to print at 100 %.")
    else:
        screen.print("Nothing was kept: --printer NAME keeps it under a name.")


def _mm(text: str) -> float:
    from dovelayout.units import Unit, parse_length

    return float(parse_length(text, unit=Unit.MM))


def _write_sheet(path: Path, paper: str, may_replace: MayReplace) -> None:
    from dovelayout.drawing.cards.calibration import calibration_sheet
    from dovelayout.errors import PrintError
    from dovelayout.paper import paper as paper_named
    from dovelayout.render.files import write_files
    from dovelayout.render.pdf import pdf_bytes

    if path.suffix.lower() != ".pdf":
        raise PrintError(f"{path}: the sheet is written as .pdf", remedy="give the file that ending")
    sheet = calibration_sheet(paper_named(paper))
    write_files({path: pdf_bytes([sheet], title=sheet.title)}, may_replace=may_replace)


def _show_printers(screen: Console, known: Printers, path: Path) -> None:
    if not known.printers:
        screen.print("No printer is kept. dovelayout calibrate writes the sheet to measure.")
        return
    rows = [
        (
            printer.name + (" (default)" if printer.name.casefold() == (known.default or "").casefold() else ""),
            f"{printer.across.measured_mm:g} of {printer.across.bar_mm:g}",
            f"{printer.up.measured_mm:g} of {printer.up.bar_mm:g}",
            f"{printer.across.factor:.4f}",
            f"{printer.up.factor:.4f}",
            printer.paper or "not said",
        )
        for printer in known.printers
    ]
    put_table(screen, str(path), ("printer", "across, mm", "up, mm", "across ×", "up ×", "read on"), rows)


def printer_json(printer: Calibration) -> dict[str, Any]:
    """A printer's readings and factors."""
    return {
        "name": printer.name or None,
        "paper": printer.paper or None,
        **{
            row.axis.value: {
                "bar_mm": row.bar_mm,
                "measured_mm": row.measured_mm,
                "off_pct": round(row.off_pct, 4),
                "factor": round(row.factor, 6),
            }
            for row in (printer.across, printer.up)
        },
        "good_as_it_is": printer.good_as_it_is,
    }
