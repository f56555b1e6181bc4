"""Running the tests on mutants: every mutant in a process of its own, forked off, with a limit on its time."""

from __future__ import annotations

import os
import pickle
import resource
import sys
import time
import warnings
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from pathlib import Path
from types import FrameType
from typing import Any

import pytest
from _pytest.runner import runtestprotocol

from tests.mutation.live import Hook, caches, module_name, put_into_function
from tests.mutation.mutators import Mutant

PYTEST = ("-q", "-x", "-n0", "-s", "-p", "no:cacheprovider", "-W", "ignore::pytest.PytestAssertRewriteWarning")
Code = tuple[str, str]  # file, qualified name of a function


class End(Enum):
    """What became of a mutant."""

    KILLED = "killed"
    TIMEOUT = "killed by the time limit"
    SURVIVED = "survived"
    UNSEEN = "survived, no test runs it"
    AT_IMPORT = "needs a fresh import"


_EXITS = {0: End.SURVIVED, 1: End.KILLED, 3: End.AT_IMPORT}
_MOST_MEMORY = 6 << 30


@dataclass(slots=True)
class Baseline:
    """Which functions each test runs and how long it takes, and those that run at import and collection."""

    runs: dict[str, frozenset[Code]]
    seconds: dict[str, float]
    at_import: frozenset[Code]

    def files_at(self, test: str) -> set[str]:
        """The sources that a test goes through."""
        return {file for file, _ in self.runs[test]}


@dataclass(frozen=True, slots=True)
class Task:
    """What is to be run for one mutant, and how long it may; `known` where nothing has to be run."""

    mutant: Mutant
    work: Callable[[], int] = int
    cpu_seconds: float = 0.0
    known: End | None = None


def ended(tasks: Iterable[Task], at_once: int) -> Iterator[tuple[Mutant, End]]:
    """What becomes of each, so many children at a time."""
    running: dict[int, Mutant] = {}

    def reap() -> tuple[Mutant, End]:
        child, status = os.wait()
        return running.pop(child), _end(status)

    for task in tasks:
        if task.known is not None:
            yield task.mutant, task.known
            continue
        if len(running) >= at_once:
            yield reap()
        running[_fork(task.work, task.cpu_seconds)] = task.mutant
    while running:
        yield reap()


def _end(status: int) -> End:
    """A child that was killed, by its limit or by itself, is a mutant that was noticed."""
    if os.WIFSIGNALED(status):
        return End.TIMEOUT
    return _EXITS.get(os.waitstatus_to_exitcode(status), End.KILLED)


def _fork(work: Callable[[], int], cpu_seconds: float) -> int:
    """Runs `work` in a child, whose number is given back; its result is the child's exit code."""
    sys.stdout.flush()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # the threads of numpy: nothing of them is used in the child
        child = os.fork()
    if child == 0:
        code = 1
        try:
            whole = int(cpu_seconds) + 1
            resource.setrlimit(resource.RLIMIT_CPU, (whole, whole + 2))
            resource.setrlimit(resource.RLIMIT_AS, (_MOST_MEMORY, _MOST_MEMORY))
            quiet = os.open(os.devnull, os.O_WRONLY)
            os.dup2(quiet, 1)
            os.dup2(quiet, 2)
            code = work()
        except BaseException:
            code = 1
        finally:
            os._exit(code)
    return child


class _Calls:
    """Notes the package's functions as they are called."""

    def __init__(self, home: Path) -> None:
        self.home = str(home.resolve())
        self.seen: set[Code] = set()

    def __call__(self, frame: FrameType, event: str, arg: Any) -> None:
        code = frame.f_code
        if code.co_filename.startswith(self.home):
            self.seen.add((code.co_filename, code.co_qualname.split(".<locals>")[0]))

    def __enter__(self) -> _Calls:
        self.seen = set()
        sys.settrace(self)
        return self

    def __exit__(self, *_: object) -> None:
        sys.settrace(None)


def _run(items: Iterable[Any]) -> bool:
    """Whether all of these tests pass; it stops at the first that doesn't."""
    items = list(items)
    for item, following in zip(items, [*items[1:], None], strict=True):
        if any(report.failed for report in runtestprotocol(item, nextitem=following, log=False)):
            return False
    return True


