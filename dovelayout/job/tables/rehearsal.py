"""[rehearsal]: how far the maker's own lines and cuts miss."""

from __future__ import annotations

from typing import Annotated

from pydantic import BeforeValidator

from dovelayout.job.tables.fields import Table, length_between
from dovelayout.shop import Hand

Miss = Annotated[float, BeforeValidator(length_between(0.0, 2.0))]


class RehearsalTable(Table):
    """[rehearsal]. Standard deviations: two of three miss by less."""

    marking: Miss | None = None
    sawing: Miss | None = None
    transfer: Miss | None = None
    placing: Miss | None = None
    held_flush: bool | None = None

    def hand(self) -> Hand:
        """The hand it describes; what it leaves out is as in `Hand`."""
        lengths = {
            f"{key}_mm": value
            for key in ("marking", "sawing", "transfer", "placing")
            if (value := getattr(self, key)) is not None
        }
        return Hand(held_flush=bool(self.held_flush), **lengths)
