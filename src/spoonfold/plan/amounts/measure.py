"""One exact amount as a cook measures it, with the tools on hand.

The rounding is a value: what it was, what it became, how far off.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from functools import lru_cache

from spoonfold.model.pantry import Item
from spoonfold.plan.amounts.convert import (
    CUP,
    GRAM,
    OUNCE,
    POUND,
    TBSP,
    TSP,
    converted,
    grams_of_one,
    known_unit,
)
from spoonfold.plan.amounts.scoop import (
    EXACT_WITHIN,
    Scoops,
    ToolKind,
    nearest_scoops,
    round_weight,
    scoop,
)
from spoonfold.plan.amounts.tools import Kitchen
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.exactness import Exactness
from spoonfold.quantity.unit import PIECE, Dimension, Unit, size_in

CUP_TSP = size_in(CUP, TSP)
TBSP_TSP = size_in(TBSP, TSP)
KILOGRAM, PINCH, DROP = map(known_unit, ("kg", "pinch", "drop"))
MILLILITRE, LITRE = known_unit("ml"), known_unit("l")
QUART, GALLON = known_unit("quart"), known_unit("gallon")
PACKAGE, BUNCH, HEAD, HANDFUL = map(known_unit, ("package", "bunch", "head", "handful"))

_PINCH_BELOW = Fraction(3, 4)
"""Below this share of the smallest spoon, a spoonful is further off than pinches are."""

_MOST_PINCHES = 4
"""Beside spoons: more of them are as well a spoon (common practice)."""

WITHIN = Fraction(1, 10)
"""A whole thing may be this far off before a cook is told to divide it (common practice)."""

_TOO_FAR = Fraction(1, 4)
"""Further off than this, what is seldom cut is cut (common practice)."""

PARTS = {"whole": (1,), "half": (1, 2), "quarter": (1, 2, 3, 4)}
"""Into how many parts a counted thing is divided, the easiest first."""

_UNIT_PARTS = {"whole": (1,), "seldom": (1,), "by halves": (1, 2, 4), "freely": (1, 2, 3, 4)}
"""The same by what is known of a unit."""


class Way(Enum):
    """How an amount is measured."""

    SCOOPS = "scoops"
    COUNT = "count"
    WEIGHT = "weight"
    LENGTH = "length"
    PINCH = "pinch"
    LOOSE = "loose"
    """Leaves: by handfuls, bunches or bags, or weighed."""


@dataclass(frozen=True, slots=True)
class Measured:
    """An amount as it is shown and measured."""

    exact: Amount
    """Before any rounding."""
    shown: tuple[Amount, ...]
    """What to measure, the largest first: (1 cup, 2 tbsp)."""
    off: Fraction
    """Signed: -1/20 is five hundredths too little."""
    way: Way
    scoops: Scoops | None = None
    beaten: int | None = None
    """So many whole ones are beaten or mixed, and this much of them measured."""
    of_all: Fraction | None = None
    """A share of so many that the lead cook divides between all tables."""

    @property
    def total(self) -> Fraction:
        """All that is shown, in the unit of the first."""
        base = self.shown[0].unit
        return sum((each.low * size_in(each.unit, base) for each in self.shown), Fraction(0))


@lru_cache(maxsize=1 << 14)
def measure(
    amount: Amount, item: Item | None, preparation: str | None, kitchen: Kitchen
) -> Measured:
    """The amount as this kitchen measures it.

    Volumes become level scoops; weights become scoops where the pantry's published weights
    allow and there is no scale, else a weight by the published rounding guide; counted
    things become numbers that a knife can make.
    """
    if amount.high is not None:
        return _range(amount, item, preparation, kitchen)
    match amount.unit.dimension:
        case Dimension.VOLUME:
            leaves = _leaves(amount, item, preparation, kitchen)
            return leaves or _volume(amount, amount, item, kitchen)
        case Dimension.MASS:
            if kitchen.scale:
                return _weight(amount)
            block = _of_package(amount, item) if kitchen.by_eye else None
            if block is not None:
                return block
            volume = converted(amount, TSP, item, preparation)
            if volume is not None:
                return _volume(amount, volume, item, kitchen)
            return _by_eye(amount) if kitchen.by_eye else _weight(amount)
        case Dimension.COUNT:
            return _count(amount, item, kitchen)
        case Dimension.LENGTH:
            return _rounded(amount, _nearest(amount.low, Fraction(1, 4)), Way.LENGTH)


def _range(
    amount: Amount, item: Item | None, preparation: str | None, kitchen: Kitchen
) -> Measured:
    """Both ends measured; the scoops are those of the lower end, to start with."""
    assert amount.high is not None
    ends = [
        measure(
            Amount(end, amount.unit, size=amount.size, each=amount.each), item, preparation, kitchen
        )
        for end in (amount.low, amount.high)
    ]
    low, high = ends
    if len(low.shown) == len(high.shown) == 1:
        one, two = low.shown[0], high.shown[0]
        same = one.unit == two.unit or (
            one.unit.dimension is two.unit.dimension is not Dimension.COUNT
        )
        if same:
            top = two.low if one.unit == two.unit else two.to(one.unit).low
            joined = Amount(one.low, one.unit, top if top > one.low else None, one.size, one.each)
            return Measured(amount, (joined,), low.off, low.way, low.scoops)
    return Measured(amount, low.shown, low.off, low.way, low.scoops)


def _volume(exact: Amount, volume: Amount, item: Item | None, kitchen: Kitchen) -> Measured:
    tsp = volume.to(TSP).low
    exactness = item.exactness if item else Exactness.CLOSE
    liquid = bool(item and item.liquid)
    if tsp < kitchen.smallest * _PINCH_BELOW:
        return _pinches(exact, tsp, DROP if liquid else PINCH)
    scoops = scoop(tsp, kitchen.tools, exactness, liquid)
    if scoops is not None:
        return Measured(exact, in_scoops(scoops), scoops.off, Way.SCOOPS, scoops)
    scoops = nearest_scoops(tsp, kitchen.tools, liquid)
    # The smallest tool is a spoon, and less than three quarters of it are pinches.
    assert scoops is not None
    within = EXACT_WITHIN if exactness is Exactness.EXACT else WITHIN
    if not liquid and abs(scoops.off) > within:
        pinched = _spoons_and_pinches(exact, tsp, kitchen)
        if pinched is not None:
            return pinched
    return Measured(exact, in_scoops(scoops), scoops.off, Way.SCOOPS, scoops)


def _spoons_and_pinches(exact: Amount, tsp: Fraction, kitchen: Kitchen) -> Measured | None:
    """Level spoons, and a few pinches for what the smallest is too large for."""
    spoons = math.floor(tsp / kitchen.smallest) * kitchen.smallest
    size = size_in(PINCH, TSP)
    pinches = _nearest((tsp - spoons) / size, Fraction(1))
    scoops = nearest_scoops(spoons, kitchen.tools, liquid=False)
    if not 0 < pinches <= _MOST_PINCHES or scoops is None or scoops.off:
        return None
    shown = (*in_scoops(scoops), Amount(pinches, PINCH))
    return Measured(exact, shown, (spoons + pinches * size) / tsp - 1, Way.SCOOPS, scoops)


def _pinches(exact: Amount, tsp: Fraction, unit: Unit) -> Measured:
    """What no spoon can hold, between finger and thumb; in drops, where it pours."""
    size = size_in(unit, TSP)
    count = max(_nearest(tsp / size, Fraction(1)), Fraction(1))
    return Measured(exact, (Amount(count, unit),), count * size / tsp - 1, Way.PINCH)


_UNITS: Mapping[ToolKind, Unit] = {"tbsp": TBSP, "tsp": TSP}


def in_scoops(scoops: Scoops) -> tuple[Amount, ...]:
    """The scoops as amounts, one a unit where its fraction is one that cooks say. Where one of them
    is no part of a cup, all that are engraved in millilitres are added up in millilitres."""
    is_metric = any(tool.metric for tool, _ in scoops.counts)
    counted: dict[Unit, list[tuple[Fraction, int]]] = {}
    for tool, count in scoops.counts:
        engraved = tool.size.unit.system == "metric" if tool.size is not None else False
        unit = MILLILITRE if is_metric and engraved else _UNITS.get(tool.kind, CUP)
        size = (
            tool.size.to(MILLILITRE).low * tool.part
            if unit is MILLILITRE and tool.size is not None
            else tool.tsp * size_in(TSP, unit)
        )
        counted.setdefault(unit, []).append((size, count))
    shown: list[Amount] = []
    for unit in (MILLILITRE, CUP, TBSP, TSP):
        counts = counted.get(unit, [])
        if unit is MILLILITRE:
            shown += in_litres(sum((size * count for size, count in counts), Fraction(0)))
        elif unit is CUP:
            shown += [each for total in _spoken(counts) for each in in_gallons(total)]
        else:
            shown += [Amount(total, unit) for total in _spoken(counts)]
    return tuple(shown)


def in_litres(millilitres: Fraction) -> tuple[Amount, ...]:
    """Millilitres, from one litre on as litres where those are whole, halves or quarters."""
    amount = Amount(millilitres, MILLILITRE)
    litres = amount.to(LITRE)
    if not millilitres:
        return ()
    return (litres if litres.low >= 1 and litres.low.denominator in (1, 2, 4) else amount,)


def in_gallons(cups: Fraction) -> tuple[Amount, ...]:
    """Cups, above two gallons as gallons and quarts, the units of the published guide for so much.

    Quarters of a gallon stay gallons, and a quarter of a quart is a cup.
    """
    gallons = Amount(cups, CUP).to(GALLON).low
    if gallons <= 2:
        return (Amount(cups, CUP),) if cups else ()
    if gallons.denominator in (1, 2, 4):
        return (Amount(gallons, GALLON),)
    whole = Fraction(math.floor(gallons))
    rest = cups - whole * size_in(GALLON, CUP)
    quarts = Amount(rest, CUP).to(QUART)
    return (
        Amount(whole, GALLON),
        quarts if quarts.low >= 1 and quarts.low.denominator in (1, 2, 4) else Amount(rest, CUP),
    )


def _spoken(counts: list[tuple[Fraction, int]]) -> list[Fraction]:
    """The total, or two totals (thirds apart from quarters) where it is no spoken fraction."""
    total = sum((size * count for size, count in counts), Fraction(0))
    if not total:
        return []
    if total.denominator in (1, 2, 3, 4, 8):
        return [total]
    thirds = sum((s * n for s, n in counts if s.denominator % 3 == 0), Fraction(0))
    return sorted((each for each in (total - thirds, thirds) if each), reverse=True)


def _weight(amount: Amount) -> Measured:
    if amount.unit.system == "metric":
        grams = amount.to(GRAM).low
        # 5 g up to 250 g, then 10 g: what a kitchen scale shows (common practice).
        shown = max(_nearest(grams, Fraction(5 if grams < 250 else 10)), Fraction(1))
        return Measured(amount, (in_kilograms(shown),), shown / grams - 1, Way.WEIGHT)
    ounces = amount.to(OUNCE).low
    shown = round_weight(ounces)
    return Measured(amount, in_pounds(shown), shown / ounces - 1, Way.WEIGHT)


_IN_BLOCKS = frozenset(("dairy and eggs", "meat and fish"))
"""Sections of a shop whose weights are cut or parted, not scooped."""


def _of_package(amount: Amount, item: Item | None) -> Measured | None:
    """A weight as so many of the packages that it is bought in, parted by eye; None where no
    package comes within a tenth, or it is scooped more easily."""
    if item is None or item.section not in _IN_BLOCKS or item.liquid:
        return None
    within = WITHIN if item.exactness is Exactness.FORGIVING else EXACT_WITHIN
    choices = []
    for package in item.packages:
        if package.size.unit.dimension is Dimension.MASS and package.size.high is None:
            share = Amount(amount.to(package.size.unit).low / package.size.low, PACKAGE)
            part = counted(replace(share, each=package.size), None)
            if abs(part.off) <= within:
                choices.append((abs(part.off), part.shown[0].low, part))
    if not choices:
        return None
    return replace(min(choices, key=lambda each: each[:2])[-1], exact=amount)


def _by_eye(amount: Amount) -> Measured:
    """A weight without a scale: quarters and thirds of a pound can be parted by eye."""
    pounds = amount.to(POUND)
    part = counted(pounds, None) if pounds.low >= Fraction(1, 4) else None
    if part is None or abs(part.off) > WITHIN:
        return _weight(amount)
    return replace(part, exact=amount, way=Way.WEIGHT)


_LEAVES = frozenset(("vegetables", "herbs"))
_LEAF_CUP = Fraction(70)
"""A cup of leaves weighs less than so many grams: spinach 30, lettuce 36, kale 67 (USDA SR26)."""
_MOST_LEAF_CUPS = Fraction(4)
"""More cups of leaves than this are no longer counted out (common practice)."""


def _leaves(
    amount: Amount, item: Item | None, preparation: str | None, kitchen: Kitchen
) -> Measured | None:
    """Many cups of leaves: weighed where there is a scale, else bunches or bags where a published
    weight says how many, else handfuls of a cup (common practice); None for anything else."""
    cups = amount.to(CUP).low
    if item is None or item.section not in _LEAVES or cups <= _MOST_LEAF_CUPS:
        return None
    grams = converted(amount, GRAM, item, preparation)
    if grams is None or grams.low >= cups * _LEAF_CUP:
        return None
    if kitchen.scale:
        return replace(_weight(grams), exact=amount, way=Way.LOOSE)
    for unit in (BUNCH, PACKAGE, HEAD):
        one = grams_of_one(item, unit, None, None)
        if one is not None:
            part = counted(Amount(grams.low / one[0], unit), None)
            if abs(part.off) <= WITHIN:
                return replace(part, exact=amount, way=Way.LOOSE)
    shown = Amount(_nearest(cups, Fraction(1)), HANDFUL)
    return Measured(amount, (shown,), shown.low / cups - 1, Way.LOOSE)


def in_kilograms(grams: Fraction) -> Amount:
    """Grams, from 1000 on as kilograms where those are whole, halves or quarters."""
    amount = Amount(grams, GRAM)
    kilograms = amount.to(KILOGRAM)
    spoken = kilograms.low >= 1 and kilograms.low.denominator in (1, 2, 4)
    return kilograms if spoken else amount


def in_pounds(ounces: Fraction) -> tuple[Amount, ...]:
    """Ounces as pounds and ounces; quarter pounds stay pounds."""
    pounds = ounces / 16
    if pounds >= 1 and pounds.denominator in (1, 2, 4):
        return (Amount(pounds, POUND),)
    if pounds < 1:
        return (Amount(ounces, OUNCE),)
    whole = Fraction(math.floor(pounds))
    return (Amount(whole, POUND), Amount(ounces - whole * 16, OUNCE))


def _count(amount: Amount, item: Item | None, kitchen: Kitchen) -> Measured:
    whole = counted(amount, item)
    if item is not None and _never_cut(amount.unit, item) and abs(whole.off) > WITHIN:
        return _beaten(amount, item, kitchen) or whole
    return whole


def counted(amount: Amount, item: Item | None) -> Measured:
    """So many of a counted thing as a knife can make: a lemon is halved; an egg is cracked whole,
    and its white and yolk are counted."""
    if amount.high is not None:
        low, high = (
            counted(replace(amount, low=end, high=None), item) for end in (amount.low, amount.high)
        )
        top = high.shown[0].low
        one = low.shown[0]
        return replace(
            low, exact=amount, shown=(replace(one, high=top if top > one.low else None),)
        )
    parts = parts_of(amount.unit, item)
    exact = amount.low
    shown = _divided(exact, parts)
    far = abs(shown / exact - 1) > _TOO_FAR
    if parts == PARTS["whole"] and far and not _never_cut(amount.unit, item):
        shown = _divided(exact, PARTS["quarter"])
    return _rounded(amount, shown, Way.COUNT)


def parts_of(unit: Unit, item: Item | None) -> tuple[int, ...]:
    """Into how many parts one may be cut."""
    if _never_cut(unit, item):
        return PARTS["whole"]
    if unit == PIECE and item is not None and item.divides:
        return PARTS[item.divides]
    return _UNIT_PARTS[unit.divides]


def _never_cut(unit: Unit, item: Item | None) -> bool:
    """Whether a cook takes a whole one, however far off that is: a clove, an egg, a tortilla.

    A bunch or a package of them is divided between its pieces.
    """
    return unit.divides == "whole" or (
        unit.is_one_piece and item is not None and item.divides == "whole"
    )


def _divided(exact: Fraction, parts: tuple[int, ...]) -> Fraction:
    """Wholes or halves within a tenth, else the nearest that the knife can make."""
    for part in parts[:2]:
        candidate = _nearest(exact, Fraction(1, part))
        if candidate and abs(candidate / exact - 1) <= WITHIN:
            return candidate
    nearest = min(
        (_nearest(exact, Fraction(1, part)) for part in parts),
        key=lambda value: (abs(value - exact), value.denominator),
    )
    return nearest or Fraction(1, parts[-1])


def _beaten(amount: Amount, item: Item, kitchen: Kitchen) -> Measured | None:
    """Part of a whole that can't be cut (half an egg): mix whole ones and measure that much."""
    if item.raw != "egg":
        return None
    one = grams_of_one(item, amount.unit, amount.size or "large", None)
    cup = grams_of_one(item, CUP, None, None)
    if one is None or cup is None:
        return None
    tsp = amount.low * one[0] / cup[0] * CUP_TSP
    scoops = scoop(tsp, kitchen.tools, item.exactness, liquid=False)
    if scoops is None:
        return None
    return Measured(
        amount, in_scoops(scoops), scoops.off, Way.SCOOPS, scoops, beaten=math.ceil(amount.low)
    )


def _rounded(amount: Amount, shown: Fraction, way: Way) -> Measured:
    value = max(shown, Fraction(1, 4))
    return Measured(
        amount,
        (Amount(value, amount.unit, None, amount.size, amount.each),),
        value / amount.low - 1,
        way,
    )


def _nearest(value: Fraction, step: Fraction) -> Fraction:
    """The nearest multiple of a step; halves go up."""
    return math.floor(value / step + Fraction(1, 2)) * step