class Session:
    """A pytest plugin: collects the tests once, measures them, then forks one child for each mutant."""

    def __init__(
        self, mutants: Iterable[Mutant], kept: Path, told: Callable[[Mutant, End], None], at_once: int
    ) -> None:
        self.mutants, self.kept, self.told, self.at_once = tuple(mutants), kept, told, at_once
        self.calls = _Calls(Path("dovelayout"))
        self.baseline: Baseline | None = None

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self, session: pytest.Session) -> None:
        """What runs from here to the first test runs once, before any mutant can be put in."""
        self.calls.__enter__()

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Instead of one run: the measured one, and one for each mutant."""
        self.calls.__exit__()
        at_import = frozenset(self.calls.seen)
        items = {item.nodeid: item for item in session.items}
        measured = _fork(lambda: self._measure(list(items.values()), at_import), 3600)
        if _end(os.waitpid(measured, 0)[1]) is not End.SURVIVED:
            pytest.exit("the tests fail without any change: mend that first", returncode=4)
        self.baseline = pickle.loads(self.kept.read_bytes())
        for mutant, end in ended((self._task(mutant, items) for mutant in self.mutants), self.at_once):
            self.told(mutant, end)
        return True

    def _measure(self, items: list[Any], at_import: frozenset[Code]) -> int:
        runs, seconds = {}, {}
        remembered = caches()
        for item, following in zip(items, [*items[1:], None], strict=True):
            for cache in remembered:  # a test that finds an answer there goes through the function all the same
                cache.cache_clear()
            start = time.process_time()
            with self.calls as calls:
                reports = runtestprotocol(item, nextitem=following, log=False)
            if any(report.failed for report in reports):
                self.kept.with_suffix(".failed").write_text(f"{item.nodeid}\n{[r.longreprtext for r in reports]}")
                return 1
            runs[item.nodeid], seconds[item.nodeid] = frozenset(calls.seen), time.process_time() - start
        self.kept.write_bytes(pickle.dumps(Baseline(runs, seconds, at_import)))
        return 0

    def _task(self, mutant: Mutant, items: dict[str, Any]) -> Task:
        assert self.baseline is not None
        code = (str(mutant.path.resolve()), mutant.function or "")
        if mutant.function is None or code in self.baseline.at_import:
            return Task(mutant, known=End.AT_IMPORT)
        tests = [test for test, runs in self.baseline.runs.items() if code in runs]
        if not tests:
            return Task(mutant, known=End.UNSEEN)
        # the quick ones first; those of one file stay together, for what they share
        tests.sort(key=lambda test: self.baseline.seconds[test])
        limit = 10 + 4 * sum(self.baseline.seconds[test] for test in tests)

        def work() -> int:
            if not put_into_function(mutant):
                return 3
            return 0 if _run(items[test] for test in tests) else 1

        return Task(mutant, work, limit)


class _Only:
    """A pytest plugin: of what is collected, only these tests."""

    def __init__(self, tests: set[str], seconds: dict[str, float]) -> None:
        self.tests, self.seconds = tests, seconds

    def pytest_collection_modifyitems(self, items: list[Any]) -> None:
        """The quick ones first."""
        items[:] = sorted((i for i in items if i.nodeid in self.tests), key=lambda i: self.seconds[i.nodeid])


def at_import(mutant: Mutant, baseline: Baseline, knows: Callable[[str], set[str]]) -> Task:
    """A mutant of what runs at import, in a process that hasn't imported the package. `knows`: the sources that import
    from one; only tests that go through any of them can notice."""
    near = knows(str(mutant.path.resolve()))
    tests = {test for test in baseline.runs if baseline.files_at(test) & near}
    limit = 30 + 4 * sum(baseline.seconds[test] for test in tests)
    if not tests:
        return Task(mutant, known=End.UNSEEN)

    def work() -> int:
        assert module_name(mutant.path) not in sys.modules
        sys.meta_path.insert(0, Hook(mutant))
        files = sorted({test.split("::")[0] for test in tests})
        return int(pytest.main([*PYTEST, *files], plugins=[_Only(tests, baseline.seconds)]))

    return Task(mutant, work, limit)


def importers(files: Iterable[Path]) -> dict[str, set[str]]:
    """For each source, itself and those that name its module in an import."""
    texts = {path: path.read_text(encoding="utf-8") for path in files}
    found: dict[str, set[str]] = {}
    for path in texts:
        package, _, last = module_name(path).rpartition(".")
        named = (f"from {package}.{last} import", f"import {package}.{last}", f"from {package} import")
        found[str(path.resolve())] = {str(path.resolve())} | {
            str(other.resolve()) for other, text in texts.items() if any(name in text for name in named)
        }
    return found


def all_sources() -> Iterator[Path]:
    """Every source of the package."""
    yield from sorted(Path("dovelayout").rglob("*.py"))
