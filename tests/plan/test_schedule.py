"""Placing activities in time: what holds for every schedule."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import permutations
from typing import ClassVar

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.plan.clock import schedule as module
from spoonfold.plan.clock.schedule import (
    USUAL_PASSES,
    Activity,
    Hold,
    Net,
    Schedule,
    Unschedulable,
    activity,
    latest_starts,
    serial,
    solve,
)

RESOURCES = {"hands": 3, "burner": 1, "pot": 2}


@st.composite
def problems(draw: st.DrawFn) -> list[Activity]:
    """Up to ten activities that hold resources for a part of their time or all of it."""
    activities: list[Activity] = []
    for number in range(draw(st.integers(0, 10))):
        duration = draw(st.integers(0, 9))
        holds = []
        for resource in draw(st.lists(st.sampled_from(sorted(RESOURCES)), unique=True)):
            begin = draw(st.integers(0, duration))
            holds.append(
                Hold(
                    resource,
                    draw(st.integers(0, RESOURCES[resource])),
                    begin,
                    draw(st.integers(begin, duration)),
                )
            )
        after = draw(st.lists(st.sampled_from(activities), max_size=2)) if activities else []
        activities.append(
            Activity(str(number), duration, tuple(holds), tuple(each.id for each in after))
        )
    return draw(st.permutations(activities))


def assert_feasible(
    activities: list[Activity], capacities: dict[str, int], starts: dict[str, int]
) -> None:
    """Nothing starts before what it waits for has ended, and nothing is held twice over."""
    ends = {each.id: starts[each.id] + each.duration for each in activities}
    for each in activities:
        assert starts[each.id] >= max((ends[i] for i in each.after), default=0)
    for moment in {starts[each.id] + hold.begin for each in activities for hold in each.holds}:
        for resource, capacity in capacities.items():
            held = sum(
                hold.amount
                for each in activities
                for hold in each.holds
                if hold.resource == resource
                and starts[each.id] + hold.begin <= moment < starts[each.id] + hold.end
            )
            assert held <= capacity, (resource, moment)


def solved(
    activities: list[Activity], capacities: dict[str, int], passes: int = USUAL_PASSES
) -> Schedule:
    schedule = solve(activities, capacities, passes)
    assert isinstance(schedule, Schedule)
    return schedule


class TestTinyKitchen:
    """One cook, one burner, one oven; worked out by hand and by trying every order."""

    ACTIVITIES = (
        activity("chop", 5, {"cook": 1}),
        activity("boil", 10, {"burner": 1}, ["chop"]),
        activity("mix", 4, {"cook": 1}),
        activity("bake", 12, {"oven": 1}, ["mix"]),
    )
    CAPACITIES: ClassVar = {"cook": 1, "burner": 1, "oven": 1}

    def test_the_best_is_found(self) -> None:
        """Mixing first ends at 19, chopping first at 21."""
        schedule = solved(list(self.ACTIVITIES), self.CAPACITIES)
        assert schedule.makespan == 19
        assert dict(schedule.starts) == {"mix": 0, "bake": 4, "chop": 4, "boil": 9}

    def test_no_order_is_better(self) -> None:
        """Every order of the four, one pass each."""
        net = module._net(self.ACTIVITIES, self.CAPACITIES)
        assert isinstance(net, Net)
        orders = [
            order
            for order in permutations(range(4))
            if order.index(0) < order.index(1) and order.index(2) < order.index(3)
        ]
        assert min(net.end(serial(net, order)) for order in orders) == 19


class TestEverySchedule:
    @given(problems(), st.sampled_from([1, 2, USUAL_PASSES, 25]))
    def test_it_can_be_carried_out(self, activities: list[Activity], passes: int) -> None:
        """Precedence and capacities hold, and the makespan is when the last activity ends."""
        schedule = solved(activities, RESOURCES, passes)
        starts = dict(schedule.starts)
        assert_feasible(activities, RESOURCES, starts)
        ends = [starts[each.id] + each.duration for each in activities]
        assert schedule.makespan == max(ends, default=0)
        assert schedule.bound <= schedule.makespan

    @given(problems())
    def test_the_same_problem_gives_the_same_schedule(self, activities: list[Activity]) -> None:
        """Nothing is left to chance."""
        assert solve(activities, RESOURCES, 25) == solve(activities, RESOURCES, 25)

    @given(problems(), st.integers(0, 30))
    def test_pushed_late_it_ends_in_time(self, activities: list[Activity], spare: int) -> None:
        """The latest starts lie at or behind the earliest ones, and everything ends by then."""
        schedule = solved(activities, RESOURCES)
        end = schedule.makespan + spare
        latest = latest_starts(activities, RESOURCES, schedule, end)
        for each in activities:
            assert schedule.starts[each.id] <= latest[each.id] <= end - each.duration

    @given(problems())
    def test_more_of_everything_never_breaks_the_bound(self, activities: list[Activity]) -> None:
        """With plenty of everything only the longest chain is left, and it is met."""
        plenty = dict.fromkeys(RESOURCES, 100)
        schedule = solved(activities, plenty)
        assert schedule.makespan == schedule.bound
        assert schedule.makespan <= solved(activities, RESOURCES).makespan


class TestHoldingForAPart:
    def test_hands_are_free_while_the_pot_simmers(self) -> None:
        """Two pots on two burners, one pair of hands: stirring is in turn, simmering together."""
        pots = [
            Activity(name, 30, (Hold("hands", 1, 0, 5), Hold("burner", 1, 0, 30)))
            for name in ("soup", "stew")
        ]
        assert solved(pots, {"hands": 1, "burner": 2}).makespan == 35
        assert solved(pots, {"hands": 1, "burner": 1}).makespan == 60

    def test_a_resource_may_be_wanted_at_the_end_only(self) -> None:
        """A thermometer for the last minute doesn't keep two pans from cooking together."""
        pans = [Activity(name, 10, (Hold("thermometer", 1, 9, 10),)) for name in ("a", "b")]
        assert solved(pans, {"thermometer": 1}).makespan == 11


