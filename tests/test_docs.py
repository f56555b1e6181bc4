"""The guide for developers stays short, and it and the documents behind it name only what is there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
GUIDE = ROOT / "DEVELOPERS.md"
DOCS = ROOT / "dovelayout" / "docs"
PAGES = [GUIDE, ROOT / "README.md", *sorted(DOCS.rglob("*.md"))]
WITH_PATHS = [GUIDE, DOCS / "testing.md"]

MOST_LINES = 130
MOST_LETTERS = 140
"""In one line of the guide: a little more than code has."""

PATH = re.compile(r"[\w.*<>-]*/[\w./*<>-]*|[\w.-]+\.(?:py|toml|md|json|txt)")
"""What is meant as a path between backticks: it has a slash or the ending of a file, and no spaces."""


def _prose(page: Path) -> str:
    """A page without its fenced blocks."""
    return re.sub(r"^```.*?^```", "", page.read_text(encoding="utf-8"), flags=re.DOTALL | re.MULTILINE)


def _paths(page: Path) -> list[str]:
    """Paths in backticks, and files that the worked diffs change."""
    changed = re.findall(r"^(?:---|\+\+\+) (\S+)$", page.read_text(encoding="utf-8"), flags=re.MULTILINE)
    named = [text for text in re.findall(r"`([^`\n]+)`", _prose(page)) if PATH.fullmatch(text)]
    return [*changed, *named]


def _is_there(path: str) -> bool:
    """From the root, from the package, or in any room where it is said without one (`data/*.toml`, `half_blind.py`)."""
    pattern = re.sub(r"<\w+>|NAME", "*", path).rstrip("/")
    return any(any(base.glob(start + pattern)) for base, start in ((ROOT, ""), (ROOT / "dovelayout", "**/")))


def _anchors(page: Path) -> set[str]:
    """Anchors of a page's headings, as a forge makes them."""
    headings = re.findall(r"^#+ (.+)$", _prose(page), flags=re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.casefold()).replace(" ", "-") for heading in headings}


def test_the_guide_is_read_in_a_few_minutes() -> None:
    lines = GUIDE.read_text(encoding="utf-8").splitlines()
    assert len(lines) <= MOST_LINES
    assert [line for line in lines if len(line) > MOST_LETTERS] == []


@pytest.mark.parametrize("page", WITH_PATHS, ids=lambda page: page.name)
def test_every_path_that_is_named_is_there(page: Path) -> None:
    paths = _paths(page)
    assert len(paths) > 8
    assert [path for path in paths if not _is_there(path)] == []


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.relative_to(ROOT).as_posix())
def test_every_command_and_every_link_leads_somewhere(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    for module in re.findall(r"python -m (tests[\w.]*)", text):
        path = ROOT / module.replace(".", "/")
        assert path.with_suffix(".py").is_file() or (path / "__main__.py").is_file(), module
    for link in re.findall(r"\]\(([^)\s]+)\)", _prose(page)):
        target, _, anchor = link.partition("#")
        found = (page.parent / target).resolve() if target else page
        assert found.is_file(), link
        assert not anchor or anchor in _anchors(found), link


def test_every_theme_of_decisions_is_listed_and_every_decision_has_its_date_and_outcome() -> None:
    folder = DOCS / "decisions"
    index = folder / "README.md"
    themes = {path for path in folder.glob("*.md") if path != index}
    assert {folder / name for name in re.findall(r"\]\(([\w-]+\.md)\)", index.read_text(encoding="utf-8"))} == themes
    for theme in themes:
        decisions = re.split(r"^## ", theme.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]
        assert decisions, theme.name
        for decision in decisions:
            heading = decision.splitlines()[0]
            assert re.search(r"\(\d{4}-\d\d-\d\d[^()]*\)$", heading), f"{theme.name}: {heading}: its date"
            assert "- **Context:** " in decision, f"{theme.name}: {heading}"
            assert "- **Outcome:** " in decision, f"{theme.name}: {heading}"


def test_what_is_not_there_would_be_noticed() -> None:
    assert not _is_there("joints/no_such_kind.py")
    assert not _is_there("no_such_room/")
    assert _is_there("tests/test_docs.py")
    assert _is_there("joints/")
