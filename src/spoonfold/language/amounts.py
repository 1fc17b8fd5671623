"""Amounts, weights, temperatures and times as a reader of one language says them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from spoonfold.language.texts import SOURCE_LANGUAGE, Texts
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_amount, show_number
from spoonfold.quantity.temperature import Temperature


def amount_text(amount: Amount, texts: Texts) -> str:
    """`1½ cups`; a range goes by its upper end."""
    if texts.language == SOURCE_LANGUAGE:
        return show_amount(amount)
    most = amount.low if amount.high is None else amount.high
    number = show_number(amount.low)
    if amount.high is not None:
        number += "–" + show_number(amount.high)
    unit = ""
    if amount.unit.name:
        # Amounts up to one are singular: ½ cup.
        unit = texts.count(amount.unit.name, amount.unit.plural, max(1, math.ceil(most)))
    size = texts.say(amount.size) if amount.size else ""
    words = [word for word in (number, unit, size) if word]
    if amount.each is not None:
        words.append(f"({amount_text(amount.each, texts)})")
    return " ".join(words)


def amounts_text(amounts: Sequence[Amount], texts: Texts) -> str:
    """Several amounts to be added: `1 cup + 2 tbsp`."""
    return " + ".join(amount_text(each, texts) for each in amounts)


def temperature_text(temperature: Temperature, texts: Texts) -> str:
    """Both scales, each to the nearest degree, as the published charts have them: 160 °F is
    71 °C there, and a sheet with another number would be doubted."""
    return texts.say("{fahrenheit} °F ({celsius} °C)", fahrenheit=temperature.whole_fahrenheit,
                     celsius=temperature.whole_celsius)


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
    percent = math.floor(abs(off) * 100 + Fraction(1, 2))
    if percent < 1:
        return ""
    if off > 0:
        return texts.say("{percent} % more", percent=percent)
    return texts.say("{percent} % less", percent=percent)
