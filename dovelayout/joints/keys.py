"""The one table 'field of a spec -> key of the job', used to read jobs and to propose changes to them.

A field has the name of its key, a unit behind it, unless it is named here otherwise. A key with a point lies in an inline
table: 'proud.tails'. In the tables of drawers the keys of a corner begin with its `CornerSpec.key_prefix`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields

from dovelayout.joints.sliding import SlidingSpec
from dovelayout.joints.spec import CornerSpec, LayoutSpec

_NOT_TYPED = {"name", "origin", "key_prefix", "piece"}
"""Fields that say what a spec is called and where it was written."""


def _keys(spec: type, otherwise: Mapping[str, str]) -> dict[str, str]:
    names = (one.name for one in fields(spec) if one.name not in _NOT_TYPED)
    return {name: otherwise.get(name, name.removesuffix("_mm")) for name in names}


_EDGES = ("proud_tails", "proud_pins", "mitre_face_edge", "mitre_far_edge")

CORNER_KEYS = _keys(CornerSpec, {"cant": "angle", **{f"{name}_mm": name.replace("_", ".", 1) for name in _EDGES}})
"""Fields of a CornerSpec."""

SLIDING_KEYS = _keys(SlidingSpec, {"sloped": "cheeks", "taper_ratio": "taper"})
"""Fields of a SlidingSpec."""

_BESIDE_TAILS = tuple(CORNER_KEYS[one.name] for one in fields(LayoutSpec) if one.name not in ("slope", "tails_at"))

INSTEAD_OF = {"tails_at": _BESIDE_TAILS, "tail_count": ("tails_at",), "pin": ("tails_at",)}
"""Keys that stand for others: a table that is given one of these loses those."""


def given(spec: CornerSpec, names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Those of these fields that a job gives, each with the key that stands in its table."""
    defaults = {one.name: one.default for one in fields(spec)}
    return ((name, CORNER_KEYS[name].partition(".")[0]) for name in names if getattr(spec, name) != defaults[name])
