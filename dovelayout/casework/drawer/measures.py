"""A drawer's arithmetic, in the order a maker does it: width, height, groove, length, back, bottom."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace

from dovelayout.casework.drawer.choices import Corners, Fit, Front
from dovelayout.casework.drawer.spec import (
    BACK_GAP_MM,
    BOTTOM_PLAY_MM,
    FITS,
    GROOVE_UP_MM,
    LEAST_BACK_MM,
    LIP_GAP_MM,
    LOW_GROOVE_UP_MM,
    LOW_MM,
    MUNTIN_MM,
    OVERHANG_LEFT_MM,
    OVERHANG_MM,
    SLIP_MM,
    SLIPS_UNDER_MM,
    DrawerSpec,
    Sizes,
    Stock,
)
from dovelayout.casework.seasons import Seasons, Swing
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Groove, Lip
from dovelayout.wood.species import WoodKind

_STILL = Swing(grows=0.0, shrinks=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """A drawer's lengths, mm. Those of the boards bear the names of `Sizes`.

    `width_mm`, `height_mm` and `length_mm` are the box's: without lips, of the sides, from the front's outside face to
    the sides' ends. `between_mm` is where the back goes, `inside_..._mm` the clear inside, `floors_mm` from groove floor
    to groove floor, `panel_room_mm` what a muntin leaves of that, `home_mm` from the front's groove floor to the back's
    outside face.
    """

    width_mm: float
    height_mm: float
    length_mm: float
    between_mm: float
    inside_width_mm: float
    inside_length_mm: float
    groove: Groove
    floors_mm: float
    panel_room_mm: float
    panels: int
    home_mm: float
    front_width_mm: float
    front_height_mm: float
    side_length_mm: float
    back_width_mm: float
    back_height_mm: float
    bottom_width_mm: float
    bottom_depth_mm: float

    @property
    def overhang_mm(self) -> float:
        """How far the bottom reaches past the back."""
        return self.bottom_depth_mm - self.home_mm


def down(value_mm: float, step_mm: float) -> float:
    """Rounded down to whole steps."""
    return round(math.floor(value_mm / step_mm + 1e-9) * step_mm, 6)


def up(value_mm: float, step_mm: float) -> float:
    """Rounded up to whole steps."""
    return round(math.ceil(value_mm / step_mm - 1e-9) * step_mm, 6)


class Maker:
    """Works out one drawer's measures over one year."""

    def __init__(self, spec: DrawerSpec, year: Seasons) -> None:
        self.spec = spec
        self.year = year
        self.dovetailed = spec.corners is Corners.DOVETAILED
        self.solid_bottom = spec.bottom.wood.kind is not WoodKind.PLYWOOD
        self.slips = spec.slips if spec.slips is not None else spec.side.thickness_mm < SLIPS_UNDER_MM
        self.lip = self._lip()
        self.lap_mm = self._lap_mm()
        self.unknown: list[str] = []
        front, side = self._swing("front", spec.front), self._swing("side", spec.side)
        self.height_swing = Swing(grows=max(front.grows, side.grows), shrinks=max(front.shrinks, side.shrinks))
        self.thick_swing = self._swing("side", spec.side, thick=True)
        self.bottom_swing = self._swing("bottom", spec.bottom)
        self.case_swing = self._swing("case", spec.case)

    def measures(self, sizes: Sizes) -> Measures:
        """All lengths, those of `sizes` as the maker has them. Raises LayoutError for what is no drawer."""
        spec = self.spec
        beside_mm = 0.0 if self.dovetailed else 2 * spec.side.thickness_mm
        # a lipped front goes past the sides whatever the corners are
        past_mm = -beside_mm if self.lip is None else 2 * self.lip.overhang_mm
        width_mm = self._width_mm()
        if sizes.front_width_mm is not None:
            width_mm = sizes.front_width_mm - past_mm
        height_mm = self._height_mm()
        if sizes.front_height_mm is not None and self.lip is None:
            height_mm = sizes.front_height_mm
        groove = self._groove(height_mm)
        inside_width_mm = width_mm - 2 * (spec.side.thickness_mm - (spec.shaving_mm if self.dovetailed else 0.0))
        side_length_mm = sizes.side_length_mm or self._side_length_mm()
        length_mm = side_length_mm + (self.lap_mm if self.dovetailed else 0.0)
        inside_length_mm = length_mm - spec.front.thickness_mm - spec.back.thickness_mm
        if inside_width_mm < 20 or inside_length_mm < 20:
            raise LayoutError(
                f"{inside_width_mm:.0f} mm wide and {inside_length_mm:.0f} mm long inside is no drawer",
                remedy="check the opening's measures and the thicknesses",
            )
        floors_mm = inside_width_mm - (2 * SLIP_MM if self.slips else 0.0) + 2 * groove.depth_mm
        panels = 2 if spec.muntin else 1
        panel_room_mm = floors_mm - (MUNTIN_MM[0] - 2 * groove.depth_mm if spec.muntin else 0.0)
        if panel_room_mm / panels < 20:
            raise LayoutError(
                f"{panel_room_mm / panels:.0f} mm are left for a panel of the bottom",
                remedy="leave out the muntin and the slips",
            )
        home_mm = groove.depth_mm + inside_length_mm + spec.back.thickness_mm
        between_mm = width_mm - beside_mm
        worked_out = {
            "front_width_mm": width_mm + past_mm,
            "front_height_mm": height_mm if self.lip is None else self._lipped_height_mm(),
            "side_length_mm": side_length_mm,
            "back_width_mm": between_mm,
            "back_height_mm": self._back_height_mm(height_mm, groove, sizes),
            "bottom_width_mm": down((panel_room_mm - BOTTOM_PLAY_MM) / panels, 0.1),
            "bottom_depth_mm": home_mm + self._overhang_mm(),
        }
        given = {one.name: getattr(sizes, one.name) for one in fields(sizes)}
        taken = {name: round(given[name] or value_mm, 6) for name, value_mm in worked_out.items()}
        return Measures(
            width_mm=width_mm,
            height_mm=height_mm,
            length_mm=length_mm,
            between_mm=between_mm,
            inside_width_mm=inside_width_mm,
            inside_length_mm=inside_length_mm,
            groove=groove,
            floors_mm=floors_mm,
            panel_room_mm=panel_room_mm,
            panels=panels,
            home_mm=home_mm,
            **taken,
        )

    def right_mm(self, size: str) -> float:
        """What would be right for a size that the maker has given: what it comes to when it is left out."""
        value_mm: float = getattr(self.measures(replace(self.spec.sizes, **{size: None})), size)
        return value_mm

    def _swing(self, role: str, stock: Stock, *, thick: bool = False) -> Swing:
        direction = stock.rings.across_thickness if thick else stock.rings.across_width
        swing = self.year.swing(stock.wood, direction)
        if swing is not None:
            return swing
        self.unknown.append(f"{role} ({stock.wood.name})")
        return _STILL

    def _lip(self) -> Lip | None:
        """Where the job gives none: a lip of 8 by 6 mm (common practice, no source)."""
        if self.spec.style is not Front.LIPPED:
            return None
        return self.spec.lip or Lip(overhang_mm=8.0, thickness_mm=6.0)

    def _lap_mm(self) -> float:
        """Where the job gives none: a little over a fifth of the front, 3.5 mm at least, no less than the lip; ours."""
        if self.spec.lap_mm is not None:
            return self.spec.lap_mm
        lap_mm = max(3.5, round(0.22 * self.spec.front.thickness_mm * 2) / 2)
        return lap_mm if self.lip is None else max(lap_mm, self.lip.thickness_mm)

    def _width_mm(self) -> float:
        """The width that leaves the gap asked for, or the fit's gap in the dampest month."""
        spec, opening_mm = self.spec, self.spec.opening.clear_width_mm
        if spec.side_gap_mm is not None:
            return opening_mm - 2 * spec.side_gap_mm
        grows_mm = self.thick_swing.grows * spec.side.thickness_mm
        moves_mm = grows_mm + max(0.0, spec.bow_mm)
        gap_mm = FITS[spec.fit].side_mm + moves_mm
        if self.lip is not None:  # no more play than a lip bears, as long as a good fit is left
            gap_mm = min(gap_mm, max(LIP_GAP_MM, FITS[Fit.GOOD].side_mm + moves_mm))
        return down(opening_mm - 2 * gap_mm, 0.1)

    def _height_mm(self) -> float:
        """The height that leaves the gap asked for, or the fit's gap in the dampest month."""
        spec = self.spec
        room_mm = spec.opening.clear_height_mm - spec.runner_mm
        gap_mm = FITS[spec.fit].top_mm if spec.top_gap_mm is None else spec.top_gap_mm
        if room_mm - gap_mm <= 0:
            problem = f"an opening {spec.opening.clear_height_mm:g} mm high leaves no height for a drawer"
            raise LayoutError(problem, remedy="measure it again, or lower the runners and the gap")
        if spec.top_gap_mm is not None:
            return room_mm - gap_mm
        return down((room_mm - gap_mm) / (1 + self.height_swing.grows), 0.1)

    def _lipped_height_mm(self) -> float:
        """A lipped front goes on over the rail above as far as over the case at the sides."""
        if self.lip is None:
            return 0.0
        opening = self.spec.opening
        reach_mm = self.lip.overhang_mm - (opening.clear_width_mm - self._width_mm()) / 2
        return up(opening.clear_height_mm - self.spec.runner_mm + reach_mm, 0.1)

    def _groove(self, height_mm: float) -> Groove:
        """As wide as the bottom, 6 mm at most (a thicker one is thinned from below), no deeper than 0.4 of the side."""
        spec = self.spec
        if spec.groove is not None:
            return spec.groove
        thin_mm = min(spec.front.thickness_mm, SLIP_MM if self.slips else spec.side.thickness_mm)
        return Groove(
            from_edge_mm=GROOVE_UP_MM if height_mm >= LOW_MM else LOW_GROOVE_UP_MM,
            width_mm=min(spec.bottom.thickness_mm, 6.0),
            depth_mm=max(1.0, min(6.0, down(0.4 * thin_mm, 0.5))),
        )

    def _back_height_mm(self, height_mm: float, groove: Groove, sizes: Sizes) -> float:
        """From the groove's upper side to a little below the sides' upper edges."""
        left_mm = height_mm - groove.far_mm - self.spec.back_drop_mm
        if left_mm < LEAST_BACK_MM and sizes.back_height_mm is None:
            need_mm = groove.far_mm + self.spec.back_drop_mm + LEAST_BACK_MM
            raise LayoutError(
                f"sides {height_mm:.1f} mm high leave {left_mm:.1f} mm for the back over the groove",
                remedy=f"{need_mm:.0f} mm or more would do, or a lower groove",
            )
        return left_mm

    def _overhang_mm(self) -> float:
        """How far a solid bottom reaches past the back when fitted: still a little of it in the driest month."""
        if not self.solid_bottom:
            return 0.0
        return max(
            OVERHANG_MM, up(OVERHANG_LEFT_MM + self.bottom_swing.shrinks * self.spec.opening.clear_depth_mm, 0.5)
        )

    def _side_length_mm(self) -> float:
        """The longest whole mm that leaves air behind the drawer in every month."""
        depth_mm = self.spec.opening.clear_depth_mm
        driest_mm = depth_mm * (1 - self.case_swing.shrinks)
        dampest_mm = depth_mm * (1 + self.case_swing.grows - self.bottom_swing.grows)
        reach_mm = min(driest_mm, dampest_mm, depth_mm) - self._overhang_mm() - BACK_GAP_MM
        lip_mm = 0.0 if self.lip is None else self.lip.thickness_mm
        return max(1.0, down(reach_mm + lip_mm - (self.lap_mm if self.dovetailed else 0.0), 1.0))
