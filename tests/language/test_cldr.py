"""Plurals, units, dates and names against the Unicode CLDR's own published samples."""

from __future__ import annotations

import datetime
import json
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import pytest

from spoonfold.language.amounts import amount_text
from spoonfold.language.calendar import date_text
from spoonfold.language.cldr import (
    counted_as,
    language_name,
    locale_of,
    own_name,
    plural_category,
    unit_text,
)
from spoonfold.language.texts import load_texts
from spoonfold.plan.amounts.convert import CUP, known_unit
from spoonfold.press.layouts import shipped_layouts
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import read_amount

CLDR = json.loads(Path(__file__).with_name("cldr-samples.json").read_text("utf-8"))
UNITS = {
    "cup": "volume-cup",
    "tbsp": "volume-tablespoon",
    "tsp": "volume-teaspoon",
    "g": "mass-gram",
    "lb": "mass-pound",
    "ml": "volume-milliliter",
    "l": "volume-liter",
}
NUMBERS = [Fraction(each) for each in (1, 2, 3, 5, 11, 12, 21, 100)] + [
    Fraction(1, 2),
    Fraction(1, 3),
    Fraction(3, 2),
    Fraction(11, 4),
]


def _samples(rule: str) -> Iterator[Fraction]:
    """The numbers after `@integer` and `@decimal`; of a range both ends."""
    for part in rule.replace("@decimal", ",").partition("@integer")[2].split(","):
        for number in part.strip().split("~"):
            if number.replace(".", "").isdigit():
                yield Fraction(number)


PLURALS = [
    (language, name.removeprefix("pluralRule-count-"), rule)
    for language, rules in CLDR["plurals"].items()
    for name, rule in rules.items()
]


@pytest.mark.parametrize(
    ("language", "category", "rule"), PLURALS, ids=[f"{each[0]}-{each[1]}" for each in PLURALS]
)
def test_plurals_are_cldr_s(language: str, category: str, rule: str) -> None:
    """Every published sample of every category gets that category. Decimals that end in zeros
    are the exception: an amount has no digits that say nothing, so 1.0 is 1."""
    checked = [number for number in _samples(rule) if not _is_told_by_zeros(number, rule)]
    assert checked or category == "other"
    assert {plural_category(number, language) for number in checked} <= {category}


def _is_told_by_zeros(number: Fraction, rule: str) -> bool:
    """Whether a sample is a whole number among the decimals alone, such as 10.0."""
    return number.denominator == 1 and number not in _samples(rule.partition("@decimal")[0])


@pytest.mark.parametrize("language", ["es", "ar", "fr", "ru", "pl", "vi", "zh", "so"])
@pytest.mark.parametrize("unit", UNITS)
def test_units_are_cldr_s(language: str, unit: str) -> None:
    """An amount is said by the pattern that CLDR has for its plural, the number as cooks write
    it."""
    for number in NUMBERS:
        said = unit_text(number, "#", known_unit(unit), language)
        patterns = CLDR["units"][language][UNITS[unit]]
        # Where only one is told from more, up to one is singular.
        is_plain = not {"two", "few"} & {
            name.removeprefix("pluralRule-count-") for name in CLDR["plurals"][language]
        }
        counted = Fraction(1) if is_plain and number <= 1 else number
        key = f"unitPattern-count-{plural_category(counted, language)}"
        known = {
            pattern[key].replace("{0}", "#") for pattern in patterns.values() if key in pattern
        }
        assert said in known, number


@pytest.mark.parametrize(
    ("number", "language", "counted"),
    [
        (Fraction(1, 2), "es", 1),
        (Fraction(1), "es", 1),
        (Fraction(3, 2), "es", 2),
        (Fraction(3, 2), "fr", 1),
        (Fraction(2), "fr", 2),
        (Fraction(1, 2), "ar", 100),
        (Fraction(3), "ar", 3),
        (Fraction(3, 2), "vi", 1),
    ],
)
def test_a_part_counts_as_a_whole_number_of_its_plural(
    number: Fraction, language: str, counted: int
) -> None:
    """Catalogues know whole numbers alone, so a part takes one that has the same plural."""
    assert counted_as(number, language) == counted


def test_haitian_creole_is_not_french() -> None:
    """CLDR borrows French for it. A family would read French under its own language's name."""
    assert locale_of("ht").language == "en"
    assert "samedi" not in date_text(datetime.date(2027, 9, 18), "ht")
    assert unit_text(Fraction(2), "2", CUP, "ht") is None
    assert own_name("ht") == "Kreyòl Ayisyen"


def test_dates_are_the_language_s() -> None:
    """A date is said as its language says it."""
    day = datetime.date(2027, 9, 18)
    assert date_text(day, "es") == "sábado, 18 de septiembre de 2027"
    assert date_text(day, "vi").startswith("Thứ Bảy")
    assert "سبتمبر" in date_text(day, "ar")


def test_languages_have_names() -> None:
    """A language is named for its readers and for others; an unknown one by its code."""
    assert (language_name("en", "es"), language_name("es", "en")) == ("inglés", "Spanish")
    assert (own_name("ar"), own_name("vi")) == ("العربية", "Tiếng Việt")
    assert own_name("xx") == language_name("xx", "en") == "xx"


@pytest.mark.parametrize(
    ("written", "language", "said"),
    [
        ("1 1/2 cups", "es", "1½ tazas"),
        ("1/2 cup", "es", "½ taza"),
        ("2 tsp", "es", "2 cdtas."),
        ("1 1/2 cups", "vi", "1½ tách"),
        ("2 tbsp", "fr", "2 cuillères à soupe"),
        ("1 1/2 cups", "fr", "1½ tasse"),
        ("2 cups", "ar", "كوبان"),
        ("3 cups", "ar", "\u20663\u2069 أكواب"),
        ("2-3 cups", "vi", "2–3 tách"),
        ("2 cups", "ht", "2 cups"),
        ("2", "vi", "2"),
    ],
)
def test_amounts_are_said(written: str, language: str, said: str) -> None:
    """By the catalogue, else by CLDR, else in English; a number keeps its own direction."""
    amount = read_amount(written)
    assert isinstance(amount, Amount)
    assert amount_text(amount, load_texts(language, shipped_layouts())) == said
