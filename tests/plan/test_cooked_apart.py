"""What a table can't have from the one pot is cooked apart: with its own vessel, water, burner and
minutes, before the others; and no child is at two steps at once."""

from __future__ import annotations

from collections import defaultdict
from fractions import Fraction as F
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.check import Examined, examine
from spoonfold.model.recipe import Recipe
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.people.jobs import SeasonJobs, jobs_of
from spoonfold.plan.safety.apart import apart_of
from spoonfold.plan.safety.dish import Part, parts_of
from spoonfold.problem import Level
from tiny_class import CLASS, write_class

NEEDS = """
needs:
  - {table: 1, avoid: [wheat]}
"""
EQUIPMENT = (
    "equipment: {burner: 3, pot: 3, big pot: 1, skillet: 1, ladle: 2, wooden spoon: 4, knife: 8, "
    "board: 8, mixing bowl: 8, refrigerator: 1, sink: 1, can opener: 2, thermometer: 1}"
)

GRAINS = """---
title: Grains and stew
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 1 lb carrots
  - 2 cups water
  - 1 1/2 cups couscous
  - 1 cup water
swaps:
  - instead of: couscous
    use: 1 1/2 cups instant rice
    because: wheat
    steps:
      3: Stir the instant rice into the hot water. Cover the pot and let it stand for 11 minutes.
---

Grains.

## Steps

1. Simmer the carrots in [the water](#water "2/3") in the big pot.
    - time: 2 min
    - wait: 10 min
    - for: class
    - needs: burner, big pot
    - adult: stays at the burner
2. Bring [the water](#water "rest") to the boil in a pot.
    - time: 1 min
    - wait: 5 min
    - for: class
    - after: none
    - needs: burner, pot
    - adult: carries the pot
3. Stir the couscous into the hot water. Cover it.
    - time: 1 min
    - wait: 5 min
    - for: class
    - hands: 1
    - after: 2
    - needs: pot
4. Spoon the grains into bowls. Ladle the carrots over them.
    - time: 2 min
    - for: class
    - hands: 1
    - after: 1, 3
    - needs: ladle
"""
GRAINS = GRAINS.replace("  - 1 cup water\n", "").replace("2 cups water", "3 cups water")


def _examined(folder: Path, recipe: str, needs: str, tables: str = "[4, 4]") -> Examined:
    lines = [
        EQUIPMENT
        if line.startswith("equipment")
        else f"tables: {tables}"
        if line.startswith("tables")
        else line
        for line in CLASS.rstrip().splitlines()
    ]
    made = examine(
        write_class(folder, {"class.yaml": "\n".join(lines) + needs, "recipes/rice.md": recipe})
    )
    assert not any(each.level is Level.ERROR for each in made.problems), made.problems
    return made


@pytest.fixture(scope="module")
def grains(tmp_path_factory: pytest.TempPathFactory) -> Examined:
    return _examined(tmp_path_factory.mktemp("grains"), GRAINS, NEEDS)


def _parts(made: Examined) -> tuple[Part, ...]:
    folder = made.read.folder
    assert folder.classroom is not None
    return parts_of(
        folder.recipes["rice"],
        made.facts.uses["rice"],
        folder.pantry,
        folder.classroom.sessions[0].setting,
        "en",
    )


def _timed(made: Examined) -> Timed:
    return made.facts.clocks[0]


class TestApart:
    def test_the_water_boiled_for_it_is_apart_too(self, grains: Examined) -> None:
        """Of four steps for everyone, table 1 does those of its grain: water, grain, bowls. The
        carrots come out of the one pot."""
        folder = grains.read.folder
        assert folder.classroom is not None
        setting = folder.classroom.sessions[0].setting
        found = apart_of(folder.recipes["rice"], grains.facts.uses["rice"], folder.pantry, setting)
        assert found.steps == {1: frozenset({2, 3, 4})}

    def test_what_is_measured_is_what_is_eaten(self, grains: Examined) -> None:
        """The shares of the water of all places are all of it, and no couscous is for table 1."""
        parts = {each.table: each for each in _parts(grains)}
        whole = sum(
            (
                use.measured.exact.low
                for part in parts.values()
                for uses in part.scaled.by_step.values()
                for use in uses
                if use.measured and use.use.ingredient.name == "water"
            ),
            F(0),
        )
        recipe = grains.read.folder.recipes["rice"]
        portions = sum(each.scaled.portions for each in parts.values() if each.table)
        assert whole == 3 * portions / recipe.serves
        own = {line.ingredient.name for line in parts[1].scaled.lines}
        assert "instant rice" in own and "couscous" not in own

    def test_it_has_its_own_pot_burner_and_minutes(self, grains: Examined) -> None:
        """Eleven minutes of standing, as the swap's own words say; five for everyone's."""
        placed = [each for each in _timed(grains).clock.placed if each.task.step.number == 3]
        waits = {each.task.table: each.task.wait for each in placed}
        assert waits == {1: 11 * 60, None: 5 * 60}
        boiled = [each.task for each in _timed(grains).clock.placed if each.task.step.number == 2]
        assert {each.table for each in boiled} == {1, None}
        assert all(
            {"tool burner", "tool pot"} <= {hold.resource for hold in each.activity.holds}
            for each in boiled
        )

    def test_nobody_who_cooks_apart_is_at_the_one_pot(self, grains: Examined) -> None:
        """No child of table 1 stirs the couscous."""
        for each in _timed(grains).clock.placed:
            if each.task.table is None and each.task.step.number in (2, 3, 4):
                assert 1 not in each.task.hands

    def test_without_the_need_nothing_is_apart(self, tmp_path: Path) -> None:
        """The same dish, where nobody avoids wheat."""
        made = _examined(tmp_path, GRAINS, "")
        assert {each.task.table for each in _timed(made).clock.placed} == {None}

    def test_what_all_swap_is_in_the_one_pot(self, tmp_path: Path) -> None:
        """A need of every table: one pot, with rice in it, and no couscous is bought."""
        made = _examined(tmp_path, GRAINS, "\nneeds:\n  - {avoid: [wheat]}\n")
        pot = next(each for each in _parts(made) if each.table is None)
        names = {line.ingredient.name for line in pot.scaled.lines}
        assert "instant rice" in names and "couscous" not in names
        assert {each.task.table for each in _timed(made).clock.placed} == {None}


