"""The choices a drawer offers: apart from what works with them, so that the command line loads nothing to name them."""

from __future__ import annotations

from enum import StrEnum


class Front(StrEnum):
    """How the front stands to the opening: in it, or rebated and covering its edges."""

    INSET = "inset"
    LIPPED = "lipped"


class Corners(StrEnum):
    """How the corners are joined: dovetailed, or the front and the back butted between the sides."""

    DOVETAILED = "dovetailed"
    BUTTED = "butted"


class BottomKind(StrEnum):
    """What the bottom is made of: boards, grain from side to side, or a sheet."""

    SOLID = "solid"
    PLYWOOD = "plywood"


class BottomGlue(StrEnum):
    """What holds the bottom: its front edge alone, nothing but the grooves, or glue all round."""

    FRONT = "front"
    DRY = "dry"
    ALL_ROUND = "all round"


class Fit(StrEnum):
    """How closely the drawer runs."""

    PISTON = "piston"
    GOOD = "good"
    WORKADAY = "workaday"
