"""`python -m tests.page.screenshot` makes the README's picture of the page anew. Needs Chromium."""

from __future__ import annotations

import tempfile
from pathlib import Path

from tests.page.browser import chromium, served

ROOT = Path(__file__).parents[2]
PICTURE = ROOT / "templates_out" / "page.png"


def main() -> None:
    """The sewing chest with a half pin that is too thin."""
    with tempfile.TemporaryDirectory() as folder:
        text = (ROOT / "samples" / "sewing-chest.toml").read_text(encoding="utf-8")
        job = Path(folder) / "sewing-chest.toml"
        job.write_text(text.replace("half_pin = 8", "half_pin = 2.5"), encoding="utf-8")
        with served(Path(folder), job.name) as address, chromium() as browser:
            page = browser.new_page(viewport={"width": 1360, "height": 860})
            page.goto(address)
            page.wait_for_selector("#picture svg")
            page.locator(".finding .show").first.click()
            page.wait_for_timeout(200)
            page.screenshot(path=str(PICTURE))


if __name__ == "__main__":
    main()
