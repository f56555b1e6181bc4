"""What a drawer will do in its opening over the year, and whether its parts add up: a drawer in, findings out."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from dovelayout.casework.drawer.choices import BottomGlue, Corners, Fit, Front
from dovelayout.casework.drawer.drawer import Drawer, build_drawer
from dovelayout.casework.drawer.measures import BACK_GAP_MM
from dovelayout.casework.drawer.spec import FITS, Sizes
from dovelayout.casework.sums import Sum, figure
from dovelayout.checks.finding import COMMON_PRACTICE, OURS, Finding, Level, worst_first
from dovelayout.checks.remedy import Remedies, Remedy, by_setting, in_turn, mm_text, no_remedies
from dovelayout.checks.rule import rule
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Rings
from dovelayout.joints.moving import UNKNOWN_HOME_PCT, assumption
from dovelayout.place import Place
from dovelayout.texts import Texts

TEXTS = Texts("checks", "drawers")

_MOVES = "movement: Wood Handbook, Eq 4-5 and 13-2"
_MOVES_OURS = f"{_MOVES}; limits: {OURS}"

SEASONS = rule("seasons", "whether it is known what air a drawer sees, and how its woods move")
CUT_LIST = rule("cut-list", "what parts are too large or too small by", unit="mm", stop=0.0, below=False)
TWICE = rule(
    "measured-twice",
    "difference between two measurements of an opening",
    unit="mm",
    warn=0.5,
    stop=3.0,
    below=False,
)
# stop: a stroke or two of the plane, less than the doubt in any coefficient
TOP = rule("top-gap", "air over the drawer in the dampest month", unit="mm", warn=0.3, stop=-0.25, source=_MOVES_OURS)
REVEAL = rule(
    "reveal",
    "gap over an inset front in the driest month",
    unit="mm",
    note=3.2,
    below=False,
    source=f"{_MOVES}; limit: {OURS}",
)
SIDE_FITTED = rule(
    "side-gap",
    "gap at each side as fitted",
    unit="mm",
    note=0.25,
    source=f"{COMMON_PRACTICE}: 0.18 mm was too tight in use, 0.25 good",
)
SIDE_DAMPEST = rule(
    "side-gap", "gap at each side in the dampest month", unit="mm", warn=0.05, stop=0.0, source=_MOVES_OURS
)
SIDE_LOOSE = rule("side-gap", "how loose it is at each side as fitted", unit="mm", warn=2.0, below=False)
LIP_PLAY = rule(
    "lip-cover", "side play behind a lip, both sides", unit="mm", warn=1.6, below=False, source=COMMON_PRACTICE
)
LIP_COVER = rule(
    "lip-cover",
    "lip over the edge of the opening in the driest month",
    unit="mm",
    warn=2.0,
    stop=0.0,
    source=_MOVES_OURS,
)
BEHIND = rule(
    "behind-gap", "air behind the drawer in the worst month", unit="mm", warn=1.0, stop=0.0, source=_MOVES_OURS
)
RUNNER = rule(
    "runner-length",
    "air at the end of a runner in the driest month",
    unit="mm",
    warn=1.0,
    stop=0.0,
    source=_MOVES_OURS,
)
RACK = rule("racking", "width of the drawer over its length", unit="x", warn=1.5, below=False, source=COMMON_PRACTICE)
BOTTOM_SPAN = rule(
    "wide-bottom", "span of a bottom without a muntin", unit="mm", note=600.0, below=False, source=COMMON_PRACTICE
)
BOTTOM_HELD = rule(
    "bottom-held",
    "movement of a bottom that is held all round, over the year",
    unit="mm",
    note=1.0,
    warn=1.5,
    stop=2.5,
    below=False,
    source=_MOVES_OURS,
)
BUTTED = rule("butted", "whether its corners are butted, which nothing here judges")

LIP_SIDE_GAP_MM = 0.8
"""At each side behind a lip: half of the play that is too much (common practice, no source)."""


def check_drawers(drawers: Sequence[Drawer]) -> tuple[Finding, ...]:
    """What holds for all drawers of a job together: that its air isn't known."""
    if not drawers or drawers[0].sizes.shop.home_humidity_pct is not None:
        return ()
    low, high = UNKNOWN_HOME_PCT
    texts = TEXTS.unchecked("unknown_air", low=low, high=high, assumed=_also(assumption(drawers[0].sizes.shop)))
    return (SEASONS.not_checked(Place(kind="drawers"), **texts),)


