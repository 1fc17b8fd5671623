"""What is served at once is planned near the meal, and nothing is in two places for it."""

from __future__ import annotations

from collections import Counter

import pytest

from demo_class import demo_facts
from spoonfold.plan.clock.at_once import is_served_at_once
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.clock.clock import BUFFER

RICE, LAST = "egg-fried-rice", 10


@pytest.fixture(scope="module")
def day() -> Timed:
    """The demo's session of fried rice, with time to spare."""
    (found,) = (
        each for each in demo_facts().clocks if RICE in {dish.text for dish in each.session.dishes}
    )
    return found


def test_it_ends_when_the_meal_begins(day: Timed) -> None:
    meal = (day.clock.cooking - BUFFER) * 60
    ends = [
        each.end
        for each in day.clock.placed
        if (each.task.dish, each.task.step.number) == (RICE, LAST)
    ]
    assert is_served_at_once(day.work.dishes[0].step(LAST)) and set(ends) == {meal}
    assert day.clock.makespan < meal


def test_it_is_cooked_right_before(day: Timed) -> None:
    """The raw egg for it doesn't wait in the warm either."""
    starts = {each.task.activity.id: each for each in day.clock.placed}
    for table in (1, 2, 3):
        beaten, scrambled = (starts[f"{RICE} {number} {table} 1"] for number in (7, 8))
        assert scrambled.start - beaten.end < 15 * 60


def test_hands_and_tools_are_still_enough(day: Timed) -> None:
    spans = [
        (each.start + hold.begin, each.start + hold.end, hold.resource, hold.amount)
        for each in day.clock.placed
        for hold in each.task.activity.holds
    ]
    for at in {span[0] for span in spans}:
        held = Counter[str]()
        for begin, end, resource, amount in spans:
            held[resource] += amount if begin <= at < end else 0
        assert all(held[name] <= day.clock.tasks.capacities[name] for name in held)
