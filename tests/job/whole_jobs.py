"""Random jobs over the whole job language: sensible ones, and ones that went wrong on the way.

Every key of every table in `job.schema.TABLES` is drawn from what the schema itself says of it, so that a new key is
tried from the day it is there. A job is built from a `random.Random`: from a seed in the campaign, from hypothesis in
the tests, which shrinks what it finds.
"""

from __future__ import annotations

import inspect
import math
import types
from collections.abc import Callable
from copy import deepcopy
from datetime import date
from enum import StrEnum
from random import Random
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from annotated_types import Ge, Gt, Le, Lt, MaxLen, MinLen
from pydantic import BeforeValidator, PlainValidator
from pydantic.fields import FieldInfo

from dovelayout.casework.across import AcrossKind
from dovelayout.job.tables.fields import Table
from dovelayout.job.tables.schema import TABLES
from dovelayout.joints import KINDS
from dovelayout.paper import SIZES_MM
from dovelayout.wood.glue import all_glues
from dovelayout.wood.species import all_woods
from tests.job.hostile_texts import HOSTILE

_WOODS = [wood.name for wood in all_woods()]
_GLUES = list(all_glues())
_EXTREMES: list[Any] = [
    0, -1, 1, 2**31, 2**63, -(2**63), 10**30, 10**400, -0.0, 5e-324, 1e-9, 1e-3, 0.01, 1e6, 1e18, 1.7976931348623157e308,
    math.inf, -math.inf, math.nan, True, False, "", " ", "0", "-1", "1e999", "1e5", "nan", "inf", "½", "３", "1/0",
    "0:1", "1:0", "1:9999999", "90 deg", "99999999 mm", "0.0000001 mm", "15 3/4", "3/4 in", "1 ft 2 in", "19,5", "1'6\"",
    date(2026, 1, 1), [], {}, [[]], [{}], [[0, 0]], [[1, 2, 3]], [math.nan], {"": 1}, {"x": {"y": {"z": []}}},
    "x" * 61, "x" * 5000, "9" * 5000, ["x"] * 300, [0] * 3000, [[0, 1]] * 300,
]  # fmt: skip
_TEXTS = [*HOSTILE.values(), "side", "A", "left", "side.left", ".left", "side.", "side.left.left", "SIDE", "side "]

_MOSTLY_UNFIT = {"cutout", "ends", "tails_at", "taper_on", "tongue", "lip", "lap", "play", "clearance"}
"""Keys that want another beside them: drawn at random they mostly don't fit, and a sensible row brings its own."""


