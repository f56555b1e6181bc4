"""What a drawer will do in its opening over the year, and whether its parts add up: a drawer in, findings out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any

from dovelayout.casework.drawer.choices import BottomGlue, Corners, Front
from dovelayout.casework.drawer.drawer import Drawer, build_drawer
from dovelayout.casework.drawer.measures import BACK_GAP_MM
from dovelayout.casework.drawer.spec import Sizes
from dovelayout.casework.sums import Sum, figure
from dovelayout.change import Change, changes_of
from dovelayout.checks import drawer_rules as rules
from dovelayout.checks.finding import Finding, Level, not_checked, worst_first
from dovelayout.checks.remedy import mm_text
from dovelayout.checks.rule import Rule
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Rings
from dovelayout.joints.moving import UNKNOWN_HOME_PCT, assumption
from dovelayout.place import Place


def check_drawers(drawers: Sequence[Drawer]) -> tuple[Finding, ...]:
    """What holds for all drawers of a job together: that its air isn't known."""
    if not drawers or drawers[0].sizes.shop.home_humidity_pct is not None:
        return ()
    low, high = UNKNOWN_HOME_PCT
    fitted = assumption(drawers[0].sizes.shop)
    return (
        not_checked(
            rules.CHECK_AIR,
            Place(kind="drawers"),
            f"the job doesn't say how damp its air gets: {low:g} to {high:g} % moisture in the wood is taken, as for a home "
            f"that nobody knows{fitted and '; '}{fitted}",
            fix="humidity = [35, 65] and built_at = 45 under [shop]: the driest and the dampest month, and now",
        ),
    )


def check_drawer(drawer: Drawer) -> tuple[Finding, ...]:
    """All findings on one drawer, worst first; its corners are judged as all corners are."""
    return worst_first(_all(drawer))


def _all(drawer: Drawer) -> Iterator[Finding]:
    for role in drawer.sizes.unknown:
        part = f"{role} ({getattr(drawer.spec, role).wood.name})"
        yield not_checked(
            rules.CHECK_AIR,
            Place(kind="drawer", name=drawer.name, part=part),
            f"how far {part} moves is not known",
            "its shrinkage, in a [[wood]] of your own",
        )
    yield from _sums(drawer)
    yield from _twice(drawer)
    yield from _top(drawer)
    yield from _sides(drawer)
    yield from _lips(drawer)
    yield from _behind(drawer)
    yield from _runner(drawer)
    yield from _rack(drawer)
    yield from _bottom(drawer)
    if drawer.spec.corners is Corners.BUTTED:
        yield Finding(
            check=rules.CHECK_CORNERS,
            level=Level.NOTE,
            place=Place(kind="drawer", name=drawer.name, part="corners"),
            message="butted corners are in the cut list, but nothing is laid out or checked of how they hold",
            fix='corners = "dovetailed"',
            changes=_set(drawer, corners="dovetailed"),
        )


def _set(drawer: Drawer, **values: Any) -> tuple[Change, ...]:
    """A change of keys where the job has this drawer; lengths in mm."""
    table, name = drawer.spec.origin
    said = {key: mm_text(value) if isinstance(value, float) else value for key, value in values.items()}
    return changes_of(table, name, said)


def _to(drawer: Drawer, key: str, value_mm: float) -> dict[str, Any]:
    """The fix and the changes of a finding that one key of the drawer mends."""
    return {"fix": f"{key} = {mm_text(value_mm)}", "changes": _set(drawer, **{key: value_mm})}


def _as_fitted(drawer: Drawer) -> Drawer | None:
    """The same drawer with every size and gap left to the fit; None where it can't be."""
    free = replace(drawer.spec, side_gap_mm=None, top_gap_mm=None, sizes=Sizes())
    try:
        return build_drawer(free, drawer.sizes.shop)
    except LayoutError:
        return None


def _judged(rule: Rule, measured: float) -> dict[str, Any] | None:
    """The parts of a finding that come from a rule; None when it has nothing to say."""
    level, limit = rule.judge(measured)
    if level is Level.OK:
        return None
    return {
        "check": rule.check,
        "level": level,
        "measured": round(measured, 3),
        "limit": limit,
        "unit": rule.unit,
        "source": rule.source,
    }


