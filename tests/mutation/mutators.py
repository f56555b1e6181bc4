"""Small wrong turns in a source: one comparison, sign, constant, bound or result changed at a time.

Texts, docstrings, annotations, decorators, digits of `round`, tolerances under 1e-5 and whether a comparison with such a
tolerance takes in its very boundary are left as they are: nothing that a maker could be misled by hangs on them.
"""

from __future__ import annotations

import ast
import copy
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

TOLERANCE = 1e-5
"""Constants below it are guards against the last bit of the arithmetic (ours)."""

_COMPARE: dict[type[ast.cmpop], tuple[type[ast.cmpop], ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
_BOUNDARY = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt}
_GUARDED = re.compile(r"EDGE_MM|SLACK_MM|_TOLERANCE_MM|TOUCHING_MM|\bslack\b|\b1e-0[5-9]\b|\b1e-[1-9]\d")
_ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Div,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
}
_NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
_ALONE = ("abs", "round")  # of round, only to whole numbers: with digits it is how a figure is shown
_FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutant:
    """One change: `node` counts the nodes of the parsed source, `way` the changes of that node. `function` is the
    outermost function that it lies in, None in what runs when the module is imported."""

    path: Path
    line: int
    node: int
    way: int
    function: str | None
    change: str

    @property
    def key(self) -> tuple[str, str, str]:
        """Names the change without its line number, which moves."""
        return self.path.as_posix(), self.function or "", self.change

    def tree(self) -> ast.Module:
        """The changed source."""
        tree = ast.parse(self.path.read_text(encoding="utf-8"))
        place = next(place for place in _places(tree) if place.index == self.node)
        changed = list(_variants(place.node))[self.way]
        new = _Swap(place.node, changed).visit(tree)
        assert isinstance(new, ast.Module)
        return ast.fix_missing_locations(new)


@dataclass(frozen=True, slots=True)
class _Place:
    node: ast.AST
    index: int
    function: str | None


class _Swap(ast.NodeTransformer):
    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self.old, self.new = old, ast.copy_location(new, old)

    def visit(self, node: ast.AST) -> ast.AST:
        return self.new if node is self.old else self.generic_visit(node)


def mutants_of(path: Path) -> Iterator[Mutant]:
    """Every mutant of a source, in its order."""
    for place in _places(ast.parse(path.read_text(encoding="utf-8"))):
        for way, changed in enumerate(_variants(place.node)):
            yield Mutant(
                path=path,
                line=getattr(place.node, "lineno", getattr(getattr(place.node, "iter", None), "lineno", 0)),
                node=place.index,
                way=way,
                function=place.function,
                change=f"{_shown(place.node)}  ->  {_shown(changed)}",
            )


def _shown(node: ast.AST) -> str:
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= 110 else f"{text[:107]}..."


def _places(tree: ast.Module) -> Iterator[_Place]:
    count = 0

    def walk(node: ast.AST, names: tuple[str, ...], function: str | None) -> Iterator[_Place]:
        nonlocal count
        count += 1
        yield _Place(node, count, function)
        for child in _worth(node):
            if isinstance(child, _FUNCTIONS) and function is None:
                # defaults are reckoned when the module is imported
                for default in (*child.args.defaults, *(d for d in child.args.kw_defaults if d)):
                    yield from walk(default, names, None)
                inner = (*names, child.name)
                for statement in child.body:
                    yield from walk(statement, inner, ".".join(inner))
            elif isinstance(child, ast.ClassDef):
                yield from walk(child, (*names, child.name), function)
            else:
                yield from walk(child, names, function)

    yield from walk(tree, (), None)


def _worth(node: ast.AST) -> Iterator[ast.AST]:
    """The children that are worth a change."""
    if isinstance(node, ast.JoinedStr | ast.Import | ast.ImportFrom | ast.Assert):
        return
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "round":
        yield node.args[0]
        return
    for field, value in ast.iter_fields(node):
        if field in ("annotation", "returns", "decorator_list", "type_params", "bases"):
            continue
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            return
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST) and not _is_text(child):
                yield child


def _is_text(node: ast.AST) -> bool:
    if isinstance(node, ast.Expr):
        return _is_text(node.value)
    if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
        return node.targets[0].id in ("__slots__", "__all__")
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _variants(node: ast.AST) -> Iterator[ast.AST]:
    match node:
        case ast.Compare(ops=[op]):
            for other in _COMPARE[type(op)]:
                if _BOUNDARY.get(type(op)) is other and _GUARDED.search(ast.unparse(node)):
                    continue  # the boundary of a guard
                yield ast.Compare(left=node.left, ops=[other()], comparators=node.comparators)
        case ast.Compare():
            for index, op in enumerate(node.ops):
                ops = [*node.ops[:index], _COMPARE[type(op)][0](), *node.ops[index + 1 :]]
                yield ast.Compare(left=node.left, ops=ops, comparators=node.comparators)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _ARITHMETIC:
            if not any(_is_text(side) or isinstance(side, ast.Tuple | ast.List) for side in (left, right)):
                yield ast.BinOp(left=left, op=_ARITHMETIC[type(op)](), right=right)
        case ast.AugAssign(op=op) if type(op) in _ARITHMETIC and not _is_text(node.value):
            yield ast.AugAssign(target=node.target, op=_ARITHMETIC[type(op)](), value=node.value)
        case ast.BoolOp(op=op, values=values):
            yield ast.BoolOp(op=ast.Or() if isinstance(op, ast.And) else ast.And(), values=values)
        case ast.UnaryOp(op=ast.USub() | ast.Not(), operand=operand):
            yield operand
        case ast.Constant(value=bool() as value):
            yield ast.Constant(value=not value)
        case ast.Constant(value=int() as value):
            yield ast.Constant(value=value + 1)
            yield ast.Constant(value=value - 1)
        case ast.Constant(value=float() as value) if value == 0 or abs(value) >= TOLERANCE:
            yield ast.Constant(value=value * 1.1 if value else 1.0)
            yield ast.Constant(value=value * 0.9 if value else -1.0)
        case ast.Call(func=ast.Name(id=name)) if name in _NAMES:
            yield ast.Call(func=ast.Name(id=_NAMES[name], ctx=ast.Load()), args=node.args, keywords=node.keywords)
        case ast.Call(func=ast.Name(id=name), args=[first]) if name in _ALONE:
            yield first
        case ast.If() | ast.IfExp() if _bare(node.test):
            new = copy.copy(node)
            new.test = ast.UnaryOp(op=ast.Not(), operand=node.test)
            yield new
        case ast.comprehension(ifs=[_, *_]):
            yield ast.comprehension(target=node.target, iter=node.iter, ifs=[], is_async=node.is_async)
        case ast.Return(value=value) if value is not None and not (isinstance(value, ast.Constant) and not value.value):
            yield ast.Return(value=ast.Constant(value=None))
        case ast.Expr(value=ast.Yield() | ast.YieldFrom()):
            yield ast.Expr(value=ast.YieldFrom(value=ast.Tuple(elts=[], ctx=ast.Load())))
        case ast.Raise():
            yield ast.Pass()
        case _:
            pass


def _bare(test: ast.expr) -> bool:
    """A condition that no other change turns round."""
    return not isinstance(test, ast.Compare | ast.BoolOp | ast.UnaryOp)
