"""The fit that suits the glue: cheeks cut fuller than their sockets, and what the glue's water adds once it is spread.

They speak when the job says how full its cheeks are cut, [shop] fit. What presses, drives and bends is in `squeeze`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from dovelayout.checks.corner.pins import pin_name
from dovelayout.checks.corner.squeeze import Springs, Squeeze, line_swelling_mm, springs_of, squeeze
from dovelayout.checks.finding import Change, Finding, Level, not_checked
from dovelayout.checks.remedy import Remedy, first_passing, mm_text, wider_half_pins
from dovelayout.checks.rule import Measure, Rule
from dovelayout.everyday import shaving_words
from dovelayout.joints.corner import CornerJoint
from dovelayout.place import Place
from dovelayout.shop import Shop
from dovelayout.wood.glue import Glue, all_glues, find_glue

CHECK_FIT = "fit"
CHECK_PRESSURE = "fit-pressure"
CHECK_CRUSH = "fit-crush"
CHECK_DRIVE = "fit-drive"
CHECK_HALF = "fit-half-pin"

_MECHANICS = "stiffness: Wood Handbook FPL-GTR-190, Table 5-1; swelling and limit: ours"

PRESSURE = Rule(
    check=CHECK_PRESSURE,
    measures="pressure at the tightest cheek, swollen by the glue",
    unit="MPa",
    warn=4.0,
    below=False,
    source=_MECHANICS,
)
CRUSH = Rule(
    check=CHECK_CRUSH,
    measures="pressure the cheeks would reach if the wood didn't crush, as a share of what crushes it",
    unit="of what crushes it",
    note=1.0,
    below=False,
    source="compression perpendicular: Wood Handbook FPL-GTR-190, Table 5-3; 1.2 times it: ours",
)
DRIVE = Rule(
    check=CHECK_DRIVE,
    measures="force to drive one tail home, as for 19 mm stock",
    unit="kN a tail",
    warn=1.3,
    below=False,
    source="friction 0.4 (dry smooth wood 0.3 to 0.5: Wood Handbook FPL-GTR-190, chapter 4); limit: ours",
)
HALF_PIN = Rule(
    check=CHECK_HALF,
    measures="what bends a half pin outward, as a share of what breaks it",
    unit="of its strength",
    warn=0.5,
    stop=0.8,
    below=False,
    source=f"bending of a cantilever; {_MECHANICS}",
)
RULES = (PRESSURE, CRUSH, DRIVE, HALF_PIN)

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
        """The loudest level."""
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

    `outer_relieved`: the half pins' cheeks are eased, so that only the others count. None: the woods' stiffness or the
    swelling isn't known. Below 0: even a cheek cut to the line is too full once it is wet, by that much.
    """
    springs, swelling_mm = springs_of(joint), _swelling_mm(joint, glue)
    if springs is None or swelling_mm is None:
        return None

    def passes(steps: int) -> bool:
        measures = _tight(springs, glue, steps * STEP_MM, swelling_mm).measures
        return all(m.clean for m in measures if not (outer_relieved and m.rule is HALF_PIN))

    # every measure rises with the fit, so the last step that passes is found by halving; at -0.5 mm nothing touches
    low, high = -50, round(FULLEST_MM / STEP_MM)
    if passes(high):
        return FULLEST_MM
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
        yield not_checked(
            CHECK_FIT,
            Place(kind="corner", name=joint.name, part="cheeks with glue on them"),
            "the job names no glue, and the water of some swells a cheek by as much as the fit itself",
            'name it: [shop] glue = "pva"',
        )


def _without_a_fit(joint: CornerJoint, glue: Glue) -> Finding:
    aim_mm = fullest_fit_mm(joint, glue)
    fix = "say it: [shop] fit = ..., how much fuller a cheek is than its socket"
    if aim_mm is not None:
        fix = f"say it: [shop] fit = {mm_text(max(0.0, aim_mm))} is the most that suits {glue.name} in these boards"
    return not_checked(
        CHECK_FIT,
        Place(kind="corner", name=joint.name, part="cheeks"),
        "the job doesn't say how much fuller than its socket a cheek is cut, dry",
        fix,
    )


