"""Whether the lower bounds in pyproject.toml are true: an environment of exactly these versions, and a run in it.

    python -m tests.minimum_versions               # about a minute and a half, most of it downloads
    python -m tests.minimum_versions --set pydantic=2.8

makes a new environment with the least version of everything that dovelayout needs, drawing and reading extras included, and
in it checks and draws every sample in every format, makes a bank of drawers of a table, edits a job, and asks the page for
what it shows. `--set` tries another version in the place of one bound. It needs a package index, so the tests leave it out.
"""

from __future__ import annotations

import argparse
import json
import queue
import re
import subprocess
import sys
import tempfile
import threading
import time
import tomllib
import urllib.error
import urllib.request
import venv
from pathlib import Path

ROOT = Path(__file__).parents[1]
SAMPLES = sorted((ROOT / "samples").glob("*.toml"))
EXTRAS = ("dxf", "fast", "png")
"""What users may add; the others are for tests and linters."""

_BOUND = re.compile(r"(?P<name>[\w-]+)(?:>=(?P<least>[\w.]+))?(?:,<[\w.]+)?")


def lower_bounds() -> dict[str, str]:
    """The least version of each package, '' where any will do. ValueError for a requirement written another way."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    bounds = {}
    for requirement in (*project["dependencies"], *(one for extra in EXTRAS for one in extras[extra])):
        found = _BOUND.fullmatch(requirement)
        if found is None:
            raise ValueError(f"{requirement!r} is not written as name>=version, perhaps with ,<version")
        bounds[found["name"]] = found["least"] or ""
    return bounds


def _smoke(folder: Path) -> None:
    """A run through the program, in whatever environment this is."""
    from dovelayout.cli.main import app
    from dovelayout.job.editing import edited
    from dovelayout.page.answers import answers_for
    from dovelayout.page.folder import Folder

    def run(*arguments: object, fine: tuple[int, ...] = (0,)) -> None:
        code = app([str(one) for one in arguments], standalone_mode=False) or 0
        if code not in fine:
            raise SystemExit(f"dovelayout {' '.join(map(str, arguments))}: exit {code}")

    table = ROOT / "samples" / "thread-library.csv"
    run("drawers", table, "-o", folder / "library.toml", "--species", "hard maple")
    run("species", "black cherry")
    answers = answers_for(Folder(ROOT / "samples"))
    formats = [word for kind in ("pdf", "svg", "dxf", "png") for word in ("--as", kind)]
    for sample in SAMPLES:
        run("check", sample, "--json", fine=(0, 1))
        run("draw", sample, "-o", folder / sample.stem, *formats, "--anyway", fine=(0, 1))
        text = sample.read_text(encoding="utf-8")
        again = edited(text, [{"op": "set", "table": "", "name": "", "key": "title", "value": "Another"}])
        seen = answers["look"]({"text": again, "name": sample.name})
        if seen["error"] is not None:
            raise SystemExit(f"{sample.name} on the page: {seen['error']}")
    _ask_the_page(ROOT / "samples")


def _ask_the_page(samples: Path) -> None:
    """Serves the page, and asks it for itself and for what it starts with."""
    from dovelayout.page.folder import Folder
    from dovelayout.page.server import serve

    address: queue.Queue[str] = queue.Queue()
    threading.Thread(target=lambda: serve(Folder(samples), opened=address.put), daemon=True).start()
    url = address.get(timeout=30)
    base = url.partition("/?")[0]
    browser = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
    for _ in range(100):
        try:
            html = browser.open(url).read().decode("utf-8")
            break
        except urllib.error.URLError:
            time.sleep(0.1)
    else:
        raise SystemExit("the page does not answer")
    headers = {"content-type": "application/json", "origin": base}
    start = json.load(browser.open(urllib.request.Request(f"{base}/api/start", b"{}", headers)))
    if "<html" not in html or "forms" not in start:
        raise SystemExit("the page is not what it should be")


def main(arguments: list[str] | None = None) -> int:
    """Makes the environment and runs the smoke in it; or runs the smoke here."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument(
        "--set", action="append", default=[], metavar="NAME=VERSION", help="another version of one package"
    )
    parser.add_argument("--here", action="store_true", help="run in this environment; what the new one is started with")
    asked = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        if asked.here:
            _smoke(folder)
            print("the program runs in this environment")
            return 0
        bounds = {**lower_bounds(), **dict(one.split("=", 1) for one in asked.set)}
        pins = [f"{name}=={least}" if least else name for name, least in bounds.items()]
        print("installing", *pins, flush=True)
        venv.create(folder / "low", with_pip=True)
        python = folder / "low" / "bin" / "python"
        quiet = ("-q", "--disable-pip-version-check", "--only-binary", ":all:")
        subprocess.run([python, "-m", "pip", "install", *quiet, *pins], check=True)
        return subprocess.run(
            [python, "-m", "tests.minimum_versions", "--here"], cwd=ROOT, stdout=subprocess.DEVNULL
        ).returncode


if __name__ == "__main__":
    sys.exit(main())