def check_drawer(drawer: Drawer) -> tuple[Finding, ...]:
    """All findings on one drawer, worst first; its corners are judged as all corners are."""
    return worst_first(itertools.chain.from_iterable(check(drawer) for check in DRAWER_CHECKS))


def _place(drawer: Drawer, part: str = "") -> Place:
    return Place(kind="drawer", name=drawer.name, part=part)


def _figures(**values: object) -> dict[str, object]:
    """Lengths to a hundredth of a mm, as people read them."""
    return {name: figure(value) if isinstance(value, float) else value for name, value in values.items()}


def _also(text: str) -> str:
    return text and f"; {text}"


def _set(drawer: Drawer, words: str = "{}", /, **values: Any) -> Remedies:
    """Keys of the drawer's own table set; lengths in mm."""
    said = {key: mm_text(value) if isinstance(value, float) else value for key, value in values.items()}
    return by_setting(*drawer.spec.origin, said, words)


FITTED: dict[str, Callable[[Drawer], float]] = {
    "front_width": lambda drawer: drawer.board("front").length_mm,
    "front_height": lambda drawer: drawer.height_mm,
    "side_length": lambda drawer: drawer.board("side").length_mm,
    "bottom_depth": lambda drawer: drawer.board("bottom").width_mm,
    "side_gap": lambda drawer: round(drawer.clearances.side_mm, 6),
    "top_gap": lambda drawer: round(drawer.clearances.top_mm, 6),
}
"""What keys of a drawer come to where they are left to the fit."""


def _fitted(drawer: Drawer, *keys: str, words: str = "{}") -> Remedies:
    """Keys set by hand as the fit would have them, each by itself. `words` may name the sides' {height}."""

    def remedies() -> Iterable[Remedy]:
        free = replace(drawer.spec, side_gap_mm=None, top_gap_mm=None, sizes=Sizes())
        try:
            fitted = build_drawer(free, drawer.sizes.shop)
        except LayoutError:
            return ()
        said = words.replace("{height}", mm_text(fitted.height_mm))
        return in_turn(*(_set(drawer, said, **{key: FITTED[key](fitted)}) for key in keys))()

    return remedies


def _woods(drawer: Drawer) -> Iterator[Finding]:
    for role in drawer.sizes.unknown:
        part = f"{role} ({getattr(drawer.spec, role).wood.name})"
        yield SEASONS.not_checked(_place(drawer, part), **TEXTS.unchecked("unknown_wood", what=part))


def _sums(drawer: Drawer) -> Iterator[Finding]:
    for one in drawer.sums:
        if breach := CUT_LIST.breach(abs(one.off_mm)):
            key = one.override
            remedies = no_remedies if key is None else _set(drawer, **{key.key: key.right_mm})
            texts = TEXTS.finding("cut_list", sum=one.words, off=_off(one))
            yield breach.finding(_place(drawer, one.what), **texts, remedies=remedies)


def _off(one: Sum) -> str:
    if one.room_mm < 0:
        return TEXTS("cut_list.too_much", left=figure(-one.room_mm))
    how, bound_mm = ("missing", one.least_mm) if one.off_mm > 0 else ("short", one.most_mm or 0.0)
    return TEXTS(f"cut_list.{how}", room=one.room, **_figures(bound=bound_mm, left=abs(one.off_mm)))


def _twice(drawer: Drawer) -> Iterator[Finding]:
    for what, first_mm, second_mm in drawer.spec.opening.measured_twice:
        if breach := TWICE.breach(abs(first_mm - second_mm)):
            off = TEXTS("twice.slip" if breach.level is Level.STOP else "twice.untrue")
            sizes = _figures(first=first_mm, second=second_mm, left=breach.measured, length=min(first_mm, second_mm))
            texts = TEXTS.finding("twice", what=what, off=off, **sizes)
            yield breach.finding(_place(drawer, f"{what} of the opening"), **texts)


