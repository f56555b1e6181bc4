"""The fit that suits the glue: cheeks cut fuller than their sockets, and what the glue's water adds once it is spread.

These checks run only if the shop says how full its cheeks are cut. Pressure, driving force and bending are in `squeeze`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dovelayout.checks.corner.parts import part_of, pin_name, place_of
from dovelayout.checks.corner.squeeze import Springs, Squeeze, line_swelling_mm, springs_of, squeeze
from dovelayout.checks.finding import Finding, Level
from dovelayout.checks.remedy import Remedies, by_setting, by_varying, in_turn, mm_text, no_remedies, wider_half_pins
from dovelayout.checks.rule import Breach, Measure, Rule, rule
from dovelayout.everyday import shaving_words
from dovelayout.joints.corner import CornerJoint
from dovelayout.shop import Shop
from dovelayout.wood.glue import Glue, all_glues, find_glue

_MECHANICS = "stiffness: Wood Handbook FPL-GTR-190, Table 5-1; swelling and limit: ours"

KNOWN = rule("fit", "whether shop and wood say enough to judge the fit")
PRESSURE = rule(
    "fit-pressure",
    "pressure at the tightest cheek, swollen by the glue",
    unit="MPa",
    warn=4.0,
    below=False,
    layout=True,
    source=_MECHANICS,
)
CRUSH = rule(
    "fit-crush",
    "pressure the cheeks would reach if the wood didn't crush, as a share of what crushes it",
    unit="of what crushes it",
    note=1.0,
    below=False,
    layout=True,
    source="compression perpendicular: Wood Handbook FPL-GTR-190, Table 5-3; 1.2 times it: ours",
)
DRIVE = rule(
    "fit-drive",
    "force to drive one tail home, as for 19 mm stock",
    unit="kN a tail",
    warn=1.3,
    below=False,
    layout=True,
    source="friction 0.4 (dry smooth wood 0.3 to 0.5: Wood Handbook FPL-GTR-190, chapter 4); limit: ours",
)
HALF_PIN = rule(
    "fit-half-pin",
    "what bends a half pin outward, as a share of what breaks it",
    unit="of its strength",
    warn=0.5,
    stop=0.8,
    below=False,
    layout=True,
    source=f"bending of a cantilever; {_MECHANICS}",
)

DRIVE_CHEEK_MM2 = 19.0 * 19.0
"""The cheek that the drive limit is for; in another the force counts in proportion to its area (ours)."""

FULLEST_MM = 0.25
"""No dry fit is advised beyond this: what makers leave in white pine (common practice, no source)."""

STEP_MM = 0.01
"""Fits are advised in hundredths: finer is nobody's hand (ours)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tight:
    """One corner with one glue (None: dry) at one dry fit: its squeeze, and what the glue adds to the fit.

    `swelling_mm` is None where it isn't known; the squeeze is the dry one then.
    """

    glue: Glue | None
    fit_mm: float
    swelling_mm: float | None
    squeezed: Squeeze

    @property
    def measures(self) -> tuple[Measure, ...]:
        """What the rules judge."""
        s = self.squeezed
        found = [
            Measure(rule=PRESSURE, value=s.pressure_mpa),
            Measure(rule=DRIVE, value=drive_kn_as_for_19_mm(s)),
        ]
        if s.crush_mpa is not None:
            found.append(Measure(rule=CRUSH, value=s.elastic_mpa / s.crush_mpa))
        if s.half_pin_share is not None:
            found.append(Measure(rule=HALF_PIN, value=s.half_pin_share))
        return tuple(found)

    @property
    def worst(self) -> Level:
        """The worst level."""
        return max((m.rule.judge(m.value)[0] for m in self.measures), key=lambda level: level.rank)


def drive_kn_as_for_19_mm(squeezed: Squeeze) -> float:
    """Force on the worst tail, kN, brought to the cheek of 19 mm stock that the limit is for."""
    return squeezed.tail_drive_n / 1000 * DRIVE_CHEEK_MM2 / squeezed.cheek_area_mm2


def tight(joint: CornerJoint, glue: Glue | None, fit_mm: float) -> Tight | None:
    """A corner at a dry fit, swollen by a glue; None where the stiffness of its woods isn't known."""
    springs = springs_of(joint)
    return None if springs is None else _tight(springs, glue, fit_mm, _swelling_mm(joint, glue))


def _swelling_mm(joint: CornerJoint, glue: Glue | None) -> float | None:
    return 0.0 if glue is None else line_swelling_mm(joint, glue)


def _tight(springs: Springs, glue: Glue | None, fit_mm: float, swelling_mm: float | None) -> Tight:
    squeezed = squeeze(springs, interference_mm=fit_mm + (swelling_mm or 0.0))
    return Tight(glue=glue, fit_mm=fit_mm, swelling_mm=swelling_mm, squeezed=squeezed)


