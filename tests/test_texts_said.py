"""Every text kept as data is said somewhere: all repairs, glue-ups and fits that lead to another sentence."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from dovelayout.casework.panel import Glued
from dovelayout.checks.movement.across import fixing_words
from dovelayout.checks.movement.panels import holding_words
from dovelayout.glueup import words as glue_words
from dovelayout.glueup.squareness import lean_findings, nearest
from dovelayout.job.reader import read_job
from dovelayout.joints.face import Part
from dovelayout.planning.fit import corner_fit
from dovelayout.planning.rehearsal import rehearse
from dovelayout.planning.rehearsal import words as rehearsal_words
from dovelayout.repair.advice import cautions
from dovelayout.repair.broken import (
    BrokenPart,
    SnappedPin,
    Split,
    TornBaseline,
    mend_baseline,
    mend_pin,
    mend_split,
)
from dovelayout.repair.cracked import Crack, CrackStage, mend_crack
from dovelayout.repair.gap import Gap, GapMethod, GapPlace, GapPlan, MovedBoard, gap_advice, plan_gap
from dovelayout.repair.loose import LooseCorner, LooseKey, mend_corner, mend_key
from dovelayout.repair.mated import mated_advice
from dovelayout.repair.panel import CuppedSide, HeldPanel, SplitBottom, mend_bottom, mend_panel, mend_side
from dovelayout.repair.patch import Break, EdgeRoom, lay_patch, patch_advice
from dovelayout.repair.seized import SeizedKey, mend_slide
from dovelayout.repair.symptoms import all_symptoms, facts
from dovelayout.report import fit as fit_report
from dovelayout.report.diagnosis import piece_of
from dovelayout.report.glueup import glue_up_tables, verdict
from dovelayout.shop import Hand, Shop
from dovelayout.texts import Texts
from dovelayout.units import Unit
from dovelayout.verdict.verdict import judged
from dovelayout.wood.glue import find_glue
from dovelayout.wood.species import find_wood
from tests.checks import test_drawer_checks
from tests.checks.movement import test_movement
from tests.drawer_jobs import drawer_job
from tests.glue_jobs import glue_box, planned, shelf_between
from tests.jobs import corner_job, loaded
from tests.repair import test_mated
from tests.season_jobs import across_job, panel_job
from tests.test_texts import FILES

CHERRY, PLYWOOD = find_wood("black cherry"), find_wood("birch plywood")
NOT_MOVED = replace(
    CHERRY, coeff_radial=None, coeff_tangential=None, coeff_radial_from_shrink=None, coeff_tangential_from_shrink=None
)
SAMPLES = Path(__file__).parents[1] / "samples"
GLUES = [find_glue(name) for name in ("pva", "liquid hide", "polyurethane", "ca")]


def _gaps() -> None:
    for method, place, glue in itertools.product(GapMethod, GapPlace, GLUES):
        gap = Gap(width_mm=0.8, length_mm=12.0, place=place, glue=glue)
        gap_advice(gap, GapPlan(method=method, fill_mm=0.8))
    for width_mm, wood, air, loose in itertools.product(
        (0.2, 0.8, 4.0), (CHERRY, NOT_MOVED), ((65.0, 25.0), (25.0, 65.0)), (False, True)
    ):
        moved = MovedBoard(wood=wood, thickness_mm=19.0, tight_pct=air[0], now_pct=air[1])
        gap = Gap(width_mm=width_mm, length_mm=12.0, place=GapPlace.END, loose=loose, season=moved)
        gap_advice(gap, plan_gap(gap))


def _corners() -> None:
    lost = Break(width_mm=8.0, depth_mm=19.0, length_mm=14.0)
    for ring_deg, wood, width_mm in itertools.product((90.0, 20.0), (CHERRY, PLYWOOD), (None, 15.0, 22.0, 300.0)):
        patch = lay_patch(lost, thickness_mm=19.0, ring_deg=ring_deg)
        for given, cut_away in itertools.product((False, True), repeat=2):
            patch_advice(patch, wood, board_width_mm=width_mm, rings_given=given, cut_away=cut_away)

    for whole_mm in (12.0, 30.0):
        room = EdgeRoom(cutouts_mm=((0.0, whole_mm),), grooves_mm=(4.0,))
        patch = lay_patch(replace(lost, width_mm=6.0, length_mm=10.0), thickness_mm=19.0, ring_deg=90.0, room=room)
        patch_advice(patch, CHERRY, board_width_mm=300.0, room=room)

    for taken in ((), (Part.TAILS,), tuple(Part)):
        mated_advice(*test_mated.halves(cut_away=taken))


def _keys_and_cracks() -> None:
    for home_mm, glue in itertools.product((1.0, 150.0), GLUES):
        for tapered, stopped, glue_set in itertools.product((False, True), repeat=3):
            key = SeizedKey(length_mm=500.0, from_home_mm=home_mm, glue=glue, tapered=tapered, stopped=stopped)
            mend_slide(replace(key, glue_set=glue_set))
    for stage, fixed, long_mm, width_mm in itertools.product(
        CrackStage, (False, True), (None, 200.0, 300.0, 600.0), (0.05, 3.0, 8.0)
    ):
        crack = Crack(length_mm=120.0, width_mm=width_mm, stage=stage, fixed=fixed, board_length_mm=long_mm)
        mend_crack(crack)
        mend_crack(replace(crack, wood=CHERRY, board_width_mm=508.0, air_pct=(60.0, 25.0)))


def _joints() -> None:
    """What is loose all over, and what broke in a joint."""
    sizes = {"depth_mm": 19.0, "length_mm": 16.0, "cheeks": 8}
    for gap_mm, carries, known, glue in itertools.product((0.1, 0.3, 0.5, 2.0), (False, True), ({}, sizes), GLUES):
        mend_corner(LooseCorner(gap_mm=gap_mm, carries=carries, glue=replace(glue, gap_mm=0.05), **known))
    for gap_mm, taper_ratio in itertools.product((0.1, 0.3, 2.0, 4.0), (None, 320.0)):
        mend_key(LooseKey(gap_mm=gap_mm, depth_mm=7.0, length_mm=300.0, taper_ratio=taper_ratio, room_mm=100.0))
    pin = SnappedPin(narrow_mm=6.0, wide_mm=10.0, length_mm=16.0, thickness_mm=19.0, grooved=True)
    for room_mm, lost, wood in itertools.product((None, 16.0, 6.0), (1, 2, 3), (CHERRY, PLYWOOD)):
        mend_pin(replace(pin, room_mm=room_mm, lost=lost, wood=wood))
    for into_mm, wood in itertools.product((1.0, 6.0, 12.0), (CHERRY, PLYWOOD)):
        mend_baseline(TornBaseline(socket_mm=11.0, below_mm=1.0, into_mm=into_mm, thickness_mm=16.0, wood=wood))
    parts = (BrokenPart.TAIL, BrokenPart.SOCKET)
    for stage, part, width_mm, whole_mm in itertools.product(CrackStage, parts, (0.05, 0.5), (None, 4.0, 15.0, 500.0)):
        mend_split(Split(length_mm=20.0, width_mm=width_mm, stage=stage, whole_mm=whole_mm), part)


def _panels() -> None:
    """Cupped sides, split bottoms, held panels."""
    for hollow_mm in (0.2, 1.0, 2.0, 5.0):
        mend_side(CuppedSide(hollow_mm=hollow_mm, width_mm=120.0, thickness_mm=12.0, play_mm=0.3))
    for overhang_mm, slot_mm in itertools.product((0.0, 6.0, 20.0), (None, 16.0)):
        sizes = {"crack_mm": 1.5, "length_mm": 300.0, "thickness_mm": 6.0}
        mend_bottom(SplitBottom(overhang_mm=overhang_mm, slot_mm=slot_mm, **sizes))
    for hold_mm in (None, 2.0, 9.0):
        mend_panel(HeldPanel(crack_mm=1.5, crack_length_mm=200.0, thickness_mm=9.0, hold_mm=hold_mm))


def _pieces() -> None:
    """What is said of symptoms by what is known of the piece: every sample, in air that is known and that isn't."""
    slack = replace(Shop(), fit_mm=-0.1, glue=find_glue("epoxy"))
    full = replace(slack, fit_mm=0.1, glue=find_glue("hot hide"))
    for path, air in itertools.product(
        sorted(SAMPLES.glob("*.toml")), ((None, None), (65.0, 20.0), (65.0, 65.0), (30.0, 90.0))
    ):
        piece = piece_of(read_job(path), air_pct=air)
        for one, row in itertools.product(
            (piece, replace(piece, shop=slack), replace(piece, shop=full)), all_symptoms().values()
        ):
            facts(one, row.sized("9 mm"))
            facts(one, replace(row, said_mm=5.0))


