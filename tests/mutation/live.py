"""A mutant put into a running process: nothing is ever written to a source file.

A change inside a function is put into the function that is there already (its `__code__`); one in what runs at import
comes in through an import hook, in a process that hasn't imported the package yet.
"""

from __future__ import annotations

import functools
import gc
import importlib.util
import sys
from collections.abc import Sequence
from importlib.machinery import ModuleSpec, SourceFileLoader
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any

from tests.mutation.mutators import Mutant


def module_name(path: Path) -> str:
    """'dovelayout/checks/corner/pins.py' -> 'dovelayout.checks.corner.pins'."""
    parts = path.with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def put_into_function(mutant: Mutant) -> bool:
    """Changes the live function; False where it can't be reached, so that a fresh import is needed."""
    assert mutant.function is not None
    code = _code_of(compile(mutant.tree(), str(mutant.path.resolve()), "exec"), mutant.function, mutant.path)
    live = _live(sys.modules[module_name(mutant.path)], mutant.function)
    if code is None or live is None or live.__code__.co_freevars != code.co_freevars:
        return False
    if live.__code__.co_firstlineno != code.co_firstlineno:
        return False
    live.__code__ = code
    forget()
    return True


def caches() -> list[functools._lru_cache_wrapper[Any]]:
    """Every cache of the package and its tests."""
    wrappers = [thing for thing in gc.get_objects() if isinstance(thing, functools._lru_cache_wrapper)]
    return [cache for cache in wrappers if str(cache.__module__).startswith(("dovelayout", "tests"))]


def forget() -> None:
    """Empties them: what is remembered was reckoned without the change."""
    for cache in caches():
        cache.cache_clear()


def _code_of(module: CodeType, function: str, path: Path) -> CodeType | None:
    """The one code of that name; None where there are two, such as a property's getter and setter."""
    found = []
    waiting = [module]
    while waiting:
        for const in waiting.pop().co_consts:
            if isinstance(const, CodeType):
                waiting.append(const)
                if const.co_qualname == function:
                    found.append(const)
    return found[0] if len(found) == 1 else None


def _live(module: ModuleType, function: str) -> FunctionType | None:
    thing: Any = module
    for name in function.split("."):
        thing = vars(thing).get(name)
        if thing is None:
            return None
    while not isinstance(thing, FunctionType) or hasattr(thing, "__wrapped__"):
        inner = (getattr(thing, name, None) for name in ("__wrapped__", "fget", "func", "__func__"))
        thing = next((one for one in inner if one is not None), None)
        if thing is None:
            return None
    return thing


class Hook:
    """Imports the mutant's module with the change in it, and never from a compiled file."""

    def __init__(self, mutant: Mutant) -> None:
        self.mutant, self.name = mutant, module_name(mutant.path)

    def find_spec(self, name: str, path: Sequence[str] | None, target: ModuleType | None = None) -> ModuleSpec | None:
        """The changed module, and no other."""
        if name != self.name:
            return None
        full = str(self.mutant.path.resolve())
        tree = self.mutant.tree()

        class Changed(SourceFileLoader):
            def get_code(self, fullname: str) -> CodeType | None:
                return compile(tree, full, "exec")

        package = [str(self.mutant.path.resolve().parent)] if self.mutant.path.name == "__init__.py" else None
        return importlib.util.spec_from_file_location(
            name, full, loader=Changed(name, full), submodule_search_locations=package
        )
