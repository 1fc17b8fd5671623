"""The class clock: how long steps take in class, who and what they hold, and when they come."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction as F

import pytest
from clock_classes import CLASSROOM, DEMO, first, recipe_of, timed, work_of

from spoonfold.plan.amounts.uses import uses_of
from spoonfold.plan.clock.advice import WORTH_SAYING, Saving, advice_of, without_a_helper
from spoonfold.plan.clock.clock import ClassClock, clock_of
from spoonfold.plan.clock.schedule import Unschedulable
from spoonfold.plan.clock.steps import MOST_LOADS, WASH_SECONDS, tasks_of
from spoonfold.plan.clock.tasks import Placed
from spoonfold.plan.clock.times import ClassWork, Dish


def spans(clock: ClassClock, step: int) -> list[tuple[int, int]]:
    """Start and end in minutes of every placement of a step."""
    return [
        (each.start // 60, each.end // 60) for each in clock.placed if each.task.step.number == step
    ]


class TestHowLong:
    def test_children_take_the_pace_times_as_long(self) -> None:
        """Six minutes of a practised cook are twelve of a child's at a pace of 2."""
        assert first(work_of(recipe_of("time: 6 min\nhands: 1"))).work == 12 * 60

    def test_cutting_grows_with_the_table_and_shrinks_with_the_hands(self) -> None:
        """6 min x pace 2 x (5 portions / 4) / 2 hands = 7 min 30 s."""
        work = work_of(recipe_of("time: 6 min\nhands: 2\nskills: dice"), tables=(5, 5))
        assert first(work).work == 450

    def test_stirring_does_not(self) -> None:
        """What doesn't go by the piece takes as long with more portions."""
        work = work_of(recipe_of("time: 6 min\nhands: 2\nskills: whisk"), tables=(5, 5))
        assert first(work).work == 720

    def test_class_time_is_taken_as_it_is(self) -> None:
        """Neither pace nor pieces change it."""
        work = work_of(recipe_of("time: 6 min\nclass time: 9 min\nhands: 1\nskills: dice"))
        assert first(work).work == 9 * 60

    def test_an_adult_alone_works_as_at_home(self) -> None:
        """A step that no child works at isn't slowed by the pace."""
        assert first(work_of(recipe_of("time: 6 min\nadult: pours"))).work == 6 * 60

    def test_a_part_of_a_second_is_rounded_up(self) -> None:
        """Times are whole seconds, never shorter than they are."""
        work = work_of(recipe_of("time: 1 min\nhands: 3\nskills: dice"), tables=(5,))
        assert first(work).work == 50
        assert first(replace(work, setting=replace(work.setting, tables=(7,)))).work == 70
        assert first(work_of(recipe_of("time: 10 s\nhands: 3\nskills: dice"))).work == 7

    def test_no_more_hands_than_children(self) -> None:
        """Four hands are asked for and three are there: 6 x 2 x 3/4 / 3 = 3 min."""
        task = first(work_of(recipe_of("time: 6 min\nhands: 4\nskills: dice"), tables=(3,)))
        assert dict(task.hands) == {1: 3} and task.work == 180