def _sums(drawer: Drawer) -> Iterator[Finding]:
    for one in drawer.sums:
        said = _judged(rules.CUT_LIST, abs(one.off_mm))
        if said is None:
            continue
        over = one.override
        yield Finding(
            place=Place(kind="drawer", name=drawer.name, part=f"{one.what}"),
            message=f"the parts don't add up: {one.words} mm; {_off(one)}",
            **({"fix": "measure the parts again"} if over is None else _to(drawer, over.key, over.right_mm)),
            **said,
        )


def _off(one: Sum) -> str:
    if one.room_mm < 0:
        return f"{figure(-one.room_mm)} mm too much"
    if one.off_mm > 0:
        return f"{figure(one.least_mm)} mm of {one.room} is the least, so {figure(one.off_mm)} mm are missing"
    most_mm = one.most_mm or 0.0
    return f"{figure(most_mm)} mm of {one.room} is the most: {figure(-one.off_mm)} mm short"


def _twice(drawer: Drawer) -> Iterator[Finding]:
    for what, first_mm, second_mm in drawer.spec.opening.measured_twice:
        said = _judged(rules.TWICE, abs(first_mm - second_mm))
        if said is not None:
            small_mm = min(first_mm, second_mm)
            yield Finding(
                place=Place(kind="drawer", name=drawer.name, part=f"{what} of the opening"),
                message=f"measured {figure(first_mm)} mm and {figure(second_mm)} mm, {figure(abs(first_mm - second_mm))} mm "
                f"apart: {'one of them is a slip' if said['level'] is Level.STOP else 'the opening is out of true'}. The "
                f"smaller is taken",
                fix=f"measure again; if {figure(small_mm)} mm is right at both places, say so in {what} and {what}2; else "
                "plane the opening true, or fit the drawer to its narrowest place",
                **said,
            )


def _top(drawer: Drawer) -> Iterator[Finding]:
    spec, air = drawer.spec, drawer.clearances
    place = Place(kind="drawer", name=drawer.name, part=f"over its {'sides' if drawer.sizes.lip else 'front'}")
    said = _judged(rules.TOP, air.top_dampest_mm)
    if said is not None:
        grows_mm = air.top_mm - air.top_dampest_mm
        verb = "jams" if air.top_dampest_mm < 0 else "is left"
        left = f"{figure(abs(air.top_dampest_mm))} mm {'too high, and ' if air.top_dampest_mm < 0 else ''}{verb}"
        runner = f" on runners {figure(spec.runner_mm)} mm proud" if spec.runner_mm > 0 else ""
        yield Finding(
            place=place,
            message=f"{figure(drawer.height_mm)} mm high{runner} with {figure(air.top_mm)} mm of air as fitted; in the "
            f"dampest month it grows {figure(grows_mm)} mm: {left}",
            **_other_height(drawer),
            **said,
        )
    said = _judged(rules.REVEAL, air.top_driest_mm) if spec.style is Front.INSET else None
    if said is not None:
        quarter = "" if spec.front.rings is Rings.QUARTER else "a quarter-sawn front moves about half as far; "
        yield Finding(
            place=place,
            message=f"the gap over the front opens to {figure(air.top_driest_mm)} mm in the driest month",
            fix=f'{quarter}front = "lipped" covers it; or narrower drawers',
            changes=_set(drawer, front="lipped") if spec.lap_mm is None else (),
            **said,
        )


def _other_height(drawer: Drawer) -> dict[str, Any]:
    fitted = _as_fitted(drawer)
    if fitted is None:
        return {"fix": "a lower drawer"}
    if drawer.spec.sizes.front_height_mm is not None and drawer.sizes.lip is None:
        return _to(drawer, "front_height", fitted.height_mm)
    gap = _to(drawer, "top_gap", round(fitted.clearances.top_mm, 6))
    return {**gap, "fix": f"{gap['fix']}: sides {mm_text(fitted.height_mm)} high"}


