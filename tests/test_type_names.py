"""A name means one thing: no two classes, enums or type aliases of the package share theirs."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "dovelayout"


def _types(source: str) -> Iterator[str]:
    """Names of the classes of a module, and of its aliases: assignments of a plain name to a type."""
    tree = ast.parse(source)
    yield from (node.name for node in ast.walk(tree) if isinstance(node, ast.ClassDef))
    for node in tree.body:
        if isinstance(node, ast.Assign) and len(node.targets) == 1 and isinstance(node.targets[0], ast.Name):
            name = node.targets[0].id
            if _is_type(node.value) and not name.startswith("_"):
                yield name


def _is_type(value: ast.expr) -> bool:
    """A type built of others: `tuple[float, float]`, `Annotated[...]`, `str | None`; a lone name is a re-export."""
    match value:
        case ast.Subscript(value=ast.Name(id=name)):
            return _names_a_type(name) or name in ("tuple", "list", "dict", "set", "frozenset", "type")
        case ast.BinOp(op=ast.BitOr(), left=left, right=right):
            return any(
                _is_type(side) or (isinstance(side, ast.Name) and _names_a_type(side.id)) for side in (left, right)
            )
    return False


def _names_a_type(name: str) -> bool:
    return name in ("str", "int", "float", "bool") or (name[0].isupper() and not name.isupper())


def _taken() -> dict[str, list[str]]:
    places: dict[str, list[str]] = defaultdict(list)
    for path in sorted(PACKAGE.rglob("*.py")):
        for name in _types(path.read_text(encoding="utf-8")):
            places[name].append(str(path.relative_to(PACKAGE)))
    return {name: where for name, where in places.items() if len(where) > 1}


def test_every_type_has_a_name_of_its_own() -> None:
    assert _taken() == {}


@pytest.mark.parametrize(
    ("source", "names"),
    [
        ("class Rule:\n    class Inner:\n        pass", ["Rule", "Inner"]),
        ("Point = tuple[float, float]", ["Point"]),
        ("Cell = str | tuple[str, ...] | Number", ["Cell"]),
        ("Answer = Callable[[int], str]", ["Answer"]),
        ("Length = Annotated[float, BeforeValidator(read)]", ["Length"]),
        ("Shape = Polygon", []),
        ("PLAIN = Taste('plain')", []),
        ("WIDE = SIZES['wide'] | SIZES['low']", []),
        ("LEVELS = LEAST | MOST", []),
        ("_Row = dict[str, str]", []),
    ],
)
def test_what_counts_as_a_type(source: str, names: list[str]) -> None:
    assert list(_types(source)) == names