class TestLoads:
    def test_more_portions_than_fit_go_in_loads(self) -> None:
        """Ten portions on a griddle that takes four: three loads, one after the other."""
        work = work_of(
            recipe_of("class time: 5 min\nfor: class\nhands: 2\nholds: 4 portions\nneeds: griddle"),
            tables=(5, 5),
        )
        clock = timed(work)
        assert spans(clock, 1) == [(0, 5), (5, 10), (10, 15)]

    def test_loads_counted_in_what_a_portion_is(self) -> None:
        """Five portions of two pancakes each, four at once: three loads at each table."""
        recipe = recipe_of(
            "class time: 5 min\nholds: 4 pancakes\nneeds: griddle\nhands: 1",
            header="portion: 2 pancakes\n",
        )
        loads = [task.loads for task in tasks_of(work_of(recipe, tables=(5,))).tasks]
        assert loads == [3, 3, 3]

    def test_loads_without_equipment_still_wait_for_each_other(self) -> None:
        """One after the other, also where no griddle says so."""
        work = work_of(recipe_of("class time: 5 min\nholds: 2 portions\nhands: 1"), tables=(4,))
        assert spans(timed(work), 1) == [(0, 5), (5, 10)]

    def test_as_many_loads_as_are_counted(self) -> None:
        """Forty are still done one by one, with hands that are free in between."""
        recipe = recipe_of("class time: 1 min\nholds: 1/10 portions\nneeds: griddle")
        tasks = tasks_of(work_of(recipe, tables=(4,))).tasks
        assert [task.loads for task in tasks] == [MOST_LOADS] * MOST_LOADS

    def test_thousands_of_loads_are_one_long_one(self) -> None:
        """A thousandth of a portion at once: 4,000 loads of a minute, and it doesn't fit."""
        work = work_of(
            recipe_of("class time: 1 min\nholds: 1/1000 portions\nneeds: griddle"), tables=(4,)
        )
        clock = timed(work)
        assert len(clock.placed) == 1 and clock.makespan == 4000 * 60 and not clock.fits

    def test_what_cannot_be_counted_is_said(self) -> None:
        """`4 patties` where a portion isn't counted in patties: one load, and it is listed."""
        tasks = tasks_of(work_of(recipe_of("time: 5 min\nholds: 4 patties\nneeds: griddle")))
        assert [(dish, step.number) for dish, step in tasks.unclear] == [("dish", 1)]
        assert {task.loads for task in tasks.tasks} == {1}


class TestWaits:
    STEPS = ("class time: 2 min\nwait: 20 min\nhands: 4\nneeds: burner",)

    def test_a_wait_keeps_the_burner(self) -> None:
        """Two tables, one burner: one after the other."""
        assert timed(work_of(recipe_of(*self.STEPS))).makespan == 44 * 60

    def test_a_wait_aside_frees_it(self) -> None:
        """Two minutes each at the burner, twenty aside."""
        recipe = recipe_of(self.STEPS[0].replace("20 min", "20 min aside"))
        assert timed(work_of(recipe)).makespan == 24 * 60

    def test_a_wait_frees_the_hands(self) -> None:
        """All four stir for two minutes, and cut while it simmers."""
        recipe = recipe_of(*self.STEPS, "class time: 10 min\nhands: 4\nafter: none")
        clock = timed(work_of(recipe, tables=(4,), helpers=1))
        assert clock.makespan == 22 * 60

    def test_a_thermometer_is_needed_at_the_end_only(self) -> None:
        """One of it doesn't keep two pans from baking side by side."""
        recipe = recipe_of(
            "class time: 2 min\nwait: 20 min\nhands: 1\n"
            "needs: oven shelf, thermometer\nheat: 165 °F"
        )
        assert timed(work_of(recipe)).makespan == 24 * 60


class TestForTheClass:
    def test_it_is_done_once_behind_every_table(self) -> None:
        """The pot waits for both tables, and both tables for the pot."""
        recipe = recipe_of(
            "class time: 5 min\nhands: 1",
            "class time: 6 min\nfor: class\nhands: 2\nadult: stays",
            "class time: 4 min\nhands: 4",
        )
        clock = timed(work_of(recipe))
        assert spans(clock, 1) == [(0, 5), (0, 5)]
        assert spans(clock, 2) == [(5, 11)]
        assert spans(clock, 3) == [(11, 15), (11, 15)]

    def test_its_children_come_from_the_table_with_least_to_do(self) -> None:
        """Table by table in turns; where the tables differ, the one with more children each."""
        steps = "class time: 5 min\nfor: class\nhands: 2\nadult: stays\nafter: none"
        tasks = tasks_of(work_of(recipe_of(steps, steps, steps))).tasks
        assert [dict(task.hands) for task in tasks] == [{1: 2}, {2: 2}, {1: 2}]

    def test_more_hands_than_a_table_has_come_from_several(self) -> None:
        """Six at the pot: four of one table and two of the next."""
        task = first(work_of(recipe_of("class time: 5 min\nfor: class\nhands: 6")))
        assert dict(task.hands) == {1: 4, 2: 2}

    def test_before_class_is_not_class_time(self) -> None:
        """Listed apart with its minutes; what waits for it may begin at once."""
        recipe = recipe_of(
            "time: 2 min\nwait: 30 min\nwhen: before class", "class time: 5 min\nhands: 1"
        )
        clock = timed(work_of(recipe))
        assert clock.makespan == 300
        assert [(each.step.number, each.minutes) for each in clock.tasks.beforehand] == [(1, 32)]


