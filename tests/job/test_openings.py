"""Tables of openings: read as typed, in any dialect of CSV; a bad row is named and the good ones aren't lost."""

from __future__ import annotations

import contextlib
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dovelayout.errors import JobError
from dovelayout.job.bank_job import job_of_openings
from dovelayout.job.openings import MOST_DRAWERS, UNITS, Openings, read_openings
from dovelayout.job.reader import Job
from dovelayout.units import Unit

HEAD = "name,width,height,depth\n"


def table(tmp_path: Path, text: str | bytes) -> Path:
    path = tmp_path / "openings.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


def read(tmp_path: Path, text: str | bytes, **more: Any) -> Openings:
    return read_openings(table(tmp_path, text), **more)


def job_of(openings: Openings) -> tuple[str, Job | None, Openings]:
    return job_of_openings(openings, title="t", source="openings.csv", common={"species": "white oak"})


def test_rows_become_drawers(tmp_path: Path) -> None:
    text, job, rest = job_of(read(tmp_path, HEAD + "a,400,110,420\nb,398.5,90,420\n"))
    assert job is not None
    assert rest.bad == ()
    assert [drawer.name for drawer in job.drawers] == ["a", "b"]
    assert [drawer.spec.opening.width_mm for drawer in job.drawers] == [400, 398.5]
    assert "[[drawer]]" in text
    assert "# humidity" in text


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "a,400,110,420\n",
        "\ufeff" + HEAD + "a,400,110,420\n",
        HEAD.replace(",", ";") + "a;400;110;420\n",
        HEAD.replace(",", "\t") + "a\t400\t110\t420\n",
        (HEAD + "a,400,110,420\n").replace("\n", "\r\n"),
        (HEAD + "a,400,110,420\n").replace("\n", "\r"),
        HEAD + "\n\n  \na,400,110,420\n,,,\n\n",
        "\n\n" + HEAD + "a,400,110,420",
        '"name","width","height","depth"\n"a","400","110","420"\n',
        " Name , WIDTH , Height,depth \n a , 400 , 110 , 420 \n",
        "name;width;height;depth\na;400,0;110,0;420\n",
        "depth,height,name,width\n420,110,a,400\n",
        "name,width_mm,height (mm),depth [mm]\na,400,110,420\n",
        "name,width cm,height_cm,depth (cm)\na,40,11,42\n",
        "name,width,height,depth\na,40 cm,110 mm,0.42 m\n",
        "name,width,height,depth,fit,notches\n".replace(",notches", "") + "a,400,110,420,\n",
    ],
)
def test_dialects_of_csv(tmp_path: Path, text: str) -> None:
    openings = read(tmp_path, text)
    _, job, _ = job_of(openings)
    assert job is not None
    assert openings.bad == ()
    opening = job.drawers[0].spec.opening
    assert job.drawers[0].name == "a"
    assert (opening.width_mm, opening.height_mm, opening.depth_mm) == (400, 110, 420)


@pytest.mark.parametrize(
    ("cell", "mm"),
    [
        ('"15 3/4"""', 400.05),
        ("15 3/4 in", 400.05),
        ('"1\' 3 3/4"""', 400.05),
        ("15¾ in", 400.05),
        ("400.05 mm", 400.05),
        ("40.005cm", 400.05),
    ],
)
def test_a_cell_may_carry_its_unit_as_typed(tmp_path: Path, cell: str, mm: float) -> None:
    openings = read(tmp_path, HEAD + f"a,{cell},110,420\n")
    _, job, _ = job_of(openings)
    assert job is not None
    assert job.drawers[0].spec.opening.width_mm == pytest.approx(mm)


def test_heads_in_inches_make_a_job_in_inches(tmp_path: Path) -> None:
    openings = read(tmp_path, "name,width_in,height_in,depth_in\na,15 3/4,4 3/8,16.5\n")
    text, job, _ = job_of(openings)
    assert openings.unit is Unit.IN
    assert job is not None
    assert 'units = "in"' in text
    assert job.drawers[0].spec.opening.height_mm == pytest.approx(4.375 * 25.4)
    assert job.drawers[0].spec.opening.depth_mm == pytest.approx(16.5 * 25.4)


def test_one_column_in_inches_beside_others_in_mm(tmp_path: Path) -> None:
    openings = read(tmp_path, "name,width_in,height,depth\na,15.75,110,420\n")
    _, job, _ = job_of(openings)
    assert openings.unit is Unit.MM
    assert job is not None
    assert job.drawers[0].spec.opening.width_mm == pytest.approx(400.05)


def test_openings_without_names_are_numbered(tmp_path: Path) -> None:
    openings = read(tmp_path, "width,height,depth\n400,110,420\n400,90,420\n")
    assert [row.name for row in openings.rows] == ["drawer 1", "drawer 2"]


def test_second_measures_are_compared_and_the_smaller_counts(tmp_path: Path) -> None:
    text, job, _ = job_of(read(tmp_path, "name,width,height,depth,width2\na,400,110,420,399\nb,400,110,420,399.8\n"))
    assert job is not None
    assert job.drawers[0].spec.opening.clear_width_mm == 399
    assert "row 2: its width was measured twice, 1.00 mm apart" in text
    assert "row 3" not in text


