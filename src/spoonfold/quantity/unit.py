"""Kitchen units: what they are called, and how large one is in another."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Literal

System = Literal["US", "metric", "count"]


class Dimension(Enum):
    """What a unit measures. Only units of one dimension have a ratio."""

    VOLUME = "volume"
    MASS = "mass"
    LENGTH = "length"
    COUNT = "count"


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as it is shown; `PIECE`, with an empty name, counts the food itself."""

    name: str
    plural: str
    dimension: Dimension
    system: System

    def __hash__(self) -> int:
        """By its name alone, which no other unit has."""
        return hash(self.name)


def _us(name: str, plural: str, dimension: Dimension = Dimension.VOLUME) -> Unit:
    return Unit(name, plural, dimension, "US")


def _metric(name: str, dimension: Dimension) -> Unit:
    return Unit(name, name, dimension, "metric")


def _counted(name: str, plural: str) -> Unit:
    return Unit(name, plural, Dimension.COUNT, "count")


PIECE = _counted("", "")

_SPELLINGS: tuple[tuple[Unit, str], ...] = (
    (_us("cup", "cups"), "cup cups"),
    (
        _us("tbsp", "tbsp"),
        "tbsp tbsps tbs tb tbl tbls tblsp tblsps tablespoon tablespoons tablespoonful"
        " tablespoonfuls",
    ),
    (_us("tsp", "tsp"), "tsp tsps teasp teaspoon teaspoons teaspoonful teaspoonfuls"),
    (_us("fl oz", "fl oz"), ""),
    (_us("pint", "pints"), "pint pints pt pts"),
    (_us("quart", "quarts"), "quart quarts qt qts"),
    (_us("gallon", "gallons"), "gallon gallons gal gals"),
    (_us("pinch", "pinches"), "pinch pinches"),
    (_us("dash", "dashes"), "dash dashes"),
    (_us("drop", "drops"), "drop drops"),
    (_us("oz", "oz", Dimension.MASS), "oz ozs ounce ounces"),
    (_us("lb", "lb", Dimension.MASS), "lb lbs pound pounds"),
    (_us("in", "in", Dimension.LENGTH), 'in ins inch inches " ″'),
    (_metric("ml", Dimension.VOLUME), "ml mls cc milliliter milliliters millilitre millilitres"),
    (_metric("dl", Dimension.VOLUME), "dl dls deciliter deciliters decilitre decilitres"),
    (_metric("l", Dimension.VOLUME), "l liter liters litre litres"),
    (_metric("g", Dimension.MASS), "g gr gm gms gram grams gramme grammes"),
    (_metric("kg", Dimension.MASS), "kg kgs kilo kilos kilogram kilograms"),
    (_metric("cm", Dimension.LENGTH), "cm cms centimeter centimeters centimetre centimetres"),
    (_counted("can", "cans"), "can cans tin tins"),
    (_counted("clove", "cloves"), "clove cloves"),
    (_counted("slice", "slices"), "slice slices"),
    (_counted("sprig", "sprigs"), "sprig sprigs"),
    (_counted("leaf", "leaves"), "leaf leaves"),
    (_counted("stalk", "stalks"), "stalk stalks"),
    (_counted("ear", "ears"), "ear ears"),
    (_counted("head", "heads"), "head heads"),
    (_counted("bunch", "bunches"), "bunch bunches"),
    (_counted("package", "packages"), "package packages pkg pkgs"),
    (_counted("packet", "packets"), "packet packets pkt pkts"),
    (_counted("jar", "jars"), "jar jars"),
    (_counted("bottle", "bottles"), "bottle bottles"),
    (_counted("sheet", "sheets"), "sheet sheets"),
    (_counted("stick", "sticks"), "stick sticks"),
    (_counted("handful", "handfuls"), "handful handfuls"),
    (_counted("piece", "pieces"), "piece pieces pc pcs"),
    (_counted("fillet", "fillets"), "fillet fillets"),
    (_counted("cube", "cubes"), "cube cubes"),
    (_counted("bag", "bags"), "bag bags"),
    (_counted("box", "boxes"), "box boxes"),
)

UNITS: tuple[Unit, ...] = (PIECE, *(unit for unit, _ in _SPELLINGS))

_FLUID = frozenset({"fl", "fl.", "fluid"})
_OUNCE = frozenset({"oz", "ozs", "ounce", "ounces"})

_BY_NAME = {unit.name: unit for unit in UNITS}
_BY_SPELLING = {word: unit for unit, words in _SPELLINGS for word in words.split()} | {
    "floz": _BY_NAME["fl oz"]
}

BARE_LETTERS: dict[str, tuple[str, str]] = {
    "T": ("tbsp", "tsp"),
    "t": ("tsp", "tbsp"),
    "c": ("cup", "can"),
    "C": ("cup", "can"),
    "G": ("g", "gallon"),
}
"""Letters that cooks use for two different units each: never read, always asked about."""

_LONGEST_SPELLING = max(map(len, _BY_SPELLING)) + len(". ")

LONG_SPELLINGS: tuple[str, ...] = tuple(
    word
    for word, unit in _BY_SPELLING.items()
    if len(word) >= 8 and unit.dimension is not Dimension.COUNT
)
"""Spellings long enough that a word which is nearly one of them is a slip, not a food."""


def unit_named(word: str) -> Unit | None:
    """The unit of any usual spelling, singular or plural; None where there is none.

    Letter case and a final full stop do not matter. A bare T, t, c, C or G is no unit:
    each is used for two units, one at least three times the other.
    """
    if word in BARE_LETTERS or len(word) > _LONGEST_SPELLING:
        return None
    parts = word.lower().split()
    if len(parts) == 2:
        return (
            _BY_NAME["fl oz"]
            if parts[0] in _FLUID and parts[1].removesuffix(".") in _OUNCE
            else None
        )
    return _BY_SPELLING.get(parts[0].removesuffix(".")) if len(parts) == 1 else None


@cache
def size_in(unit: Unit, base: Unit) -> Fraction:
    """How many of `base` one `unit` is, exactly: `size_in(cup, tbsp)` is 16.

    Raises ValueError where the two have no ratio: other dimensions, or two counts that
    are not the same (a can is not a number of slices).
    """
    if unit == base:
        return Fraction(1)
    if unit.dimension is not base.dimension or unit.dimension is Dimension.COUNT:
        raise ValueError(f"{unit.name or 'piece'} cannot be measured in {base.name or 'piece'}")
    return _basic_size(unit.name) / _basic_size(base.name)


_NAME_IN_DEFINITIONS = {"fl oz": "fl_oz", "in": "inch"}


@cache
def _basic_size(name: str) -> Fraction:
    """One unit in cm³, g or cm."""
    return _all_sizes()[name]


@cache
def _all_sizes() -> dict[str, Fraction]:
    """Every measured unit in cm³, g or cm, asked of Pint once.

    Pint is imported here, not at the top, because loading it takes longer than a whole
    small build needs for anything else in this room.
    """
    from pint import UnitRegistry

    definitions = files(__package__).joinpath("units.txt").read_text(encoding="utf-8")
    registry: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(definitions.splitlines())
    sizes: dict[str, Fraction] = {}
    for unit in UNITS:
        if unit.dimension is not Dimension.COUNT:
            quantity = registry.Quantity(
                Fraction(1), _NAME_IN_DEFINITIONS.get(unit.name, unit.name)
            )
            sizes[unit.name] = Fraction(quantity.to_root_units().magnitude)
    return sizes