class TestAdults:
    STEPS = ("class time: 10 min\nhands: 1\nadult: stays",)

    @pytest.mark.parametrize(("helpers", "minutes"), [(2, 10), (1, 20), (0, 20)])
    def test_a_note_holds_an_adult(self, helpers: int, minutes: int) -> None:
        """A helper at each table works side by side; one goes round; without, the lead does."""
        assert timed(work_of(recipe_of(*self.STEPS), helpers=helpers)).makespan == minutes * 60

    def test_a_spare_helper_stands_by_the_lead(self) -> None:
        """Two pots for the class go side by side with one helper more than tables."""
        steps = [self.STEPS[0] + "\nfor: class\nafter: none"] * 2
        assert timed(work_of(recipe_of(*steps), helpers=2)).makespan == 20 * 60
        assert timed(work_of(recipe_of(*steps), helpers=3)).makespan == 10 * 60


class TestTheSink:
    def test_washing_hands_queues_at_the_tap(self) -> None:
        """Three wash for 40 s each behind their work, and the other table behind them."""
        recipe = recipe_of("class time: 5 min\nhands: 3\nwash: hands")
        clock = timed(work_of(recipe))
        assert clock.makespan == 300 + 6 * WASH_SECONDS
        assert timed(work_of(recipe, equipment={"sink": 2})).makespan == 300 + 4 * WASH_SECONDS

    def test_hands_that_wash_do_nothing_else(self) -> None:
        """All four knead and wash; cutting begins when their hands are clean."""
        recipe = recipe_of(
            "class time: 5 min\nhands: 4\nwash: hands", "class time: 5 min\nhands: 4\nafter: none"
        )
        assert timed(work_of(recipe, tables=(4,))).makespan == 600 + 4 * WASH_SECONDS

    def test_a_step_at_the_sink_washes_there(self) -> None:
        """Rinsing and then washing hands keeps the only tap for both."""
        recipe = recipe_of("class time: 5 min\nhands: 1\nneeds: sink\nwash: hands")
        assert timed(work_of(recipe)).makespan == 2 * (300 + WASH_SECONDS)

    def test_the_queue_on_arrival(self) -> None:
        """Eight children and two helpers at one tap: 400 s of the ten minutes."""
        arrival = timed(work_of(recipe_of("time: 1 min"))).arrival
        assert (arrival.people, arrival.taps, arrival.seconds, arrival.given) == (10, 1, 400, 600)


class TestWhatIsMissing:
    def test_more_than_there_is_never_fits(self) -> None:
        """Two burners for one step where there is one, or none at all."""
        recipe = recipe_of("time: 1 min\nneeds: burner x2\nhands: 1")
        for has in (1, 0):
            clock = timed(work_of(recipe, equipment={"burner": has}))
            assert [(each.name, each.needs, each.has) for each in clock.tasks.shortages] == [
                ("burner", 2, has)
            ]
            assert not clock.fits and clock.over == 0

    def test_what_the_class_does_not_list_is_said(self) -> None:
        """Nobody waits for a spoon that nobody counted."""
        clock = timed(work_of(recipe_of("time: 1 min\nneeds: golden spoon\nhands: 1")))
        assert clock.tasks.unlisted == ("golden spoon",) and clock.fits

    def test_steps_in_a_circle_have_no_clock(self) -> None:
        """The answer is a value that says so."""
        found = clock_of(
            work_of(recipe_of("time: 1 min\nafter: 2", "time: 1 min\nafter: 1"), tables=(4,))
        )
        assert isinstance(found, Unschedulable) and found.reason == "circle"