FRIED = """---
title: Fried cakes
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 1 cup all-purpose flour
  - 1 cup water
  - 2 tbsp olive oil
swaps:
  - instead of: all-purpose flour
    use: 1 cup rice flour
    because: wheat
---

Cakes.

## Steps

1. Mix the flour and the water in a bowl.
    - time: 3 min
    - needs: mixing bowl
2. Fry the batter in [the oil](#olive-oil) in the skillet until it is cooked through.
    - time: 5 min
    - needs: burner, skillet
    - adult: stays at the burner
"""


def test_the_table_without_it_has_the_one_skillet_first(tmp_path: Path) -> None:
    """One skillet for two tables, and table 2 avoids wheat: it fries before table 1."""
    made = _examined(tmp_path, FRIED, NEEDS.replace("table: 1", "table: 2"))
    fried = {
        each.task.table: each for each in _timed(made).clock.placed if each.task.step.number == 2
    }
    assert fried[2].end <= fried[1].start


def _busy(day: Timed, jobs: SeasonJobs) -> dict[int, list[tuple[int, int, str]]]:
    """By seat, every piece of work that the chart and the cards give it, in time."""
    found: dict[int, list[tuple[int, int, str]]] = defaultdict(list)
    (session,) = (each for each in jobs.sessions if each.session == day.session.number)
    for table, seats in enumerate(session.tables, start=1):
        for seat in seats:
            for job in seat.jobs:
                for step in job.steps:
                    found[seat.seat] += [
                        (each.start, each.hands_free, each.task.activity.id)
                        for each in day.clock.placed
                        if (each.task.dish, each.task.step.number) == (job.dish, step.number)
                        and each.task.step.for_class is step.for_class
                        and table in each.task.hands
                        and each.task.loads == 1
                    ]
    return found


def _recipe(steps: list[tuple[int, int, bool, list[int]]]) -> str:
    """Steps as minutes, hands, once for everyone, and what they wait for."""
    said = []
    for number, (minutes, hands, once, after) in enumerate(steps, 1):
        waits = ", ".join(str(n) for n in sorted(set(after)) if n < number) or "none"
        words = "Mix the rice and the water." if number == 1 else "Go on and mix it."
        said.append(
            f"{number}. {words}\n    - time: {minutes} min\n    - hands: {hands}\n"
            f"    - after: {waits}\n" + ("    - for: class\n" if once else "")
        )
    return (
        "---\ntitle: Dish\nplace: Lima, Peru\ncountry: PE\nserves: 4\ningredients:\n"
        "  - 1 cup rice\n  - 2 cups water\n---\n\nDish.\n\n## Steps\n\n" + "".join(said)
    )


STEPS = st.lists(
    st.tuples(
        st.integers(1, 9), st.integers(1, 3), st.booleans(), st.lists(st.integers(1, 7), max_size=2)
    ),
    min_size=2,
    max_size=8,
)


@settings(max_examples=sampled(15, 150), deadline=None)
@given(STEPS, st.lists(st.integers(1, 5), min_size=1, max_size=4))
def test_no_child_is_at_two_steps_at_once(
    tmp_path_factory: pytest.TempPathFactory,
    steps: list[tuple[int, int, bool, list[int]]],
    tables: list[int],
) -> None:
    """Whatever is cooked at however many tables: the seats of the cards fit the chart, each step
    has as many as work at it, and no seat is in two places."""
    folder = tmp_path_factory.mktemp("class")
    made = _examined(folder, _recipe(steps), "", str(tables))
    classroom = made.read.folder.classroom
    assert classroom is not None
    (day,) = made.facts.clocks
    jobs = jobs_of(classroom, made.read.folder.recipes, [day])
    for work in _busy(day, jobs).values():
        for at, (start, end, _) in enumerate(work):
            for other, until, _ in work[at + 1 :]:
                assert end <= other or until <= start
    for each in day.clock.placed:
        for table, hands in each.task.hands.items():
            at_work = [
                seat
                for seat in jobs.sessions[0].tables[table - 1]
                if any(
                    step.number == each.task.step.number for job in seat.jobs for step in job.steps
                )
            ]
            assert len(at_work) == hands


def test_the_demo_has_nobody_at_two_steps_at_once() -> None:
    """All eight sessions of the demo, swaps and loads among them."""
    from demo_class import demo_folder
    from spoonfold.check.rule import facts_of

    facts = facts_of(demo_folder())
    assert facts.folder.classroom is not None
    jobs = jobs_of(facts.folder.classroom, facts.folder.recipes, facts.clocks)
    recipes: dict[str, Recipe] = dict(facts.folder.recipes)
    assert recipes and len(facts.clocks) == 8
    for day in facts.clocks:
        for seat, work in _busy(day, jobs).items():
            for at, (start, end, one) in enumerate(work):
                for other, until, two in work[at + 1 :]:
                    assert end <= other or until <= start, (day.session.number, seat, one, two)
