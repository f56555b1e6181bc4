"""What a piece says for or against a symptom: true figures, by the rule that the decisions state."""

from __future__ import annotations

from dataclasses import replace

import pytest

import dovelayout.verdict.verdict  # noqa: F401  every rule is declared as it is imported
from dovelayout.checks.rule import RULES
from dovelayout.repair.symptoms import Says, all_symptoms, diagnose, facts, favoured, find_symptom
from dovelayout.repair.symptoms.evidence import MOVES, bearings
from dovelayout.repair.symptoms.piece import HAS, KnownPiece
from dovelayout.repair.symptoms.ranking import index
from dovelayout.wood.glue import all_glues, find_glue
from tests.repair.symptoms.reports import reports
from tests.repair.symptoms.test_piece import SAMPLES, sample


def test_what_bears_on_a_symptom_is_all_there() -> None:
    known = {check for check, _ in RULES}
    for name, row in bearings().items():
        assert name in all_symptoms()
        assert row.checks <= known, name
        assert not row.has or row.has in HAS, name
        assert not row.moves or row.moves in MOVES, name
        assert set(row.glue) <= set(all_glues()), name
    assert {row.has for row in bearings().values()} >= set(HAS)
    assert {row.moves for row in bearings().values()} - {""} == set(MOVES)


def said(piece: KnownPiece, name: str) -> str:
    return " | ".join(f"{fact.says}: {fact.text}" for fact in facts(piece, find_symptom(name)))


@pytest.mark.parametrize(
    ("name", "changes", "symptom", "words"),
    [
        (
            "linen-press",
            {"now_pct": 35.0},
            "side-cracked",
            "for: your black cherry (side), fitted at 9 % moisture, has lost 2.4 mm (0.094 in) of its 420 mm (≈ 16 17/32 in) "
            "width in a room of 35 %: likely where something holds it",
        ),
        (
            "linen-press",
            {},
            "side-cracked",
            "open: your black cherry (side), fitted at 9 % moisture, loses up to 2.4 mm",
        ),
        ("linen-press", {"now_pct": 49.0}, "side-cracked", "against: your black cherry"),
        ("linen-press", {"now_pct": 65.0}, "side-cracked", "has gained"),
        ("linen-press", {"now_pct": 50.0}, "open-in-winter", "neither lost nor gained"),
        ("linen-press", {"then_pct": 70.0, "now_pct": 25.0}, "open-in-winter", "a cheek of 1:7 opens by 0.0"),
        ("linen-press", {"then_pct": 70.0, "now_pct": 25.0}, "proud-in-winter", "for: the tails' ends stand 0.18 mm"),
        ("linen-press", {}, "panel-bursts", "against: panel back has 4 mm (≈ 5/32 in) of play"),
        ("linen-press", {}, "glue-chalky", "against: your job is glued with liquid hide glue"),
        ("linen-press", {}, "laps-blown-out", "against: your job has no half-blind"),
        ("linen-press", {}, "glue-skinned", "for: check says of stage case: 72 faces"),
        ("linen-press", {}, "breadboard-stuck", "(lid)"),
        ("yarn-cabinet", {}, "cracked-at-cutout", "for: check says of board side with channel, cut-out 1: 37% of"),
        ("sewing-drawers", {}, "drawer-sticks-damp", "against: bobbins has 0.9 mm"),
        ("sewing-drawers", {"now_pct": 90.0}, "drawer-sticks-damp", "too little in a room of 90 %: likely"),
        ("sewing-drawers", {}, "drawer-tight-sideways", "against: "),
        ("sewing-drawers", {}, "drawer-proud-winter", "for: the 395 mm"),
        ("sewing-drawers", {}, "bottom-split", "open: the bottom of buttons moves 2.9 mm"),
    ],
)
def test_a_piece_says_it_in_sentences_with_its_own_figures(
    name: str, changes: dict[str, float], symptom: str, words: str
) -> None:
    assert words in said(sample(name, **changes), symptom)


def test_a_size_beyond_what_the_season_does_speaks_against_it() -> None:
    piece = sample("linen-press", then_pct=70.0, now_pct=25.0)
    symptom = find_symptom("proud-in-winter")
    within, beyond = (symptom.sized(f"they stand {size} mm proud in winter") for size in (0.2, 1.2))
    assert facts(piece, within)[0].says is Says.FOR
    assert {fact.says for fact in facts(piece, beyond)} == {Says.AGAINST}
    assert "is less than the 1.2 mm (0.047 in) you say" in facts(piece, beyond)[-1].text


def test_slack_cheeks_speak_for_a_loose_joint_and_against_a_tight_one() -> None:
    chest = sample("sewing-chest")
    slack, full = (replace(chest, shop=replace(chest.shop, fit_mm=fit_mm)) for fit_mm in (-0.1, 0.05))
    assert said(slack, "gap-all-cheeks").startswith("for: your cheeks are to be 0.1 mm")
    assert said(slack, "too-tight").startswith("against: ")
    assert said(full, "gap-all-cheeks") == ""
    assert said(full, "too-tight").startswith("open: ")


def test_a_glue_that_it_comes_from_says_nothing_by_itself() -> None:
    chest = sample("sewing-chest")
    hide = replace(chest, shop=replace(chest.shop, glue=find_glue("hot hide")))
    assert said(hide, "glue-gelled") == ""
    assert said(chest, "glue-gelled") == ""


def test_what_speaks_for_a_symptom_counts_before_what_speaks_against_it() -> None:
    marks = favoured(sample("linen-press", now_pct=35.0))
    assert marks["side-cracked"] == 1.0
    assert marks["laps-blown-out"] == -1.0
    assert "twisted" not in marks


@pytest.mark.parametrize("name", [path.stem for path in sorted(SAMPLES.glob("*.toml"))])
def test_a_job_makes_nothing_sure_that_the_report_leaves_open(name: str) -> None:
    marks = favoured(sample(name, now_pct=35.0))
    for report in [row.text for row in reports("reports_terse")][:60]:
        alone, with_job = diagnose(report), diagnose(report, favoured=marks)
        assert alone.sure or not with_job.sure
        if with_job.sure:
            assert with_job.symptoms[0].id == alone.symptoms[0].id


def test_a_job_turns_the_order_of_what_stays_close() -> None:
    report = "drawer stuck"
    alone = diagnose(report).symptoms
    last = alone[-1].id
    ranked = index().ranked(index().read(report))
    apart = ranked[0][0] - next(score for score, row in ranked if row.id == last)
    turned = diagnose(report, favoured={last: 1.0, **{row.id: -1.0 for row in alone[:-1]}})
    assert (turned.symptoms[0].id == last) == (apart < 6.0)
    firm = diagnose("gap at the lap, one socket only")
    doubted = diagnose("gap at the lap, one socket only", favoured={"lap-gap-one-socket": -1.0})
    assert (firm.sure, doubted.sure) == (True, False)
    assert "your job speaks against it" in doubted.doubt
