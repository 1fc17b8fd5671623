"""Lines of the key that several kinds of question write: sums as a child of the grade writes
them."""

from __future__ import annotations

from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.names import Names


def over(value: Fraction) -> str:
    """One fraction without a whole number before it: `5/4`; a whole number stays."""
    whole = value.denominator == 1
    return str(value.numerator) if whole else f"{value.numerator}/{value.denominator}"


def with_mixed(formula: str, value: Fraction) -> str:
    """A formula that ends in `value`, and the mixed number where that is another."""
    is_mixed = value > 1 and value.denominator != 1
    return f"{formula} = {over(value)} = {n(value)}" if is_mixed else f"{formula} = {over(value)}"


def divided(one: int | Fraction, two: int | Fraction) -> str:
    """`5 ÷ 4 = 5/4 = 1¼`."""
    return with_mixed(f"{n(Fraction(one))} ÷ {n(Fraction(two))}", Fraction(one) / two)


def multiplied(one: Fraction, two: Fraction) -> tuple[str, ...]:
    """Mixed numbers as one fraction, then tops times tops and bottoms times bottoms."""
    lines = [
        f"{n(each)} = {over(each)}" for each in (one, two) if each > 1 and each.denominator != 1
    ]
    top = one.numerator * two.numerator
    below = one.denominator * two.denominator
    formula = f"{over(one)} × {over(two)}"
    if below != 1 and (top, below) != (one * two).as_integer_ratio():
        formula += f" = {top}/{below}"
    return (*lines, with_mixed(formula, one * two))


def in_scoops(grade: str, amount: str, count: Fraction, scoop: Fraction, names: Names) -> str:
    """So many parts; as a product only from grade 4 on, where fractions are multiplied."""
    if grade.startswith("3"):
        return names.texts.say(
            "{over} is {count} parts of {part}.", over=amount, count=n(count), part=n(scoop)
        )
    return f"{amount} = {n(count)} × {n(scoop)}"
