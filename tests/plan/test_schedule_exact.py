"""Against an exact solver, on classes that chance makes up.

OR-Tools' CP-SAT proves the shortest schedule of each class; ours may be longer, never shorter.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache

import pytest

from in_full import sampled
from spoonfold.plan.clock.clock import MORE_PASSES
from spoonfold.plan.clock.schedule import USUAL_PASSES, Activity, Hold, Schedule, solve

CLASSES = sampled(12, 40)


def made_up_class(seed: int) -> tuple[list[Activity], dict[str, int]]:
    """Two to four tables that cook the same dish of five to eight steps, in whole minutes.

    Steps hold children's hands for the work, a burner, an oven shelf or a griddle also for the
    wait, and some end with a queue at the tap.
    """
    chance = random.Random(seed)
    tables = chance.randint(2, 4)
    capacities = {f"hands {table}": chance.randint(3, 5) for table in range(tables)}
    capacities |= {
        "burner": chance.randint(1, 2),
        "oven": chance.randint(1, 2),
        "griddle": 1,
        "tap": 1,
        "adult": 2,
    }
    activities: list[Activity] = []
    for number in range(chance.randint(5, 8)):
        work, wait = chance.randint(2, 12), chance.choice([0, 0, 0, 5, 12])
        hands, wash = chance.randint(1, 3), chance.choice([0, 0, 1, 2])
        tool = chance.choice([None, None, "burner", "oven", "griddle"])
        adult = chance.random() < 0.3
        before = chance.sample(range(number), min(number, chance.randint(0, 2)))
        for table in range(tables):
            holds = [
                Hold(f"hands {table}", hands, 0, work + wash),
                Hold("tap", 1, work, work + wash),
            ]
            if tool is not None:
                holds.append(Hold(tool, 1, 0, work + wait))
            if adult:
                holds.append(Hold("adult", 1, 0, work))
            activities.append(
                Activity(
                    f"{number} {table}",
                    work + max(wash, wait),
                    tuple(holds),
                    tuple(f"{each} {table}" for each in before),
                )
            )
    return activities, capacities


def proven_best(activities: Sequence[Activity], capacities: dict[str, int]) -> int | None:
    """The shortest makespan, or None where the solver has no proof within its budget."""
    # Imported here: it takes a second, and every process of a run collects every file.
    cp_model = pytest.importorskip(
        "ortools.sat.python.cp_model", reason="the exact solver OR-Tools is not installed"
    )
    model = cp_model.CpModel()
    horizon = sum(each.duration for each in activities)
    starts = {each.id: model.new_int_var(0, horizon, each.id) for each in activities}
    makespan = model.new_int_var(0, horizon, "makespan")
    held: dict[str, list[tuple[object, int]]] = {name: [] for name in capacities}
    for each in activities:
        model.add(makespan >= starts[each.id] + each.duration)
        for other in activities:
            if other.id in each.after:
                model.add(starts[each.id] >= starts[other.id] + other.duration)
        for hold in each.holds:
            if hold.end > hold.begin:
                interval = model.new_fixed_size_interval_var(
                    starts[each.id] + hold.begin,
                    hold.end - hold.begin,
                    f"{each.id} {hold.resource}",
                )
                held[hold.resource].append((interval, hold.amount))
    for name, capacity in capacities.items():
        if held[name]:
            model.add_cumulative(
                [interval for interval, _ in held[name]],
                [amount for _, amount in held[name]],
                capacity,
            )
    model.minimize(makespan)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    # A budget that doesn't depend on how fast the machine is.
    solver.parameters.max_deterministic_time = 5
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    return int(solver.objective_value)


@cache
def gaps(passes: int) -> tuple[float, ...]:
    """How much longer ours are than the proven best, as shares."""
    found = []
    for seed in range(CLASSES):
        activities, capacities = made_up_class(seed)
        best = proven(seed)
        ours = solve(activities, capacities, passes)
        assert isinstance(ours, Schedule)
        if best is not None:
            assert ours.bound <= best <= ours.makespan
            found.append((ours.makespan - best) / best)
    return tuple(found)


@cache
def proven(seed: int) -> int | None:
    return proven_best(*made_up_class(seed))


def test_most_classes_are_proven() -> None:
    """Without proofs the comparison would say nothing."""
    assert len(gaps(USUAL_PASSES)) >= CLASSES * 3 // 4


def test_the_usual_passes_come_close() -> None:
    """On average within three per cent of the proven best, and never a quarter away."""
    found = gaps(USUAL_PASSES)
    assert sum(found) / len(found) <= 0.03
    assert max(found) < 0.25


def test_before_a_session_is_said_not_to_fit_the_gap_is_small() -> None:
    """On average within one per cent of the proven best, and never a tenth away."""
    found = gaps(MORE_PASSES)
    assert sum(found) / len(found) <= 0.01
    assert max(found) < 0.10