def _other_width(drawer: Drawer) -> dict[str, Any]:
    fitted = _as_fitted(drawer)
    if fitted is None:
        return {"fix": "more air at the sides"}
    if drawer.spec.sizes.front_width_mm is not None:
        return _to(drawer, "front_width", fitted.board("front").length_mm)
    return _to(drawer, "side_gap", round(fitted.clearances.side_mm, 6))


def _sides(drawer: Drawer) -> Iterator[Finding]:
    spec, air = drawer.spec, drawer.clearances
    place = Place(kind="drawer", name=drawer.name, part="each side")
    said = _judged(rules.SIDE_DAMPEST, air.side_dampest_mm)
    if said is not None and drawer.sums[0].adds_up:
        bow_mm = max(0.0, spec.bow_mm)
        grows_mm = air.side_mm - bow_mm - air.side_dampest_mm
        bow = f", the side bows {figure(bow_mm)} mm outward" if bow_mm else ""
        turned = "turn the hollow side out, so that the bottom pushes it straight; or " if bow_mm else ""
        width = _other_width(drawer)
        yield Finding(
            place=place,
            message=f"{figure(air.side_mm)} mm as fitted{bow}, and it grows {figure(grows_mm)} mm thicker in the dampest "
            f"month: {figure(air.side_dampest_mm)} mm left",
            **{**width, "fix": turned + width["fix"]},
            **said,
        )
        return
    said = _judged(rules.SIDE_FITTED, air.side_mm)
    if said is not None and drawer.sums[0].adds_up:
        yield Finding(
            place=place,
            message=f"{figure(air.side_mm)} mm at each side is a piston fit: for a steady climate and a maker who comes back "
            "with a plane. Makers disagree about it: admired, and impractical",
            fix='fit = "good": 0.25 mm at each side left in the dampest month',
            changes=_set(drawer, fit="good") if spec.side_gap_mm is None and spec.sizes.front_width_mm is None else (),
            **said,
        )
    said = _judged(rules.SIDE_LOOSE, air.side_mm)
    if said is not None and drawer.sizes.lip is None:
        yield Finding(
            place=place,
            message=f"{figure(air.side_mm)} mm at each side lets the drawer swing and rack, unless it hangs on metal slides: "
            "those want what their maker says",
            **_other_width(drawer),
            **said,
        )


def _lips(drawer: Drawer) -> Iterator[Finding]:
    lip, air, spec = drawer.sizes.lip, drawer.clearances, drawer.spec
    if lip is None:
        return
    place = Place(kind="drawer", name=drawer.name, part="lip")
    said = _judged(rules.LIP_PLAY, 2 * air.side_mm)
    if said is not None:
        yield Finding(
            place=place,
            message=f"{figure(2 * air.side_mm)} mm of side play lets the lip wander off the edge of the opening",
            fix="side_gap = 0.8 mm",
            changes=_set(drawer, side_gap=0.8) if spec.sizes.front_width_mm is None else (),
            **said,
        )
    front = drawer.board("front")
    top_mm = front.width_mm * (1 - drawer.sizes.front.shrinks_share) + spec.runner_mm - spec.opening.clear_height_mm
    covers = {"at the ends": lip.overhang_mm - 2 * air.side_driest_mm, "at the top": top_mm}
    for edge, cover_mm in covers.items():
        said = _judged(rules.LIP_COVER, cover_mm)
        if said is not None:
            overhang_mm = round(lip.overhang_mm + 2.5 - cover_mm + 0.05, 1)
            yield Finding(
                place=replace(place, part=f"lip {edge}"),
                message=f"in the driest month, with the drawer pushed to one side, it covers the opening's edge by "
                f"{figure(cover_mm)} mm",
                fix=f"a lip that reaches {mm_text(overhang_mm)} past the side",
                changes=()
                if spec.sizes.front_height_mm is not None
                else _set(drawer, lip={"overhang": mm_text(overhang_mm), "thickness": mm_text(lip.thickness_mm)}),
                **said,
            )


