"""The page's repair panel: a trouble in words is answered by what is known of the open job."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from dovelayout.page.reports import repair

PRESS = (Path(__file__).parents[2] / "samples" / "linen-press.toml").read_text(encoding="utf-8")


def _answer(symptom: str, text: object) -> dict[str, Any]:
    answer = repair({"symptom": symptom, "text": text, "name": "x.toml"})
    json.dumps(answer, allow_nan=False)
    return answer


def _cells(answer: dict[str, Any], head: str) -> list[str]:
    return [row[1] for table in answer["tables"] for row in table["rows"] if row[0] == head]


def test_the_open_job_counts_in_the_answer() -> None:
    answer = _answer("gap at the lap, one socket only", PRESS)
    assert any("your job speaks against it" in line for line in answer["lines"])
    assert any("your job has no half-blind" in cell for cell in _cells(answer, "your piece"))


def test_a_job_that_cant_be_read_leaves_the_answer_as_it_is() -> None:
    for text in ("units = [", None):
        answer = _answer("gap at the lap, one socket only", text)
        assert answer["lines"] == ["The open job can't be read, so nothing of it counts here."]
        assert _cells(answer, "your piece") == []
        assert answer["tables"][0]["title"] == "a gap at the lap, one socket only"
