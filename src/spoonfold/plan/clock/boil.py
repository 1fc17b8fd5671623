"""What a cooker's watts do: the time until water boils, and what one circuit carries.

Estimates, and sheets must say so: a lid left off, a wide pot or cold rain in the pipe change them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.knowledge.times import known_time

SPECIFIC_HEAT = known_time("heat of water")
"""In joules to warm one kilogram by one kelvin."""

KILOGRAMS_A_LITRE = known_time("weight of water")

EFFICIENCY = known_time("electric cooker")
"""The share of its heat that reaches the pot."""

COLD_TAP = known_time("cold tap")
"""Degrees Celsius."""

BOILING = known_time("boiling water")
"""Degrees Celsius, at sea level."""

CIRCUIT_WATTS = int(known_time("household circuit"))
"""What a common one in the United States carries."""


@dataclass(frozen=True, slots=True)
class Circuits:
    """Cookers that run at the same time, shared out over household circuits."""

    together: Mapping[str, int]
    """How many of each run at the busiest moment."""
    watts: int
    """What they draw together."""
    circuits: int
    """How many separate circuits that takes."""


def joules_to_warm(
    litres: Fraction, low: Fraction, high: Fraction, specific_heat: Fraction = SPECIFIC_HEAT
) -> Fraction:
    """The heat that brings so much water from one temperature to another, in degrees Celsius."""
    return litres * KILOGRAMS_A_LITRE * specific_heat * (high - low)


def minutes_to_boil(
    litres: Fraction, watts: int, efficiency: Fraction = EFFICIENCY, start: Fraction = COLD_TAP
) -> Fraction:
    """An estimate of the minutes until so much water boils, with a lid on.

    `watts` is what the cooker draws, above zero; `efficiency` is a share of it; `start` is in
    degrees Celsius.
    """
    return joules_to_warm(litres, start, BOILING) / (watts * efficiency) / 60


def circuits_for(
    together: Mapping[str, int], watts: Mapping[str, int], carries: int = CIRCUIT_WATTS
) -> Circuits:
    """The fewest circuits that a simple filling finds, the hungriest cooker first.

    One that draws more than a circuit carries still gets one to itself.
    """
    loads: list[int] = []
    each = sorted(
        (watts[name] for name, count in together.items() for _ in range(count)), reverse=True
    )
    for draw in each:
        for at, load in enumerate(loads):
            if load + draw <= carries:
                loads[at] += draw
                break
        else:
            loads.append(draw)
    return Circuits(dict(together), sum(each), len(loads))
