"""Amounts as they are written for people; `read_amount` reads every one back."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import Dimension, Unit

# Only the fraction signs that usual text fonts have; ⅐ ⅑ ⅒ are read but never written.
GLYPHS: dict[Fraction, str] = {
    Fraction(1, 2): "½",
    Fraction(1, 3): "⅓",
    Fraction(2, 3): "⅔",
    Fraction(1, 4): "¼",
    Fraction(3, 4): "¾",
    Fraction(1, 5): "⅕",
    Fraction(2, 5): "⅖",
    Fraction(3, 5): "⅗",
    Fraction(4, 5): "⅘",
    Fraction(1, 6): "⅙",
    Fraction(5, 6): "⅚",
    Fraction(1, 8): "⅛",
    Fraction(3, 8): "⅜",
    Fraction(5, 8): "⅝",
    Fraction(7, 8): "⅞",
}


@lru_cache(maxsize=1 << 12)
def show_number(number: Fraction) -> str:
    """A number as cooks write it: `1½`, `⅔`, `11/12`, `1 11/12`; exact, never rounded."""
    if number < 0:
        return "−" + show_number(-number)
    whole, rest = divmod(number, 1)
    if rest == 0:
        return str(whole)
    if rest in GLYPHS:
        return f"{whole}{GLYPHS[rest]}" if whole else GLYPHS[rest]
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{whole} {fraction}" if whole else fraction


def show_amount(amount: Amount) -> str:
    """An amount with its unit: `½ cup`, `1½ cups`, `2–3`, `1 large`, `2 cans (15 oz each)`.

    Amounts up to one are singular; a range goes by its upper end.
    """
    most = amount.low if amount.high is None else amount.high
    number = show_number(amount.low)
    if amount.high is not None:
        number += "–" + show_number(amount.high)
    unit = amount.unit.name if most <= 1 else amount.unit.plural
    words = [word for word in (number, amount.size, unit) if word]
    if amount.each is not None:
        note = show_amount(amount.each)
        words.append(f"({note})" if _is_plainly_one(amount) else f"({note} each)")
    return " ".join(words)


def holds_each(unit: Unit, note: Unit) -> bool:
    """Whether a measure in brackets after one `unit` tells what that one holds.

    `1 can (15 oz)`, `1 piece (2 in)`; but `1 clove (5 g)` checks the whole amount.
    """
    return "holds" in unit.marks or note.dimension is Dimension.LENGTH


def _is_plainly_one(amount: Amount) -> bool:
    """Whether "each" can be left out without a second way to read it."""
    return (
        amount.each is not None
        and amount.low == 1
        and amount.high is None
        and holds_each(amount.unit, amount.each.unit)
    )