def _glue_ups() -> None:
    panel = {"name": "panel", "in": "case", "finish_first": True, "reach": "inside", "left_long": True}
    late = {"name": "rail", "in": ["B", "C"]}
    stages = [{"name": "front", "joins": ["A", "B"]}, {"name": "rest", "joins": ["rail", "C", "D"]}]
    long_thin = {"length": 1295, "across": 203, "width": 102, "tail_count": 3}
    lid = {"lid": {"at": 40}}
    zoned = shelf_between("side")
    zoned["divider"][0]["glue_zone"] = 50
    slow = {"seconds_a_face": 40}
    jobs: list[dict[str, Any]] = [
        glue_box(captured=[panel], box={"proud": 0.4}, **long_thin),
        glue_box(captured=[late], stage=stages),
        glue_box(captured=[late], stage=[{"name": "left", "joins": ["A", "D", "rail"]}]),
        glue_box(tails="end", **shelf_between("side")),
        glue_box(**shelf_between("side")),
        glue_box(**zoned),
        glue_box(tails="end", **zoned),
        glue_box(stage=[{"name": "left", "joins": ["A", "D"]}]),
        glue_box(box=lid),
        glue_box(shop={"temperature": 5}),
        glue_box(shop={"temperature": 12}),
        glue_box(shop={"glue": ""}),
        glue_box(tail_count=12, width=160),
        glue_box(tail_count=8, width=300),
        glue_box(glueup=slow | {"open_minutes": 5}),
        glue_box(
            glueup={"seconds_a_face": 24 * 60 / 32, "seconds_a_corner": 0, "seconds_a_clamp": 0, "open_minutes": 5}
        ),
        glue_box(glueup={"seconds_a_face": 600}),
        _many(),
        _unequal("right side"),
        _unequal("side"),
    ]
    del jobs[0]["shop"]["temperature"]
    for tables in jobs:
        plan, job = planned(tables), loaded(tables)
        glue_up_tables(job, plan)
        said: tuple[Callable[[Any], Any], ...] = (
            glue_words.conditions,
            glue_words.clamping,
            glue_words.checking,
            glue_words.habits,
            glue_words.cautions,
        )
        for words in said:
            list(words(plan))
        for off_mm in (0.0, 2.0, -8.0, 8.0):
            if plan.diagonals:
                length_mm = plan.diagonals[0].length_mm + off_mm
                lean = nearest(plan.diagonals, (length_mm + off_mm, length_mm - 1.0))
                assert lean is not None
                list(lean_findings(lean))
                glue_words.lean_words(lean)
        verdict(plan.findings)
    glue_words.label_first()
    glue_words.rehearsal()
    verdict(())


