"""How exactly an ingredient has to be measured."""

from __future__ import annotations

from enum import Enum


class Exactness(Enum):
    """What a wrong amount does to the dish decides how near the scoops must come."""

    EXACT = "exact"
    """Salt, leavening, batter: within half a step of the published guide, and within 3 %."""
    CLOSE = "close"
    """Within half a step of the published guide."""
    FORGIVING = "forgiving"
    """Vegetables, beans, herbs: as close, or the nearest 1/4 cup when within 10 %."""