@pytest.mark.parametrize(
    ("row", "column", "problem"),
    [
        ("a,400,tall,420", "height", "'tall' is not a length"),
        ("a,400,3/4,420", "height", "3/4"),
        ("a,400,-3,420", "height", "-3"),
        ("a,400,,420", "height", "is empty"),
        ("a,400", "height", "is empty"),
        ("a,400,110,420,7", "", "has 5 cells for 4 columns"),
        ("a,400,20,420", "", "mm for the back over the groove"),
        ("a,99999,110,420", "width", "99999"),
        ("a,400,1e3,420", "height", "power of ten"),
        ("a,=1+1,110,420", "width", "'=1+1' is not a length"),
        ("a," + "9" * 200 + ",110,420", "width", "is 200 letters long"),
        ("good,400,110,420", "name", "'good' is there already, in row 2"),
        ("n" * 61 + ",400,110,420", "name", ""),
    ],
)
def test_a_bad_row_is_named_and_the_good_ones_are_kept(tmp_path: Path, row: str, column: str, problem: str) -> None:
    openings = read(tmp_path, HEAD + f"good,400,110,420\n{row}\nlast,400,90,420\n")
    _, job, rest = job_of(openings)
    assert job is not None
    assert [drawer.name for drawer in job.drawers] == ["good", "last"]
    (bad,) = rest.bad
    assert (bad.line, bad.column) == (3, column)
    assert problem in bad.problem
    line = str(bad.error("openings.csv"))
    assert line.startswith("openings.csv: row 3")
    assert "\n" not in line


def test_lines_are_counted_through_quoted_cells(tmp_path: Path) -> None:
    openings = read(tmp_path, HEAD + '"a\nb",400,110,420\n\nc,400,x,420\n')
    (bad,) = openings.bad
    assert bad.line == 5


@pytest.mark.parametrize("key", ["slips", "muntin", "tail_count", "moisture", "fit", "species", "side_rings", "slope"])
def test_other_keys_may_stand_in_columns(tmp_path: Path, key: str) -> None:
    values = {
        "slips": "no",
        "muntin": "yes",
        "tail_count": "3",
        "moisture": "8,5",
        "fit": "piston",
        "species": "black cherry",
        "side_rings": "quarter",
        "slope": "1:6",
    }
    openings = read(
        tmp_path, f"name;width;height;depth;{key}\na;400;110;420;{values[key]}\nb;400;110;420;nonsense 7:\n"
    )
    _, job, rest = job_of(openings)
    assert job is not None
    assert len(job.drawers) == 1
    assert [bad.column for bad in rest.bad] == [key]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (b"", "is empty"),
        (b"\n\n", "is empty"),
        (HEAD.encode(), "holds no openings"),
        (b"name,width,height\na,1,2\n", "has no column depth"),
        (b"name,width,height,depth,width\na,1,2,3,4\n", "column 'width' is there twice"),
        (b"name,width,height,depht\na,1,2,3\n", "column 'depht' is not known; did you mean depth?"),
        (b"name,width,height,depth,\na,1,2,3,4\n", "column 5 has no name"),
        (b"name,width,height,depth,groove\na,1,2,3,4\n", "column 'groove' is not known"),
        (b"name,width\xff,height,depth\n", "row 1: is not UTF-8 text"),
        ((HEAD + "a,400,110,420\n").encode("utf-16"), "is UTF-16"),
        (HEAD.encode() + b"a,4\x0000,110,420\n", "zero byte"),
        (HEAD.encode() + b'a,"400,110,420\n', "row 2: is not a row of CSV"),
        (b"x" * 1_000_001, "is larger than 1 MB"),
    ],
)
def test_what_is_no_table_is_said_in_one_line(tmp_path: Path, text: bytes, said: str) -> None:
    with pytest.raises(JobError) as caught:
        read(tmp_path, text)
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)


def test_ten_thousand_rows_are_refused_by_their_number(tmp_path: Path) -> None:
    rows = "".join(f"d{n},400,110,420\n" for n in range(10_000))
    with pytest.raises(JobError, match=f"row {MOST_DRAWERS + 2}: holds more than {MOST_DRAWERS} openings"):
        read(tmp_path, HEAD + rows)


@given(st.text(max_size=300))
def test_any_text_is_a_table_or_one_line(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    path = tmp_path_factory.getbasetemp() / "any.csv"
    path.write_bytes(text.encode("utf-8", "surrogatepass"))
    with contextlib.suppress(JobError):
        read_openings(path)


@given(cells=st.lists(st.text(max_size=30), min_size=4, max_size=4))
def test_any_row_is_a_drawer_or_a_bad_row(tmp_path_factory: pytest.TempPathFactory, cells: list[str]) -> None:
    import csv

    path = tmp_path_factory.getbasetemp() / "row.csv"
    with path.open("w", encoding="utf-8", errors="surrogatepass", newline="") as out:
        writer = csv.writer(out)
        writer.writerows([["name", "width", "height", "depth"], ["good", "400", "110", "420"], cells])
    try:
        text, job, rest = job_of(read_openings(path))
    except JobError:
        return
    assert job is not None
    assert len(job.drawers) + len(rest.bad) in (1, 2)
    assert tomllib.loads(text)["drawer"][0]["name"] == "good"


def test_every_plain_key_of_a_drawer_is_a_column() -> None:
    assert {"name", "width", "height2", "front_species", "bottom_glue", "back_pin", "front_width"} <= set(UNITS)
    assert "groove" not in UNITS