def _many() -> dict[str, Any]:
    """More stages that take too long than ways out are looked for."""
    job = glue_box(glueup={"seconds_a_face": 15})
    job["box"] = [{**job["box"][0], "name": f"drawer {number}"} for number in range(10)]
    return job


def _unequal(right: str) -> dict[str, Any]:
    """A box whose right side is 2 mm longer than its left, or one of a pair of which one end alone stops at a lap."""
    job = glue_box()
    del job["box"]
    side, end = job["board"]
    pair = right == side["name"]
    job["board"] = [
        {**side, "count": 2 if pair else 1},
        *({**end, "name": name, "count": 1} for name in ("front", "back")),
    ]
    job["board"] += [] if pair else [{**side, "name": right, "length": 502, "count": 1}]
    tails = ("side.right", f"{right}.left", f"{right}.right", "side.left")
    pins = ("front.left", "front.right", "back.left", "back.right")
    keys = {"tail_count": 4, "pin": 6, "half_pin": 8, "slope": "1:7"}
    rows = zip("ABCD", tails, pins, strict=True)
    job["corner"] = [{"name": name, "tails": one, "pins": other, **keys} for name, one, other in rows]
    job["corner"][0] |= {"joint": "half_blind", "lap": 5} if pair else {}
    return job


def _fits() -> None:
    for tables in (
        corner_job(tail_count=6, pin=8, half_pin=8, shop={"glue": "pva", "fit": 0.05}),
        corner_job(tail_count=6, pin=8, half_pin=8),
        corner_job("hard maple", tail_count=10, pin=1.5, half_pin=2, shop={"glue": "pva"}),
        corner_job("eastern white pine", tail_count=3, pin=8, half_pin=5, shop={"glue": "pva"}),
    ):
        job = loaded(tables)
        same = [corner_fit(job.joints[0], job.shop)]
        fit_report.fit_table(same, Unit.MM)
        list(fit_report.fit_lines(same, Unit.MM))
    fit_report.TEXTS("no_corner")
    fit_report.TEXTS("not_rehearsed")
    still = Hand(marking_mm=0, sawing_mm=0, transfer_mm=0, placing_mm=0)
    for hand, most_mm in ((Hand(), 0.3), (Hand(), -0.5), (Hand(), 0.05), (still, 0.05)):
        list(rehearsal_words(rehearse(cheeks=(5, 5), fit_mm=0.0, most_mm=most_mm, hand=hand, joints=400)))


