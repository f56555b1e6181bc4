"""DXF read back twice: by group codes with nothing but the standard library, and by ezdxf with its audit."""

from __future__ import annotations

import functools
import io
import os
import subprocess
import sys
from collections import Counter
from pathlib import Path

import ezdxf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from typer.testing import CliRunner

from dovelayout.cli.main import app
from dovelayout.drawing.lettering import width_mm
from dovelayout.drawing.plate import CHECK_MM, Plate, corner_plate, divider_plate
from dovelayout.drawing.primitives import PENS, Lines, Role, Text
from dovelayout.drawing.style import Style
from dovelayout.drawing.template.regions import Region, RegionKind
from dovelayout.errors import PrintError
from dovelayout.job.reader import load_job, read_job
from dovelayout.render import dxf
from dovelayout.render.dxf import dxf_bytes, inert
from tests.conftest import examples
from tests.dxf_reader import Drawing, dxf_drawing, pairs
from tests.gallery import LIGHT, SAMPLES, draw, files_in
from tests.jobs import corner_job
from tests.readers import matched
from tests.strategies import corner_joints

STYLE = Style(job="Job")
PROCESS = (sys.executable, "-c", "from dovelayout.cli.main import main; main()")
CAP_HEIGHT = 1493 / 2048  # DejaVu Sans, OS/2 table: sCapHeight, unitsPerEm


@functools.cache
def plates(sample: Path) -> tuple[Plate, ...]:
    job = read_job(sample)
    return (
        *(corner_plate(joint, faces, STYLE) for joint in job.joints for faces in joint.end_faces()),
        *(divider_plate(joint, STYLE) for divider in job.dividers for joint in divider.joints),
    )


def strokes(plate: Plate) -> list[tuple[str, tuple[float, ...]]]:
    return [(item.role.upper(), s) for item in plate.items if isinstance(item, Lines) for s in item.segments]


def assert_same(plate: Plate, drawing: Drawing) -> None:
    """Every line, ring and text in its place, on its layer, and no other."""
    for layer in {name for name, _ in [*strokes(plate), *drawing.lines]}:
        wanted, found = ([s for name, s in rows if name == layer] for rows in (strokes(plate), drawing.lines))
        match = matched(wanted, found, tolerance=2e-6)
        assert (match.missing, match.extra) == ([], [])
    rings = [
        (region.kind.upper(), tuple((round(x, 6), round(y, 6)) for x, y in region.ring)) for region in plate.regions
    ]
    assert Counter(rings) == Counter(drawing.rings)
    texts = [item for item in plate.items if isinstance(item, Text)]
    assert len(texts) == len(drawing.texts)
    for item, (layer, text, height, turn, points) in zip(texts, drawing.texts, strict=True):
        assert (layer, text) == (item.role.upper(), inert(item.text))
        assert height == pytest.approx(CAP_HEIGHT * item.size_mm, rel=1e-3)
        assert turn == (90.0 if item.upwards else 0.0)
        x1, y1, x2, y2 = points
        along, off = (y2 - y1, x2 - x1) if item.upwards else (x2 - x1, y2 - y1)
        assert (along, off) == pytest.approx((width_mm(item.text, item.size_mm), 0.0), abs=2e-6)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_a_sample_is_read_back_whole(sample: Path) -> None:
    for plate in plates(sample):
        data = dxf_bytes(plate)
        drawing = dxf_drawing(data)
        assert_same(plate, drawing)
        coordinates = [value for code, value in pairs(data) if code in (10, 20, 11, 21, 40, 50)]
        assert not any("e-" in value or value == "-0.0" for value in coordinates)
        assert drawing.kinds == {"LINE", "LWPOLYLINE", "TEXT"}  # no HATCH: not all readers have it
        document = ezdxf.read(io.StringIO(data.decode("utf-8")))
        audit = document.audit()
        assert (audit.errors, audit.fixes) == ([], [])
        assert document.dxfversion == "AC1024"  # R2010
        assert len(document.modelspace()) == len(drawing.lines) + len(drawing.rings) + len(drawing.texts)


@settings(max_examples=examples(25))
@given(corner_joints())
def test_any_corner_is_read_back_whole(joint: object) -> None:
    for faces in joint.end_faces():  # type: ignore[attr-defined]
        plate = corner_plate(joint, faces, STYLE)  # type: ignore[arg-type]
        assert_same(plate, dxf_drawing(dxf_bytes(plate)))