def _top(drawer: Drawer) -> Iterator[Finding]:
    spec, air = drawer.spec, drawer.clearances
    place = _place(drawer, f"over its {'front' if drawer.sizes.lip is None else 'sides'}")
    by_hand = spec.sizes.front_height_mm is not None and drawer.sizes.lip is None
    lower = _fitted(drawer, "front_height") if by_hand else no_remedies
    lower = in_turn(lower, _fitted(drawer, "top_gap", words="{}: sides {height} high"))
    if breach := TOP.breach(air.top_dampest_mm):
        how = "top.jams" if air.top_dampest_mm < 0 else "top.tight"
        texts = TEXTS.finding(
            "top",
            left=TEXTS(how, left=figure(abs(air.top_dampest_mm))),
            runner=f" {TEXTS('top.runner', height=figure(spec.runner_mm))}" if spec.runner_mm > 0 else "",
            **_figures(height=drawer.height_mm, air=air.top_mm, grows=air.top_mm - air.top_dampest_mm),
        )
        yield breach.finding(place, **texts, remedies=lower)
    breach = REVEAL.breach(air.top_driest_mm) if spec.style is Front.INSET else None
    if breach:
        set_by_hand = by_hand or spec.top_gap_mm is not None
        texts, sawn = TEXTS.finding("reveal", air=figure(air.top_driest_mm)), TEXTS("reveal.quarter")
        quarter = spec.front.rings is Rings.QUARTER
        others = f"{'' if quarter else f'{sawn}, or '}{texts['fix']}"
        remedies = in_turn(
            lower if set_by_hand else no_remedies,
            _set(drawer, f"{{}}, or {others}", front="lipped") if spec.lap_mm is None else no_remedies,
            no_remedies
            if quarter
            else _set(drawer, sawn, front_rings="quarter", side_rings="quarter", back_rings="quarter"),
        )
        yield breach.finding(place, **texts, remedies=remedies)


def _sides(drawer: Drawer) -> Iterator[Finding]:
    spec, air, place = drawer.spec, drawer.clearances, _place(drawer, "each side")
    by_hand = "front_width" if spec.sizes.front_width_mm is not None else "side_gap"
    adds_up, bow_mm = drawer.sums[0].adds_up, max(0.0, spec.bow_mm)
    if adds_up and (breach := SIDE_DAMPEST.breach(air.side_dampest_mm)):
        grows_mm = air.side_mm - bow_mm - air.side_dampest_mm
        bow = TEXTS("side.bow", air=figure(bow_mm)) if bow_mm else ""
        sizes = _figures(air=air.side_mm, grows=grows_mm, left=air.side_dampest_mm)
        remedies = _fitted(drawer, by_hand, words=TEXTS("side.turned", gap="{}") if bow_mm else "{}")
        yield breach.finding(place, **TEXTS.finding("side", bow=bow, **sizes), remedies=remedies)
        return
    if adds_up and (breach := SIDE_FITTED.breach(air.side_mm)):
        texts = TEXTS.finding("piston", **_figures(air=air.side_mm, left=FITS[Fit.GOOD].side_mm))
        free = spec.side_gap_mm is None and by_hand == "side_gap"
        remedies = _set(drawer, texts["fix"], fit="good") if free else _fitted(drawer, by_hand)
        yield breach.finding(place, texts["message"], remedies=remedies, fix="" if free else texts["fix"])
    if drawer.sizes.lip is None and (breach := SIDE_LOOSE.breach(air.side_mm)):
        texts = TEXTS.finding("loose", air=figure(air.side_mm))
        yield breach.finding(place, **texts, remedies=_fitted(drawer, by_hand))


def _lips(drawer: Drawer) -> Iterator[Finding]:
    lip, air, spec = drawer.sizes.lip, drawer.clearances, drawer.spec
    if lip is None:
        return
    if breach := LIP_PLAY.breach(2 * air.side_mm):
        by_hand = spec.sizes.front_width_mm is not None
        remedies = _fitted(drawer, "front_width") if by_hand else _set(drawer, side_gap=LIP_SIDE_GAP_MM)
        texts = TEXTS.finding("lip_play", play=figure(2 * air.side_mm))
        yield breach.finding(_place(drawer, "lip"), **texts, remedies=remedies)
    front_mm = drawer.board("front").width_mm
    top_mm = front_mm * (1 - drawer.sizes.front.shrinks_share) + spec.runner_mm - spec.opening.clear_height_mm
    for edge, cover_mm in (("at the ends", lip.overhang_mm - 2 * air.side_driest_mm), ("at the top", top_mm)):
        if breach := LIP_COVER.breach(cover_mm):
            reach = mm_text(round(lip.overhang_mm + 2.5 - cover_mm + 0.05, 1))
            texts = TEXTS.finding("lip", left=figure(cover_mm), reach=reach)
            wider = _set(drawer, texts["fix"], lip={"overhang": reach, "thickness": mm_text(lip.thickness_mm)})
            higher = _set(drawer, front_height=round(front_mm + 2.5 - cover_mm + 0.05, 1))
            by_hand = spec.sizes.front_height_mm is not None  # at the top its height counts then
            remedies = in_turn(wider, higher) if by_hand else wider
            yield breach.finding(_place(drawer, f"lip {edge}"), texts["message"], remedies=remedies)


