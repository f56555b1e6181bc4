"""The folder that commands are called in."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.calling import STOP


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to work in, with a job that stops."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "stop.toml").write_text(STOP, encoding="utf-8")
    return tmp_path