def _moving() -> None:
    unknown = {"species": "sorb", "moisture": 14}
    for tables in (
        *(test_movement.ready(tables) for _, tables, _ in test_movement.CASES),
        *(drawer_job(shop=test_drawer_checks.STEADY, **keys) for _, keys, _ in test_drawer_checks.CASES),
        *(drawer_job(**{"shop": test_drawer_checks.YEAR, **keys}) for _, keys in test_drawer_checks.TROUBLED),
        test_movement.ready(panel_job(board=unknown)),
        test_movement.ready(drawer_job("sorb", runner_length=400)),
        {key: table for key, table in drawer_job().items() if key != "shop"},
        drawer_job(shop=test_drawer_checks.YEAR, height=400, front_rings="quarter"),
    ):
        judged(loaded(tables))
    for tables in (across_job(), across_job(screws=[100])):
        fixing_words(loaded(tables).across[0])
    for glued in Glued:
        holding_words(loaded(panel_job(glued=glued.value)).panels[0])


def test_every_text_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    said: set[tuple[str, str, str]] = set()
    entry = Texts._entry

    def heard(texts: Texts, key: str, values: Mapping[str, object]) -> str | tuple[str, ...]:
        said.add((texts.room, texts.name, key))
        return entry(texts, key, values)

    monkeypatch.setattr(Texts, "_entry", heard)
    cautions("lap", "ca", "chisels", "clamps", "glues")
    for say in (_gaps, _corners, _keys_and_cracks, _joints, _panels, _pieces, _glue_ups, _fits, _moving):
        say()
    # what rules say of themselves is read as they are declared; sheets are scanned in tests/test_texts.py
    files = [file for file in FILES if file.name != "rules" and file.room != "drawing"]
    known = {(file.room, file.name, key) for file in files for key in file.all()}
    assert sorted(known - said) == []
