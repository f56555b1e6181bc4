"""`python -m tests.page.measure`: what an update of the page costs, and whether a bank of sixty drawers freezes it.

Ratios of CPU time in one run, so that a busy machine doesn't matter; freezes are long tasks as the browser itself counts
them. Needs Chromium.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from dovelayout.drawing.screen import corner_drawing
from dovelayout.job.bank_job import job_of_openings
from dovelayout.job.openings import read_openings
from dovelayout.job.reader import read_job
from dovelayout.page.answers import answers_for
from dovelayout.page.folder import Folder
from dovelayout.render.svg import svg_text
from dovelayout.verdict.verdict import judged
from tests.page.browser import chromium, served

ROOT = Path(__file__).parents[2]
ROUNDS = 9

_WATCH = """() => {
  window.longest = 0;
  const note = (list) => list.getEntries().forEach((e) => { window.longest = Math.max(window.longest, e.duration); });
  new PerformanceObserver(note).observe({ type: 'longtask', buffered: true });
}"""
_FREEZE = "setTimeout(() => { const until = performance.now() + 150; while (performance.now() < until); }, 0)"


def _cpu_seconds(act: Callable[[int], object]) -> float:
    times = []
    for number in range(ROUNDS):
        start = time.process_time()
        act(number)
        times.append(time.process_time() - start)
    return statistics.median(times)


def update_ratio(sample: Path) -> float:
    """An edit as the server answers it, against reading, judging and drawing the same job and no more."""
    text = sample.read_text(encoding="utf-8")
    edit = answers_for(Folder(sample.parent))["edit"]

    def answered(number: int) -> object:
        job = read_job(sample)
        table, name = job.joints[0].spec.origin
        edits = [{"op": "set", "table": table, "name": name, "key": "half_pin", "value": f"{8 + number / 100}"}]
        return edit({"text": text, "name": sample.name, "show": "", "edits": edits})

    def shown(number: int) -> object:
        job = read_job(sample)
        joint = job.joints[0].varied(half_pin_mm=8 + number / 100)
        return judged(job), svg_text(corner_drawing(joint).sheet)

    reading = _cpu_seconds(lambda _: read_job(sample))
    return (_cpu_seconds(answered) - reading) / _cpu_seconds(shown)


def longest_task_ms() -> tuple[float, float]:
    """The longest freeze of the browser while a bank of sixty drawers is opened, and while it is scrolled."""
    openings = read_openings(ROOT / "samples" / "thread-library.csv")
    text, _, _ = job_of_openings(openings, title="Thread library", source="thread-library.csv", common={})
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "bank.toml").write_text(text, encoding="utf-8")
        with served(Path(folder), "bank.toml") as address, chromium() as browser:
            page = browser.new_page(viewport={"width": 1440, "height": 900})
            page.set_default_timeout(120_000)
            page.add_init_script(f"({_WATCH})()")
            page.goto(address)
            page.wait_for_selector("#drawing svg")
            page.wait_for_timeout(1500)
            opened = float(page.evaluate("window.longest"))
            page.evaluate("window.longest = 0")
            for _ in range(40):
                page.mouse.wheel(0, 400)
                page.wait_for_timeout(30)
            scrolled = float(page.evaluate("window.longest"))
            page.evaluate(_FREEZE)  # would a freeze be seen?
            page.wait_for_timeout(500)
            assert page.evaluate("window.longest") >= 140
            return opened, scrolled


def main() -> None:
    """Prints both."""
    for name in ("sewing-chest", "button-drawer"):
        print(
            f"an update of {name}: {update_ratio(ROOT / 'samples' / f'{name}.toml'):.2f} times what it shows (aim: 3)"
        )
    opened, scrolled = longest_task_ms()
    print(f"sixty drawers: longest freeze {opened:.0f} ms while opening, {scrolled:.0f} ms while scrolling (aim: 200)")


if __name__ == "__main__":
    main()
