"""Amounts: arithmetic, how they are shown, and that what is shown is read back."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from quantity_strategies import MEASURES, NUMBERS, amounts

from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import Refusal, read_amount, read_number, read_share
from spoonfold.quantity.show import show_amount, show_number
from spoonfold.quantity.unit import Unit, unit_named


def amount_of(text: str) -> Amount:
    amount = read_amount(text)
    assert isinstance(amount, Amount), amount
    return amount


def code_of(result: object) -> str:
    assert isinstance(result, Refusal), result
    return result.code


def named(word: str) -> Unit:
    unit = unit_named(word)
    assert unit is not None
    return unit


class TestShow:
    @pytest.mark.parametrize(
        ("number", "shown"),
        [
            ("3", "3"),
            ("3/2", "1½"),
            ("2/3", "⅔"),
            ("23/8", "2⅞"),
            ("11/12", "11/12"),
            ("23/12", "1 11/12"),
            ("1/7", "1/7"),
            ("0", "0"),
            ("-3/2", "−1½"),
        ],
    )
    def test_number(self, number: str, shown: str) -> None:
        """Numbers are shown as cooks write them, and never rounded."""
        assert show_number(Fraction(number)) == shown

    @pytest.mark.parametrize(
        ("text", "shown"),
        [
            ("1.5 cups", "1½ cups"),
            ("0.5 cups", "½ cup"),
            ("1 cup", "1 cup"),
            ("8/3 tablespoons", "2⅔ tbsp"),
            ("2-3", "2–3"),
            ("1/2-1 cups", "½–1 cup"),
            ("1-2 cups", "1–2 cups"),
            ("1 can (15 oz)", "1 can (15 oz)"),
            ("2 cans (15 oz each)", "2 cans (15 oz each)"),
            ("1 LARGE", "1 large"),
            ("2 extra-large", "2 extra large"),
            ("1/2 bunch", "½ bunch"),
            ("3 leaves", "3 leaves"),
        ],
    )
    def test_amount(self, text: str, shown: str) -> None:
        """Amounts up to one are singular, ranges go by their upper end."""
        assert show_amount(amount_of(text)) == shown

    @given(amounts())
    @settings(deadline=None)
    def test_read_back(self, amount: Amount) -> None:
        """Whatever is shown is read back as exactly the same amount."""
        assert read_amount(show_amount(amount)) == amount

    @given(NUMBERS)
    @settings(deadline=None)
    def test_number_read_back(self, number: Fraction) -> None:
        """A shown number is read back exactly, and as a share where it is one."""
        assert read_number(show_number(number)) == number
        if number <= 1:
            assert read_share(show_number(number)) == number


class TestArithmetic:
    def test_published_fraction(self) -> None:
        """A third of a cup for 4 is exactly 1¼ cups for 15."""
        assert amount_of("1/3 cup").times(Fraction(15, 4)) == amount_of("1 1/4 cups")

    def test_range_and_contents(self) -> None:
        """Both ends of a range are multiplied, what each can holds is not."""
        doubled = amount_of("1-2 cans (15 oz each)").times(Fraction(2))
        assert doubled == amount_of("2-4 cans (15 oz each)")

    def test_middle(self) -> None:
        """The middle of a range is halfway, of a plain amount the amount."""
        assert amount_of("2-3 cups").middle == Fraction(5, 2)
        assert amount_of("2 cups").middle == 2

    def test_converted(self) -> None:
        """30 fl oz are 3¾ cups, and both ends of a range are converted."""
        assert amount_of("30 fl oz").to(named("cup")) == amount_of("3 3/4 cups")
        assert amount_of("8-16 oz").to(named("lb")) == amount_of("1/2-1 lb")

    def test_not_converted(self) -> None:
        """A volume is no weight."""
        with pytest.raises(ValueError, match="cannot be measured"):
            amount_of("1 cup").to(named("g"))

    @given(NUMBERS, st.sampled_from(MEASURES), st.sampled_from(MEASURES))
    @settings(deadline=None)
    def test_conversion_is_exact(self, number: Fraction, unit: Unit, other: Unit) -> None:
        """There and back again is the same amount to the last digit."""
        if unit.dimension is other.dimension:
            amount = Amount(number, unit)
            assert amount.to(other).to(unit) == amount


class TestReadAlone:
    @pytest.mark.parametrize(
        ("text", "code"),
        [
            ("", "empty-line"),
            ("cup", "unreadable-amount"),
            ("2 cups milk", "more-than-amount"),
            ("1 lb (2 cups)", "more-than-amount"),
            ("2 T", "bare-unit-letter"),
            ("a cup", "a-for-one"),
            ("0", "zero-amount"),
        ],
    )
    def test_amount_refused(self, text: str, code: str) -> None:
        """Anything but one amount is refused."""
        assert code_of(read_amount(text)) == code

    @pytest.mark.parametrize(
        ("text", "number"),
        [("1 1/2", "3/2"), ("1½", "3/2"), (" 1.5 ", "3/2"), ("1-1/2", "3/2"), ("4", "4")],
    )
    def test_number(self, text: str, number: str) -> None:
        """A number is read in every way a cook writes it."""
        assert read_number(text) == Fraction(number)

    @pytest.mark.parametrize(
        ("text", "code"),
        [
            ("", "unreadable-amount"),
            ("four", "unreadable-amount"),
            ("2-3", "unreadable-amount"),
            ("4 people", "unreadable-amount"),
            ("0", "zero-amount"),
            ("-2", "negative-amount"),
            ("1,5", "decimal-comma"),
            ("9" * 5000, "number-too-long"),
            ("1/" + "9" * 5000, "number-too-long"),
            ("10000001", "number-too-large"),
            ("1/0", "divided-by-zero"),
            ("1 5/4", "improper-fraction"),
            ("1e999", "unreadable-amount"),
            ("٣", "unreadable-amount"),
        ],
    )
    def test_number_refused(self, text: str, code: str) -> None:
        """What is no positive number is refused."""
        assert code_of(read_number(text)) == code

    @pytest.mark.parametrize(("text", "share"), [("1/2", "1/2"), ("0.25", "1/4"), ("1", "1")])
    def test_share(self, text: str, share: str) -> None:
        """A share is a fraction or a decimal up to one."""
        assert read_share(text) == Fraction(share)

    @pytest.mark.parametrize(
        ("text", "code", "instead"),
        [
            ("half", "word-for-number", "1/2"),
            ("50%", "percent-for-share", "½"),
            ("3/2", "share-above-one", None),
            ("rest", "unreadable-amount", None),
            ("0", "zero-amount", None),
        ],
    )
    def test_share_refused(self, text: str, code: str, instead: str | None) -> None:
        """What is no share is refused, with the share where it can be told."""
        refusal = read_share(text)
        assert isinstance(refusal, Refusal)
        assert (refusal.code, refusal.instead) == (code, instead)