def test_units_layers_and_line_styles() -> None:
    (plate, *_) = plates(SAMPLES[0])
    drawing = dxf_drawing(dxf_bytes(plate))
    assert drawing.header["$INSUNITS"] == [(70, "4")]  # millimetres
    assert drawing.header["$MEASUREMENT"] == [(70, "1")]  # metric
    assert drawing.header["$ACADVER"] == [(1, "AC1024")]
    named = {role.upper() for role in Role} | {kind.upper() for kind in RegionKind}
    assert named <= set(drawing.layers)
    for role, pen in PENS.items():
        (linetype,) = [value for code, value in drawing.layers[role.upper()] if code == 6]
        if not pen.dash_mm:
            assert linetype == "Continuous"
            continue
        assert linetype == role.upper()
        assert [abs(length) for length in drawing.linetypes[linetype]] == list(pen.dash_mm)
        assert all((length > 0) == (number % 2 == 0) for number, length in enumerate(drawing.linetypes[linetype]))
    for rows in drawing.layers.values():
        weights = [int(value) for code, value in rows if code == 370]
        assert all(weight in (-3, 0, 5, 9, 13, 15, 18, 20, 25, 30, 35) for weight in weights)
    (low, high) = ([float(value) for _, value in drawing.header[name]][:2] for name in ("$EXTMIN", "$EXTMAX"))
    for _, (x1, y1, x2, y2) in drawing.lines:
        assert low[0] <= min(x1, x2) <= max(x1, x2) <= high[0]
        assert low[1] <= min(y1, y2) <= max(y1, y2) <= high[1]


def test_a_worked_corner_stands_where_it_should() -> None:
    # 100 mm wide, 20 mm thick, 1:5, two tails of 40 with half pins and a pin of 20/3: exact figures
    job = load_job(corner_job(width=100, thickness=20, slope="1:5", tails_at=[[10, 45], [55, 90]]), source="test.toml")
    (joint,) = job.joints
    tails, _ = joint.end_faces()
    drawing = dxf_drawing(dxf_bytes(corner_plate(joint, tails, STYLE)))
    # side.left: a left end reads inside, end, outside; the flare is 20/5 = 4 mm from the end (x = 0) to the baseline
    cheeks = {tuple(round(v, 9) for v in s) for name, s in drawing.lines if name == "KNIFE"}
    outside = {(0.0, 10.0, 20.0, 14.0), (0.0, 45.0, 20.0, 41.0), (0.0, 55.0, 20.0, 59.0), (0.0, 90.0, 20.0, 86.0)}
    assert outside <= {s if s[0] < s[2] else (*s[2:], *s[:2]) for s in cheeks}
    keep = [ring for name, ring in drawing.rings if name == "KEEP"]
    assert {(0.0, 10.0), (0.0, 45.0), (20.0, 41.0), (20.0, 14.0)} in [
        {(round(x, 9), round(y, 9)) for x, y in ring} for ring in keep
    ]
    check = [s for name, s in drawing.lines if name == "BAR" and s[1] == s[3]]
    assert [x2 - x1 for x1, _, x2, _ in check] == [CHECK_MM]


