"""Dates and times of day, and the names of countries, by CLDR through Babel."""

from __future__ import annotations

import datetime

from babel.dates import format_date, format_time

from spoonfold.language.cldr import locale_of


def date_text(date: datetime.date, language: str) -> str:
    """A whole date: `Saturday, September 18, 2027`."""
    return format_date(date, format="full", locale=locale_of(language))


def day_text(date: datetime.date, language: str) -> str:
    """A date without its weekday: `September 18, 2027`."""
    return format_date(date, format="long", locale=locale_of(language))


def plate_text(date: datetime.date, language: str) -> tuple[str, str]:
    """Month and day as they fit on a small round: `Sep` and `18`."""
    locale = locale_of(language)
    return format_date(date, "LLL", locale=locale), format_date(date, "d", locale=locale)


def time_text(time: datetime.time, language: str) -> str:
    """A time of day: `10:00 AM`."""
    return format_time(time, format="short", locale=locale_of(language))


def country_text(code: str, language: str) -> str | None:
    """A country's name by its ISO 3166-1 code; None where CLDR knows no such country."""
    name = locale_of(language).territories.get(code)
    return str(name) if name else None
