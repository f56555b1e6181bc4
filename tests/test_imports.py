"""Imports go one way through the rooms, and a room can be had without what it doesn't need."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

import dovelayout

HOME = Path(dovelayout.__file__).parent
GROUND = {"errors", "place", "words", "texts", "units", "wood", "shop", "paper", "everyday", "change"}
WORK = GROUND | {
    "joints", "checks", "casework", "planning", "glueup", "repair", "job", "verdict", "drawing", "render", "printer",
}  # fmt: skip

MAY_KNOW: dict[str, set[str]] = {
    "words": set(),
    "texts": set(),
    "change": {"units"},
    "place": {"words"},
    "errors": {"place"},
    "units": {"errors"},
    "shop": {"wood"},
    "paper": {"errors", "units"},
    "everyday": set(),
    "wood": {"errors", "units"},
    "joints": GROUND,
    "casework": GROUND | {"joints"},
    "checks": GROUND | {"joints", "casework"},
    "planning": GROUND | {"joints", "checks", "casework"},
    "glueup": GROUND | {"joints", "checks", "casework"},
    "repair": GROUND | {"joints", "checks", "casework", "glueup"},
    "job": GROUND | {"joints", "checks", "casework"},
    "verdict": GROUND | {"joints", "checks", "casework", "job"},
    "drawing": GROUND | {"joints", "checks", "casework", "planning", "glueup", "repair"},
    "render": GROUND | {"joints", "drawing"},
    "printer": GROUND | {"checks", "drawing", "render"},
    "report": WORK,
    "page": WORK | {"report"},
    "cli": WORK | {"report", "page"},
    "__main__": {"cli"},
}
"""What each room may import, besides itself. A new room is added here, on purpose."""

MOST_MODULES = 16
"""In one folder; only the commands, a module each, may be more."""

LAZY_FRONT_DOOR = "__init__"  # the package's own __init__ names what is public and loads it when it is first used


def _room(module: str) -> str:
    """'dovelayout.drawing.template.wrap' -> 'drawing'; '' for another package."""
    parts = module.split(".")
    return (parts[1] if len(parts) > 1 else LAZY_FRONT_DOOR) if parts[0] == "dovelayout" else ""


def _imports(path: Path) -> Iterator[str]:
    """Full names of all modules a file imports, wherever in the file."""
    package = ("dovelayout", *path.relative_to(HOME).with_suffix("").parts[:-1])
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = ".".join(package[: len(package) - node.level + 1]) if node.level else ""
            module = ".".join(part for part in (base, node.module) if part)
            if module == "dovelayout":
                yield from (f"dovelayout.{alias.name}" for alias in node.names)
            else:
                yield module


FILES = sorted(path for path in HOME.rglob("*.py") if path != HOME / "__init__.py")


@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(HOME)))
def test_a_room_knows_only_the_rooms_before_it(path: Path) -> None:
    own = path.relative_to(HOME).with_suffix("").parts[0]
    assert own in MAY_KNOW, f"{own} is a new room: say in MAY_KNOW what it may import"
    for module in _imports(path):
        room = _room(module)
        if module in ("dovelayout", "dovelayout.__version__"):
            continue  # the version
        assert not room or room == own or room in MAY_KNOW[own], f"{path.relative_to(HOME)} imports {module}"


def test_the_table_of_rooms_has_no_way_round() -> None:
    done: set[str] = set()
    while len(done) < len(MAY_KNOW):
        ready = {room for room, known in MAY_KNOW.items() if room not in done and known <= done}
        assert ready, f"these rooms know each other: {sorted(set(MAY_KNOW) - done)}"
        done |= ready


def _node(module: str, within: Path) -> str:
    """The room or loose module directly in a folder of the package that a module belongs to; '' for one elsewhere."""
    parts, base = module.split("."), ("dovelayout", *within.relative_to(HOME).parts)
    return parts[len(base)] if tuple(parts[: len(base)]) == base and len(parts) > len(base) else ""


@pytest.mark.parametrize(
    "folder", sorted({path.parent for path in FILES}), ids=lambda path: str(path.relative_to(HOME))
)
def test_the_rooms_within_a_room_go_one_way_too(folder: Path) -> None:
    knows: dict[str, set[str]] = {}
    for path in folder.rglob("*.py"):
        own = path.relative_to(folder).with_suffix("").parts[0]
        if path.parent != folder or path.name != "__init__.py":
            knows.setdefault(own, set()).update(_node(module, folder) for module in _imports(path))
    left = {own: others & knows.keys() - {own} for own, others in knows.items()}
    while left:
        ready = {own for own, others in left.items() if not others & left.keys()}
        assert ready, f"these know each other: {left}"
        left = {own: others for own, others in left.items() if own not in ready}


@pytest.mark.parametrize(
    "folder", sorted({path.parent for path in FILES}), ids=lambda path: str(path.relative_to(HOME))
)
def test_no_room_is_crowded(folder: Path) -> None:
    assert folder.name == "cli" or len(list(folder.glob("*.py"))) <= MOST_MODULES


HEAVY = ("reportlab", "svgwrite", "typer", "rich", "pydantic")


def _loaded(statement: str, names: tuple[str, ...]) -> list[str]:
    """Which of these packages a fresh interpreter has loaded after a statement."""
    code = f"{statement}\nimport sys\nprint(*[name for name in {names!r} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=HOME.parent)
    return done.stdout.split()


def test_joints_and_checks_load_nothing_that_prints_or_parses() -> None:
    assert _loaded("import dovelayout.joints, dovelayout.checks", HEAVY) == []


def test_drawing_loads_no_renderer_and_no_command_line() -> None:
    assert _loaded("import dovelayout.drawing.book", HEAVY) == []


def test_the_front_door_loads_nothing_until_asked() -> None:
    names = ("shapely", "numpy", *HEAVY)
    assert _loaded("import dovelayout", names) == []
    assert _loaded("import dovelayout; dovelayout.read_job", HEAVY) == ["pydantic"]


def test_this_scan_would_notice() -> None:
    assert "reportlab" in _loaded("import dovelayout.render.pdf", HEAVY)
    assert "dovelayout.drawing.primitives" in set(_imports(HOME / "render" / "svg.py"))
    assert _room("dovelayout.cli.main") == "cli"
    assert _room("shapely.affinity") == ""


def test_every_public_name_is_there() -> None:
    for name in dovelayout.__all__:
        assert getattr(dovelayout, name) is not None
    with pytest.raises(AttributeError, match="no attribute 'nothing_like_it'"):
        _ = dovelayout.nothing_like_it
