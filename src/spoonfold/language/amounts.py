"""Amounts, weights, temperatures and times as a reader of one language says them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from spoonfold.language.texts import SOURCE_LANGUAGE, Texts
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_amount, show_number
from spoonfold.quantity.temperature import Temperature
from spoonfold.quantity.unit import PIECE, Unit


@lru_cache(maxsize=1 << 12)
def amount_text(amount: Amount, texts: Texts, sized: bool = True) -> str:
    """`1½ cups`; a range goes by its upper end. `sized` says whether `large` is said too."""
    if texts.language == SOURCE_LANGUAGE:
        return show_amount(amount if sized else replace(amount, size=None))
    most = amount.low if amount.high is None else amount.high
    number = show_number(amount.low)
    if amount.high is not None:
        number += "–" + show_number(amount.high)
    number = _isolated(number, texts)
    words = [_with_unit(number, most, amount.unit, texts)]
    if sized and amount.size:
        words.append(texts.say(amount.size))
    if amount.each is not None:
        words.append(f"({amount_text(amount.each, texts)})")
    return " ".join(words)


def number_text(number: Fraction, texts: Texts) -> str:
    """A number by itself: `1½`."""
    return _isolated(show_number(number), texts)


def _isolated(number: str, texts: Texts) -> str:
    """A number that stays together: in a text from right to left, 1½ would turn into ½1 and 2–3
    into 3–2 (Unicode Standard Annex 9, X5a: left-to-right isolate)."""
    return f"\u2066{number}\u2069" if texts.direction == "rtl" else number


def _with_unit(shown: str, number: Fraction, unit: Unit, texts: Texts) -> str:
    """By the catalogue; where there is none in this language, by CLDR."""
    if not unit.name:
        return shown
    # Imported here: only a class with a second language pays for Babel.
    from spoonfold.language.cldr import counted_as, unit_text

    if not texts.has(unit.name):
        known = unit_text(number, shown, unit, texts.language)
        if known is not None:
            return known
    name = texts.count(unit.name, unit.plural, counted_as(number, texts.language))
    return f"{shown} {name}"


def amounts_text(amounts: Sequence[Amount], texts: Texts, sized: bool = True) -> str:
    """Several amounts to be added: `1 cup + 2 tbsp`."""
    return " + ".join(amount_text(each, texts, sized) for each in amounts)


@lru_cache(maxsize=32)
def size_comes_first(texts: Texts) -> bool:
    """Whether how large a food is stands before its name: large onion, but cebolla grande."""
    return texts.say("{size} {name}", size=1, name=2) == "1 2"


def joint_of(amounts: Sequence[Amount], texts: Texts) -> str:
    """What stands between a measured amount and its food: `de` in Spanish, nothing in English."""
    if not amounts or amounts[-1].unit == PIECE:
        return ""
    return texts.say("{amount} {name}", amount="", name="").strip()


def amount_of(amounts: Sequence[Amount], name: str, texts: Texts) -> str:
    """An amount with its food in a running text: `5 cups water`, `5 tazas de agua`."""
    words = (amounts_text(amounts, texts, size_comes_first(texts)), joint_of(amounts, texts), name)
    return " ".join(word for word in words if word)


def temperature_text(temperature: Temperature, texts: Texts) -> str:
    """Both scales, each to the nearest degree, as the published charts have them: 160 °F is
    71 °C there, and a sheet with another number would be doubted."""
    return texts.say(
        "{fahrenheit} °F ({celsius} °C)",
        fahrenheit=temperature.whole_fahrenheit,
        celsius=temperature.whole_celsius,
    )


def oven_text(temperature: Temperature, texts: Texts) -> str:
    """Both scales as an oven's dial has them: to the nearest 5 degrees."""
    fahrenheit = 5 * round(temperature.fahrenheit / 5)
    celsius = 5 * round(temperature.celsius / 5)
    return texts.say("{fahrenheit} °F ({celsius} °C)", fahrenheit=fahrenheit, celsius=celsius)


def minutes_text(minutes: Fraction, texts: Texts) -> str:
    """`35 min`, `1 h 10 min`; a part of a minute counts as a whole one."""
    whole = math.ceil(minutes)
    hours, rest = divmod(whole, 60)
    if not hours:
        return texts.say("{minutes} min", minutes=rest)
    if not rest:
        return texts.say("{hours} h", hours=hours)
    return texts.say("{hours} h {minutes} min", hours=hours, minutes=rest)


def off_text(off: Fraction, texts: Texts) -> str:
    """How far a rounded amount is off, in whole per cent: `7 % more`; empty below 1 %."""
    if not off:
        return ""
    percent = math.floor(abs(off) * 100 + Fraction(1, 2))
    if percent < 1:
        return ""
    if off > 0:
        return texts.say("{percent} % more", percent=percent)
    return texts.say("{percent} % less", percent=percent)
