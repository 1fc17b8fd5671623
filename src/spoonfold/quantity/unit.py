"""Kitchen units: what they are called, and how large one is in another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import Any, Literal

from spoonfold.knowledge.data import data

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
    divides: str = field(default="freely", compare=False)
    """How a counted one is divided: `whole`, `seldom` (but where whole ones would be far off),
    `by halves` or `freely`."""
    marks: frozenset[str] = field(default=frozenset(), compare=False)
    """What else is known of a counted one: it is `one piece` of a food, `holds` what stands in
    brackets behind it, is sold as it is counted, `stays whole` when others are taken, is
    `drained`."""
    cldr: str | None = field(default=None, compare=False)
    """Its name in the Unicode CLDR."""

    def __hash__(self) -> int:
        """By its name alone, which no other unit has."""
        return hash(self.name)

    @property
    def is_one_piece(self) -> bool:
        """One of it is a piece of a food, not a package or a bunch of pieces."""
        return not self.name or "one piece" in self.marks


def _unit(row: Mapping[str, Any]) -> Unit:
    return Unit(
        row["name"],
        row.get("plural", row["name"]),
        Dimension(row["measures"]),
        row.get("system", "count"),
        row.get("divides", "freely"),
        frozenset(row.get("is", ())),
        row.get("cldr"),
    )


_ROWS = {row["name"]: row for row in data("units.json")}
PIECE = Unit("", "", Dimension.COUNT, "count")
_BY_NAME = {"": PIECE} | {name: _unit(row) for name, row in _ROWS.items()}
UNITS: tuple[Unit, ...] = tuple(_BY_NAME.values())

_FLUID = frozenset({"fl", "fl.", "fluid"})
_OUNCE = frozenset({"oz", "ozs", "ounce", "ounces"})

_BY_SPELLING = {word: _BY_NAME[name] for name, row in _ROWS.items() for word in row["spelt"]}

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

    registry: UnitRegistry[Fraction] = UnitRegistry(None, non_int_type=Fraction)
    registry.load_definitions(
        ["cm = [length]", "g = [mass]"]
        + [
            f"{_defined_as(row)} = {row['definition']}"
            for row in _ROWS.values()
            if row.get("definition")
        ]
    )
    return {
        name: Fraction(registry.Quantity(Fraction(1), _defined_as(row)).to_root_units().magnitude)
        for name, row in _ROWS.items()
        if row["measures"] != Dimension.COUNT.value
    }


def _defined_as(row: Mapping[str, Any]) -> str:
    """A unit's name among the definitions, where no name may be two words or a keyword."""
    return str(row.get("defined as", row["name"]))
