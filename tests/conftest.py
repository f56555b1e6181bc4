"""How hard the property tests look: DOVELAYOUT_HYPOTHESIS=long looks thirty times as hard."""

import os
import tempfile
from pathlib import Path

from hypothesis import HealthCheck, Phase, settings

_SLOW = (HealthCheck.too_slow, HealthCheck.data_too_large)

settings.register_profile(
    "default", deadline=None, derandomize=True, max_examples=100, database=None, suppress_health_check=_SLOW
)
settings.register_profile("long", deadline=None, max_examples=3000, database=None, suppress_health_check=_SLOW)
settings.register_profile(  # python -m tests.mutation: a wrong turn only has to be noticed, not made small
    "mutation",
    deadline=None,
    derandomize=True,
    max_examples=40,
    database=None,
    suppress_health_check=_SLOW,
    phases=(Phase.explicit, Phase.generate),
)
settings.load_profile(os.environ.get("DOVELAYOUT_HYPOTHESIS", "default"))
LONG = settings.get_current_profile_name() == "long"
SHALLOW = settings.get_current_profile_name() == "mutation"


def examples(count: int) -> int:
    """Examples for a test that asks for its own number: more in the long profile, never fewer than asked for but where
    the tests themselves are tested."""
    if SHALLOW:
        return min(count, 40)
    return max(count, 3000) if LONG else count


# a maker's own printers are none of a test's business: nothing is there, and nothing is made there unless a test does
os.environ["DOVELAYOUT_CONFIG"] = str(Path(tempfile.gettempdir()) / f"dovelayout-tests-{os.getpid()}-no-printers")
