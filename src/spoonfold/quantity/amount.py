"""An exact amount of something, in one unit."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.unit import Unit, size_in

SIZES = ("small", "medium", "large", "extra large")
"""Sizes a piece can have; they belong to the amount, not to the food's name."""


@dataclass(frozen=True, slots=True)
class Amount:
    """So many of a unit: `1½ cups`, `2-3`, `1 large`, `2 cans (15 oz each)`."""

    low: Fraction
    """The amount, or the lower end of a range; above zero."""
    unit: Unit
    high: Fraction | None = None
    """The upper end of a range; above `low`."""
    size: str | None = None
    """One of `SIZES`; only with a counting unit."""
    each: Amount | None = None
    """What one of them holds: the 15 oz of `1 can (15 oz)`."""

    def __hash__(self) -> int:
        """By how much of what: a fraction's own hash takes longer than most of what is looked
        up by amounts."""
        return hash((self.low.numerator, self.low.denominator, self.unit))

    @property
    def middle(self) -> Fraction:
        """The amount itself, or halfway between the two ends of a range."""
        return self.low if self.high is None else (self.low + self.high) / 2

    def times(self, factor: Fraction) -> Amount:
        """The amount multiplied exactly; what each one holds stays as it is."""
        high = None if self.high is None else self.high * factor
        return Amount(self.low * factor, self.unit, high, self.size, self.each)

    def to(self, unit: Unit) -> Amount:
        """The same amount in another unit, exactly.

        Raises ValueError where the units have no ratio (see `size_in`).
        """
        if unit == self.unit:
            return self
        factor = size_in(self.unit, unit)
        high = None if self.high is None else self.high * factor
        return Amount(self.low * factor, unit, high, self.size, self.each)
