"""Whether the lower bounds in pyproject.toml hold: installs the oldest versions they allow, and runs the program on them.

    python -m tests.minimum

Makes an environment of its own and takes it away again.
Samples are checked, planned and drawn, a mistake is refused in one line, and the page answers a request.
Exits 1 for what fails, with its last lines.
"""

from __future__ import annotations

import re
import subprocess
import sys
import tempfile
import time
import tomllib
import urllib.request
import venv
from collections.abc import Iterator
from pathlib import Path

from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parent.parent
SAMPLES = ROOT / "samples"
CHEST = SAMPLES / "sewing-chest.toml"
CALLS = (
    ("check", "sewing-chest.toml"),
    ("suggest", "sewing-chest.toml"),
    ("fit", "needle-box.toml"),
    ("glueup", "sewing-chest.toml"),
    ("season", "yarn-cabinet.toml"),
    ("drawers", "sewing-drawers.toml"),
    ("check", "linen-press.toml"),
)
PAGE_SECONDS = 20.0


def oldest() -> list[str]:
    """The lower bound of every package that dovelayout needs, as pip takes it: 'pydantic==2.8'."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    requirements = [Requirement(text) for text in project["dependencies"]]
    return [f"{one.name}=={bound.version}" for one in requirements for bound in one.specifier if bound.operator == ">="]


def installed(folder: Path) -> Path:
    """Dovelayout with the oldest packages it allows, in a new environment; the command there."""
    environment, bounds = folder / "env", folder / "oldest.txt"
    bounds.write_text("\n".join(oldest()), encoding="utf-8")
    venv.create(environment, with_pip=True)
    python = environment / "bin" / "python"
    subprocess.run([python, "-m", "pip", "install", "-q", "-c", str(bounds), str(ROOT)], check=True)
    return environment / "bin" / "dovelayout"


def failures(command: Path, folder: Path) -> Iterator[str]:
    """A line for every run that ends in anything but an answer: 0, 1 on a stop, 2 for a job that is refused in one line."""
    calls = [(name, str(SAMPLES / sample), "--json") for name, sample in CALLS]
    calls += [("draw", str(CHEST), "-o", str(folder / "drawn")), ("species", "--json"), ("repair", "gap", "--help")]
    for call in calls:
        yield from _wrong(command, call, (0, 1))
    broken = folder / "broken.toml"
    broken.write_text('[[board]]\nname = "side"\nlenght = 3\n', encoding="utf-8")
    yield from _wrong(command, ("check", str(broken)), (2,))


def _wrong(command: Path, call: tuple[str, ...], right: tuple[int, ...]) -> Iterator[str]:
    done = subprocess.run([command, *call], capture_output=True, text=True, check=False)
    if done.returncode not in right or "Traceback" in done.stderr:
        yield f"{' '.join(call)}: exit code {done.returncode}; {done.stderr[-400:]}"


def page_fault(command: Path) -> str:
    """Why the page doesn't answer; empty where it does."""
    page = [command, "page", str(CHEST), "--no-browser"]
    with subprocess.Popen(page, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True) as server:
        try:
            return _unanswered(server)
        finally:
            server.terminate()


def _unanswered(server: subprocess.Popen[str]) -> str:
    assert server.stdout is not None
    found, printed = None, ""
    while found is None and (line := server.stdout.readline()):
        printed += line
        found = re.search(r"http://\S+", line)
    if found is None:
        return f"page: it ended with {printed[-400:]}"
    opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())  # the key comes back as a cookie
    ends = time.monotonic() + PAGE_SECONDS
    while time.monotonic() < ends:
        try:
            with opener.open(found[0], timeout=PAGE_SECONDS) as answer:
                return "" if answer.status == 200 else f"page: answered {answer.status}"
        except ConnectionError:
            time.sleep(0.1)
        except OSError as error:
            if not isinstance(getattr(error, "reason", None), ConnectionError):
                return f"page: {error}"
            time.sleep(0.1)
    return f"page: no answer in {PAGE_SECONDS:g} s"


def main() -> int:
    """Tries them, and says what fails."""
    with tempfile.TemporaryDirectory() as name:
        command = installed(Path(name))
        found = [*failures(command, Path(name)), *filter(None, [page_fault(command)])]
    print("\n".join(found) or "the oldest packages that pyproject.toml allows will do")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