class TestNoSchedule:
    def test_a_circle(self) -> None:
        """What waits for itself, and what waits for that, is named."""
        found = solve(
            [activity("a", 1, after=["b"]), activity("b", 1, after=["a"]), activity("c", 1)], {}
        )
        assert found == Unschedulable("circle", ("a", "b"))

    @pytest.mark.parametrize("capacities", [{"oven": 1}, {}])
    def test_more_than_there_is(self, capacities: dict[str, int]) -> None:
        """What needs two ovens where there is one, or none."""
        found = solve([activity("a", 1, {"oven": 2}), activity("b", 1)], capacities)
        assert found == Unschedulable("too little", ("a",))

    def test_a_stranger(self) -> None:
        """Waiting for something that isn't there."""
        found = solve([activity("a", 1, after=["z"])], {})
        assert found == Unschedulable("unknown", ("a",))

    def test_a_name_twice(self) -> None:
        """Two activities can't share an id."""
        found = solve([activity("a", 1), activity("a", 2)], {})
        assert isinstance(found, Unschedulable) and found.reason == "twice"


def test_nothing_to_do_takes_no_time() -> None:
    """A class without a step is over as it begins."""
    assert solve((), RESOURCES) == Schedule({}, 0, 0)


class TestEffort:
    @pytest.mark.parametrize("passes", [1, 4, USUAL_PASSES, 40])
    def test_no_more_passes_than_asked_for(
        self, passes: int, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """Six tables of fifteen steps; counted, not timed. Two are kept for a justification."""
        made = 0

        def counted(net: Net, order: Iterable[int]) -> list[int]:
            nonlocal made
            made += 1
            return serial(net, order)

        monkeypatch.setattr("spoonfold.plan.clock.schedule.serial", counted)
        activities = [
            activity(
                f"{table}.{step}",
                3 + (7 * step + table) % 5,
                {f"hands {table}": 1 + step % 2, "burner": int(step % 4 == 3)},
                [f"{table}.{step - 2}"] if step > 1 else [],
            )
            for table in range(6)
            for step in range(15)
        ]
        capacities = {"burner": 2} | {f"hands {table}": 4 for table in range(6)}
        schedule = solved(activities, capacities, passes)
        assert_feasible(activities, capacities, dict(schedule.starts))
        assert 0 < made <= passes
