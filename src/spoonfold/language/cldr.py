"""What the Unicode CLDR knows of a language: plurals, units, dates and names, through Babel."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from babel import Locale, UnknownLocaleError
from babel.core import get_global
from babel.numbers import format_decimal
from babel.plural import PluralRule
from babel.units import format_unit

from spoonfold.language.texts import SOURCE_LANGUAGE
from spoonfold.quantity.unit import Unit

_DIGITS = 3
"""Decimals enough to tell a third from a half: plurals ask no more of a fraction."""


@lru_cache(maxsize=64)
def locale_of(language: str) -> Locale:
    """What is known of a language; English where nothing is.

    For Haitian Creole CLDR has names of its own but borrows dates, plurals and units of French:
    a family would read French under the name of its own language.
    """
    parent = get_global("parent_exceptions").get(language.split("-")[0], "")
    try:
        locale = Locale.parse(language, sep="-")
        if parent and Locale.parse(parent).language not in (locale.language, "no"):
            return Locale.parse(SOURCE_LANGUAGE)
    except (UnknownLocaleError, ValueError):
        return Locale.parse(SOURCE_LANGUAGE)
    return locale


def plural_category(number: Fraction, language: str) -> str:
    """The plural that CLDR asks for: `one`, `two`, `few`, `many`, `other` or `zero`."""
    return str(locale_of(language).plural_form(_decimal(number)))


def counted_as(number: Fraction, language: str) -> int:
    """The whole number whose plural an amount takes.

    Where a language tells only one from more, amounts up to one are singular, as cooks write
    them: ½ cup, ½ taza. CLDR would have the plural there, as for 0.5.
    """
    rule = locale_of(language).plural_form
    if number <= 1 and _is_plain(rule):
        return 1
    if number.denominator == 1:
        return int(number)
    wanted = rule(_decimal(number))
    alike = (each for each in range(1, 101) if rule(each) == wanted)
    return next(alike, int(number) + 1)


def _is_plain(rule: PluralRule) -> bool:
    """Whether a language tells only one from more."""
    return not rule.tags & {"two", "few"}


def unit_text(number: Fraction, shown: str, unit: Unit, language: str) -> str | None:
    """An amount in one of our units as CLDR says it, with the number as it is shown; None where
    CLDR doesn't know the unit, or not in this language."""
    locale = locale_of(language)
    name = unit.cldr
    if name is None or locale.language != language.split("-")[0]:
        return None
    value = Decimal(1) if number <= 1 and _is_plain(locale.plural_form) else _decimal(number)
    plain = format_decimal(value, locale=locale)
    for length in ("long", "short"):
        text = format_unit(value, name, length=length, locale=locale)
        # Where a length is missing, what stands there is CLDR's own key.
        if name in text:
            continue
        if plain in text:
            return text.replace(plain, shown)
        if number.denominator == 1:
            # A language with a dual says two without the number.
            return text
    return None


def language_name(language: str, reader: str) -> str:
    """A language's name in another: `English` to an English reader, `inglés` to a Spanish one."""
    name = locale_of(language).get_display_name(locale_of(reader))
    return str(name) if name and _is_known(language) else language


def own_name(language: str) -> str:
    """A language's name in that language."""
    try:
        name = Locale.parse(language, sep="-").get_display_name()
    except (UnknownLocaleError, ValueError):
        return language
    return str(name) if name else language


def _is_known(language: str) -> bool:
    return locale_of(language).language == language.split("-")[0]


def _decimal(number: Fraction) -> Decimal:
    """A number near enough for plurals; Babel takes no fractions."""
    if number.denominator == 1:
        return Decimal(number.numerator)
    return round(Decimal(number.numerator) / Decimal(number.denominator), _DIGITS)
