"""A sliding joint that seized on its way home.

What to do is common practice, no source, and stands in `data/seized.toml`; figures marked ours are ours.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level
from dovelayout.checks.rule import rule
from dovelayout.place import Place
from dovelayout.repair.advice import MEASURED, Advice, RepairFigure, both, cautions, figures
from dovelayout.texts import Texts
from dovelayout.wood.glue import Glue

TEXTS = Texts("repair", "seized")
RULE_WORDS = Texts("repair", "rules")

TRIM_MM = 2.0
"""So near to home a key is left where it is and its front trimmed: ours."""
JOINTED_MM = 0.5
"""What planing the strip's sawn edge for glueing takes: ours."""
TAPER_NEXT = "1:320"
"""The taper that lets the next one go home (0.8 mm in 250): common practice, no source."""

LEFT_OUT = rule("seized-key", unit="mm", note=0.0, warn=TRIM_MM, below=False, **RULE_WORDS.table("left_out"))


@dataclass(frozen=True, slots=True, kw_only=True)
class SeizedKey:
    """A key that stopped on its way into its housing; `stopped`: the housing is closed at its front."""

    length_mm: float
    from_home_mm: float
    glue: Glue
    tapered: bool = False
    stopped: bool = False
    kerf_mm: float = 1.0
    glue_set: bool = False

    @property
    def trimmed(self) -> bool:
        """Whether it is near enough home to be left there."""
        return self.from_home_mm <= TRIM_MM + 1e-9

    @property
    def lost(self) -> bool:
        """Whether it can neither be got out nor be completed from the other edge."""
        return self.stopped and not self.trimmed and self.glue_set and not self.glue.reversible

    @property
    def strip_mm(self) -> float:
        """Width of the strip that is sawn off what stands out, with its edge planed."""
        return max(0.0, self.from_home_mm - self.kerf_mm - JOINTED_MM)


def mend_slide(key: SeizedKey) -> Advice:
    """What to do about a sliding joint that went part of the way and stopped."""
    once_set = "undo the glue and get it out" if key.stopped else "saw off and re-enter from the other edge"
    on_its_way = once_set if key.glue_set else "get it moving or get it out"
    method = "trim it where it is" if key.trimmed else "recut" if key.lost else on_its_way
    length, out = both(key.length_mm), both(key.from_home_mm)
    return Advice(
        trouble=TEXTS("trouble", length=length, out=out, glue=key.glue.name),
        method=method,
        looks=TEXTS("looks.trim" if key.trimmed else "looks.recut" if key.lost else "looks.strip"),
        glue=TEXTS("glue.new_key" if key.stopped else "glue.strip"),
        steps=_steps(key),
        cautions=cautions("chisels", "clamps", "glues", glue=key.glue),
        figures=tuple(_figures(key)),
        findings=tuple(_findings(key)),
    )


def _figures(key: SeizedKey) -> Iterator[RepairFigure]:
    yield from figures(MEASURED, {"key, length": key.length_mm, "stopped from home by": key.from_home_mm})
    what, minutes = "time to get it moving, from the first glue", key.glue.closed_minutes[0]
    yield RepairFigure(what=what, value=minutes, unit="minutes", source=COMMON_PRACTICE)
    if not key.trimmed and not key.stopped:
        yield from figures(MEASURED, {"housing left empty at the front": key.from_home_mm})
        yield from figures(OURS, {"strip left for it, after sawing and planing its edge": key.strip_mm})
        yield from figures(OURS, {"strip is short by": key.from_home_mm - key.strip_mm})


def _steps(key: SeizedKey) -> tuple[str, ...]:
    taper = "tapered" if key.tapered else "straight"
    early, strip = ("move", f"out_{taper}", "again"), ("saw_off", f"ease_{taper}", "re_enter")
    names: tuple[str, ...]
    if key.trimmed or key.lost:
        names = ("trim" if key.trimmed else "recut",)
    elif not key.glue_set:
        names = (*early, "no_way") if key.stopped else (*early, "let_it", *strip)
    else:
        rest = ("again",) if key.stopped else ("set", *strip)
        names = ("warm", *rest) if key.glue.reversible else rest
    sizes = {"minutes": key.glue.closed_minutes[0], "out": both(key.from_home_mm), "strip": both(key.strip_mm)}
    return tuple(step for name in names for step in TEXTS.rows(f"steps.{name}", taper=TAPER_NEXT, **sizes))


def _findings(key: SeizedKey) -> Iterator[Finding]:
    breach = LEFT_OUT.breach(key.from_home_mm)
    if breach is None:
        return
    breach = replace(breach, level=Level.STOP) if key.lost else breach
    stopped = "_stopped" if breach.level is Level.WARN and key.stopped else ""
    texts = TEXTS.finding(f"{breach.level}{stopped}", mm=key.from_home_mm, taper=TAPER_NEXT)
    yield breach.finding(Place(kind="sliding joint"), **texts)
