"""Sums of measured amounts: totals to read and to buy by, not to scoop."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from fractions import Fraction

from spoonfold.plan.amounts.convert import CUP, GRAM, OUNCE, TBSP, TSP
from spoonfold.plan.amounts.measure import (
    CUP_TSP,
    DROP,
    MILLILITRE,
    PINCH,
    TBSP_TSP,
    in_gallons,
    in_kilograms,
    in_litres,
    in_pounds,
)
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import Dimension, Unit

_SPOKEN_OF_A_CUP = (1, 2, 3, 4, 8)
_SPOKEN_OF_A_SPOON = (1, 2)
_SPOKEN_OF_A_TEASPOON = (1, 2, 3, 4, 8)
"""Denominators of the fractions that cooks say, of each."""


def expressed(tsp: Fraction) -> tuple[Amount, ...]:
    """A volume in gallons, cups, tablespoons and teaspoons, exactly."""
    shown: list[Amount] = []
    for unit, size, parts, spoken in (
        (CUP, CUP_TSP, (4, 3), _SPOKEN_OF_A_CUP),
        (TBSP, TBSP_TSP, (1,), _SPOKEN_OF_A_SPOON),
    ):
        whole = tsp / size
        if whole.denominator in spoken and whole * parts[0] >= 1:
            taken = whole
        else:
            taken = max(Fraction(math.floor(whole * part), part) for part in parts)
        if taken:
            shown += in_gallons(taken) if unit is CUP else (Amount(taken, unit),)
            tsp -= taken * size
    return (*shown, *_teaspoons(tsp)) if tsp or not shown else tuple(shown)


def _teaspoons(tsp: Fraction) -> Iterator[Amount]:
    """Less than a tablespoon by fractions that spoons hold: thirds apart from quarters, and
    pinches for what is left of an eighth."""
    if tsp.denominator in _SPOKEN_OF_A_TEASPOON:
        yield Amount(tsp, TSP)
        return
    for thirds in (Fraction(0), Fraction(1, 3), Fraction(2, 3)):
        rest = tsp - thirds
        spoons = Fraction(math.floor(rest * 8), 8)
        pinches = Amount(rest - spoons, TSP).to(PINCH)
        if rest >= 0 and pinches.low.denominator == 1:
            parts = (Amount(spoons, TSP), Amount(thirds, TSP), pinches)
            yield from (each for each in parts if each.low)
            return
    yield Amount(tsp, TSP)


def added(groups: Iterable[tuple[Amount, ...]]) -> tuple[Amount, ...]:
    """Amounts added up: volumes with volumes, weights with weights, cans with cans of a size.

    Ranges add end to end.
    """
    volumes: list[Amount] = []
    weights: list[Amount] = []
    counts: dict[tuple[Unit, str | None, Amount | None], list[Amount]] = {}
    for amount in (each for group in groups for each in group):
        match amount.unit.dimension:
            case Dimension.VOLUME:
                volumes.append(amount)
            case Dimension.MASS:
                weights.append(amount)
            case _:
                counts.setdefault((amount.unit, amount.size, amount.each), []).append(amount)
    shown: list[Amount] = []
    if volumes:
        shown += _volume_sum(volumes)
    if weights:
        unit = GRAM if all(each.unit.system == "metric" for each in weights) else OUNCE
        low, high = _ends([each.to(unit) for each in weights])
        if high is not None:
            shown.append(Amount(low, unit, high))
        elif unit is GRAM:
            shown.append(in_kilograms(low))
        else:
            shown += in_pounds(low)
    for (unit, size, each), amounts in counts.items():
        low, high = _ends(amounts)
        shown.append(Amount(low, unit, high, size, each))
    return tuple(shown)


def _volume_sum(volumes: list[Amount]) -> tuple[Amount, ...]:
    drops = [each for each in volumes if each.unit == DROP]
    if drops and all(each.high is None for each in volumes):
        low, _ = _ends(drops)
        rest = [each for each in volumes if each.unit != DROP]
        return (*(_volume_sum(rest) if rest else ()), Amount(low, DROP))
    metric = [each for each in volumes if each.unit.system == "metric"]
    if metric and all(each.high is None for each in volumes):
        # A litre is no number of cups, so each is added up in its own tools.
        low, _ = _ends([each.to(MILLILITRE) for each in metric])
        rest = [each for each in volumes if each.unit.system != "metric"]
        return (*in_litres(low), *(_volume_sum(rest) if rest else ()))
    low, high = _ends([each.to(TSP) for each in volumes])
    if high is None:
        return expressed(low)
    largest = max(
        (each.unit for each in volumes), key=lambda unit: Amount(Fraction(1), unit).to(TSP).low
    )
    return (Amount(low, TSP, high).to(largest),)


def _ends(amounts: list[Amount]) -> tuple[Fraction, Fraction | None]:
    low = sum((each.low for each in amounts), Fraction(0))
    high = sum((each.high or each.low for each in amounts), Fraction(0))
    return low, high if high > low else None
