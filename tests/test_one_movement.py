"""One board has one movement, whoever asks: `check`, `season`, `drawers`, the bench sheet and the page."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from dovelayout.cli.main import app
from dovelayout.job.reader import read_job
from dovelayout.page.reports import season as season_on_the_page
from dovelayout.report.bench import bench_sheet
from dovelayout.verdict.verdict import judged
from tests.season_jobs import emc, grown

JOB = """\
title = "Thread cabinet"
units = "mm"

[shop]
humidity = [35, 65]
{fitted}

[drawers]
species = "hard maple"

[[drawer]]
name = "reels"
width = 400
height = 110
depth = 420
bottom_species = "western redcedar"
"""

CEDAR = 0.00234
"""Western redcedar across flat-sawn width, Wood Handbook Table 13-5."""

FITTED = {"not said": "", "in the driest": "built_at = 35", "between": "built_at = 50", "damper": "built_at = 70"}


def _told(command: str, path: Path) -> dict[str, Any]:
    result = CliRunner().invoke(app, [command, str(path), "--json"])
    assert result.exit_code == 0, result.output
    said: dict[str, Any] = json.loads(result.stdout)
    return said


def _bench_text(path: Path) -> str:
    """Every word of the bench sheet's sections, before they are set in columns."""
    return repr(bench_sheet(judged(read_job(path)), pictures=False).parts)


@pytest.fixture(params=FITTED)
def job(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    path = tmp_path / "cabinet.toml"
    path.write_text(JOB.format(fitted=FITTED[request.param]))
    return path


def test_a_drawers_bottom_moves_alike_in_every_answer(job: Path) -> None:
    check, drawers, season = (_told(command, job) for command in ("check", "drawers", "season"))
    (one,), (other,) = check["drawers"], drawers["drawers"]
    (part,) = [row for row in season["parts"] if row["name"] == "reels bottom" and row["across"] == "width"]
    assert one["bottom"] == other["bottom"]
    shrinks, grows, moves = (one["bottom"][f"{key}_mm"] for key in ("shrinks", "grows", "moves"))
    assert (part["shrinks_mm"], part["grows_mm"], part["change_mm"]) == pytest.approx((shrinks, grows, moves))

    bench = _bench_text(job)
    assert f"it grows {grows:.1f} mm and shrinks {shrinks:.1f} mm over the year" in bench
    assert f"text='{moves:.1f}'" in bench

    page = season_on_the_page({"text": job.read_text(), "name": job.name})
    (row,) = [row for row in page["tables"][1]["rows"] if row[:2] == ("reels bottom", "width")]
    size_mm = part["dimension_mm"]
    driest, dampest, moved = (float(cell.removesuffix(" mm")) for cell in row[3:6])
    assert driest == pytest.approx(part["driest_mm"], abs=0.051)
    assert dampest == pytest.approx(part["dampest_mm"], abs=0.051)
    assert moved == pytest.approx(moves, abs=0.0051)
    assert size_mm - min(driest, size_mm) == pytest.approx(shrinks, abs=0.051)
    assert max(dampest, size_mm) - size_mm == pytest.approx(grows, abs=0.051)


def test_where_nothing_says_when_it_is_fitted_it_may_lose_or_gain_all_of_it(tmp_path: Path) -> None:
    """By a sum of our own, Eq 4-5 and 13-2: fitted at 65 % it loses, fitted at 35 % it gains."""
    path = tmp_path / "cabinet.toml"
    path.write_text(JOB.format(fitted=""))
    bottom = _told("check", path)["drawers"][0]["bottom"]
    width_mm = next(row["width_mm"] for row in _told("check", path)["parts"] if row["name"] == "reels bottom")
    driest, dampest = emc(35), emc(65)
    assert bottom["shrinks_mm"] == pytest.approx(width_mm - grown(width_mm, CEDAR, dampest, driest), abs=1e-4)
    assert bottom["grows_mm"] == pytest.approx(grown(width_mm, CEDAR, driest, dampest) - width_mm, abs=1e-4)


def test_a_home_that_nobody_knows_is_assumed_alike_in_every_answer(tmp_path: Path) -> None:
    """6 to 14 % moisture, fitted at either: 8 points by Eq 13-2."""
    path = tmp_path / "cabinet.toml"
    path.write_text(JOB.format(fitted="").replace("humidity = [35, 65]\n", ""))
    check, drawers = (_told(command, path) for command in ("check", "drawers"))
    bottom = check["drawers"][0]["bottom"]
    assert drawers["drawers"][0]["bottom"] == bottom
    width_mm = next(row["width_mm"] for row in check["parts"] if row["name"] == "reels bottom")
    assert (bottom["shrinks_mm"], bottom["grows_mm"]) == pytest.approx((8 * CEDAR * width_mm,) * 2, abs=1e-4)
    bench = _bench_text(path)
    assert f"it grows {bottom['grows_mm']:.1f} mm and shrinks {bottom['shrinks_mm']:.1f} mm over the year" in bench
    for text in (json.dumps(check["findings"]), json.dumps(drawers["findings"]), bench):
        assert "6 to 14 % moisture in the wood is taken, as for a home that nobody knows" in text
        assert "each figure is the worse of fitted at 6 % and at 14 % moisture in the wood" in text
    assert CliRunner().invoke(app, ["season", str(path)]).exit_code == 2


@pytest.mark.parametrize("fitted", FITTED)
def test_the_assumption_is_said_in_every_answer_that_uses_it_and_in_no_other(fitted: str, tmp_path: Path) -> None:
    path = tmp_path / "cabinet.toml"
    path.write_text(JOB.format(fitted=FITTED[fitted]))
    sentence = "it isn't said in what air it is fitted: each figure is the worse of fitted at 35 % and at 65 %"
    page = season_on_the_page({"text": path.read_text(), "name": path.name})
    answers = {
        "check": json.dumps(_told("check", path)["findings"]),
        "drawers": json.dumps(_told("drawers", path)["findings"]),
        "season": json.dumps(_told("season", path)["findings"]),
        "bench": _bench_text(path).replace('\\"', '"'),
        "page": json.dumps(page["findings"]),
    }
    said = {name: sentence in text for name, text in answers.items()}
    assert set(said.values()) == {fitted == "not said"}, said
    words = "driest as fitted at 65 %, dampest as fitted at 35 %" if fitted == "not said" else FITTED[fitted]
    assert words.replace("built_at =", "fitted at") in page["tables"][1]["title"]
    assert words.replace("built_at =", "itted at")[1:] in answers["bench"]
