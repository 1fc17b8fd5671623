"""How much of a long search is done: a fixed sample in the usual run, all of it before a release.

`SPOONFOLD_IN_FULL=1` asks for all of it, and for values that were never tried before.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, settings

IN_FULL = os.environ.get("SPOONFOLD_IN_FULL") == "1"


def load_profile() -> None:
    """Has hypothesis try the same values every time, so that a change is never held up by what
    it didn't touch; in full it looks for others."""
    # How long an example takes is the machine's business, not the code's.
    settings.register_profile(
        "spoonfold",
        deadline=None,
        suppress_health_check=[HealthCheck.too_slow],
        derandomize=not IN_FULL,
    )
    settings.load_profile("spoonfold")


def sampled(usual: int, in_full: int) -> int:
    """How often something is tried in this run."""
    return in_full if IN_FULL else usual
