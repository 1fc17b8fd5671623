"""Money as people write it: by hand after the Unicode CLDR's patterns of each language."""

from __future__ import annotations

import datetime
from fractions import Fraction

import pytest

from spoonfold.language.money import money_text, usual_currency

DAY = datetime.date(2027, 9, 18)


@pytest.mark.parametrize(
    ("currency", "language", "text"),
    [
        ("USD", "en", "$2.70"),
        ("GBP", "en", "£2.70"),
        ("EUR", "es", "2,70\xa0€"),
        ("JPY", "en", "¥3"),
        ("", "en", "2.70"),
    ],
)
def test_a_sum_has_its_sign_where_the_language_has_it(
    currency: str, language: str, text: str
) -> None:
    """Before or behind, with the decimals of its coins; nothing where nobody knows it."""
    assert money_text(Fraction(27, 10), currency, language) == text


def test_halves_of_a_cent_go_up() -> None:
    """As a till does, and never a third of a cent."""
    assert money_text(Fraction(1, 200), "", "en") == "0.01"
    assert money_text(Fraction(10, 3), "USD", "en") == "$3.33"


@pytest.mark.parametrize(
    ("language", "paper", "currency"),
    [
        ("en", "letter", "USD"),
        ("en", "a4", ""),
        ("en-GB", "a4", "GBP"),
        ("es", "a4", "EUR"),
        ("es", "letter", ""),
        ("es-MX", "letter", "MXN"),
        ("xx", "letter", ""),
    ],
)
def test_the_sign_is_guessed_only_where_the_paper_agrees(
    language: str, paper: str, currency: str
) -> None:
    """English on letter paper is the dollar; on A4 it may be anywhere (ISO 4217 codes)."""
    assert usual_currency(language, paper, DAY) == currency