def _behind(drawer: Drawer) -> Iterator[Finding]:
    air, sizes = drawer.clearances, drawer.spec.sizes
    if breach := BEHIND.breach(air.behind_least_mm):
        keys = ("bottom_depth", "side_length") if sizes.bottom_depth_mm is not None else ("side_length",)
        assumed = _also(drawer.assumed_case)
        texts = TEXTS.finding("behind", assumed=assumed, **_figures(air=air.behind_mm, left=air.behind_least_mm))
        remedies = _fitted(drawer, *keys, words=f"{{}}: {BACK_GAP_MM:g} mm are left")
        yield breach.finding(_place(drawer, "behind it"), **texts, remedies=remedies)


def _runner(drawer: Drawer) -> Iterator[Finding]:
    spec, place = drawer.spec, _place(drawer, "runner")
    if spec.runner_length_mm is None:
        return
    if "case" in drawer.sizes.unknown:
        yield RUNNER.not_checked(place, TEXTS("unknown_wood.because", what=spec.case.wood.name))
        return
    driest_mm = spec.opening.clear_depth_mm * (1 - drawer.sizes.case.shrinks_share)
    if breach := RUNNER.breach(driest_mm - spec.runner_length_mm):
        sizes = _figures(length=spec.runner_length_mm, case=driest_mm)
        texts = TEXTS.finding("runner", assumed=_also(drawer.assumed_case), **sizes)
        remedies = _set(drawer, f"{{}}, {texts['fix']}", runner_length=float(int(driest_mm - 1.5)))
        yield breach.finding(place, texts["message"], remedies=remedies)


def _rack(drawer: Drawer) -> Iterator[Finding]:
    breach = RACK.breach(drawer.width_mm / drawer.measures.length_mm)
    if breach and not drawer.spec.centre_guide:
        sizes = _figures(width=drawer.width_mm, length=drawer.measures.length_mm)
        texts = TEXTS.finding("rack", most=RACK.warn, **sizes)
        yield breach.finding(_place(drawer), texts["message"], remedies=_set(drawer, texts["fix"], centre_guide=True))


def _bottom(drawer: Drawer) -> Iterator[Finding]:
    spec, bottom, place = drawer.spec, drawer.board("bottom"), _place(drawer, "bottom")
    breach = None if spec.muntin else BOTTOM_SPAN.breach(bottom.length_mm)
    if breach:
        texts = TEXTS.finding("span", length=figure(bottom.length_mm))
        yield breach.finding(place, texts["message"], remedies=_set(drawer, texts["fix"], muntin=True))
    breach = BOTTOM_HELD.breach(drawer.bottom.moves_mm) if spec.bottom_glue is BottomGlue.ALL_ROUND else None
    if breach:
        sizes = _figures(width=bottom.width_mm, grows=drawer.bottom.moves_mm, slot=drawer.bottom.slot_mm)
        texts = TEXTS.finding("held", **sizes)
        remedies = in_turn(_set(drawer, texts["fix"], bottom_glue="front"), _set(drawer, bottom="plywood"))
        yield breach.finding(place, texts["message"], remedies=remedies)


def _corners(drawer: Drawer) -> Iterator[Finding]:
    if drawer.spec.corners is Corners.BUTTED:
        texts = TEXTS.finding("butted")
        remedies = _set(drawer, texts["fix"], corners="dovetailed")
        yield BUTTED.said(Level.NOTE, _place(drawer, "corners"), texts["message"], remedies=remedies)


DRAWER_CHECKS: tuple[Callable[[Drawer], Iterator[Finding]], ...] = (
    _woods,
    _sums,
    _twice,
    _top,
    _sides,
    _lips,
    _behind,
    _runner,
    _rack,
    _bottom,
    _corners,
)
