"""The page as a maker uses it, in a real browser. Needs Chromium."""

from __future__ import annotations

import io
import json
import time
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.page.browser import chromium, served

pytestmark = pytest.mark.browser

ROOT = Path(__file__).parents[2]
SAMPLES = ROOT / "samples"
AXE = next((ROOT / "tests" / "vendor").glob("axe-*.min.js"))
WIDTHS = (390, 768, 1440)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with chromium() as found:
        yield found


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "chest.toml").write_bytes((SAMPLES / "sewing-chest.toml").read_bytes())
    return tmp_path


@pytest.fixture
def context(browser: Any) -> Iterator[Any]:
    """A browser of its own for each test: no drafts of another."""
    found = browser.new_context(viewport={"width": 1440, "height": 900}, accept_downloads=True)
    found.set_default_timeout(60_000)
    yield found
    found.close()


def _open(context: Any, address: str, *, ready: str = "#drawing svg") -> Any:
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    page.faults = faults
    page.goto(address)
    page.wait_for_selector(ready)
    return page


def _field(page: Any, key: str) -> Any:
    return page.locator(f'[data-key="{key}"]')


def _enter(page: Any, key: str, value: str) -> None:
    before = _text(page)
    _field(page, key).fill(value)
    with page.expect_response("**/api/edit"):
        _field(page, key).press("Enter")
    until = time.monotonic() + 60
    while _text(page) == before:  # the answer is there; the page takes it in a moment later
        assert time.monotonic() < until
        page.wait_for_timeout(20)


def _wait(page: Any, expression: str, seconds: float = 60) -> None:
    """Waits until an expression holds; asked again and again from outside, since the page's policy forbids eval."""
    until = time.monotonic() + seconds
    while not page.evaluate(expression):
        assert time.monotonic() < until, expression
        page.wait_for_timeout(50)


def _changes(page: Any, selector: str, before: str) -> bool:
    """Whether an element changes within some seconds."""
    until = time.monotonic() + 60
    while page.inner_html(selector) == before and time.monotonic() < until:
        page.wait_for_timeout(50)
    return bool(page.inner_html(selector) != before)


def _text(page: Any) -> str:
    return str(page.evaluate("import('/static/job.js').then((m) => m.job.text)"))


def test_from_an_empty_start_to_a_saved_job_and_a_pdf_at_true_scale(context: Any, tmp_path: Path) -> None:
    with served(tmp_path) as address:
        page = _open(context, address, ready="#welcome-kinds button")
        page.click('[data-kind="box"] >> nth=0')
        page.wait_for_selector("#drawing svg")
        _enter(page, "tail_count", "5")
        page.click("#save")
        page.fill("#save-name", "first box")
        page.press("#save-name", "Enter")
        _wait(page, "document.getElementById('saved').textContent === 'saved'")
        saved = tomllib.loads((tmp_path / "first box.toml").read_text(encoding="utf-8"))
        assert saved["box"][0]["tail_count"] == 5
        page.click("#print")
        page.click("#make-pdf")
        page.wait_for_selector("#pdf-link")
        with page.expect_download() as waiting:
            page.click("#pdf-link")
        pdf = Path(waiting.value.path()).read_bytes()
        assert len(PdfReader(io.BytesIO(pdf)).pages) >= 8
        assert _bar_mm(pdf) == pytest.approx(150.0, abs=0.01)
        assert not page.faults


def _bar_mm(pdf: bytes) -> float:
    """The longest horizontal stroke of the scale bar on the last sheet, read with an independent reader."""
    from tests import readers

    strokes = readers.pdf_segments(pdf, len(PdfReader(io.BytesIO(pdf)).pages) - 1)
    level = [abs(stroke.x2 - stroke.x1) for stroke in strokes if abs(stroke.y1 - stroke.y2) < 1e-6]
    return min(level, key=lambda length_mm: abs(length_mm - 150))


def test_the_pdf_is_the_one_that_the_command_draws(context: Any, folder: Path) -> None:
    from tests.gallery import draw

    draw(folder / "chest.toml", folder / "out", "--as", "pdf")
    (drawn,) = (folder / "out").glob("*.pdf")
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.click("#print")
        page.click("#make-pdf")
        page.wait_for_selector("#pdf-link")
        with page.expect_download() as waiting:
            page.click("#pdf-link")
        assert Path(waiting.value.path()).read_bytes() == drawn.read_bytes()


