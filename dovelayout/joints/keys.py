"""The one table 'field of a spec -> key of the job', read by whatever reads jobs and by whatever proposes changes to them.

A key with a point lies in an inline table: 'proud.tails'. In the tables of drawers the keys of a corner begin with its
`CornerSpec.key_prefix`.
"""

from __future__ import annotations

CORNER_KEYS: dict[str, str] = {
    "tails": "tails",
    "pins": "pins",
    "tail_count": "tail_count",
    "pin_mm": "pin",
    "half_pin_mm": "half_pin",
    "slope": "slope",
    "tails_at": "tails_at",
    "spacing": "spacing",
    "covers": "covers",
    "proud_tails_mm": "proud.tails",
    "proud_pins_mm": "proud.pins",
    "groove": "groove",
    "lap_mm": "lap",
    "lip": "lip",
    "mitre_face_edge_mm": "mitre.face_edge",
    "mitre_far_edge_mm": "mitre.far_edge",
    "lid": "lid",
    "cant": "angle",
}
"""Fields of a CornerSpec."""

SLIDING_KEYS: dict[str, str] = {
    "host": "host",
    "key": "key",
    "at_mm": "at",
    "depth_mm": "depth",
    "measured_to": "measured_to",
    "face": "face",
    "wide_mm": "wide",
    "sloped": "cheeks",
    "slope": "slope",
    "taper_ratio": "taper",
    "taper_on": "taper_on",
    "stop_mm": "stop",
    "set_back_mm": "set_back",
    "slip_mm": "slip",
    "clearance_mm": "clearance",
    "glue_zone_mm": "glue_zone",
    "cup_mm": "cup",
    "bit": "bit",
}
"""Fields of a SlidingSpec."""