class TestVessels:
    STEPS = (
        "class time: 5 min\nhands: 2\nneeds: pan",
        "class time: 1 min\nwait: 14 min\nhands: 1\nneeds: oven shelf, pan",
    )

    def test_food_waits_in_its_pan(self) -> None:
        """With one shelf and one pan nobody shapes on the pan that waits or bakes."""
        recipe = recipe_of(*self.STEPS)
        assert timed(work_of(recipe, equipment={"oven shelf": 1, "pan": 1})).makespan == 40 * 60
        assert timed(work_of(recipe, equipment={"oven shelf": 1, "pan": 2})).makespan == 35 * 60

    def test_no_order_helps_where_every_pan_waits_for_the_other(self) -> None:
        """Both tables fill a pan before the class's step; one pan is too few, and that is said."""
        recipe = recipe_of(
            "class time: 2 min\nhands: 1\nneeds: pan",
            "class time: 2 min\nfor: class\nhands: 1",
            "class time: 2 min\nhands: 1\nneeds: pan\nafter: 1, 2",
        )
        clock = timed(work_of(recipe, equipment={"pan": 1}))
        assert clock.crowded == ("pan",) and not clock.fits
        assert timed(work_of(recipe, equipment={"pan": 2})).fits

    def test_hot_water_keeps_its_burner(self) -> None:
        """Kept hot from before class until it is used, on a circuit of its own."""
        recipe = recipe_of(
            "time: 1 min\nwait: 20 min\nwhen: before class\nneeds: burner, pot",
            "class time: 5 min\nfor: class\nhands: 1\nneeds: burner, pan\nafter: none",
            "class time: 5 min\nfor: class\nhands: 1\nneeds: burner, pot\nafter: 1, 2",
        )
        two = timed(
            work_of(recipe, watts={"burner": 1500}, equipment={"burner": 2, "pot": 1, "pan": 1})
        )
        assert two.fits and two.circuits is not None
        assert (dict(two.circuits.together), two.circuits.circuits) == ({"burner": 2}, 2)
        assert timed(work_of(recipe, equipment={"burner": 1, "pot": 1, "pan": 1})).crowded


class TestBoiling:
    RECIPE = recipe_of("time: 1 min\nwait: 10 min\nfor: class\nneeds: burner", uses="water")

    def test_more_water_takes_longer(self) -> None:
        """Twice the water adds once the time of the recipe's own: 0.946 l on 1,500 W at 74 %."""
        plain = first(work_of(self.RECIPE))
        heated = tasks_of(work_of(self.RECIPE, watts={"burner": 1500}))
        own = F(946352946, 10**9) * 4186 * 85 / (F(1500) * F(74, 100))
        assert plain.wait == 600
        assert heated.tasks[0].wait - plain.wait == pytest.approx(own, abs=1)
        assert heated.boils[0].litres == pytest.approx(2 * F(946352946, 10**9))

    def test_nothing_is_said_without_watts(self) -> None:
        """An estimate needs the burner's watts."""
        assert tasks_of(work_of(self.RECIPE)).boils == ()


class TestAnchors:
    def test_a_pot_is_looked_out_for_on_five_minutes(self) -> None:
        """Cutting takes 12 minutes from 10:20; the pot is on at 10:30, at the latest 10:50."""
        recipe = recipe_of(
            "class time: 12 min\nhands: 1",
            "class time: 2 min\nwait: 20 min\nfor: class\nhands: 1\nneeds: burner",
        )
        anchors = timed(work_of(recipe)).anchors
        assert [(each.step, each.at, each.latest) for each in anchors] == [
            (2, datetime.time(10, 30), datetime.time(10, 50))
        ]

    def test_a_session_without_slack_has_one_time(self) -> None:
        """Never a latest time before the time itself."""
        recipe = recipe_of("class time: 59 min\nhands: 1", "class time: 4 min\nhands: 1")
        clock = timed(work_of(recipe))
        assert (clock.fits, clock.over, clock.spare) == (False, 3, 0)
        assert all(each.at == each.latest for each in clock.anchors)