def test_a_slider_drag_changes_drawing_and_findings_and_goes_back_in_one_step(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        before, text = page.inner_html("#drawing"), _text(page)
        slider = page.locator('[data-slider="tail_count"]')
        box = slider.bounding_box()
        page.mouse.move(box["x"] + box["width"] * 0.3, box["y"] + box["height"] / 2)
        page.mouse.down()
        for share in (0.4, 0.5, 0.6, 0.8):
            page.mouse.move(box["x"] + box["width"] * share, box["y"] + box["height"] / 2, steps=4)
        page.mouse.up()
        assert _changes(page, "#drawing", before)
        _wait(page, "document.querySelectorAll('.finding.warn, .finding.stop').length > 0")
        assert int(_field(page, "tail_count").input_value()) > 4
        page.click("#undo")
        _wait(page, "document.getElementById('undo').disabled")
        assert _text(page) == text
        assert not page.faults


def test_a_fix_is_made_with_one_press_and_taken_back(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        _enter(page, "half_pin", "1.5")
        page.wait_for_selector(".fix-now")
        worse = _text(page)
        findings = page.locator(".finding").count()
        with page.expect_response("**/api/edit"):
            page.locator(".fix-now").first.click()
        _wait(page, f"document.querySelectorAll('.finding').length < {findings}")
        assert float(_field(page, "half_pin").input_value().removesuffix(" mm")) > 1.5
        page.keyboard.press("Control+z")
        _wait(page, f"document.querySelectorAll('.finding').length === {findings}")
        assert _text(page) == worse
        page.keyboard.press("Control+y")
        _wait(page, f"document.querySelectorAll('.finding').length < {findings}")


def test_a_job_without_a_file_is_not_lost_to_the_next_one(context: Any, tmp_path: Path) -> None:
    with served(tmp_path) as address:
        page = _open(context, address, ready="#welcome-kinds button")
        page.click('#welcome-kinds [data-kind="box"]')
        page.wait_for_selector("#drawing svg")
        _enter(page, "tail_count", "5")
        page.click("#new")
        page.click('#dialog-body button:has-text("Go on")')
        page.click('#dialog-body [data-kind="corner"]')
        _wait(page, "!document.querySelector('#parts').textContent.includes('box')")
        page.click("#open")
        page.click('#dialog-body button:has-text("no file yet")')
        _wait(page, "document.querySelector('[data-key=tail_count]')?.value === '5'")


def test_the_parts_are_listed_and_suggestions_follow_the_corners(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        assert "front" in page.inner_text("#panel table")
        page.click("#tab-suggest")
        page.click('button[aria-label="Add to corners"]')
        _wait(page, "[...document.querySelectorAll('#suggest-corner option')].some((o) => o.value === 'E')")


def test_another_unit_is_asked_about_first(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        text = _text(page)
        page.click('.part:has-text("Job")')
        page.select_option('[data-key="units"]', "in")
        page.wait_for_selector("dialog[open]")
        page.click('#dialog-body button:has-text("Leave it")')
        assert _text(page) == text


def test_a_list_may_be_typed_without_brackets(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.click('.part:has-text("Shop")')
        _enter(page, "chisels", "3, 6, 12")
        _enter(page, "humidity", "35-65")
        shop = tomllib.loads(_text(page))["shop"]
        assert shop["chisels"] == [3, 6, 12]
        assert shop["humidity"] == [35, 65]
        page.click('.part:has-text("chest")')
        assert page.input_value('[data-key="pins"]') == "front, back"
        _enter(page, "pins", "back, front")
        assert tomllib.loads(_text(page))["box"][0]["pins"] == ["back", "front"]
        assert page.input_value('[data-key="pins"]') == "back, front"


def test_a_finding_shows_its_place(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        _enter(page, "half_pin", "1.5")
        page.wait_for_selector(".finding.warn .show, .finding.stop .show")
        page.locator(".finding.warn .show, .finding.stop .show").first.click()
        names = page.eval_on_selector_all(".spot.on", "nodes => nodes.map((n) => n.dataset.spot)")
        assert names
        assert all(name.startswith("half pin") for name in names)


def test_a_bad_entry_is_told_beside_its_field_and_nothing_is_lost(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        drawn = page.inner_html("#drawing svg >> nth=0")
        _enter(page, "pin", "a hair")
        page.wait_for_selector('[data-key="pin"][aria-invalid="true"]')
        told = page.inner_text("#field-pin-error")
        assert "a hair" in told
        assert page.locator("#drawing.stale svg").count() == 1
        assert page.locator("#drawing svg path.knife").count() >= 1
        assert drawn
        assert 'pin = "a hair"' in _text(page)
        _enter(page, "pin", "1/4 in")
        page.wait_for_selector('[data-key="pin"][aria-invalid="false"]')
        assert page.locator("#drawing.stale").count() == 0


def test_a_reload_keeps_unsaved_work(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        _enter(page, "pin", "7.5")
        page.reload()
        page.wait_for_selector("#drawing svg")
        assert _field(page, "pin").input_value() == "7.5"
        assert "unsaved changes are back" in page.inner_text("#banner")
        assert "pin = 6" in (folder / "chest.toml").read_text()


def test_a_file_changed_on_disk_is_noticed_and_never_overwritten_unseen(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        _enter(page, "pin", "7.5")
        by_hand = (folder / "chest.toml").read_text().replace("half_pin = 8", "half_pin = 9")
        (folder / "chest.toml").write_text(by_hand)
        page.click("#save")
        page.wait_for_selector("dialog[open]")
        assert "changed meanwhile" in page.inner_text("#dialog-title")
        assert (folder / "chest.toml").read_text() == by_hand
        page.keyboard.press("Escape")
        _wait(page, "!document.getElementById('banner').hidden")
        assert "changed on disk" in page.inner_text("#banner")
        page.click("#banner button >> nth=0")
        _wait(page, "document.querySelector('[data-key=half_pin]').value === '9'")


def test_two_tabs_keep_their_own_work_and_say_so(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        one = _open(context, address)
        _enter(one, "pin", "7.5")
        other = _open(context, address.partition("?")[0])
        assert "another tab" in other.inner_text("#banner")
        assert _field(other, "pin").input_value() == "6"
        _enter(other, "pin", "5")
        other.click("#save")
        _wait(other, "document.getElementById('saved').textContent === 'saved'")
        one.click("#save")
        one.wait_for_selector("dialog[open]")
        assert "changed meanwhile" in one.inner_text("#dialog-title")
        assert "pin = 5" in (folder / "chest.toml").read_text()


def test_comments_and_order_survive_a_saved_edit(context: Any, folder: Path) -> None:
    text = (folder / "chest.toml").read_text()
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        _enter(page, "tail_count", "3")
        page.keyboard.press("Control+s")
        _wait(page, "document.getElementById('saved').textContent === 'saved'")
    assert (folder / "chest.toml").read_text() == text.replace("tail_count = 4", "tail_count = 3")


def test_suggestions_are_shown_as_drawings_and_taken(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        text = _text(page)
        page.click("#tab-suggest")
        page.click("#suggest-go")
        page.wait_for_selector(".card svg")
        assert page.locator(".card svg").count() >= 3
        with page.expect_response("**/api/edit"):
            page.locator(".card button").first.click()
        _wait(page, "!document.getElementById('undo').disabled")
        assert _text(page) != text


def test_the_job_as_text_is_the_job(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.click("#tab-text")
        assert page.input_value("#job-text") == (folder / "chest.toml").read_text()
        page.fill("#job-text", page.input_value("#job-text").replace("tail_count = 4", "tail_count = 3"))
        _wait(page, "document.querySelector('[data-key=tail_count]').value === '3'")


def test_parts_are_added_renamed_and_removed(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.click('button[aria-label="Add to dividers"]')
        page.wait_for_selector('.part:has-text("divider 1")')
        assert tomllib.loads(_text(page))["divider"][0]["name"] == "divider 1"
        page.click('.part:has-text("front")')
        _enter(page, "name", "face")
        page.wait_for_selector('.part:has-text("face")')
        assert tomllib.loads(_text(page))["box"][0]["pins"] == ["face", "back"]
        page.click('.part:has-text("divider 1")')
        page.click(".remove")
        _wait(page, "!document.querySelector('#parts').textContent.includes('divider 1')")


@pytest.fixture
def press(tmp_path: Path) -> Path:
    (tmp_path / "press.toml").write_bytes((SAMPLES / "linen-press.toml").read_bytes())
    return tmp_path


@pytest.mark.parametrize(
    ("tab", "seen"), [("season", "How far the parts move"), ("fit", "dry fit"), ("glueup", "Order")]
)
def test_what_the_other_rooms_compute_is_shown(context: Any, press: Path, tab: str, seen: str) -> None:
    with served(press, "press.toml") as address:
        page = _open(context, address)
        page.click(f"#tab-{tab}")
        page.click(f"#{tab}-go")
        page.wait_for_selector("#panel .computed")
        assert seen in page.inner_text("#panel")
        assert page.locator("#panel table").count() >= 1
        _enter(page, "pin", "6.5")
        page.wait_for_selector("#panel .outdated:not([hidden])")
        assert not page.faults


def test_the_repair_helper_answers_in_words(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.click("#tab-repair")
        page.fill("#repair-width", "0.6")
        page.fill("#repair-length", "12")
        page.fill("#repair-depth", "1/2 in")
        page.click("#repair-go")
        page.wait_for_selector("#panel .computed")
        assert "Method: slip" in page.inner_text("#panel")
        assert page.locator("#panel .chart svg").count() == 1
        page.fill("#repair-symptom", "gap at the lap, one socket only")
        page.click("#symptom-go")
        page.wait_for_selector("#panel .computed table")
        assert "floor" in page.inner_text("#panel")
        page.fill("#repair-width", "wide")
        page.click("#repair-go")
        page.wait_for_selector("#panel .error")
        assert "the gap's width" in page.inner_text("#panel .error")


def test_a_table_of_openings_becomes_a_bank(context: Any, folder: Path) -> None:
    csv = "name,width,height,depth\ntop,300,80,350\nmiddle,300,100,350\nodd,wide,100,350\n"
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.click("#open")
        page.set_input_files(
            "#elsewhere", files=[{"name": "openings.csv", "mimeType": "text/csv", "buffer": csv.encode()}]
        )
        page.wait_for_selector("#dialog-body li")
        assert "row 4" in page.inner_text("#dialog-body")
        page.keyboard.press("Escape")
        drawers = tomllib.loads(_text(page))["drawer"]
        assert [drawer["name"] for drawer in drawers] == ["top", "middle"]
        page.wait_for_selector('.part:has-text("middle")')


def test_the_sheets_are_shown_small_with_their_count(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.click("#print")
        page.wait_for_selector("#sheet-count")
        count = int(page.inner_text("#sheet-count").split()[0])
        assert page.locator(".sheets .card").count() == count
        page.select_option("#print-paper", "A3")
        _wait(page, "document.getElementById('sheet-count')?.textContent.includes('A3')")
        page.click("#make-pdf")
        page.wait_for_selector("#pdf-link")
        with page.expect_download() as waiting:
            page.click("#pdf-link")
        box = PdfReader(waiting.value.path()).pages[0].mediabox
        assert float(box.width) == pytest.approx(297 / 25.4 * 72, abs=0.01)


def test_a_stop_is_told_before_it_is_printed_and_can_be_overruled(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        _enter(page, "half_pin", "0.6")
        page.wait_for_selector(".worst.stop")
        page.click("#print")
        page.click("#make-pdf")
        page.wait_for_selector('#dialog-body .error:has-text("stop")')
        page.click('#dialog-body button:has-text("all the same")')
        page.wait_for_selector("#pdf-link")


def test_long_work_can_be_stopped(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.route("**/api/suggest", lambda route: None)  # never answered
        page.click("#tab-suggest")
        page.click("#suggest-go")
        page.wait_for_selector("#panel progress")
        page.click('#panel button:has-text("Stop")')
        page.wait_for_selector('#panel .error:has-text("Stopped")')


def test_script_in_every_name_stays_text(context: Any, folder: Path) -> None:
    evil = "<img src=x onerror=alert(1)><script>alert(1)</script>"
    text = (folder / "chest.toml").read_text()
    for name in ("Sewing chest", "chest", "side", "front", "back"):
        text = text.replace(f'"{name}"', json.dumps(f"{name} {evil}"[:60]))
    (folder / "evil.toml").write_text(text)
    with served(folder, "evil.toml") as address:
        page = context.new_page()
        dialogs: list[str] = []
        page.on("dialog", lambda dialog: (dialogs.append(dialog.message), dialog.dismiss()))
        page.goto(address)
        page.wait_for_selector("#drawing svg")
        page.wait_for_selector("#picture svg")
        for tab in ("glueup", "fit", "text"):
            page.click(f"#tab-{tab}")
            if tab != "text":
                page.click(f"#{tab}-go")
                page.wait_for_selector("#panel .computed, #panel .error")
        page.click("#print")
        page.wait_for_selector("#sheet-count")
        assert dialogs == []
        assert page.locator("body img[src=x]").count() == 0
        assert page.evaluate("document.scripts.length") == 1
        assert "<img" in page.inner_text("#parts")


def test_keyboard_alone_reaches_every_control(context: Any, folder: Path) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.evaluate("document.querySelectorAll('details').forEach((d) => { d.open = true; })")
        wanted = page.evaluate(
            """() => {
              const all = [...document.querySelectorAll('button, select, input, textarea, a[href], summary')];
              const seen = all.filter((n) => n.checkVisibility() && !n.disabled && n.tabIndex >= 0 && !n.closest('dialog'));
              seen.forEach((n, i) => { n.dataset.wanted = i; });
              return seen.length;
            }"""
        )
        reached = set()
        page.evaluate("document.body.focus()")
        for _ in range(wanted + 30):
            page.keyboard.press("Tab")
            at = page.evaluate("document.activeElement && document.activeElement.dataset.wanted")
            if at is not None:
                reached.add(int(at))
        assert reached == set(range(wanted))


@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_overlaps_and_nothing_runs_off_the_side(context: Any, folder: Path, width: int) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.set_viewport_size({"width": width, "height": 900})
        page.wait_for_timeout(100)
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        boxes = page.evaluate(
            """() => [...document.querySelectorAll('.work > *, .top > *')].filter((n) => n.checkVisibility()).map((n) => {
              const box = n.getBoundingClientRect();
              return [n.className || n.id || n.tagName, box.left, box.top, box.right, box.bottom];
            })"""
        )
        for index, (name, left, top, right, bottom) in enumerate(boxes):
            assert left >= -0.5, name
            assert right <= width + 0.5, name
            for other, left2, top2, right2, bottom2 in boxes[index + 1 :]:
                apart = right <= left2 + 0.5 or right2 <= left + 0.5 or bottom <= top2 + 0.5 or bottom2 <= top + 0.5
                assert apart, (name, other)
        small = page.evaluate(
            """() => [...document.querySelectorAll('button, select, input:not([type=range])')]
              .filter((n) => n.checkVisibility() && n.getBoundingClientRect().height < 24)
              .map((n) => n.outerHTML.slice(0, 80))"""
        )
        assert small == []  # WCAG 2.2, 2.5.8: targets of 24 px at least


@pytest.mark.parametrize("width", WIDTHS)
def test_axe_finds_nothing(context: Any, folder: Path, width: int) -> None:
    with served(folder, "chest.toml") as address:
        page = _open(context, address)
        page.set_viewport_size({"width": width, "height": 900})
        _enter(page, "half_pin", "1.5")
        for state in ("work", "bad entry", "dialog", "text"):
            if state == "bad entry":
                _enter(page, "pin", "a hair")
            elif state == "dialog":
                page.click("#print")
                page.wait_for_selector("dialog[open]")
            elif state == "text":
                page.keyboard.press("Escape")
                page.click("#tab-text")
            # a content script's world, which the page's own policy doesn't reach
            found = _axe(page)
            assert found == [], (state, found)


def _axe(page: Any) -> list[Any]:
    session = page.context.new_cdp_session(page)
    frame = session.send("Page.getFrameTree")["frameTree"]["frame"]["id"]
    world = session.send("Page.createIsolatedWorld", {"frameId": frame, "worldName": "axe"})["executionContextId"]
    session.send("Runtime.evaluate", {"expression": AXE.read_text(encoding="utf-8"), "contextId": world})
    script = (
        "axe.run(document, {resultTypes: ['violations']}).then((r) => "
        "JSON.stringify(r.violations.map((v) => [v.id, v.help, v.nodes.map((n) => n.html.slice(0, 120)).slice(0, 3)])))"
    )
    answer = session.send(
        "Runtime.evaluate",
        {"expression": script, "contextId": world, "awaitPromise": True, "returnByValue": True},
    )
    return list(json.loads(answer["result"]["value"]))
