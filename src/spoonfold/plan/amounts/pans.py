"""The pan that a multiplied recipe needs: the same depth, so the area grows with the factor."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from spoonfold.model.recipe import Pan

# Pi to more places than a pan's rim is true to.
_PI = Fraction(355, 113)

KNOWN_PANS: tuple[Pan, ...] = tuple(
    Pan(tuple(map(Fraction, sides)), text)
    for sides, text in (
        ((8,), "8 in round"),
        ((8, 8), "8 x 8 in"),
        ((9,), "9 in round"),
        ((10,), "10 in round"),
        ((9, 9), "9 x 9 in"),
        ((9, 13), "9 x 13 in"),
        ((13, 18), "13 x 18 in"),
    )
)
"""Common sizes in American kitchens; their areas stand in the tests with their source."""


@dataclass(frozen=True, slots=True)
class PanNeed:
    """What the factor asks of the pan."""

    area: Fraction
    """Square inches at the recipe's own depth."""
    pan: Pan
    """The known pan that comes nearest, so many of them."""
    count: int
    off: Fraction
    """How much more area that has, as a share; negative: less."""


def pan_area(pan: Pan) -> Fraction:
    """Square inches; a round pan by its diameter, to a millionth (pi as 355/113)."""
    if len(pan.sides) == 1:
        return _PI * pan.sides[0] ** 2 / 4
    return pan.sides[0] * pan.sides[1]


@lru_cache(maxsize=256)
def pan_for(pan: Pan, factor: Fraction, most: int = 4) -> PanNeed:
    """The fewest known pans alike, up to `most`, whose area is within a twentieth of what is
    needed; where there are none, those that come nearest."""
    area = pan_area(pan) * factor
    choices = [(each, count) for each in (pan, *KNOWN_PANS) for count in range(1, most + 1)]

    def error(choice: tuple[Pan, int]) -> Fraction:
        return abs(pan_area(choice[0]) * choice[1] - area)

    near = [choice for choice in choices if error(choice) <= area / 20]
    best, count = (
        min(near, key=lambda choice: (choice[1], error(choice)))
        if near
        else min(choices, key=lambda choice: (error(choice), choice[1]))
    )
    return PanNeed(area, best, count, pan_area(best) * count / area - 1)
