"""The one table 'field of a drawer's spec -> key of the job'. Patterns of its corners: `joints.keys.CORNER_KEYS`."""

from __future__ import annotations

DRAWER_KEYS: dict[str, str] = {
    "name": "name",
    "style": "front",
    "corners": "corners",
    "fit": "fit",
    "lap_mm": "lap",
    "lip": "lip",
    "groove": "groove",
    "side_gap_mm": "side_gap",
    "top_gap_mm": "top_gap",
    "runner_mm": "runner",
    "runner_length_mm": "runner_length",
    "back_drop_mm": "back_drop",
    "shaving_mm": "shaving",
    "bow_mm": "bow",
    "bottom_glue": "bottom_glue",
    "slips": "slips",
    "muntin": "muntin",
    "centre_guide": "centre_guide",
}
"""Fields of a DrawerSpec."""
