"""A repair's command takes from a job what the job gives, and can be run as it stands."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from dovelayout.job.reader import read_job
from dovelayout.repair.symptoms import all_symptoms, find_symptom
from dovelayout.report.diagnosis import for_job, piece_of
from tests.cli.calling import run

SAMPLES = Path(__file__).parents[2] / "samples"


@pytest.mark.parametrize(
    ("symptom", "words"),
    [
        ("gap-all-cheeks", "dovelayout repair loose joint --gap 0.3mm --glue epoxy --job {job} --corner A"),
        ("pin-broken", "dovelayout repair broken pin --job {job} --corner A"),
        ("baseline-torn", "dovelayout repair broken baseline --below 0.8mm --into 3mm --job {job} --corner A"),
        (
            "corner-broken",
            "dovelayout repair corner --width-of-break 8mm --length-of-break 14mm --job {job} --corner A",
        ),
        ("drawer-sticks-damp", "dovelayout season {job}"),
        ("housing-loose", "dovelayout repair loose housing --gap 0.3mm --depth 8mm --length 250mm"),
    ],
)
def test_a_command_takes_from_the_job_what_it_gives(symptom: str, words: str) -> None:
    path = SAMPLES / "sewing-chest.toml"
    (joint, *_) = read_job(path).joints
    assert for_job(find_symptom(symptom), path, joint).command == words.format(job=path)
    assert for_job(find_symptom(symptom), None, joint) == find_symptom(symptom)


def test_every_command_with_a_corner_of_a_job_can_be_run() -> None:
    for name in ("sewing-chest", "button-drawer"):
        path = SAMPLES / f"{name}.toml"
        for joint in read_job(path).joints[:2]:
            commands = {for_job(row, path, joint).command for row in all_symptoms().values()}
            for command in sorted(text for text in commands if f"--corner {joint.name}" in text):
                result = run(*shlex.split(command)[1:])
                assert result.exit_code in (0, 1), (command, result.stderr)


def test_a_half_blind_pin_stays_what_the_maker_measures() -> None:
    path = SAMPLES / "button-drawer.toml"
    blind = next(joint for joint in read_job(path).joints if joint.lap_mm > 0)
    assert for_job(find_symptom("pin-broken"), path, blind).command == find_symptom("pin-broken").command


def test_a_part_of_a_job_is_what_belongs_to_it() -> None:
    job = read_job(SAMPLES / "sewing-drawers.toml")
    drawer = piece_of(job, drawer="buttons")
    assert {board.name for board in drawer.boards} == {
        f"buttons {role}" for role in ("front", "side", "back", "bottom")
    }
    assert len(drawer.joints) == 4
    corner = piece_of(job, corner="buttons front left")
    assert (len(corner.joints), len(corner.boards), corner.drawers) == (1, 2, ())
    assert all("bobbins" not in str(row.place) for row in (*drawer.findings, *corner.findings))
