"""Which level scoops make an amount: the fewest that come near enough.

Among scoops that are equally few, an exact amount beats fewer kinds of tool: 3¾ cups is 3 cups, ½
and ¼, not 3⅔.

The published guide for rounding weights and measures, as numbers.

Source: "Guide for Rounding Off Weights and Measures", USDA FNS and National Food Service
Management Institute, Measuring Success with Standardized Recipes (2002). The row for
3/4 cup to 2 cups is from memory.

The guide leaves exactly 1 tablespoon, 3/4 cup, 10 gallons and 20 gallons in no row: here
they take the finer of the two neighbouring steps."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor, gcd, lcm
from typing import Literal, NamedTuple

from spoonfold.quantity.amount import Amount
from spoonfold.quantity.exactness import Exactness

TBSP = Fraction(3)
CUP = Fraction(48)
QUART = 4 * CUP
GALLON = 4 * QUART
POUND = Fraction(16)

_VOLUME_STEPS: tuple[tuple[Fraction, bool, Fraction], ...] = (
    (TBSP, True, Fraction(1, 8)),
    (3 * TBSP, False, Fraction(1, 4)),
    (CUP / 2, True, Fraction(1, 2)),
    (CUP * 3 / 4, True, Fraction(1)),
    (2 * CUP, False, TBSP),
    (2 * QUART, True, CUP / 4),
    (GALLON, False, CUP / 2),
    (2 * GALLON, True, CUP),
    (10 * GALLON, True, QUART),
    (20 * GALLON, True, GALLON / 2),
)
"""Up to this many teaspoons, whether that very amount belongs here, and the step."""

_WEIGHT_STEPS: tuple[tuple[Fraction, bool, Fraction], ...] = (
    # The guide weighs nothing below 2 oz but 1/4, 1/2 and 3/4 oz; where there is no measure
    # to turn to, an eighth is what a kitchen scale shows (common practice, from memory).
    (Fraction(2), False, Fraction(1, 8)),
    (Fraction(10), True, Fraction(1, 4)),
    (POUND * 5 / 2, False, Fraction(1, 2)),
    (POUND * 5, True, Fraction(1)),
)
"""The same in ounces."""


def volume_step(amount_in_tsp: Fraction, accurate: bool) -> Fraction:
    """The step, in teaspoons, to which a volume in teaspoons is rounded.

    `accurate` is the guide's footnote for baked goods and whatever else needs its ratios
    kept: above 2 gallons the step stays a full cup.
    """
    step = _step(_VOLUME_STEPS, amount_in_tsp, GALLON)
    return min(step, CUP) if accurate else step


def weight_step(oz: Fraction) -> Fraction:
    """The step, in ounces, to which a weight in ounces is rounded."""
    return _step(_WEIGHT_STEPS, oz, POUND / 4)


def round_weight(oz: Fraction) -> Fraction:
    """A weight in ounces by the guide; never nothing, however little it is."""
    step = weight_step(oz)
    return round_to(oz, step) or step


def round_to(value: Fraction, step: Fraction) -> Fraction:
    """The nearest multiple of a step; of two that are as near, the smaller.

    The guide does not say which, and too little can be mended.
    """
    return ceil(value / step - Fraction(1, 2)) * step


def _step(
    steps: tuple[tuple[Fraction, bool, Fraction], ...], amount: Fraction, largest: Fraction
) -> Fraction:
    for limit, included, step in steps:
        if amount < limit or (included and amount == limit):
            return step
    return largest


EXACT_WITHIN = Fraction(3, 100)
"""How far off an exact amount may be where the tools allow it (common practice)."""
FORGIVING_WITHIN = Fraction(1, 10)
"""How far off a forgiving amount may be for the sake of whole quarter cups (common practice)."""


ToolKind = Literal["jug", "cup", "tbsp", "tsp", "ladle", "disher"]
_FOR_LIQUIDS = frozenset(("jug", "ladle"))


@dataclass(frozen=True, slots=True)
class Tool:
    """A level measure."""

    name: str
    tsp: Fraction
    """What is measured with it, in teaspoons."""
    kind: ToolKind
    size: Amount | None = None
    """What is engraved on it; None: so many of its kind."""
    metric: bool = False
    """No household measure: what it makes is said in millilitres and litres."""
    part: Fraction = Fraction(1)
    """So far it is filled."""

    def __hash__(self) -> int:
        """By its name alone: a drawer of them is looked up for every amount."""
        return hash(self.name)


Tools = tuple[Tool, ...]


@dataclass(frozen=True, slots=True)
class Scoops:
    """An amount as scoops to count out."""

    counts: tuple[tuple[Tool, int], ...]
    """The largest first."""
    total_tsp: Fraction
    exact_tsp: Fraction
    off: Fraction
    """Signed: -1/20 is five hundredths too little."""


class _Best(NamedTuple):
    """Compared in this order; the counts come last and only make the order complete."""

    scoops: int
    inexact: bool
    kinds: int
    error: Fraction
    total: int
    fewer_of_large: tuple[int, ...]


@lru_cache(maxsize=4096)
def scoop(exact_tsp: Fraction, tools: Tools, exactness: Exactness, liquid: bool) -> Scoops | None:
    """The scoops for an amount in teaspoons; None where no tool can come near enough.

    Of all that are near enough: the fewest scoops, then one that is exact (for an error
    must save a scoop to be worth it), then the fewest different tools, then the least error,
    then the smaller total, then more of the larger tools.

    Near enough is half a step of the published rounding guide. What is exact also stays
    within 3 % where any scoops do, and is otherwise as near as scoops come; what is forgiving
    may go to the nearest 1/4 cup within 10 %. Above 2 gallons it is rounded as the guide says,
    or to a full cup where that is more than 3 % off: half a step would be up to 6 %, and fewer
    of so many scoops nothing. A jug or a ladle serves only a liquid that fills it, a
    disher none.
    """
    usable = _usable(exact_tsp, tools, liquid)
    if not usable or exact_tsp <= 0:
        return None
    measure, sizes = _whole(usable)
    best = _choose(exact_tsp, measure, sizes, exactness, any(tool.metric for tool in usable))
    return None if best is None else _taken(best, usable, measure, exact_tsp)


def nearest_scoops(exact_tsp: Fraction, tools: Tools, liquid: bool) -> Scoops | None:
    """As near as these tools come, however far off that is; None where no tool can be used or
    nothing at all would be nearer."""
    usable = _usable(exact_tsp, tools, liquid)
    if not usable or exact_tsp <= 0:
        return None
    measure, sizes = _whole(usable)
    best = _nearest(exact_tsp / measure, exact_tsp / measure, sizes)
    return None if best is None else _taken(best, usable, measure, exact_tsp)


def _usable(exact_tsp: Fraction, tools: Tools, liquid: bool) -> list[Tool]:
    """The tools for this, the largest first."""
    return sorted(
        (
            tool
            for tool in tools
            if (tool.kind not in _FOR_LIQUIDS or (liquid and exact_tsp >= tool.tsp))
            and not (tool.kind == "disher" and liquid)
        ),
        key=lambda tool: (-tool.tsp, tool.kind),
    )


def _whole(tools: list[Tool]) -> tuple[Fraction, tuple[int, ...]]:
    """A volume of which every tool holds a whole number, and these numbers."""
    measure = _common_measure([tool.tsp for tool in tools])
    return measure, tuple(int(tool.tsp / measure) for tool in tools)


def _taken(best: _Best, tools: list[Tool], measure: Fraction, exact_tsp: Fraction) -> Scoops:
    counts = tuple(
        (tool, -less) for tool, less in zip(tools, best.fewer_of_large, strict=True) if less
    )
    total = best.total * measure
    return Scoops(counts, total, exact_tsp, total / exact_tsp - 1)


def _common_measure(sizes: list[Fraction]) -> Fraction:
    """The largest volume of which every size is a whole number."""
    return Fraction(
        gcd(*(size.numerator for size in sizes)), lcm(*(size.denominator for size in sizes))
    )


def _choose(
    exact_tsp: Fraction,
    measure: Fraction,
    sizes: tuple[int, ...],
    exactness: Exactness,
    metric: bool,
) -> _Best | None:
    """`metric`: some sizes are no part of a cup, so that only a reach can be looked for."""
    target = exact_tsp / measure
    accurate = exactness is Exactness.EXACT
    half_step = volume_step(exact_tsp, accurate) / 2 / measure
    if exact_tsp > 2 * GALLON:
        rounded = _rounded(exact_tsp, accurate) / measure
        found = None if metric else _at(rounded, sizes, target)
        half_step = CUP / 2 / measure
        if found is not None:
            return found
    if accurate:
        near = _fewest(target, min(half_step, target * EXACT_WITHIN), sizes)
        return near or _nearest(target, half_step, sizes)
    choices = [_fewest(target, half_step, sizes)]
    if exactness is Exactness.FORGIVING and not metric:
        quarters = round_to(exact_tsp, CUP / 4) / measure
        if abs(quarters - target) <= target * FORGIVING_WITHIN:
            choices.append(_at(quarters, sizes, target))
    return min((best for best in choices if best is not None), default=None)


def _rounded(exact_tsp: Fraction, accurate: bool) -> Fraction:
    """More than 2 gallons by the guide, in teaspoons."""
    rounded = round_to(exact_tsp, volume_step(exact_tsp, accurate))
    off = abs(rounded - exact_tsp)
    return rounded if off <= exact_tsp * EXACT_WITHIN else round_to(exact_tsp, CUP)


def _at(total: Fraction, sizes: tuple[int, ...], target: Fraction) -> _Best | None:
    """The scoops that make just this."""
    if total.denominator != 1:
        return None
    return _search(int(total), int(total), sizes, target)


def _fewest(target: Fraction, within: Fraction, sizes: tuple[int, ...]) -> _Best | None:
    return _search(max(ceil(target - within), 1), floor(target + within), sizes, target)


def _nearest(target: Fraction, within: Fraction, sizes: tuple[int, ...]) -> _Best | None:
    """The scoops with the least error. A wider reach only ever adds scoops: so, bisection."""
    below = target - floor(target)
    near, far = sorted((below, 1 - below))

    def error(place: int) -> Fraction:
        """How far off the totals are, the nearest first: in turns on one side and the other."""
        return (far if place % 2 else near) + place // 2

    places = range(2 * floor(within) + 2)
    first = bisect_left(
        places, True, key=lambda place: _fewest(target, error(place), sizes) is not None
    )
    found = _fewest(target, error(first), sizes)
    return None if found is None or found.error > within else found


def _search(least: int, most: int, sizes: tuple[int, ...], target: Fraction) -> _Best | None:
    """Branch and bound over how many of each size, the largest first.

    Never more of a size than reaches `least`: one scoop more would only be one too many.
    """
    best: _Best | None = None
    counts = [0] * len(sizes)

    def descend(place: int, total: int, scoops: int) -> None:
        nonlocal best
        missing = least - total
        if missing <= 0:
            kinds = len(sizes) - counts.count(0)
            taken = tuple(-count for count in counts)
            found = _Best(scoops, total != target, kinds, abs(total - target), total, taken)
            best = found if best is None or found < best else best
            return
        if place == len(sizes):
            return
        size = sizes[place]
        upper = min((most - total) // size, -(-missing // size))
        for count in range(upper, -1, -1):
            left = missing - count * size
            # The next size is the largest that can still be added.
            after = sizes[place + 1] if place + 1 < len(sizes) else 0
            needed = 0 if left <= 0 else -(-left // after) if after else None
            if needed is None or (best is not None and scoops + count + needed > best.scoops):
                break
            counts[place] = count
            descend(place + 1, total + count * size, scoops + count)
        counts[place] = 0

    if least <= most:
        descend(0, 0, 0)
    return best
