"""Sizes of a drawer, computed in the order of the work: width, height, groove, length, back, bottom."""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass, replace

from dovelayout.casework.drawer.choices import Corners, Fit, Front
from dovelayout.casework.drawer.spec import FITS, DrawerSpec, Sizes
from dovelayout.errors import LayoutError
from dovelayout.joints.board import Groove, Lip
from dovelayout.joints.moving import NO_SWING, Axis, Swing, swing
from dovelayout.shop import Shop
from dovelayout.wood.species import WoodKind

LIP_GAP_MM = 0.75
"""Behind a lip the play at both sides together is kept to 1.6 mm (common practice, no source)."""

GROOVE_UP_MM = 10.0
"""From a side's lower edge to the groove (common practice, no source: 6 to 12 mm)."""

LOW_MM = 36.0
"""Sides lower than this have their groove nearer to the edge; ours."""

LOW_GROOVE_UP_MM = 8.0
"""From a low side's lower edge to its groove; ours."""

SLIPS_UNDER_MM = 10.0
"""Sides thinner than this take slips instead of a groove (common practice, no source)."""

SLIP_MM = 12.0
"""Width of a slip from the side inwards; ours."""

MUNTIN_MM = (50.0, 16.0)
"""Width and thickness of a centre muntin (common practice, no source)."""

BOTTOM_PLAY_MM = 2.0
"""A bottom is this much shorter than from groove floor to groove floor (common practice, no source: 2.4 mm or less)."""

BACK_GAP_MM = 3.0
"""Left behind the drawer in the worst month: a drawer never stops on the case's back (the amount is ours)."""

OVERHANG_MM = 6.0
"""A solid bottom reaches this far past the back when fitted (common practice, no source)."""

OVERHANG_LEFT_MM = 2.0
"""What must be left of that in the driest month; ours."""

LEAST_BACK_MM = 12.0
"""A back lower than this is a strip, not a board; ours."""