def fit_findings(joint: CornerJoint, glue: Glue | None, fit_mm: float) -> Iterator[Finding]:
    """All findings on the fit of one corner, for one glue (None: dry) and one dry fit."""
    found = tight(joint, glue, fit_mm)
    if found is None:
        woods = " or ".join(dict.fromkeys(board.wood.name for board in (joint.tail_board, joint.pin_board)))
        yield not_checked(
            CHECK_FIT,
            Place(kind="corner", name=joint.name, part="cheeks"),
            f"the stiffness of {woods} is not known",
            "try the fit in two offcuts with a tail each; of a wood of your own, give moe_gpa",
        )
        return
    if found.swelling_mm is None:
        yield not_checked(
            CHECK_FIT,
            Place(kind="corner", name=joint.name, part="cheeks with glue on them"),
            "how far this wood swells is not known; what is said of its fit holds for the dry joint",
        )
    yield from _tight_findings(joint, found)
    yield from _half_pin_findings(joint, found)


def _tight_findings(joint: CornerJoint, found: Tight) -> Iterator[Finding]:
    squeezed = found.squeezed
    pressure_level, pressure_limit = PRESSURE.judge(squeezed.pressure_mpa)
    drive_kn = drive_kn_as_for_19_mm(squeezed)
    drive_level, drive_limit = DRIVE.judge(drive_kn)
    if Level.WARN in (pressure_level, drive_level):
        words, changes = _looser(joint, found)
        force = f"about {squeezed.drive_n / 1000:.1f} kN in all to drive the corner home"
        if pressure_level is Level.WARN:
            stops = ", and it may stop half way once the glue is on" if found.swelling_mm else ""
            yield _finding(
                PRESSURE,
                (pressure_level, pressure_limit),
                joint,
                found,
                round(squeezed.pressure_mpa, 2),
                f"{_sum_words(found)} with {squeezed.pressure_mpa:.1f} MPa, {force}: "
                f"heavy driving{stops}. Makers leave cherry and walnut less than pine, oak and maple almost nothing",
                words,
                changes,
            )
        if drive_level is Level.WARN:
            yield _finding(
                DRIVE,
                (drive_level, drive_limit),
                joint,
                found,
                round(drive_kn, 3),
                f"{force}, {squeezed.tail_drive_n / 1000:.1f} kN on its tightest tail, which is like {drive_kn:.1f} in "
                "19 mm stock: one tight tail among others can crack the board",
                words,
                changes,
            )
    elif squeezed.crushed and squeezed.crush_mpa is not None:
        yield _finding(
            CRUSH,
            CRUSH.judge(squeezed.elastic_mpa / squeezed.crush_mpa),
            joint,
            found,
            round(squeezed.elastic_mpa / squeezed.crush_mpa, 3),
            f"{_sum_words(found)} until the softer side crushes, at {squeezed.crush_mpa:.1f} MPa: that is how pine is "
            "fitted. It goes together once, so don't take it apart and try again",
            f"nothing needs mending; a dry fit of {mm_text(_uncrushed_fit_mm(found))} would crush nothing yet",
            (),
        )


def _half_pin_findings(joint: CornerJoint, found: Tight) -> Iterator[Finding]:
    squeezed = found.squeezed
    if squeezed.half_pin is None or squeezed.half_pin_share is None:
        return
    level, limit = HALF_PIN.judge(squeezed.half_pin_share)
    if level is Level.OK:
        return
    remedy = _stouter(joint, found)
    outer_mm = _outer_fit_mm(joint, found)
    relief_mm = found.fit_mm - max(0.0, outer_mm)
    words = (
        f"relieve the outer cheeks by {relief_mm:.2f} mm ({shaving_words(relief_mm)}), to a fit of {mm_text(outer_mm)}"
    )
    if outer_mm < 0:
        words = f"relieve the outer cheeks until they are {-outer_mm:.2f} mm clear when dry"
    yield _finding(
        HALF_PIN,
        (level, limit),
        joint,
        found,
        round(squeezed.half_pin_share, 3),
        f"the tail beside it bends the {pin_name(joint, squeezed.half_pin)} outward with "
        f"{squeezed.half_pin_share:.0%} of what breaks it: nothing stands behind a half pin",
        f"{words}; or {remedy.words}" if remedy else words,
        remedy.changes if remedy else (),
        place=Place(kind="corner", name=joint.name, part=f"{pin_name(joint, squeezed.half_pin)}"),
    )


