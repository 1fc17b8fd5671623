"""How sure a few votes are."""

from __future__ import annotations

import math

_Z = 1.959964
"""Of the normal distribution, for nineteen times in twenty."""


def wilson(yes: int, votes: int) -> tuple[float, float]:
    """Between which shares the true one lies, nineteen times in twenty, if so many of so many, at
    least one, say yes: E. B. Wilson's score interval (NIST/SEMATECH e-Handbook of Statistical
    Methods, section 7.2.4.1). Children of one class copy each other, so that it is rather wider."""
    share, square = yes / votes, _Z * _Z
    middle = (share + square / (2 * votes)) / (1 + square / votes)
    root = math.sqrt(share * (1 - share) / votes + square / (4 * votes * votes))
    reach = _Z * root / (1 + square / votes)
    return max(0.0, middle - reach), min(1.0, middle + reach)