def fullest_fit_mm(joint: CornerJoint, glue: Glue | None, *, outer_relieved: bool = False) -> float | None:
    """The fullest dry fit at one cheek that no rule warns of with that glue, mm, down to a hundredth, at most FULLEST_MM.

    `outer_relieved`: the half pins' cheeks are relieved, so that only the others count. None: the woods' stiffness or the
    swelling isn't known. Below 0: even a cheek cut to the line is too full once it is wet, by that much.
    """
    springs, swelling_mm = springs_of(joint), _swelling_mm(joint, glue)
    if springs is None or swelling_mm is None:
        return None
    rules = (PRESSURE, DRIVE) if outer_relieved else (PRESSURE, DRIVE, HALF_PIN)
    return _last_fit_mm(springs, swelling_mm, FULLEST_MM, rules)


def _last_fit_mm(springs: Springs, swelling_mm: float, most_mm: float, rules: tuple[Rule, ...]) -> float:
    """The fullest fit up to so much that none of the rules warns of, mm, down to a hundredth."""

    def passes(steps: int) -> bool:
        measures = _tight(springs, None, steps * STEP_MM, swelling_mm).measures
        return all(measure.clean for measure in measures if measure.rule in rules)

    # every measure rises with the fit, so the last step that passes is found by halving; at -1 mm nothing touches
    low, high = -100, int(most_mm / STEP_MM + 1e-9)
    if passes(high):
        return round(high * STEP_MM, 2)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if passes(middle) else (low, middle)
    return round(low * STEP_MM, 2)


def measure_fit(joint: CornerJoint, shop: Shop) -> Iterator[Measure]:
    """The fit rules' measures of a corner, but for crushing, which is no fault; none where the job gives no fit or the
    woods' stiffness isn't known."""
    if shop.fit_mm is None:
        return
    found = tight(joint, shop.glue, shop.fit_mm)
    if found is not None:
        yield from (measure for measure in found.measures if measure.rule is not CRUSH)


def check_fit(joint: CornerJoint, shop: Shop) -> Iterator[Finding]:
    """Pressure, crushing, the force to drive it home and bent half pins, at the job's fit with the job's glue."""
    if shop.fit_mm is None:
        if shop.glue is not None:
            yield _without_a_fit(joint, shop.glue)
        return
    yield from fit_findings(joint, shop.glue, shop.fit_mm)
    if shop.glue is None:
        yield KNOWN.not_checked(
            part_of(joint, "cheeks with glue on them"),
            "the job names no glue, and the water of some swells a cheek by as much as the fit itself",
            "the glue named",
        )


def _without_a_fit(joint: CornerJoint, glue: Glue) -> Finding:
    aim_mm = fullest_fit_mm(joint, glue)
    fix = "the shop's fit: how much fuller a cheek is cut than its socket"
    if aim_mm is not None:
        fix = f"fit {mm_text(max(0.0, aim_mm))}, the most that suits {glue.name} in these boards"
    because = "the job doesn't say how much fuller than its socket a cheek is cut, dry"
    return KNOWN.not_checked(part_of(joint, "cheeks"), because, fix)


def fit_findings(joint: CornerJoint, glue: Glue | None, fit_mm: float) -> Iterator[Finding]:
    """All findings on the fit of one corner, for one glue (None: dry) and one dry fit."""
    found = tight(joint, glue, fit_mm)
    if found is None:
        woods = " or ".join(dict.fromkeys(board.wood.name for board in (joint.tail_board, joint.pin_board)))
        yield KNOWN.not_checked(
            part_of(joint, "cheeks"),
            f"the stiffness of {woods} is not known",
            "the fit tried in two offcuts with a tail each; or, of a wood of your own, its modulus of elasticity",
        )
        return
    if found.swelling_mm is None:
        yield KNOWN.not_checked(
            part_of(joint, "cheeks with glue on them"),
            "how far this wood swells is not known; what is said of its fit holds for the dry joint",
        )
    broken = {measure.rule: breach for measure in found.measures if (breach := measure.breach)}
    if PRESSURE in broken or DRIVE in broken:
        broken.pop(CRUSH, None)  # what drives heavily is past being how pine is fitted
    for breach in broken.values():
        yield _finding(joint, found, breach)