class Maker:
    """Draws one job."""

    def __init__(self, rng: Random) -> None:
        self.rng = rng
        self._scale = 1.0
        self._woods: list[str] = [_WOODS[0]]
        self._names: list[str] = ["side"]

    def job(self) -> dict[str, Any]:
        """A job's tables: about half of them sensible, the rest changed in one place or several."""
        job = self.sensible()
        faults = self.rng.choice((0, 0, 0, 0, 1, 1, 2, 5))
        for _ in range(faults):
            self._spoil(job)
        return job

    # --- a job as a maker would write it ---

    def sensible(self) -> dict[str, Any]:
        """A case or a few corners, and whatever else the language has; not always one that can be made."""
        rng = self.rng
        job: dict[str, Any] = {"title": self.text() if self._now(0.2) else "Chest"}
        if self._now(0.3):
            job["units"] = rng.choice(("mm", "cm", "in"))
        self._scale = {"mm": 1.0, "cm": 0.1, "in": 1 / 25.4}[job.get("units", "mm")]
        self._woods = [rng.choice(_WOODS) for _ in range(2)]
        if self._now(0.2):
            job["wood"] = [self.row("wood", {"name": "oak of my own"})]
            self._woods.append("oak of my own")
        width, thick = self._cm(30, 400), self._cm(5, 40)
        boards = [
            self._board(name, width, thick) for name in ("side", "end", "back", "rail")[: rng.choice((2, 2, 3, 4))]
        ]
        if self._now(0.15):
            boards[0]["name"] = self.text()
        job["board"] = boards
        self._names = [board["name"] for board in boards]
        for table, chance in (("shop", 0.6), ("home", 0.4), ("paper", 0.4), ("glue", 0.15), ("rehearsal", 0.2)):
            if self._now(chance):
                job[table] = self.row(table)
        if "glue" in job:
            job.setdefault("shop", {}).setdefault("glue", rng.choice(_GLUES))
        what = rng.random()
        if what < 0.45:
            job["corner"] = [self._corner(number, job) for number in range(rng.choice((1, 1, 1, 2, 3)))]
        if 0.35 < what < 0.6 and len(boards) >= 2:
            job["box"] = [self._box(job)]
        if 0.55 < what < 0.75:
            job["divider"] = [self._divider(number) for number in range(rng.choice((1, 1, 2)))]
        if 0.7 < what < 0.95 or self._now(0.05):
            if self._now(0.7):
                job["drawers"] = self.row("drawers", {"species": rng.choice(self._woods)}, 0.06)
            if self._now(0.6):
                job["drawer"] = [self._drawer(number) for number in range(rng.choice((1, 1, 2)))]
            if self._now(0.4):
                job["bank"] = [self._bank()]
        if what > 0.9 or self._now(0.25):
            if self._now(0.7):
                job["across"] = [self._across(number) for number in range(rng.choice((1, 2)))]
            if self._now(0.5):
                job["panel"] = [self._panel()]
        if self._now(0.25):
            self._glue_up(job)
        return job

    def _board(self, name: str, width: float, thick: float) -> dict[str, Any]:
        rng = self.rng
        own = {
            "name": name,
            "species": rng.choice(self._woods),
            "length": self._cm(80, 1500),
            "width": width if self._now(0.85) else self._cm(20, 500),
            "thickness": thick if self._now(0.6) else self._cm(4, 45),
        }
        if self._now(0.15):
            own["cutout"] = [self._cutout(own) for _ in range(rng.choice((1, 2, 5)))]
        return self.row("board", own, 0.12)

    def _cutout(self, board: dict[str, Any]) -> dict[str, Any]:
        share = [self.rng.uniform(0.02, 0.48) for _ in range(4)]
        own = {
            "from_end": round(board["length"] * share[0], 3),
            "length": round(board["length"] * share[1], 3),
            "from_edge": round(board["width"] * share[2], 3),
            "width": round(board["width"] * share[3], 3),
        }
        if self._now(0.5):
            own["depth"] = round(board["thickness"] * self.rng.uniform(0.1, 1), 3)
        return own if self._now(0.5) else own | {"end": "right", "cut": "after"}

    def _layout(self, layout: dict[str, Any]) -> dict[str, Any]:
        rng = self.rng
        layout["joint"] = rng.choice(tuple(KINDS))
        if layout["joint"] == "half_blind":
            layout["lap"] = self._cm(2, 8)
        if self._now(0.6):
            layout["tail_count"] = rng.randint(1, 8)
        if self._now(0.6) and layout["joint"] != "comb":
            layout["pin"] = self._cm(1, 15)
        if self._now(0.5) and layout["joint"] != "comb":
            layout["half_pin"] = self._cm(2, 15)
        if self._now(0.5) and layout["joint"] != "comb":
            layout["slope"] = rng.choice(("1:6", "1:7", "1:8", "8 deg", "9.5 deg", "1:3.2"))
        if self._now(0.15):
            at, spans = 0.0, []
            for _ in range(rng.randint(1, 4)):
                start = round(at + self._cm(3, 12), 4)
                at = round(start + self._cm(12, 40), 4)
                spans.append([start, at])
            layout["tails_at"] = spans
            for key in ("tail_count", "pin", "half_pin"):
                layout.pop(key, None)
        if self._now(0.15):
            layout["groove"] = {"from_edge": self._cm(3, 15), "width": self._cm(3, 6), "depth": self._cm(2, 5)}
        return layout

    def _corner(self, number: int, job: dict[str, Any]) -> dict[str, Any]:
        one, other = self.rng.sample(self._names, 2) if self._now(0.97) else self._names[:1] * 2
        end = self.rng.choice(("left", "right"))
        opposite = {"left": "right", "right": "left"}[end]
        name = "ABCDE"[number] if self._now(0.9) else self.text()
        own = {"name": name, "tails": f"{one}.{end}", "pins": f"{other}.{opposite}"}
        return self.row("corner", self._layout(own), 0.04)

    def _box(self, job: dict[str, Any]) -> dict[str, Any]:
        names = self._names
        return self.row("box", self._layout({"name": "case", "tails": names[0], "pins": names[1]}), 0.04)

    def _divider(self, number: int) -> dict[str, Any]:
        rng = self.rng
        host, key = rng.sample(self._names, 2)
        hosts = [f"{host}.{end}" for end in ("left", "right")]
        own = {
            "name": f"shelf {number}",
            "host": hosts if self._now(0.5) else hosts[0],
            "key": key,
            "at": self._cm(10, 300),
            "slope": rng.choice(("1:6", "8 deg", "10 deg")),
        }
        return self.row("divider", own, 0.12)

    def _drawer(self, number: int) -> dict[str, Any]:
        own = {
            "name": f"drawer {number}",
            "width": self._cm(120, 900),
            "height": self._cm(40, 300),
            "depth": self._cm(150, 600),
            "species": self.rng.choice(self._woods),
        }
        return self.row("drawer", own, 0.05)

    def _bank(self) -> dict[str, Any]:
        own = {
            "name": "chest",
            "width": self._cm(200, 900),
            "height": self._cm(300, 1200),
            "depth": self._cm(200, 600),
            "count": self.rng.choice((1, 2, 3, 4, 7)),
            "species": self.rng.choice(self._woods),
        }
        return self.row("bank", own, 0.05)

    def _across(self, number: int) -> dict[str, Any]:
        rng = self.rng
        part, host = rng.sample(self._names, 2)
        kind = rng.choice([kind.value for kind in AcrossKind])
        own: dict[str, Any] = {"name": f"part {number}", "part": part, "host": host, "kind": kind}
        own["tongue" if kind == "breadboard" else "from"] = "continuous" if kind == "breadboard" else self._cm(0, 20)
        if self._now(0.5):
            own["screws"] = [self._cm(5, 200) for _ in range(rng.randint(1, 4))]
        if self._now(0.4):
            own["slots"] = [{"at": self._cm(5, 200), "play": self._cm(0.5, 6)} for _ in range(rng.randint(1, 3))]
        return self.row("across", own, 0.15)

    def _panel(self) -> dict[str, Any]:
        own: dict[str, Any] = {"name": "bottom", "board": self.rng.choice(self._names)}
        if self._now(0.6):
            own["groove"] = self._cm(3, 10)
        if self._now(0.3):
            own["frame"] = self.rng.choice(self._names)
        return self.row("panel", own, 0.15)

    def _glue_up(self, job: dict[str, Any]) -> None:
        corners = [corner["name"] for corner in job.get("corner", [])]
        names = [*corners, *(divider["name"] for divider in job.get("divider", []))]
        if "box" in job and not corners:
            names += ["A", "B", "C", "D"]
        if self._now(0.6):
            job["glueup"] = self.row("glueup")
        if names and self._now(0.6):
            stages = [f"stage {number}" for number in range(self.rng.choice((1, 2)))]
            job["stage"] = [
                self.row("stage", {"name": stage, "joins": [self.rng.choice(names)]}, 0.0) for stage in stages
            ]
            if self._now(0.4):
                job["stage"][0]["after" if self._now(0.5) else "before"] = [stages[-1]]
        if self._now(0.4) and (corners or "box" in job):
            held = "case" if "box" in job else self.rng.choice(corners)
            job["captured"] = [self.row("captured", {"name": "bottom", "in": held})]

    # --- any key of any table, from what the schema says of it ---

    def row(self, table: str, own: dict[str, Any] | None = None, chance: float = 0.3) -> dict[str, Any]:
        """A row of a table: its own keys as given, what it can't be without, and each other key with a chance."""
        model = TABLES[table]
        hints = get_type_hints(model, include_extras=True)
        row = dict(own or {})
        for name, field in model.model_fields.items():
            key = field.alias or name
            likely = chance * (0.1 if name in _MOSTLY_UNFIT else 1)
            if key not in row and (field.is_required() or self._now(likely)):
                row[key] = self._named(name, field) or self.value(hints[name], field)
        return row

    def value(self, hint: Any, field: FieldInfo | None = None) -> Any:
        """A value that a key of this type takes, or nearly."""
        metadata: list[Any] = list(field.metadata) if field is not None else []
        while get_origin(hint) is Annotated:
            hint, *more = get_args(hint)
            metadata += more
        origin = get_origin(hint)
        if origin in (Union, types.UnionType):
            kinds = [kind for kind in get_args(hint) if kind is not type(None)]
            if not any(isinstance(one, BeforeValidator | PlainValidator) for one in metadata):
                return self.value(self.rng.choice(kinds))
        for one in metadata:
            if isinstance(one, BeforeValidator | PlainValidator):
                return self._read_by(one.func, hint, _limits(metadata))
        if inspect.isclass(hint) and issubclass(hint, Table):
            return self.row(next(name for name, model in TABLES.items() if model is hint))
        if inspect.isclass(hint) and issubclass(hint, StrEnum):
            return self.rng.choice(list(hint)).value
        if origin is tuple:
            kinds = [kind for kind in get_args(hint) if kind is not Ellipsis]
            if Ellipsis in get_args(hint):
                kinds = kinds * self.rng.choice((0, 1, 2, 3, 12))
            return [self.value(kind) for kind in kinds]
        if hint is str:
            return self._text_for(field, metadata)
        if hint is bool:
            return self._now(0.5)
        if hint in (int, float):
            return self._number(hint, _limits(metadata))
        raise AssertionError(f"no random value is known for {hint!r}: teach tests/job/whole_jobs.py")

    def _read_by(self, read: Callable[..., Any], hint: Any, limits: tuple[float, float]) -> Any:
        """What a reader of the schema takes: lengths by their limits, the others by name."""
        rng = self.rng
        low_high = inspect.getclosurevars(read).nonlocals
        if {"low_mm", "high_mm"} <= set(low_high):
            low, high = float(low_high["low_mm"]), float(low_high["high_mm"])
            if self._now(0.01):
                return rng.choice((low, high)) * self._scale
            top = min(high, rng.choice((1.0, 10.0, 60.0, 300.0)))
            return round(rng.uniform(min(low, top), top) * self._scale, 4)
        if "counts" in low_high:  # one name or several
            return f"{rng.choice(self._names)}{'.left' if 'host' in low_high['problem'] else ''}"
        ways: dict[str, Callable[[], Any]] = {
            "_ratio": lambda: rng.choice(("1:6", "1:8", "8 deg", "1:14", "1:1.2", "14°")),
            "_temperature": lambda: rng.choice((20, "68 F", 12, 35.5, "21 C", -10)),
            "_slope": lambda: rng.choice(("1:6", "1:8", "8 deg", "1:14", "1:1.2", "14°")),
            "_cant": lambda: rng.choice((90, 90, 80, "97.5 deg", 105, 75)),
            "_plain_number": lambda: self._number(hint, limits),
            "_taper": lambda: rng.choice(("1:320", "1:50", "1:10", "1:2000")),
            "_joint": lambda: rng.choice(tuple(KINDS)),
            "_size": lambda: rng.choice((*SIZES_MM, "roll 610 mm", "210 x 400 mm", [210, 400], [8, 12])),
            "_proud_lengths": lambda: rng.choice((0.5, -0.2, {"tails": 0.3}, {"pins": -0.4, "tails": 1})),
            "_flag": lambda: self._now(0.5),
            "_glue": lambda: rng.choice(("all", [[0, self._cm(20, 80)]], [[self._cm(1, 9), self._cm(20, 80)]] * 2)),
            "_minutes_range": lambda: rng.choice((8, [5, 10], [0, 1], 10080)),
            "_one_or_more": lambda: [self.row("cutout") for _ in range(rng.choice((1, 3)))],
        }
        if read.__name__ not in ways:
            raise AssertionError(f"no random value is known for {read.__name__}: teach tests/job/whole_jobs.py")
        return ways[read.__name__]()

    def _number(self, kind: Any, limits: tuple[float, float]) -> float:
        low, high = limits
        if kind is int:
            return self.rng.randint(int(low), int(min(high, low + 12)))
        return round(self.rng.uniform(low, high), 3)

    def _named(self, key: str, field: FieldInfo) -> Any:
        """A value for keys whose meaning their type doesn't tell; None for the others."""
        rng = self.rng
        if self._now(0.03):
            return None
        if "species" in key:
            return rng.choice(self._woods)
        match key:
            case "glue" if field.annotation is str:
                return rng.choice(_GLUES)
            case "ends":
                return list(rng.choice((("top", "bottom"), ("left", "right"), ("front", "back"))))
            case "end":
                return rng.choice(("left", "right", "left", "top"))
            case "humidity":
                low = rng.uniform(0, 70)
                year = [round(rng.uniform(low, 100), 1) for _ in range(12)]
                return (
                    year if self._now(0.3) and field.is_required() else [round(low, 1), round(rng.uniform(low, 100), 1)]
                )
        return None

    def _text_for(self, field: FieldInfo | None, metadata: list[Any]) -> str:
        most = min((one.max_length for one in metadata if isinstance(one, MaxLen)), default=200)
        least = max((one.min_length for one in metadata if isinstance(one, MinLen)), default=0)
        name = self.rng.choice((self.text(), self.rng.choice(_GLUES), *self._woods, *self._names, *self._names))
        return name[:most] if len(name) >= least else "x"

    def text(self) -> str:
        """A text, most of them hostile."""
        return self.rng.choice(_TEXTS)

    # --- what goes wrong on the way ---

    def _spoil(self, job: dict[str, Any]) -> None:
        """Changes one place of a job: a value, a key, a row."""
        rng = self.rng
        places = list(_places(job, 0))
        holder, key = rng.choice(places)
        match rng.randrange(8):
            case 0 | 1:
                holder[key] = deepcopy(rng.choice(_EXTREMES))  # later faults may change it in its turn
            case 2:
                holder[key] = self.text()
            case 3:
                del holder[key]
            case 4 if isinstance(holder, dict):
                holder[rng.choice((self.text(), "name", "tails", "groove", "cutout", "in", "from", "held_by"))] = 1
            case 5:
                other, at = rng.choice(places)
                holder[key] = deepcopy(other[at])
            case 6 if isinstance(holder, list):
                holder.extend(deepcopy(holder[key]) for _ in range(rng.choice((1, 2, 60))))
            case _:
                number = holder[key]
                if isinstance(number, int | float) and not isinstance(number, bool) and abs(number) < 1e300:
                    holder[key] = number * rng.choice((-1, 0, 1e-3, 0.1, 0.999, 1.001, 3, 10, 1e3, 1e9))
                else:
                    holder[key] = [number]

    def _now(self, chance: float) -> bool:
        return self.rng.random() < chance

    def _cm(self, low_mm: float, high_mm: float) -> float:
        """A length in the job's units."""
        digits = self.rng.choice((0, 1, 2) if self._scale == 1 else (2, 3))
        return round(self.rng.uniform(low_mm, high_mm) * self._scale, digits)


def _limits(metadata: list[Any]) -> tuple[float, float]:
    """The least and the most that a number may be; between 0 and 100 where nothing is said."""
    low, high = 0.0, 100.0
    for one in metadata:
        for part in getattr(one, "metadata", [one]):
            match part:
                case Ge(ge=bound):
                    low = float(bound)  # type: ignore[arg-type]
                case Gt(gt=bound):
                    low = float(bound) + 1e-3  # type: ignore[arg-type]
                case Le(le=bound):
                    high = float(bound)  # type: ignore[arg-type]
                case Lt(lt=bound):
                    high = float(bound) - 1e-3  # type: ignore[arg-type]
                case _:
                    pass
    return low, max(low, high)


def _places(value: Any, depth: int) -> Any:
    """Every (holder, key) of a job, tables and lists alike."""
    entries = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, entry in list(entries):
        yield value, key
        if depth < 6:
            yield from _places(entry, depth + 1)