LEAST_INSIDE_MM = 20.0
"""What is smaller inside, or has a smaller panel for its bottom, is no drawer; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measures:
    """A drawer's lengths, mm. Those of the boards bear the names of `Sizes`.

    `width_mm`, `height_mm` and `length_mm` are the box's: without lips, of the sides, from the front's outside face to
    the sides' ends. `between_mm` is where the back goes, `inside_length_mm` the clear inside, `floors_mm` from groove floor
    to groove floor, `panel_room_mm` what a muntin leaves of that, `home_mm` from the front's groove floor to the back's
    outside face.
    """

    width_mm: float
    height_mm: float
    length_mm: float
    between_mm: float
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


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerSizes:
    """The sizes of a drawer, from what the maker wants and how the wood moves.

    `front`, `side`, `bottom` and `case` are the swings of their widths, `thickness` is that of a side's; a part in
    `unknown` counts as still, since the movement of its wood isn't known.
    """

    spec: DrawerSpec
    shop: Shop
    front: Swing
    side: Swing
    thickness: Swing
    bottom: Swing
    case: Swing
    unknown: tuple[str, ...]

    @property
    def dovetailed(self) -> bool:
        """Whether the front and the back are as wide as the drawer; butted, they stand between the sides."""
        return self.spec.corners is Corners.DOVETAILED

    @property
    def solid_bottom(self) -> bool:
        """Whether the bottom moves."""
        return self.spec.bottom.wood.kind is not WoodKind.PLYWOOD

    @property
    def slips(self) -> bool:
        """Whether slips hold the bottom instead of grooves in the sides."""
        return self.spec.side.thickness_mm < SLIPS_UNDER_MM if self.spec.slips is None else self.spec.slips

    @property
    def lip(self) -> Lip | None:
        """Where the job gives none: a lip of 8 by 6 mm (common practice, no source)."""
        if self.spec.style is not Front.LIPPED:
            return None
        return self.spec.lip or Lip(overhang_mm=8.0, thickness_mm=6.0)

    @property
    def lap_mm(self) -> float:
        """Where the job gives none: a little over a fifth of the front, 3.5 mm at least, no less than the lip; ours."""
        if self.spec.lap_mm is not None:
            return self.spec.lap_mm
        lap_mm = max(3.5, round(0.22 * self.spec.front.thickness_mm * 2) / 2)
        return lap_mm if self.lip is None else max(lap_mm, self.lip.thickness_mm)

    @property
    def height_grows_share(self) -> float:
        """Growth of its height: of the front or of the sides, whichever grows more."""
        return max(self.front.grows_share, self.side.grows_share)

    def measures(self, sizes: Sizes) -> Measures:
        """All lengths, those of `sizes` as the maker has them. Raises LayoutError for impossible sizes."""
        spec = self.spec
        beside_mm = 0.0 if self.dovetailed else 2 * spec.side.thickness_mm
        # a lipped front goes past the sides whatever the corners are
        past_mm = -beside_mm if self.lip is None else 2 * self.lip.overhang_mm
        width_mm = self._width_mm() if sizes.front_width_mm is None else sizes.front_width_mm - past_mm
        height_mm = (sizes.front_height_mm if self.lip is None else None) or self._height_mm()
        groove = self._groove(height_mm)
        inside_width_mm = width_mm - 2 * (spec.side.thickness_mm - (spec.shaving_mm if self.dovetailed else 0.0))
        side_length_mm = sizes.side_length_mm or self._side_length_mm()
        length_mm = side_length_mm + (self.lap_mm if self.dovetailed else 0.0)
        inside_length_mm = length_mm - spec.front.thickness_mm - spec.back.thickness_mm
        if min(inside_width_mm, inside_length_mm) < LEAST_INSIDE_MM:
            raise LayoutError(
                f"{inside_width_mm:.0f} mm wide and {inside_length_mm:.0f} mm long inside is no drawer",
                remedy="check the opening's measures and the thicknesses",
            )
        floors_mm = inside_width_mm - (2 * SLIP_MM if self.slips else 0.0) + 2 * groove.depth_mm
        panels = 2 if spec.muntin else 1
        panel_room_mm = floors_mm - (MUNTIN_MM[0] - 2 * groove.depth_mm if spec.muntin else 0.0)
        if panel_room_mm / panels < LEAST_INSIDE_MM:
            raise LayoutError(
                f"{panel_room_mm / panels:.0f} mm are left for a panel of the bottom",
                remedy="leave out the muntin and the slips",
            )
        home_mm = groove.depth_mm + inside_length_mm + spec.back.thickness_mm
        worked_out = Sizes(
            front_width_mm=width_mm + past_mm,
            front_height_mm=height_mm if self.lip is None else self._lipped_height_mm(self.lip),
            side_length_mm=side_length_mm,
            back_width_mm=width_mm - beside_mm,
            back_height_mm=self._back_height_mm(height_mm, groove, sizes),
            bottom_width_mm=down((panel_room_mm - BOTTOM_PLAY_MM) / panels, 0.1),
            bottom_depth_mm=home_mm + self._overhang_mm(),
        )
        given = asdict(sizes)
        return Measures(
            width_mm=width_mm,
            height_mm=height_mm,
            length_mm=length_mm,
            between_mm=width_mm - beside_mm,
            inside_length_mm=inside_length_mm,
            groove=groove,
            floors_mm=floors_mm,
            panel_room_mm=panel_room_mm,
            panels=panels,
            home_mm=home_mm,
            **{name: round(given[name] or value_mm, 6) for name, value_mm in asdict(worked_out).items()},
        )

    def right_mm(self, size: str) -> float:
        """The right value of a size that the job fixes: what it comes to when it is left out."""
        value_mm: float = getattr(self.measures(replace(self.spec.sizes, **{size: None})), size)
        return value_mm

    def _width_mm(self) -> float:
        """The width that leaves the gap asked for, or the fit's gap in the dampest month."""
        spec, opening_mm = self.spec, self.spec.opening.clear_width_mm
        if spec.side_gap_mm is not None:
            return opening_mm - 2 * spec.side_gap_mm
        moves_mm = self.thickness.grows_share * spec.side.thickness_mm + max(0.0, spec.bow_mm)
        gap_mm = FITS[spec.fit].side_mm + moves_mm
        if self.lip is not None:  # no more play than a lip bears, as long as a good fit is left
            gap_mm = min(gap_mm, max(LIP_GAP_MM, FITS[Fit.GOOD].side_mm + moves_mm))
        return down(opening_mm - 2 * gap_mm, 0.1)

    def _height_mm(self) -> float:
        """The height that leaves the gap asked for, or the fit's gap in the dampest month."""
        spec = self.spec
        gap_mm = FITS[spec.fit].top_mm if spec.top_gap_mm is None else spec.top_gap_mm
        room_mm = spec.opening.clear_height_mm - spec.runner_mm - gap_mm
        if room_mm <= 0:
            problem = f"an opening {spec.opening.clear_height_mm:g} mm high leaves no height for a drawer"
            raise LayoutError(problem, remedy="measure it again, or lower the runners and the gap")
        return room_mm if spec.top_gap_mm is not None else down(room_mm / (1 + self.height_grows_share), 0.1)

    def _lipped_height_mm(self, lip: Lip) -> float:
        """A lipped front goes on over the rail above as far as over the case at the sides."""
        opening = self.spec.opening
        reach_mm = lip.overhang_mm - (opening.clear_width_mm - self._width_mm()) / 2
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
        shrinks_mm = self.bottom.shrinks_share * self.spec.opening.clear_depth_mm
        return max(OVERHANG_MM, up(OVERHANG_LEFT_MM + shrinks_mm, 0.5))

    def _side_length_mm(self) -> float:
        """The longest whole mm that leaves air behind the drawer in every month."""
        driest_share, dampest_share = -self.case.shrinks_share, self.case.grows_share - self.bottom.grows_share
        reach_mm = self.spec.opening.clear_depth_mm * (1 + min(driest_share, dampest_share, 0.0))
        reach_mm -= self._overhang_mm() + BACK_GAP_MM
        lip_mm = 0.0 if self.lip is None else self.lip.thickness_mm
        return max(1.0, down(reach_mm + lip_mm - (self.lap_mm if self.dovetailed else 0.0), 1.0))


def drawer_sizes(spec: DrawerSpec, shop: Shop) -> DrawerSizes:
    """The sizes of a drawer in the air of a shop and a home; where nothing is known of the home, as `swing` assumes it."""
    stocks = {"front": spec.front, "side": spec.side, "bottom": spec.bottom, "case": spec.case}
    widths = {role: swing(stock, shop, assume_home=True) for role, stock in stocks.items()}
    return DrawerSizes(
        spec=spec,
        shop=shop,
        thickness=swing(spec.side, shop, Axis.THICKNESS, assume_home=True) or NO_SWING,
        unknown=tuple(role for role, known in widths.items() if known is None),
        **{role: known or NO_SWING for role, known in widths.items()},
    )