class TestIdleHands:
    def test_long_stretches_are_told(self) -> None:
        """One of four works for 20 minutes, then all four for 5: three wait for twenty."""
        clock = timed(
            work_of(
                recipe_of("class time: 20 min\nhands: 1", "class time: 5 min\nhands: 4"),
                tables=(4,),
            )
        )
        assert [(each.table, each.hands, each.start, each.end) for each in clock.idle] == [
            (1, 3, 0, 1200)
        ]

    def test_short_ones_are_not(self) -> None:
        """Nine minutes pass in talk; from ten on it is told."""
        nine, ten = (
            timed(work_of(recipe_of(f"class time: {minutes} min\nhands: 1"), tables=(4,))).idle
            for minutes in (9, 10)
        )
        assert nine == () and len(ten) == 1


class TestAdvice:
    BURNER = recipe_of("class time: 14 min\nhands: 2\nneeds: burner, pot")

    def test_one_more_and_one_for_all_save_what_they_save(self) -> None:
        """Two tables at one burner for 14 minutes each: either change saves 14."""
        work = work_of(self.BURNER)
        assert set(advice_of(work, timed(work)).savings) == {
            Saving("burner", 14),
            Saving("burner", 14, "dish", (1,)),
        }

    def test_no_one_pot_where_a_table_cooks_another_version(self) -> None:
        """A swap for somebody's need stays in its own pot."""
        recipe = recipe_of(
            "class time: 14 min\nhands: 2\nneeds: burner, pot",
            header="swaps:\n  - instead of: rice\n    use: 1 cup millet\n    because: meat\n",
        )
        assert any("meat" in {term.text for term in need.avoid} for need in CLASSROOM.setting.needs)
        work = work_of(recipe, needs=CLASSROOM.setting.needs)
        assert advice_of(work, timed(work)).savings == (Saving("burner", 14),)

    def test_nothing_is_promised_that_does_not_help(self) -> None:
        """Where the longest chain is the limit, one more of anything saves nothing."""
        work = work_of(recipe_of("class time: 14 min\nhands: 1\nneeds: knife"))
        assert advice_of(work, timed(work)).savings == ()

    def test_a_minute_is_not_worth_saying(self) -> None:
        """Two are."""
        for minutes in (1, WORTH_SAYING):
            work = work_of(recipe_of(f"class time: {minutes} min\nhands: 2\nneeds: burner, pot"))
            savings = advice_of(work, timed(work)).savings
            assert {each.minutes for each in savings} == ({minutes} if minutes > 1 else set())

    @pytest.mark.parametrize(("helpers", "minutes"), [(3, 10), (2, 20), (1, 20), (0, None)])
    def test_a_helper_who_does_not_come(self, helpers: int, minutes: int | None) -> None:
        """An adult stays ten minutes at each of two tables: one who goes round, or the lead cook
        alone, needs twenty; with one more than tables each table keeps its own."""
        recipe = recipe_of("class time: 10 min\nhands: 1\nadult: stays\nneeds: knife")
        seconds = without_a_helper(work_of(recipe, helpers=helpers))
        assert seconds == (None if minutes is None else minutes * 60)

    def test_a_further_helper_helps_where_adults_are_short(self) -> None:
        """One goes round two tables, ten minutes each; what is cooked stays the same."""
        work = work_of(
            recipe_of("class time: 10 min\nhands: 1\nadult: stays"), helpers=1, helpers_eat=True
        )
        assert advice_of(work, timed(work)).savings == (Saving("helper", 10),)

    def test_an_adult_takes_over_what_saves_most(self) -> None:
        """Cutting saves 5 of 10 minutes, mixing 2 of 4; serving is left to the children."""
        work = work_of(
            recipe_of(
                "time: 2 min\nhands: 1",
                "time: 5 min\nhands: 1\nskills: dice",
                "time: 6 min\nhands: 4",
            )
        )
        relief = advice_of(work, timed(work)).relief
        assert [(each.step, each.minutes) for each in relief] == [(2, 5), (1, 2)]

    def test_enough_relief_is_enough(self) -> None:
        """When ten minutes are made up nothing more is taken from the children."""
        work = work_of(
            recipe_of("time: 10 min\nhands: 1", "time: 5 min\nhands: 1", "time: 6 min\nhands: 4")
        )
        relief = advice_of(work, timed(work)).relief
        assert [(each.step, each.minutes) for each in relief] == [(1, 10)]


