"""Ten minutes late: first what nobody misses, then the easier way, then an adult; never safety."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from clock_classes import CLASSROOM, DEMO, dish_of, first, recipe_of, timed, work_of
from hypothesis import given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import uses_of
from spoonfold.plan.clock.late import (
    LATE,
    Relief,
    Way,
    relief_of,
    steps_made_easier,
    steps_to_leave_out,
)
from spoonfold.plan.clock.step_order import Order
from spoonfold.plan.clock.steps import WASH_SECONDS, tasks_of
from spoonfold.plan.clock.times import ClassWork, Dish

FOOD = "1 cup rice\n2 cups water\n1 tbsp chives (optional)"
HERB = ("Snip the chives.", "time: 9 min\nhands: 1\nafter: none")
RICE = ("Boil the rice in the water.", "time: 3 min\nwait: 5 min\nafter: none\nneeds: pot, burner")
SERVE = ("Put it on plates.", "time: 1 min\nhands: 4\nafter: 1, 2")


def left_out(recipe: Recipe) -> tuple[int, ...]:
    return steps_to_leave_out(Dish(recipe, uses_of(recipe, DEMO.pantry)), DEMO.pantry)


def relief(work: ClassWork) -> list[tuple[Way, int, int]]:
    return [(each.way, each.step, each.minutes) for each in relief_of(work, timed(work))]


class TestWhatCanGo:
    def test_optional_food(self) -> None:
        """The chives are optional, so snipping them can go, whoever waits for it."""
        assert left_out(dish_of(FOOD, HERB, RICE, SERVE)) == (1,)

    def test_a_garnish(self) -> None:
        """What is listed `for garnish` is missed by nobody; what is listed to taste may be."""
        for listed, can_go in (("chives, for garnish", (1,)), ("chives, to taste", ())):
            food = f"1 cup rice\n2 cups water\n{listed}"
            assert left_out(dish_of(food, HERB, RICE, SERVE)) == can_go

    def test_a_blade_goes_with_its_step(self) -> None:
        """Its caution is about that step's knife alone."""
        sharp = (HERB[0], HERB[1] + "\nneeds: knife, board\nwatch: sharp edge")
        assert left_out(dish_of(FOOD, sharp, RICE, SERVE)) == (1,)

    def test_a_demonstration(self) -> None:
        """Nobody works, nothing is used: an adult only shows."""
        show = (
            "Look how the rice grows.",
            "time: 4 min\nafter: none\nadult: shows a grain before and after",
        )
        assert left_out(dish_of("1 cup rice\n2 cups water", RICE, show, SERVE)) == (2,)

    @pytest.mark.parametrize("notes", ["hands: 2\nadult: shows how", "skills: taste"])
    def test_no_demonstration(self, notes: str) -> None:
        """Children who are shown something work along, or nobody shows anything."""
        along = ("Look how the rice grows.", f"time: 4 min\nafter: none\n{notes}")
        assert left_out(dish_of("1 cup rice\n2 cups water", RICE, along, SERVE)) == ()

    def test_the_first_of_two_tastings(self) -> None:
        """A step that only tastes can go while another step still tastes."""
        taste = ("Taste.", "time: 2 min\nhands: 4\nafter: 1\nskills: taste")
        last = (SERVE[0], SERVE[1] + "\nskills: taste")
        food = "1 cup rice\n2 cups water"
        assert left_out(dish_of(food, RICE, taste, last)) == (2,)
        assert left_out(dish_of(food, RICE, taste, SERVE)) == ()


class TestWhatStays:
    @pytest.mark.parametrize(
        "note",
        [
            "heat: 165 °F",
            "wait: 5 min",
            "wash: hands",
            "watch: allergen swap",
            "watch: reheat",
            "watch: cool quickly",
            "watch: something of our own",
            "adult: reads the label",
            "needs: burner",
            "needs: oven shelf",
            "when: before class",
        ],
    )
    def test_what_keeps_anyone_safe(self, note: str) -> None:
        """Heat, waits, washing, cautions and an adult's job are never dropped."""
        assert left_out(dish_of(FOOD, (HERB[0], f"{HERB[1]}\n{note}"), RICE, SERVE)) == ()

    @pytest.mark.parametrize(
        "words",
        [
            "Mix the chives with the rice.",
            "Stir the chives into everything.",
            "Put it in a bowl and stir in the chives.",
            "Fold the chives into the dough.",
        ],
    )
    def test_what_other_food_goes_through(self, words: str) -> None:
        """A step that carries the rest of the dish is needed, whatever is sprinkled in it."""
        plain = (words, "time: 2 min\nhands: 1\nafter: 1")
        assert (
            left_out(
                dish_of("1 cup rice\n2 cups water\n1 tbsp chives (optional)", RICE, plain, SERVE)
            )
            == ()
        )

    def test_what_lies_in_the_same_pot(self) -> None:
        """Stirring herbs into the pot in which the rice is may be what takes it further."""
        stir = ("Stir in the chives.", "time: 2 min\nhands: 1\nafter: 1\nneeds: pot")
        assert left_out(dish_of(FOOD, RICE, stir, SERVE)) == ()

    def test_food_that_is_not_optional(self) -> None:
        """The same step with chives that the dish is built on."""
        assert left_out(dish_of(FOOD.replace(" (optional)", ""), HERB, RICE, SERVE)) == ()

    def test_the_last_step(self) -> None:
        """A dish that isn't put on plates isn't eaten."""
        assert left_out(dish_of(FOOD, RICE, HERB)) == ()


