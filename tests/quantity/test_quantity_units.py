"""Unit sizes against published tables, and what units are called."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import pytest

from spoonfold.quantity.unit import BARE_LETTERS, UNITS, Dimension, Unit, size_in, unit_named

CLDR = json.loads(Path(__file__).with_name("cldr-units.json").read_text("utf-8"))


def named(word: str) -> Unit:
    unit = unit_named(word)
    assert unit is not None, word
    return unit


def cldr_value(expression: str) -> Fraction:
    """A CLDR factor. Everything behind the one slash divides (UTS #35, Unit Conversion)."""
    above, _, below = expression.partition("/")
    return _product(above) / _product(below) if below else _product(above)


def _product(factors: str) -> Fraction:
    constants = CLDR["unitConstants"]
    return math.prod(
        (
            cldr_value(constants[factor]["_value"]) if factor in constants else Fraction(factor)
            for factor in factors.split("*")
        ),
        start=Fraction(1),
    )


def cldr_size(name: str) -> Fraction:
    return cldr_value(CLDR["convertUnits"][name].get("_factor", "1"))


class TestSizes:
    @pytest.mark.parametrize(
        ("unit", "cldr"),
        [
            ("cup", "cup"),
            ("tbsp", "tablespoon"),
            ("tsp", "teaspoon"),
            ("fl oz", "fluid-ounce"),
            ("pint", "pint"),
            ("quart", "quart"),
            ("gallon", "gallon"),
        ],
    )
    def test_volume_against_cldr(self, unit: str, cldr: str) -> None:
        """US volumes are exactly CLDR's.

        Not compared: CLDR's pinch (3/64 tsp) and drop (1/96 tsp). Ours follow the trade and
        the Institute of Child Nutrition.
        """
        assert size_in(named(unit), named("l")) == cldr_size(cldr) / cldr_size("liter")

    @pytest.mark.parametrize(("unit", "cldr"), [("oz", "ounce"), ("lb", "pound"), ("g", "gram")])
    def test_mass_against_cldr(self, unit: str, cldr: str) -> None:
        """Weights are exactly CLDR's."""
        assert size_in(named(unit), named("kg")) == cldr_size(cldr)

    def test_length_against_cldr(self) -> None:
        """An inch is exactly CLDR's."""
        assert size_in(named("inch"), named("cm")) == cldr_size("inch") * 100

    @pytest.mark.parametrize(
        ("unit", "base", "exactly"),
        [
            ("gallon", "ml", "3785.411784"),
            ("quart", "ml", "946.352946"),
            ("pint", "ml", "473.176473"),
            ("cup", "ml", "236.5882365"),
            ("fl oz", "ml", "29.5735295625"),
            ("tbsp", "ml", "14.78676478125"),
            ("tsp", "ml", "4.92892159375"),
            ("lb", "g", "453.59237"),
            ("oz", "g", "28.349523125"),
            ("in", "cm", "2.54"),
            ("dl", "ml", "100"),
            ("l", "ml", "1000"),
            ("kg", "g", "1000"),
        ],
    )
    def test_handbook_44(self, unit: str, base: str, exactly: str) -> None:
        """US sizes are those of NIST Handbook 44, Appendix C, to the last digit."""
        assert size_in(named(unit), named(base)) == Fraction(exactly)

    @pytest.mark.parametrize(
        ("unit", "times", "base"),
        [
            ("gallon", 4, "quart"),
            ("gallon", 8, "pint"),
            ("gallon", 16, "cup"),
            ("gallon", 128, "fl oz"),
            ("gallon", 256, "tbsp"),
            ("gallon", 768, "tsp"),
            ("quart", 2, "pint"),
            ("quart", 32, "fl oz"),
            ("pint", 2, "cup"),
            ("cup", 16, "tbsp"),
            ("cup", 8, "fl oz"),
            ("tbsp", 3, "tsp"),
            ("tsp", 60, "drop"),
            ("tsp", 8, "dash"),
            ("tsp", 16, "pinch"),
            ("lb", 16, "oz"),
        ],
    )
    def test_whole_ratios(self, unit: str, times: int, base: str) -> None:
        """The kitchen's ratios are whole (ICN, Basics at a Glance; dash and pinch: custom)."""
        assert size_in(named(unit), named(base)) == times

    @pytest.mark.parametrize(
        ("part", "tbsp"),
        [("1/8", "2"), ("1/4", "4"), ("1/3", "16/3"), ("3/8", "6"), ("2/3", "32/3"), ("7/8", "14")],
    )
    def test_parts_of_a_cup(self, part: str, tbsp: str) -> None:
        """Parts of a cup are the tablespoons of ICN's poster, Basics at a Glance."""
        assert Fraction(part) * size_in(named("cup"), named("tbsp")) == Fraction(tbsp)

    def test_round_trip(self) -> None:
        """Of two units of one dimension, each is exactly the inverse of the other."""
        for one in UNITS:
            for other in UNITS:
                if one.dimension is other.dimension is not Dimension.COUNT:
                    assert size_in(one, other) * size_in(other, one) == 1

    @pytest.mark.parametrize(
        ("unit", "base"), [("cup", "g"), ("can", "slice"), ("can", "oz"), ("in", "ml")]
    )
    def test_no_ratio(self, unit: str, base: str) -> None:
        """Units with nothing in common have no ratio."""
        with pytest.raises(ValueError, match="cannot be measured"):
            size_in(named(unit), named(base))

    def test_counts_measure_themselves(self) -> None:
        """A counting unit is one of itself."""
        assert all(size_in(unit, unit) == 1 for unit in UNITS)


class TestNames:
    @pytest.mark.parametrize(
        ("words", "name"),
        [
            ("cup cups Cup CUPS", "cup"),
            ("tablespoon tablespoons tbsp tbs Tbsp. TBSP tbl", "tbsp"),
            ("teaspoon teaspoons tsp Tsp tsp.", "tsp"),
            ("ounce ounces oz oz. OZ", "oz"),
            ("pound pounds lb lbs lb.", "lb"),
            ("gram grams g gr", "g"),
            ("kilogram kilograms kg", "kg"),
            ("milliliter milliliters millilitre millilitres ml mL", "ml"),
            ("liter liters litre litres l L", "l"),
            ("pint pints pt", "pint"),
            ("quart quarts qt", "quart"),
            ("gallon gallons gal", "gallon"),
            ('inch inches in "', "in"),
            ("centimeter centimetres cm", "cm"),
            ("clove cloves", "clove"),
            ("leaf leaves", "leaf"),
            ("box boxes", "box"),
            ("pinch pinches", "pinch"),
        ],
    )
    def test_spellings(self, words: str, name: str) -> None:
        """Every usual spelling names its unit."""
        assert {named(word).name for word in words.split()} == {name}

    @pytest.mark.parametrize("words", ["fl oz", "fl. oz.", "fluid ounce", "Fluid  Ounces", "floz"])
    def test_fluid_ounces(self, words: str) -> None:
        """Fluid ounces are two words and no weight."""
        assert named(words).dimension is Dimension.VOLUME

    @pytest.mark.parametrize("word", [*BARE_LETTERS, "", " ", "T.", "c.", "cupful", "x" * 10_000])
    def test_no_unit(self, word: str) -> None:
        """A bare letter and anything unknown is no unit."""
        assert unit_named(word) is None

    @pytest.mark.parametrize("words", ["fl milk", "fluid cups", "dry oz", "oz oz", "fl oz oz"])
    def test_half_of_a_fluid_ounce(self, words: str) -> None:
        """One of its two words beside another makes no fluid ounce."""
        assert unit_named(words) is None

    def test_every_unit_is_named_by_itself(self) -> None:
        """The shown singular and plural of every unit are read as that unit."""
        for unit in UNITS:
            if unit.name:
                assert unit_named(unit.name) is unit
                assert unit_named(unit.plural) is unit


def test_pint_only_when_asked() -> None:
    """Importing the room does not import Pint; a ratio does."""
    script = (
        "import sys, spoonfold.quantity.grammar as room, spoonfold.quantity.unit as units\n"
        "room.read_line('1 1/2 cups flour'); print('pint' in sys.modules)\n"
        "units.size_in(units.unit_named('cup'), units.unit_named('ml'))\n"
        "print('pint' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["False", "True"]
