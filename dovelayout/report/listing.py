"""What `draw` writes: corrections for the printer, and what each file holds, for machines."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from dovelayout.casework.divider import Divider
    from dovelayout.drawing.correction import Correction
    from dovelayout.joints.corner import CornerJoint


@dataclass(frozen=True, slots=True, kw_only=True)
class Corrections:
    """The correction for sheets on paper, and the one for free-standing drawings: screens and plotters need none, so
    those are corrected only where a printer was asked for by name."""

    on_paper: Correction | None = None
    free_standing: Correction | None = None
    read_on: str = ""

    def doubt(self, paper: str) -> str:
        """What to say where a drawing's paper isn't the one that the printer was measured on; '' where it is."""
        if not self.read_on or self.read_on == paper:
            return ""
        return f"measured on {self.read_on}, drawn on {paper}: a printer may feed that the other way round; measure both bars"


NO_CORRECTIONS = Corrections()


def corrections_for(printer: str | None) -> Corrections:
    """For the printer asked for, or else the default one. Raises PrintError for one that isn't known."""
    from dovelayout.printer.reading import NO_PRINTER
    from dovelayout.printer.store import printers_path, read_printers

    if printer is not None and printer.strip().casefold() == NO_PRINTER:
        return Corrections()
    known = read_printers(printers_path())
    if printer is not None:
        asked = known.find(printer)
        return Corrections(on_paper=asked.correction, free_standing=asked.correction, read_on=asked.paper)
    if known.default is None:
        return Corrections()
    usual = known.find(known.default)
    return Corrections(on_paper=usual.correction, read_on=usual.paper)


def correction_json(correction: Correction | None) -> dict[str, Any] | None:
    """The factors that a file was drawn with; None: true sizes."""
    if correction is None:
        return None
    return {"printer": correction.printer, "across": round(correction.across, 6), "up": round(correction.up, 6)}


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """What a file is about: names of corners, dividers and boards, and which half of a joint (None: several)."""

    corners: tuple[str, ...] = ()
    dividers: tuple[str, ...] = ()
    boards: tuple[str, ...] = ()
    part: str | None = None


def subject_of(joints: Iterable[CornerJoint], dividers: Iterable[Divider]) -> Subject:
    """A file about several joints."""
    corners, slides = tuple(joints), tuple(dividers)
    boards = [board for joint in corners for board in (joint.tail_board, joint.pin_board)]
    boards += [board for divider in slides for joint in divider.joints for board in (joint.host, joint.key)]
    return Subject(
        corners=tuple(joint.name for joint in corners),
        dividers=tuple(divider.name for divider in slides),
        boards=tuple(dict.fromkeys(board.name for board in boards)),
    )


def listed(
    path: Path,
    subject: Subject,
    *,
    holds: Iterable[str],
    pages: int = 1,
    sheet_mm: tuple[float, float] | None = None,
    correction: Correction | None = None,
) -> dict[str, Any]:
    """One file of `draw --json`. Without a sheet it has no paper round it."""
    return {
        "path": str(path),
        "format": path.suffix.removeprefix("."),
        "holds": list(holds),
        "pages": pages,
        "corners": list(subject.corners),
        "dividers": list(subject.dividers),
        "boards": list(subject.boards),
        "part": subject.part,
        "sheet_mm": None if sheet_mm is None else [round(side, 4) for side in sheet_mm],
        "corrected": correction_json(correction),
    }