class TestTheList:
    def test_the_gentlest_first(self) -> None:
        """Chives are left out before the carrot gets its easier way and an adult takes over."""
        work = work_of(
            dish_of(
                FOOD + "\n2 carrots",
                ("Snip the chives.", "time: 3 min\nhands: 1\nafter: none"),
                ("Cut the carrots.", "time: 3 min\nhands: 1\nafter: 1\neasier: in thick slices"),
                (
                    "Boil the rice in the water.",
                    "time: 3 min\nwait: 9 min\nhands: 1\nafter: 2\nneeds: pot, burner",
                ),
                (SERVE[0], "time: 1 min\nhands: 1\nafter: 3"),
            ),
            tables=(1,),
        )
        assert relief(work) == [(Way.LEAVE_OUT, 1, 6), (Way.EASIER, 2, 2), (Way.ADULT, 3, 3)]

    def test_enough_is_enough(self) -> None:
        """Thirteen minutes saved by the chives: nothing is taken from the children."""
        long = (HERB[0], HERB[1].replace("9 min", "12 min"))
        work = work_of(dish_of(FOOD, long, RICE, SERVE), tables=(4,))
        found = relief_of(work, timed(work))
        assert [each.way for each in found] == [Way.LEAVE_OUT]
        assert sum(each.minutes for each in found) >= LATE

    def test_what_saves_nothing_is_not_said(self) -> None:
        """Chives that are cut while the rice cooks hold nobody up."""
        long = (RICE[0], RICE[1].replace("5 min", "40 min"))
        assert Way.LEAVE_OUT not in {
            way for way, _, _ in relief(work_of(dish_of(FOOD, HERB, long, SERVE)))
        }

    def test_cooking_is_never_hurried(self) -> None:
        """An adult at the heat takes the cook's time, not half of the class's."""
        work = work_of(
            recipe_of(
                "class time: 10 min\ntime: 6 min\nfor: class\nhands: 2\nneeds: burner",
                "class time: 1 min\nhands: 1",
            )
        )
        assert relief(work) == [(Way.ADULT, 1, 4)]

    def test_nobody_washes_in_anothers_place(self) -> None:
        """Washing four children's hands isn't something that an adult takes over."""
        wash = ("Wash your hands.", "class time: 4 min\nhands: 4\nafter: none\nwash: hands")
        work = work_of(dish_of("1 cup rice\n2 cups water", wash, RICE, SERVE))
        assert 1 not in {step for _, step, _ in relief(work)}

    def test_an_adult_who_takes_over_washes_too(self) -> None:
        """Raw dough: the adult's own hands take their turn at the tap."""
        work = work_of(
            recipe_of("time: 6 min\nhands: 1\nwash: hands", "class time: 1 min\nhands: 1"),
            tables=(4,),
        )
        helped = first(replace(work, helped=frozenset({("dish", 1)})))
        assert (helped.work, helped.wash) == (360, WASH_SECONDS)
        assert helped.activity.duration == 360 + WASH_SECONDS

    def test_the_easier_way_is_not_for_the_heat(self) -> None:
        """At a burner the minutes are cooking."""
        easy = "class time: 9 min\nhands: 1\neasier: stir less"
        cold, hot = recipe_of(easy, easy), recipe_of(f"{easy}\nneeds: burner", easy)
        assert (steps_made_easier(cold), steps_made_easier(hot)) == ((1, 2), (2,))
        assert relief(work_of(cold))[:2] == [(Way.EASIER, 1, 3), (Way.EASIER, 2, 3)]


