"""What noted minutes tell of the next day, against published intervals and by planning anew."""

from __future__ import annotations

import datetime
import math
import statistics
from fractions import Fraction
from pathlib import Path

import mpmath
import pytest

from spoonfold.check import examine
from spoonfold.plan.clock.class_work import noted_of
from spoonfold.plan.clock.clock import ClassClock
from spoonfold.plan.clock.learned import _T_95, Noted, interval_factor, learned, pace_of
from tiny_class import CLASS, RICE, write_class

DAY = datetime.date(2027, 9, 18)
FOUR = CLASS + "  - {dishes: [rice]}\n" * 3


def noted(*paces: str, dish: str = "rice") -> list[Noted]:
    days = [DAY + datetime.timedelta(n) for n in range(len(paces))]
    return [Noted(dish, day, Fraction(each)) for day, each in zip(days, paces, strict=True)]


@pytest.mark.parametrize("degrees", range(1, 31))
def test_students_t(degrees: int) -> None:
    """Each value of the table is exceeded once in twenty: by the incomplete beta function of
    mpmath, as in Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.1."""
    t = _T_95[degrees - 1]
    beyond = mpmath.betainc(degrees / 2, 0.5, 0, degrees / (degrees + t * t), regularized=True) / 2
    assert float(beyond) == pytest.approx(0.05, abs=5e-5)


@pytest.mark.parametrize(
    ("count", "factor"),
    [(3, 3.372), (4, 2.631), (5, 2.335), (6, 2.176), (8, 2.010), (10, 1.922), (20, 1.772)],
)
def test_factors_of_the_next_value(count: int, factor: float) -> None:
    """As Berthouex and Brown's formula gives them with the table of NIST (worked out by hand)."""
    assert interval_factor(count) == pytest.approx(factor, abs=0.001)


def test_six_days() -> None:
    """22, 25, 19, 31, 24 and 27 minutes of a step planned with 20: on logarithms the next takes
    16.90 to 35.17, most likely 24.38 (worked out by hand with t = 2.015)."""
    paces = [Fraction(each, 20) for each in (22, 25, 19, 31, 24, 27)]
    logs = [math.log(each * 20) for each in paces]
    reach = interval_factor(6) * statistics.stdev(logs)
    middle = statistics.fmean(logs)
    assert math.exp(middle - reach) == pytest.approx(16.90, abs=0.01)
    assert math.exp(middle + reach) == pytest.approx(35.17, abs=0.01)
    found = learned("rice", DAY + datetime.timedelta(30), noted(*map(str, paces)))
    assert found is not None and found.times == 6
    assert (found.low, found.pace, found.high) == (
        Fraction(17, 20),
        Fraction(24, 20),
        Fraction(35, 20),
    )


class TestFewDays:
    """What little can be learned from is said as little as it is."""

    def test_nothing_of_another_dish_before_three_days(self) -> None:
        """Two slow soups say nothing of a salad; three do."""
        assert learned("salad", DAY + datetime.timedelta(9), noted("1.2", "1.4")) is None
        found = learned("salad", DAY + datetime.timedelta(9), noted("1.2", "1.3", "1.4"))
        assert found is not None and found.pace == Fraction(13, 10)

    def test_two_days_say_what_they_were(self) -> None:
        """An interval by two values would reach from nothing to more than a day."""
        found = learned("rice", DAY + datetime.timedelta(9), noted("1.2", "1.4"))
        assert found is not None and (found.low, found.high) == (Fraction("1.2"), Fraction("1.4"))

    def test_a_day_learns_from_days_before_it(self) -> None:
        """The sheets of a day that is over don't change with what was noted of it."""
        assert learned("rice", DAY, noted("1.2")) is None


@pytest.mark.parametrize("pace", ["1/2", "1", "27/20", "3"])
def test_the_pace_of_a_day_that_is_planned_so(pace: str) -> None:
    """A day that takes just what it takes at a pace is found to have that pace."""

    def planned(at: Fraction) -> Fraction:
        return 10 + 20 * at

    assert pace_of(planned(Fraction(pace)), planned) == Fraction(pace)


def test_a_class_that_takes_longer(tmp_path: Path) -> None:
    """Three days that took longer than planned make the fourth longer, and it says by how much;
    a class without notes is planned as before."""
    slow = {"class.yaml": FOUR, "recipes/rice.md": RICE.replace("time: 3", "time: 5")}
    plain = examine(write_class(tmp_path / "a", slow)).facts.clocks
    days = [DAY + datetime.timedelta(weeks=n) for n in range(3)]
    notes = {
        f"after/{day}.md": f"---\nminutes: {{rice: {minutes} min}}\n---\n"
        for day, minutes in zip(days, (24, 27, 22), strict=True)
    }
    facts = examine(write_class(tmp_path / "b", {**slow, **notes})).facts
    assert len(noted_of(facts.folder, facts.uses)) == 3
    first, *_, last = facts.clocks
    assert first.clock.makespan == plain[0].clock.makespan and first.expected is None
    assert last.expected is not None and last.expected.times == 3
    assert last.clock.makespan > plain[3].clock.makespan
    assert last.expected.low <= last.clock.makespan <= last.expected.high
    assert isinstance(last.expected.slow, ClassClock)
    assert 20 * 60 < last.clock.makespan < 28 * 60