def _finding(joint: CornerJoint, found: Tight, breach: Breach) -> Finding:
    squeezed, place = found.squeezed, part_of(joint, "cheeks")
    fix, remedies = _milder_label(joint, found) or "a glue that swells less", _looser(joint, found)
    force = f"about {squeezed.drive_n / 1000:.1f} kN in all to drive the corner home"
    if breach.rule is PRESSURE:
        stops = ", and it may stop half way once the glue is on" if found.swelling_mm else ""
        message = (
            f"{_sum_words(found)} with {squeezed.pressure_mpa:.1f} MPa, {force}: heavy driving{stops}. Makers leave cherry "
            "and walnut less than pine, oak and maple almost nothing"
        )
    elif breach.rule is DRIVE:
        message = (
            f"{force}, {squeezed.tail_drive_n / 1000:.1f} kN on its tightest tail, which is like {breach.measured:.1f} in "
            "19 mm stock: one tight tail among others can crack the board"
        )
    elif breach.rule is CRUSH:
        message = (
            f"{_sum_words(found)} until the softer side crushes, at {squeezed.crush_mpa:.1f} MPa: that is how pine is "
            "fitted. It goes together once, so don't take it apart and try again"
        )
        fix, remedies = (
            f"nothing; a dry fit of {mm_text(_uncrushed_fit_mm(found))} would crush nothing yet",
            no_remedies,
        )
    else:
        assert squeezed.half_pin is not None  # what is measured on one
        message = (
            f"the tail beside it bends the {pin_name(joint, squeezed.half_pin)} outward with {breach.measured:.0%} of what "
            "breaks it: nothing stands behind a half pin"
        )
        place, fix = place_of(joint, squeezed.half_pin), _relief(joint, found)
        remedies = by_varying(joint, wider_half_pins)
    doubts = "; ".join((breach.rule.source, *squeezed.doubts))
    return breach.finding(place, message, fix=fix, remedies=remedies, source=doubts, beside=breach.rule is HALF_PIN)


def _relief(joint: CornerJoint, found: Tight) -> str:
    """What is to be planed off the outer cheeks so that the half pins bear it."""
    springs = springs_of(joint)
    assert springs is not None  # what was found is found by them
    outer_mm = _last_fit_mm(springs, found.swelling_mm or 0.0, found.fit_mm, (HALF_PIN,))
    if outer_mm < 0:
        return f"the outer cheeks relieved until they are {-outer_mm:.2f} mm clear when dry"
    relief_mm = found.fit_mm - outer_mm
    return (
        f"the outer cheeks relieved by {relief_mm:.2f} mm ({shaving_words(relief_mm)}), to a fit of {mm_text(outer_mm)}"
    )


def _sum_words(found: Tight) -> str:
    dry = f"{found.fit_mm:.2f} mm of dry fit at a cheek" if found.fit_mm > STEP_MM / 2 else "a cheek cut to the line"
    if found.glue is None or not found.swelling_mm:
        return f"{dry} presses"
    return f"{dry} and the {found.swelling_mm:.3f} mm that {found.glue.name} swells it press"


def _looser(joint: CornerJoint, found: Tight) -> Remedies:
    """What eases the cheeks: a smaller fit with the same glue, or another glue."""

    def proposals() -> Iterator[Remedies]:
        glue = found.glue if found.swelling_mm is not None else None
        aim_mm = fullest_fit_mm(joint, glue, outer_relieved=True)
        if aim_mm is not None and 0 <= aim_mm < found.fit_mm:
            words = f"a dry fit of {mm_text(aim_mm)} ({shaving_words(aim_mm)})"
            yield by_setting("shop", "shop", {"fit": mm_text(aim_mm)}, words)
        if not _has_label(found) and (milder := _milder(joint, found)):
            other, fit_mm = milder
            yield by_setting("shop", "shop", {"glue": other.id, "fit": mm_text(fit_mm)}, _milder_words(*milder))

    return lambda: in_turn(*proposals())()


def _has_label(found: Tight) -> bool:
    """Whether the job gives its glue's own numbers: they would stay over another glue's row."""
    return found.glue is not None and found.glue != all_glues().get(found.glue.id)


def _milder_label(joint: CornerJoint, found: Tight) -> str:
    """The milder glue where the job can't be changed to it by one key."""
    milder = _milder(joint, found) if _has_label(found) else None
    return _milder_words(*milder) if milder else ""


def _milder_words(glue: Glue, fit_mm: float) -> str:
    home = f"at a dry fit of {mm_text(fit_mm)}" if fit_mm > STEP_MM / 2 else "cut to the line, a fit of 0 mm"
    return f"{glue.name}, which goes home {home}"


def _milder(joint: CornerJoint, found: Tight) -> tuple[Glue, float] | None:
    """The glue that swells least, and the fit with it: the job's own, or the most it allows. One without water only
    where no other allows even a cheek cut to the line."""
    swellings = {
        glue.id: swelling_mm
        for glue in all_glues().values()
        if not glue.spots_only
        and (swelling_mm := line_swelling_mm(joint, glue)) is not None
        and swelling_mm < (found.swelling_mm or 0.0)
    }
    for glue in sorted(map(find_glue, swellings), key=lambda glue: (not glue.has_water, swellings[glue.id])):
        fit_mm = fullest_fit_mm(joint, glue, outer_relieved=True)
        if fit_mm is not None and fit_mm >= 0:
            return glue, min(found.fit_mm, fit_mm)
    return None


def _uncrushed_fit_mm(found: Tight) -> float:
    """Dry fit at which nothing crushes yet: the elastic pressure goes with the interference."""
    squeezed = found.squeezed
    share = (squeezed.crush_mpa or 0.0) / squeezed.elastic_mpa
    dry_mm = squeezed.interference_mm * share - (found.swelling_mm or 0.0)
    return max(0.0, int(dry_mm / STEP_MM) * STEP_MM)