@st.composite
def dishes(draw: st.DrawFn) -> Recipe:
    """A dish whose first half cuts one food each, optional or not, and whose second half goes on
    with it."""
    foods = draw(
        st.lists(
            st.sampled_from(["chives", "carrots", "parsley", "limes", "onions"]),
            min_size=2,
            max_size=5,
            unique=True,
        )
    )
    listed = [f"2 {food}{draw(st.sampled_from(['', ' (optional)']))}" for food in foods]
    note = st.sampled_from(
        [
            "heat: 165 °F",
            "wait: 5 min",
            "wash: hands",
            "watch: sharp edge",
            "watch: reheat",
            "adult: stays",
            "needs: knife, board",
            "needs: pot",
            "needs: pot, burner",
            "for: class",
        ]
    )
    steps = []
    for number in range(1, len(foods) + draw(st.integers(1, 3)) + 1):
        notes = {each.split(":")[0]: each for each in draw(st.lists(note, max_size=2))}
        after = draw(st.lists(st.integers(1, number - 1), unique=True)) if number > 1 else []
        words = (
            f"Cut the {foods[number - 1]}."
            if number <= len(foods)
            else draw(st.sampled_from(["Stir everything.", "Mix it.", f"Look at the {foods[0]}."]))
        )
        steps.append(
            (
                words,
                "\n".join(
                    [
                        f"class time: {draw(st.integers(1, 9))} min",
                        "hands: 1",
                        *notes.values(),
                        "after: " + (", ".join(map(str, sorted(after))) or "none"),
                    ]
                ),
            )
        )
    return dish_of("\n".join(listed), *steps)


class TestNothingNeededGoes:
    @settings(max_examples=sampled(30, 150), deadline=None)
    @given(dishes())
    def test_no_step_that_is_needed(self, recipe: Recipe) -> None:
        """What goes has no heat, wait, wash, adult, caution but a blade's, and only food that the
        list calls optional; the last step stays."""
        optional = {each.name for each in recipe.ingredients if each.optional}
        for number in left_out(recipe):
            step = recipe.steps[number - 1]
            assert number != len(recipe.steps)
            assert not (step.heat or step.wait or step.wash or step.adult)
            assert {term.text for term in step.watch} <= {"sharp edge"}
            assert not {need.name for need in step.needs} & {"burner"}
            named = {
                word
                for text in step.text
                if hasattr(text, "text")
                for word in re.findall(r"[a-z]+", text.text)
            }
            assert named & optional and not named & (
                {each.name for each in recipe.ingredients} - optional
            )

    @settings(max_examples=sampled(30, 150), deadline=None)
    @given(dishes())
    def test_the_order_of_the_others_stays(self, recipe: Recipe) -> None:
        """Without the dropped steps everything else is done, each still behind all it needs."""
        gone = set(left_out(recipe))
        work = work_of(recipe, tables=(4,))
        clock = timed(replace(work, dropped=frozenset(("dish", number) for number in gone)))
        times = {one.task.step.number: (one.start, one.end) for one in clock.placed}
        assert times.keys() == {step.number for step in recipe.steps} - gone
        for number, before in Order(recipe.steps).before.items():
            if number in times:
                assert all(times[other][1] <= times[number][0] for other in before - gone)

    def test_the_demo_drops_nothing_that_matters(self) -> None:
        """Over all sessions no list touches heat, a wash or a wait, and minutes are real."""
        for session in CLASSROOM.sessions:
            work = ClassWork(
                [
                    Dish(DEMO.recipes[dish.text], uses_of(DEMO.recipes[dish.text], DEMO.pantry))
                    for dish in session.dishes
                ],
                session.setting,
                DEMO.skills,
                DEMO.pantry,
            )
            found = relief_of(work, timed(work))
            ways = [each.way for each in found]
            assert ways == sorted(ways, key=list(Way).index)
            for each in found:
                assert each.minutes >= 1 and _may(each)


def _may(each: Relief) -> bool:
    step = DEMO.recipes[each.dish].steps[each.step - 1]
    if each.way is Way.LEAVE_OUT:
        return not (step.heat or step.wait or step.wash)
    return step.heat is None and (each.way is Way.ADULT or bool(step.easier))


def test_what_waits_for_a_dropped_step_waits_for_what_that_waited_for() -> None:
    """1, then 2, then 3; without 2, 3 still comes behind 1."""
    work = work_of(recipe_of(*["class time: 5 min\nhands: 1"] * 3), tables=(4,))
    without = replace(work, dropped=frozenset({("dish", 2)}))
    assert [task.step.number for task in tasks_of(without).tasks] == [1, 3]
    assert timed(without).makespan == 600
