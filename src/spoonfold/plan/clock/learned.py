"""What minutes that were noted after earlier days tell of the next one.

A noted dish gives a pace: how many times as long as planned its work took, found by planning that
day anew until it takes as long as it did. Paces can't be negative and are skewed, so they are
averaged, and their spread taken, by their logarithms. The next value lies, nine times in ten,
within mean ± t · s · √(1 + 1/n): the prediction interval of a single future value, from
P. M. Berthouex, L. C. Brown, Statistics for Environmental Engineers, 2nd edition, 2002, chapter 21.
"""

from __future__ import annotations

import datetime
import math
import statistics
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

_T_95 = (
    *(6.314, 2.920, 2.353, 2.132, 2.015, 1.943, 1.895, 1.860, 1.833, 1.812),
    *(1.796, 1.782, 1.771, 1.761, 1.753, 1.746, 1.740, 1.734, 1.729, 1.725),
    *(1.721, 1.717, 1.714, 1.711, 1.708, 1.706, 1.703, 1.701, 1.699, 1.697),
)
"""Student's t for 1 to 30 degrees of freedom that one value in twenty exceeds: NIST/SEMATECH
e-Handbook of Statistical Methods, section 1.3.6.7.2."""

_STEP = Fraction(1, 20)
_LEAST, _MOST = Fraction(1, 2), Fraction(3)
"""Paces beyond these are slips of the pen, not of the hands (common practice)."""
ENOUGH = 3
"""Days from which on an interval says anything, and other dishes tell of this one (common
practice): with two it would reach from nothing to more than a day."""


@dataclass(frozen=True, slots=True)
class Noted:
    """How long a dish took on one day, as a pace."""

    dish: str
    date: datetime.date
    pace: Fraction
    """1: as long as planned."""


@dataclass(frozen=True, slots=True)
class Learned:
    """What is to be expected of a dish."""

    pace: Fraction
    """The likeliest."""
    low: Fraction
    high: Fraction
    """Nine times in ten it lies between these; of two days, what they were; of one, that."""
    times: int
    """Days that it is learned from."""


def interval_factor(count: int) -> float:
    """By how many standard deviations of so many values, at least two, the next may lie away from
    their mean, nine times in ten."""
    return _T_95[min(count - 1, len(_T_95)) - 1] * math.sqrt(1 + 1 / count)


def learned(dish: str, before: datetime.date, noted: Iterable[Noted]) -> Learned | None:
    """What the days before a date tell of a dish: its own days where there are any, else those of
    all dishes, where there are enough. None: nothing."""
    earlier = [each for each in noted if each.date < before]
    paces = [each.pace for each in earlier if each.dish == dish]
    if not paces and len(earlier) >= ENOUGH:
        paces = [each.pace for each in earlier]
    if not paces:
        return None
    logs = [math.log(each) for each in paces]
    middle = statistics.fmean(logs)
    if len(paces) < ENOUGH:
        return Learned(_stepped(middle), min(paces), max(paces), len(paces))
    reach = interval_factor(len(logs)) * statistics.stdev(logs)
    return Learned(_stepped(middle), _stepped(middle - reach), _stepped(middle + reach), len(paces))


def _stepped(log: float) -> Fraction:
    pace = round(math.exp(min(log, 2.0)) / float(_STEP)) * _STEP
    return max(_LEAST, min(_MOST, pace))


def pace_of(minutes: Fraction, planned: Callable[[Fraction], Fraction | None]) -> Fraction | None:
    """The pace by which a day takes as many minutes as it did. `planned` gives its minutes by a
    pace; they don't fall while it grows. None: it can't be planned. A day that no pace explains has
    the nearest that there is."""
    low, high = int(_LEAST / _STEP), int(_MOST / _STEP)
    while low < high:
        middle = (low + high) // 2
        taken = planned(middle * _STEP)
        if taken is None:
            return None
        if taken < minutes:
            low = middle + 1
        else:
            high = middle
    return low * _STEP


def learned_of(
    dishes: Sequence[str], before: datetime.date, noted: Sequence[Noted]
) -> Mapping[str, Learned]:
    """What is learned of each dish of a day of which anything is."""
    found = {dish: learned(dish, before, noted) for dish in dishes}
    return {dish: each for dish, each in found.items() if each is not None}