def _behind(drawer: Drawer) -> Iterator[Finding]:
    air, spec = drawer.clearances, drawer.spec
    said = _judged(rules.BEHIND, air.behind_least_mm)
    if said is None:
        return
    fitted = _as_fitted(drawer)
    fix: dict[str, Any] = {"fix": "a shorter drawer"}
    if fitted is not None:
        key = "side_length" if spec.sizes.bottom_depth_mm is None else "bottom_depth"
        of_the_bottom = key == "bottom_depth" and spec.sizes.side_length_mm is None
        fix = _to(drawer, key, fitted.board("bottom").width_mm if of_the_bottom else fitted.board("side").length_mm)
        fix["fix"] += f": {BACK_GAP_MM:g} mm are left"
    yield Finding(
        place=Place(kind="drawer", name=drawer.name, part="behind it"),
        message=f"{figure(air.behind_mm)} mm of air behind the bottom as fitted, {figure(air.behind_least_mm)} mm in the "
        "worst month: a drawer never stops on the case's back, it stops on blocks at the front rail"
        f"{drawer.assumed_case and '; '}{drawer.assumed_case}",
        **fix,
        **said,
    )


def _runner(drawer: Drawer) -> Iterator[Finding]:
    spec, place = drawer.spec, Place(kind="drawer", name=drawer.name, part="runner")
    if spec.runner_length_mm is None:
        return
    if "case" in drawer.sizes.unknown:
        yield not_checked(rules.CHECK_RUNNER, place, f"how far {spec.case.wood.name} moves is not known")
        return
    driest_mm = spec.opening.clear_depth_mm * (1 - drawer.sizes.case.shrinks_share)
    said = _judged(rules.RUNNER, driest_mm - spec.runner_length_mm)
    if said is not None:
        right_mm = float(int(driest_mm - 1.5))
        yield Finding(
            place=place,
            message=f"{figure(spec.runner_length_mm)} mm long in a case that is {figure(driest_mm)} mm deep in the driest "
            f"month: it pushes the front rail out of its sockets{drawer.assumed_case and '; '}{drawer.assumed_case}",
            fix=f"runner_length = {mm_text(right_mm)}, fixed near the front, with a slotted hole at the rear",
            changes=_set(drawer, runner_length=right_mm),
            **said,
        )


def _rack(drawer: Drawer) -> Iterator[Finding]:
    if drawer.spec.centre_guide:
        return
    said = _judged(rules.RACK, drawer.width_mm / drawer.measures.length_mm)
    if said is not None:
        yield Finding(
            place=Place(kind="drawer", name=drawer.name),
            message=f"{figure(drawer.width_mm)} mm wide and {figure(drawer.measures.length_mm)} mm long: wider than "
            f"{rules.RACK.warn:g} times its length, it cocks in the opening when it's pulled by one side",
            fix="centre_guide = true: a hardwood tongue 25 by 13 mm under the middle, in a slip or between two strips; a "
            "muntin keeps such a wide bottom from sagging",
            changes=_set(drawer, centre_guide=True),
            **said,
        )


def _bottom(drawer: Drawer) -> Iterator[Finding]:
    spec, bottom = drawer.spec, drawer.board("bottom")
    place = Place(kind="drawer", name=drawer.name, part="bottom")
    if not spec.muntin:
        said = _judged(rules.BOTTOM_SPAN, bottom.length_mm)
        if said is not None:
            yield Finding(
                place=place,
                message=f"{figure(bottom.length_mm)} mm in one span sags under a full load",
                fix="muntin = true: two panels with a muntin 50 by 16 mm between them",
                changes=_set(drawer, muntin=True),
                **said,
            )
    if spec.bottom_glue is not BottomGlue.ALL_ROUND:
        return
    moves_mm = drawer.bottom.moves_mm
    said = _judged(rules.BOTTOM_HELD, moves_mm)
    if said is not None:
        yield Finding(
            place=place,
            message=f"{figure(bottom.width_mm)} mm across the grain and glued all round, it moves {figure(moves_mm)} mm over "
            "the year: it splits, or pushes the corners open",
            fix=f'bottom_glue = "front": glue its front edge alone, and one screw through a slot '
            f"{figure(drawer.bottom.slot_mm)} mm long behind",
            changes=_set(drawer, bottom_glue="front"),
            **said,
        )
