"""Paper by name, by size and from a roll: what is understood, and what is refused in one line."""

from __future__ import annotations

from typing import Any

import pytest

from dovelayout.drawing.book import job_book
from dovelayout.drawing.sheets.frame import room_mm
from dovelayout.drawing.style import Style
from dovelayout.errors import JobError, PrintError
from dovelayout.job.reader import load_job
from dovelayout.paper import NEUTRAL, SIZES_MM, paper, sized
from dovelayout.units import Unit
from tests.jobs import corner_job, loaded


@pytest.mark.parametrize(
    ("name", "size_mm"),
    [
        # ISO 216: A0 is 841 x 1189, each size half of the last; ASME Y14.1: 11 x 17 in is size B, sold as Tabloid
        ("a4", (210, 297)),
        ("A0", (841, 1189)),
        ("A1", (594, 841)),
        ("A5", (148, 210)),
        (" letter ", (215.9, 279.4)),
        ("Legal", (215.9, 355.6)),
        ("Tabloid", (279.4, 431.8)),
        ("210 x 400 mm", (210, 400)),
        ("210x400mm", (210, 400)),
        ("210 × 400", (210, 400)),
        ("400 x 210 mm", (400, 210)),
        ("21 cm x 40 cm", (210, 400)),
        ("8.5 x 14 in", (215.9, 355.6)),
        ("8 1/2 in x 14 in", (215.9, 355.6)),
        ('12" x 18"', (304.8, 457.2)),
        ("A4 or Letter", (210, 279.4)),
        ("letter or a4", (210, 279.4)),
    ],
)
def test_sizes(name: str, size_mm: tuple[float, float]) -> None:
    found = paper(name)
    assert (found.width_mm, found.height_mm) == pytest.approx(size_mm, abs=1e-6)
    assert found.margin_mm == 8.0
    assert not found.roll


def test_bare_numbers_are_in_the_unit_of_the_job() -> None:
    assert paper("8.5 x 11", unit=Unit.IN).height_mm == pytest.approx(279.4)
    assert paper("roll 24", unit=Unit.IN).width_mm == pytest.approx(609.6)


@pytest.mark.parametrize("name", ["roll 610 mm", "Roll 610", "roll 61 cm"])
def test_rolls(name: str) -> None:
    found = paper(name)
    assert found.roll
    assert found.width_mm == pytest.approx(610)
    assert found.name == "roll 610 mm"


def test_what_the_print_system_calls_it() -> None:
    """As CUPS' lp takes it: a name, or Custom.WIDTHxLENGTHmm."""
    assert all(paper(name).media == name for name in SIZES_MM)
    assert paper("210 x 400 mm").media == "Custom.210x400mm"
    assert sized(304.8, 457.2).media == "Custom.304.8x457.2mm"
    assert paper(NEUTRAL).media == "A4"


@pytest.mark.parametrize(
    "name", ["A9", "", "roll", "roll big", "210 x", "x 400", "210 x 400 x 500 mm", "0 x 400 mm", "50 x 400 mm",
             "210 x 90000 mm", "roll 20 mm", "nan x nan", "-210 x 400", "A4 A3", "210 mm", "1/0 x 400"],
)  # fmt: skip
def test_what_is_no_paper(name: str) -> None:
    with pytest.raises(PrintError) as told:
        paper(name)
    assert "\n" not in str(told.value)
    assert "mm" in str(told.value)


def _job(size: Any, **more: Any) -> dict[str, Any]:
    return {**corner_job(tail_count=5), "paper": {"size": size, **more}}


def test_papers_of_jobs() -> None:
    assert loaded(_job([210, 400])).paper.height_mm == 400
    assert loaded(_job(["8.5 in", "14 in"])).paper.width_mm == pytest.approx(215.9)
    boards = [{**board, "length": 20, "width": 6, "thickness": 0.75} for board in corner_job()["board"]]
    inches = loaded({**_job([8.5, 14]), "units": "in", "board": boards})
    assert inches.paper.height_mm == pytest.approx(355.6)
    assert loaded(_job("roll 610 mm")).paper.roll
    assert loaded(_job("A4", nest=False)).nest is False
    assert loaded(_job("A4")).nest is True


@pytest.mark.parametrize(
    ("size", "place", "remedy"),
    [
        ([210], "paper, key size", "[210, 400]"),
        ([210, 400, 1], "paper, key size", "[210, 400]"),
        ([210, 50], "paper, key size", "100 to 5000 mm"),
        ([210, True], "paper, key size", "a length is wanted"),
        (["210", "long"], "paper, key size", "long"),
        ("A9", "paper, key size", "A4"),
        ("roll 5 mm", "paper, key size", "100 to 5000 mm"),
    ],
)
def test_bad_papers_of_jobs(size: Any, place: str, remedy: str) -> None:
    with pytest.raises(JobError) as told:
        load_job(_job(size), source="test.toml")
    assert str(told.value).startswith(f"test.toml: {place}")
    assert remedy in str(told.value)


def test_nest_is_true_or_false() -> None:
    with pytest.raises(JobError, match="paper, key nest"):
        load_job(_job("A4", nest="no"), source="test.toml")


def test_the_neutral_sheet_lies_inside_both() -> None:
    neutral = paper(NEUTRAL)
    for name in ("A4", "Letter"):
        assert neutral.width_mm <= SIZES_MM[name][0]
        assert neutral.height_mm <= SIZES_MM[name][1]
    assert room_mm(neutral)[0] > 150


def test_a_roll_is_as_long_as_what_is_on_it() -> None:
    job = loaded(_job("roll 300 mm"))
    book = job_book(job.joints, Style(job="roll"), job.paper)
    (sheet,) = tuple(book)
    assert sheet.width_mm == 300
    assert 250 < sheet.height_mm < 1000
    assert book.on.media == f"Custom.300x{sheet.height_mm:g}mm"
    assert len(book) == 1
