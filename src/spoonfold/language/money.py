"""Money as people of a language write it, by CLDR through Babel."""

from __future__ import annotations

import datetime
import math
from decimal import Decimal
from fractions import Fraction

from babel.core import get_global
from babel.numbers import format_currency, get_territory_currencies

from spoonfold.language.cldr import locale_of

_LETTER_PAPER = frozenset(
    {"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"}
)
"""Countries that print on letter paper (from memory, after CLDR's paper sizes)."""


def usual_currency(language: str, paper: str, date: datetime.date) -> str:
    """What is paid with where a language is mostly spoken, by its ISO 4217 code: `USD` for `en`
    on letter paper.

    Empty where the paper says that the class is somewhere else: a wrong sign is worse than none.
    """
    tag = language.replace("-", "_")
    whole = tag if _country(tag) else get_global("likely_subtags").get(tag, "")
    country = _country(whole)
    if not country or (paper == "letter") is not (country in _LETTER_PAPER):
        return ""
    return next(iter(get_territory_currencies(country, date)), "")


def _country(tag: str) -> str:
    last = tag.rpartition("_")[2]
    return last if len(last) == 2 and last.isupper() else ""


def money_text(amount: Fraction, currency: str, language: str) -> str:
    """`$2.70`, `2,70 €`: halves of a hundredth up; without a currency the number alone."""
    cents = math.floor(amount * 100 + Fraction(1, 2))
    if not currency:
        return f"{cents // 100}.{cents % 100:02}"
    return format_currency(Decimal(cents) / 100, currency, locale=locale_of(language))