HOSTILE = {
    "percent codes": "%%c 10 %%d %%u%%o %%%% %%065",
    "paragraph": "one\\Ptwo \\{x\\} {\\fArial|b1;x}",
    "unicode escape": "\\U+0041 \\U+000A",
    "wide escape": "\\M+18140",
    "caret": "a^Jb^Mc^ d^I",
    "line ends": "a\n  0\nLINE\n  8\nKNIFE\r\n 10\r0",
    "end of file": "\n  0\nEOF\n",
    "other breaks": "a\u2028b\u2029c\x0bd\x0ce\x1cf\x85g",
    "NUL": "a\x00b\x1a\x1b[31m",
    "surrogate": "a\ud800b",
    "long": "W" * 5000,
    "Greek": "Κασετίνα ½ ″ ⌀",
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_texts_are_inert(text: str) -> None:
    item = Text(x_mm=1.0, y_mm=2.0, text=text, size_mm=3.0)
    line = Lines(role=Role.KNIFE, segments=((0.0, 0.0, 1.0, 1.0),))
    ring = Region(kind=RegionKind.KEEP, ring=((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)))
    data = dxf_bytes(Plate(title=text, items=(item, line), regions=(ring,)))
    drawing = dxf_drawing(data)
    assert len(drawing.lines) == len(drawing.rings) == len(drawing.texts) == 1
    said = drawing.texts[0][1]
    assert said.isprintable()
    for word in ("%%", "\\", "^", "{", "}"):
        assert word not in said
    document = ezdxf.read(io.StringIO(data.decode("utf-8")))
    assert document.audit().errors == []
    (read,) = document.modelspace().query("TEXT")
    assert read.dxf.text == said
    assert read.plain_text() == said  # what ezdxf takes for a command, it would have taken out


@given(st.text())
def test_any_text_is_inert(text: str) -> None:
    said = inert(text)
    assert len(said.splitlines()) <= 1
    assert said.isprintable()
    assert not {"\\", "^", "{", "}"} & set(said)
    assert "%%" not in said
    assert inert(said) == said


HOSTILE_JOB = r"""
title = '%%c ^J {x} \P'
board = [
  { name = '%%d\Pa', species = "black cherry", length = 300, width = 90, thickness = 12 },
  { name = 'b^J', species = "black cherry", length = 300, width = 90, thickness = 12 },
]
corner = [{ name = '{Ω}\U+0041', tails = '%%d\Pa.left', pins = 'b^J.right', tail_count = 2, slope = "1:7" }]
"""


def test_a_job_with_harmful_names_is_drawn_all_the_same(tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(HOSTILE_JOB, encoding="utf-8")
    draw(job, tmp_path / "out", "--as", "dxf")
    written = files_in(tmp_path / "out")
    assert len(written) == 2
    for data in written.values():
        drawing = dxf_drawing(data)
        assert all(not {"\\", "^", "{"} & set(text[1]) and "%%" not in text[1] for text in drawing.texts)


def test_a_coordinate_that_is_no_number_is_refused() -> None:
    line = Lines(role=Role.KNIFE, segments=((0.0, 0.0, float("nan"), 1.0),))
    with pytest.raises(PrintError, match="not a number"):
        dxf_bytes(Plate(title="x", items=(line,), regions=()))
    assert ezdxf.options.write_fixed_meta_data_for_testing is False  # put back, whatever happened


def test_the_same_bytes_in_any_process_and_nothing_left_in_the_home_folder(tmp_path: Path) -> None:
    results = []
    for number, seed in enumerate(("1", "4", "4711")):
        home = tmp_path / f"home-{number}"
        home.mkdir()
        environment = {
            **os.environ,
            "PYTHONHASHSEED": seed,
            "HOME": str(home),
            "TZ": ("UTC", "Pacific/Apia", "UTC")[number],
        }
        for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME", "DOVELAYOUT_CONFIG"):
            environment.pop(name, None)
        out = tmp_path / f"out-{number}"
        subprocess.run(
            [*PROCESS, "draw", str(SAMPLES[0]), "-o", str(out), "--as", "dxf"],
            env=environment,
            cwd=tmp_path,
            check=True,
            capture_output=True,
        )
        assert list(home.rglob("*")) == []
        results.append(files_in(out))
    draw(SAMPLES[0], tmp_path / "here", "--as", "dxf")
    assert results[0] == results[1] == results[2] == files_in(tmp_path / "here")
    assert results[0]
    assert all(name.endswith(".dxf") for name in results[0])


def test_without_ezdxf_one_line_says_how_to_get_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "ezdxf", None)  # as if it weren't installed
    result = CliRunner().invoke(
        app, ["draw", str(SAMPLES[0]), "-o", str(tmp_path / "out"), "--as", "dxf", "--as", "svg"]
    )
    assert result.exit_code == 2
    assert result.stderr.splitlines()[-1] == f"dovelayout: DXF files need ezdxf, which is not installed: {dxf.INSTALL}"
    assert not (tmp_path / "out").exists()


def test_a_bad_settings_file_of_the_library_is_told_in_one_line(tmp_path: Path) -> None:
    for content in (b"no section = here", b"\xff\xfe\x00x"):
        (tmp_path / "ezdxf.ini").write_bytes(content)
        done = subprocess.run(
            [*PROCESS, "draw", str(SAMPLES[0]), "-o", "out", "--as", "dxf", "--json"],
            cwd=tmp_path,
            capture_output=True,
            text=True,
            check=False,
        )
        assert (done.returncode, done.stdout) == (2, "")
        assert "ezdxf can't be loaded" in done.stderr
        assert "Traceback" not in done.stderr


def test_drawing_other_formats_loads_no_dxf_library() -> None:
    code = (
        "import sys\nfrom dovelayout.cli.main import app\n"
        f"try:\n    app(['draw', {str(SAMPLES[0])!r}, '-o', sys.argv[1], '--as', 'svg'])\n"
        "except SystemExit as done:\n    assert not done.code\n"
        "assert not {'ezdxf', 'pypdfium2'} & set(sys.modules)\n"
    )
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.executable, "-c", code, folder], check=True, capture_output=True)


def test_there_is_one_file_for_each_template(tmp_path: Path) -> None:
    for sample in LIGHT:
        draw(sample, tmp_path / sample.stem, "--as", "svg", "--as", "dxf", "--no-pictures")
        names = {Path(name) for name in files_in(tmp_path / sample.stem)}
        assert {path.stem for path in names if path.suffix == ".dxf"} == {p.stem for p in names if p.suffix == ".svg"}
        assert len([path for path in names if path.suffix == ".dxf"]) == len(plates(sample))