def _finding(
    rule: Rule,
    judged: tuple[Level, float | None],
    joint: CornerJoint,
    found: Tight,
    measured: float,
    message: str,
    fix: str,
    changes: tuple[Change, ...],
    place: Place | None = None,
) -> Finding:
    doubts = "; ".join(found.squeezed.doubts)
    return Finding(
        check=rule.check,
        level=judged[0],
        place=place or Place(kind="corner", name=joint.name, part="cheeks"),
        measured=measured,
        limit=judged[1],
        unit=rule.unit,
        message=message,
        fix=fix,
        source=f"{rule.source}; {doubts}" if doubts else rule.source,
        changes=changes,
    )


def _sum_words(found: Tight) -> str:
    dry = f"{found.fit_mm:.2f} mm of dry fit at a cheek" if found.fit_mm > STEP_MM / 2 else "a cheek cut to the line"
    if found.glue is None or not found.swelling_mm:
        return f"{dry} presses"
    return f"{dry} and the {found.swelling_mm:.3f} mm that {found.glue.name} swells it press"


def _clean(joint: CornerJoint, glue: Glue | None, fit_mm: float, rules: tuple[Rule, ...]) -> bool:
    found = tight(joint, glue, fit_mm)
    return found is not None and all(m.clean for m in found.measures if m.rule in rules)


def _looser(joint: CornerJoint, found: Tight) -> tuple[str, tuple[Change, ...]]:
    """What eases the cheeks: a smaller fit with the same glue, or another glue; the first of them is the change."""
    said: list[str] = []
    changes: list[Change] = []
    aim_mm = fullest_fit_mm(joint, found.glue if found.swelling_mm is not None else None, outer_relieved=True)
    if aim_mm is not None and 0 <= aim_mm < found.fit_mm:
        said.append(f"a dry fit of {mm_text(aim_mm)} ({shaving_words(aim_mm)})")
        changes.append(_to_shop(fit=mm_text(aim_mm)))
    milder = _milder(joint, found) if found.swelling_mm else None
    if milder is not None and found.glue is not None:
        glue, fit_mm = milder
        said.append(f"{glue.name}, which goes home {_cut_words(fit_mm)}")
        if found.glue is all_glues().get(found.glue.id):  # a label's own numbers would stay over another row
            changes.append(_to_shop(glue=glue.id, fit=mm_text(fit_mm)))
    return ", or ".join(said), tuple(changes[:1])


def _to_shop(**values: str) -> Change:
    return Change(table="shop", name="shop", values=values)


def _cut_words(fit_mm: float) -> str:
    return f"at a dry fit of {mm_text(fit_mm)}" if fit_mm > STEP_MM / 2 else "cut to the line, a fit of 0 mm"


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


def _stouter(joint: CornerJoint, found: Tight) -> Remedy | None:
    return first_passing(
        joint,
        wider_half_pins(joint),
        lambda varied: bool(varied.half_pins) and _clean(varied, found.glue, found.fit_mm, (HALF_PIN,)),
    )


def _outer_fit_mm(joint: CornerJoint, found: Tight) -> float:
    """Dry fit at the outer cheeks at which the half pins bear it, down to a hundredth."""
    steps = int(found.fit_mm / STEP_MM + 1e-9)
    while steps > -100 and not _clean(joint, found.glue, steps * STEP_MM, (HALF_PIN,)):
        steps -= 1
    return round(steps * STEP_MM, 2)


def _uncrushed_fit_mm(found: Tight) -> float:
    """Dry fit at which nothing crushes yet: the elastic pressure goes with the interference."""
    squeezed = found.squeezed
    share = (squeezed.crush_mpa or 0.0) / squeezed.elastic_mpa
    dry_mm = squeezed.interference_mm * share - (found.swelling_mm or 0.0)
    return max(0.0, int(dry_mm / STEP_MM) * STEP_MM)
