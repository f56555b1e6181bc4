"""The page in a real browser: a server in a thread, Chromium from the system, nothing else reachable."""

from __future__ import annotations

import os
import shutil
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from dovelayout.page import server
from dovelayout.page.folder import Folder

BROWSER = next(
    (found for name in ("chromium", "chromium-browser", "google-chrome") if (found := shutil.which(name))), ""
)
NEEDED = os.environ.get("DOVELAYOUT_NEEDS_BROWSER") == "1"
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--no-default-browser-check",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-domain-reliability",
    "--disable-sync",
    "--disable-client-side-phishing-detection",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
]


@contextmanager
def served(folder: Path, opened: str = "") -> Iterator[str]:
    """The address of the page for a folder; the server's thread ends with the process."""
    address: list[str] = []
    there = threading.Event()

    def told(found: str) -> None:
        address.append(found)
        there.set()

    threading.Thread(target=lambda: server.serve(Folder(folder, opened), opened=told), daemon=True, name="page").start()
    assert there.wait(20)
    yield address[0]


@contextmanager
def chromium() -> Iterator[Any]:
    """A browser; where there is none, the reason to skip, unless one is asked for."""
    if not BROWSER:
        reason = "no chromium, chromium-browser or google-chrome on PATH"
        assert not NEEDED, f"{reason}, and DOVELAYOUT_NEEDS_BROWSER=1 asks for one"
        pytest.skip(reason)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=BROWSER, args=FLAGS)
        try:
            yield browser
        finally:
            browser.close()