# Kofta are shaped on the pan that they are baked on: with two pans three tables take turns.
PANS = {"baking pan": 3}


def demo_works() -> Iterator[ClassWork]:
    for session in CLASSROOM.sessions:
        setting = session.setting
        yield ClassWork(
            [
                Dish(DEMO.recipes[dish.text], uses_of(DEMO.recipes[dish.text], DEMO.pantry))
                for dish in session.dishes
            ],
            replace(setting, equipment={**setting.equipment, **PANS}),
            DEMO.skills,
            DEMO.pantry,
        )


@pytest.mark.parametrize("work", list(demo_works()), ids=lambda work: work.dishes[0].recipe.key)
class TestDemoSessions:
    def test_it_fits(self, work: ClassWork) -> None:
        """All of it in the 55 minutes between the talk and the meal."""
        clock = timed(work)
        assert clock.cooking == 55
        assert clock.fits, (clock.over, clock.tasks.shortages, clock.crowded)

    def test_nothing_is_in_two_places(self, work: ClassWork) -> None:
        """At no moment more children, adults or equipment than there are, and order is kept."""
        clock = timed(work)
        ends = {each.task.activity.id: each.end for each in clock.placed}
        moments = {
            each.start + hold.begin for each in clock.placed for hold in each.task.activity.holds
        }
        for each in clock.placed:
            assert all(ends[id] <= each.start for id in each.task.activity.after)
            assert each.start <= each.latest
        for moment in moments:
            for resource, capacity in clock.tasks.capacities.items():
                assert sum(held(each, resource, moment) for each in clock.placed) <= capacity

    def test_advice_changes_nothing_else(self, work: ClassWork) -> None:
        """What would help is stated in minutes that the session really has."""
        clock = timed(work)
        advice = advice_of(work, clock)
        assert all(2 <= each.minutes * 60 <= clock.makespan for each in advice.savings)
        assert sum(each.minutes for each in advice.relief) * 60 <= clock.makespan


def held(placed: Placed, resource: str, moment: int) -> int:
    return sum(
        hold.amount
        for hold in placed.task.activity.holds
        if hold.resource == resource
        and placed.start + hold.begin <= moment < placed.start + hold.end
    )


@pytest.mark.parametrize("work", list(demo_works()), ids=lambda work: work.dishes[0].recipe.key)
def test_no_table_begins_after_all_must_have_begun(work: ClassWork) -> None:
    """Where tables take turns, the rounded time isn't before the last one's turn."""
    clock = timed(work)
    for anchor in clock.anchors:
        turns = [
            each.start
            for each in clock.placed
            if (each.task.dish, each.task.step.number) == (anchor.dish, anchor.step)
        ]
        if max(turns) - min(turns) >= 5 * 60:
            latest = datetime.timedelta(hours=anchor.latest.hour, minutes=anchor.latest.minute)
            begins = datetime.timedelta(hours=10, minutes=20)
            assert latest >= begins + datetime.timedelta(minutes=max(turns) // 60)
