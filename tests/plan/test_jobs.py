"""Jobs go round: the bound on every kind, whatever the season; fair days; the right hands."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from demo_class import demo_folder
from in_full import sampled
from spoonfold.model.classroom import HOME_MEASURING, LETTER, Classroom, Session, Setting
from spoonfold.model.recipe import Need, Recipe, Step, Term
from spoonfold.plan.people.jobs import (
    Kind,
    SeasonJobs,
    jobs_of,
    kind_of,
    posts_of,
    seat_letter,
    seats_at_tables,
)
from spoonfold.problem import Place

HERE = Place("content/recipes/dish.md")
TOOLS = ("knife", "grater", "mixing bowl", "burner")


def step(number: int, tool: str = "mixing bowl", **notes: Any) -> Step:
    return Step(number=number, text=(), place=HERE, needs=(Need(tool, 1, HERE),), **notes)


def recipe(key: str, steps: tuple[Step, ...]) -> Recipe:
    return Recipe(
        key=key,
        title=key,
        origin="",
        countries=(),
        serves=Fraction(4),
        portion=None,
        ingredients=(),
        swaps=(),
        words=(),
        oven=None,
        pan=None,
        headnote=(),
        steps=steps,
        sections={},
        place=HERE,
    )


def setting(tables: tuple[int, ...]) -> Setting:
    return Setting(
        starts=datetime.time(10),
        minutes=100,
        fixed={},
        ages=(9, 12),
        pace=Fraction(2),
        tables=tables,
        helpers=len(tables),
        helpers_eat=False,
        portion=Fraction(1),
        measuring=HOME_MEASURING,
        equipment={},
        watts={},
        budget=None,
        needs=(),
    )


def classroom(usual: tuple[int, ...], days: list[tuple[tuple[int, ...], str]]) -> Classroom:
    """A class of so many children at tables, and each day's tables and dish."""
    first = datetime.date(2027, 9, 18)
    return Classroom(
        name="",
        location="",
        site=None,
        first_day=first,
        households=(4,),
        languages=("en",),
        paper=LETTER,
        setting=setting(usual),
        place=HERE,
        sessions=tuple(
            Session(
                number,
                first + datetime.timedelta(days=7 * number),
                (Term(dish, HERE),),
                None,
                None,
                setting(tables),
                HERE,
            )
            for number, (tables, dish) in enumerate(days, 1)
        ),
    )


@st.composite
def dishes(draw: st.DrawFn, key: str) -> Recipe:
    steps = []
    for number in range(1, draw(st.integers(1, 8)) + 1):
        steps.append(
            step(
                number,
                draw(st.sampled_from(TOOLS)),
                hands=draw(st.integers(0, 5)),
                for_class=draw(st.booleans()),
                watch=(Term("raw egg", HERE),) if draw(st.booleans()) else (),
                after=tuple(draw(st.sets(st.integers(1, number - 1), max_size=2)))
                if number > 1
                else (),
            )
        )
    return recipe(key, tuple(steps))


@st.composite
def seasons(draw: st.DrawFn, changing: bool) -> tuple[Classroom, Mapping[str, Recipe]]:
    made = {key: draw(dishes(key)) for key in ("one", "two", "three")}
    tables = st.lists(st.integers(1, 6), min_size=1, max_size=4).map(tuple)
    usual = draw(tables)
    days = [
        (
            draw(tables) if changing and draw(st.booleans()) else usual,
            draw(st.sampled_from(sorted(made))),
        )
        for _ in range(draw(st.integers(1, 8)))
    ]
    return classroom(usual, days), made


def spread(counts: Mapping[int, int], seats: set[int]) -> int:
    had = [counts.get(seat, 0) for seat in seats]
    return max(had) - min(had)


class TestEvenness:
    @settings(max_examples=sampled(30, 150), deadline=None)
    @given(seasons(changing=False))
    def test_no_kind_differs_by_more_than_one_at_a_table(
        self, season: tuple[Classroom, Mapping[str, Recipe]]
    ) -> None:
        """At tables that stay, whatever is cooked, each kind's counts differ by at most one."""
        room, recipes = season
        jobs = jobs_of(room, recipes)
        for seats in seats_at_tables(room.setting.tables, room.setting.tables):
            for kind in Kind:
                assert spread(jobs.counts[kind], set(seats)) <= 1, kind

    @settings(max_examples=sampled(20, 100), deadline=None)
    @given(seasons(changing=True))
    def test_who_always_sits_together_is_as_even(
        self, season: tuple[Classroom, Mapping[str, Recipe]]
    ) -> None:
        """Tables may change: seats that share one on every day still differ by at most one."""
        room, recipes = season
        jobs = jobs_of(room, recipes)
        at: dict[int, list[int]] = {}
        for day in jobs.sessions:
            for number, table in enumerate(day.tables):
                for each in table:
                    at.setdefault(each.seat, []).append(number)
        every_day = {
            seat: tuple(where) for seat, where in at.items() if len(where) == len(room.sessions)
        }
        for where in set(every_day.values()):
            together = {seat for seat, own in every_day.items() if own == where}
            for kind in Kind:
                assert spread(jobs.counts[kind], together) <= 1, kind

    def test_the_whole_demo_class_is_even(self) -> None:
        """In the demo every kind is as even over all twelve seats as arithmetic allows."""
        folder = demo_folder()
        assert folder.classroom is not None
        jobs = jobs_of(folder.classroom, folder.recipes)
        seats = set(range(12))
        for kind in Kind:
            assert sum(jobs.counts[kind].values()) > 0
            assert spread(jobs.counts[kind], seats) <= 1, kind

    def test_the_bound_can_be_broken(self) -> None:
        """Jobs that always go to the first seats break the bound, so the bound says something."""
        lazy: Counter[int] = Counter({0: 8, 1: 8})
        assert spread(lazy, {0, 1, 2, 3}) > 1


class TestADay:
    @settings(max_examples=sampled(30, 150), deadline=None)
    @given(seasons(changing=True))
    def test_every_post_is_filled_by_different_children(
        self, season: tuple[Classroom, Mapping[str, Recipe]]
    ) -> None:
        """Each job has as many holders as it asks for, all of the right table, none twice."""
        room, recipes = season
        jobs = jobs_of(room, recipes)
        for session, day in zip(room.sessions, jobs.sessions, strict=True):
            assert [len(table) for table in day.tables] == list(session.setting.tables)
            cooked = [recipes[dish.text] for dish in session.dishes]
            for post in posts_of(cooked, session.setting.tables):
                tables = day.tables if post.table is None else (day.tables[post.table - 1],)
                holders = [each.seat for table in tables for each in table if post.job in each.jobs]
                assert len(holders) == len(set(holders)) == post.hands

    @settings(max_examples=sampled(20, 60), deadline=None)
    @given(seasons(changing=True))
    def test_counts_are_what_the_days_say(
        self, season: tuple[Classroom, Mapping[str, Recipe]]
    ) -> None:
        """The season's counts are the sum of its days, and the same season gives the same jobs."""
        room, recipes = season
        jobs = jobs_of(room, recipes)
        summed: dict[Kind, Counter[int]] = {kind: Counter() for kind in Kind}
        for day in jobs.sessions:
            for table in day.tables:
                for each in table:
                    for job in each.jobs:
                        summed[job.kind][each.seat] += 1
        assert {kind: +Counter(counts) for kind, counts in jobs.counts.items()} == summed
        assert jobs_of(room, recipes) == jobs

    def test_steps_that_may_run_together_go_to_different_children(self) -> None:
        """Four steps that wait for nothing and four children: one each."""
        dish = recipe("dish", tuple(step(n, "knife", hands=1, after=()) for n in range(1, 5)))
        jobs = jobs_of(classroom((4,), [((4,), "dish")]), {"dish": dish})
        (table,) = jobs.sessions[0].tables
        assert all(sum(bool(job.steps) for job in each.jobs) == 1 for each in table)

    def test_a_day_is_made_fairer_until_it_is_fair(self) -> None:
        """One step and what follows it beside a third, and two children: after one look at every
        job one of them has four of the six, after the next each has three."""
        dish = recipe(
            "dish",
            (step(1, "knife", hands=1), step(2, hands=1, after=(1,)), step(3, hands=1, after=())),
        )
        jobs = jobs_of(classroom((2,), [((2,), "dish")]), {"dish": dish})
        (table,) = jobs.sessions[0].tables
        assert [len(each.jobs) for each in table] == [3, 3]

    def test_who_watches_has_clean_hands(self) -> None:
        """The raw-to-ready watch goes to a child whose hands meet nothing raw that day."""
        raw = step(1, hands=2, watch=(Term("raw poultry", HERE),))
        dish = recipe("dish", (raw, replace(raw, number=2, after=(1,)), step(3, hands=2)))
        jobs = jobs_of(classroom((4,), [((4,), "dish")] * 4), {"dish": dish})
        watched = 0
        for day in jobs.sessions:
            for each in day.tables[0]:
                if any(job.kind is Kind.WATCH for job in each.jobs):
                    watched += 1
                    assert not any(job.is_raw for job in each.jobs)
        assert watched == 4

    def test_raw_food_stays_in_the_same_hands(self) -> None:
        """Two steps with raw food in a row are one job; without raw food they are two."""
        raw = step(1, hands=2, watch=(Term("raw poultry", HERE),))
        run = recipe("dish", (raw, replace(raw, number=2, after=None)))
        plain = recipe("dish", (step(1, hands=2), step(2, hands=2)))
        assert [
            [s.number for s in post.job.steps] for post in posts_of([run], (4,)) if post.job.steps
        ] == [[1, 2]]
        assert [
            [s.number for s in post.job.steps] for post in posts_of([plain], (4,)) if post.job.steps
        ] == [[1], [2]]

    def test_what_adults_do_is_no_job(self) -> None:
        """Steps done beforehand, and an adult's step without hands, go to no child."""
        dish = recipe(
            "dish",
            (
                step(1, when="before class", hands=1),
                step(2, adult=(Term("drains the pot", HERE),)),
                step(3, for_class=True),
                step(4),
            ),
        )
        posts = [post for post in posts_of([dish], (4,)) if post.job.steps]
        assert [(post.job.steps[0].number, post.hands) for post in posts] == [(4, 1)]


class TestKinds:
    @pytest.mark.parametrize(
        ("tool", "skill", "kind"),
        [
            ("knife", "dice", Kind.KNIFE),
            ("bread knife", "", Kind.KNIFE),
            ("mixing bowl", "snip", Kind.KNIFE),
            ("can opener", "", Kind.GRATE),
            ("board", "peel", Kind.GRATE),
            ("burner", "whisk", Kind.HEAT),
            ("oven shelf", "", Kind.HEAT),
            ("skillet", "flip", Kind.HEAT),
            ("mixing bowl", "whisk", Kind.MIX),
        ],
    )
    def test_a_step_is_of_the_kind_that_takes_most_care(
        self, tool: str, skill: str, kind: Kind
    ) -> None:
        """By its equipment or its skills; heat before blades, blades before bowls."""
        skills = (Term(skill, HERE),) if skill else ()
        assert kind_of(step(1, tool, skills=skills)) is kind


class TestSeating:
    def test_who_can_stays(self) -> None:
        """One child too many at table 1: only the last of table 3 moves."""
        assert seats_at_tables((4, 4, 4), (5, 4, 3)) == ((0, 1, 2, 3, 11), (4, 5, 6, 7), (8, 9, 10))

    def test_a_guest_gets_a_new_letter(self) -> None:
        """More children than usual: the class's letters stay, and one is added."""
        assert seats_at_tables((2, 2), (2, 3)) == ((0, 1), (2, 3, 4))

    def test_a_table_less_moves_its_children(self) -> None:
        """Whoever finds no room moves to where there is some, in order."""
        assert seats_at_tables((2, 2), (4,)) == ((0, 1, 2, 3),)

    @given(
        st.lists(st.integers(1, 9), min_size=1, max_size=6),
        st.lists(st.integers(1, 9), min_size=1, max_size=6),
    )
    def test_every_seat_is_there_once(self, usual: list[int], today: list[int]) -> None:
        """Tables are as large as the day says, and nobody sits at two."""
        tables = seats_at_tables(usual, today)
        assert [len(seats) for seats in tables] == today
        seats = [seat for table in tables for seat in table]
        assert len(seats) == len(set(seats))

    def test_letters_go_on_after_z(self) -> None:
        """A to Z, then AA; no letter twice."""
        assert [seat_letter(n) for n in (0, 25, 26, 51, 52, 701, 702)] == [
            "A",
            "Z",
            "AA",
            "AZ",
            "BA",
            "ZZ",
            "AAA",
        ]
        assert len({seat_letter(n) for n in range(2000)}) == 2000


def test_a_season_without_sessions_has_no_jobs() -> None:
    """Nothing is cooked, so nobody has had anything."""
    empty = jobs_of(classroom((4,), []), {})
    assert empty == SeasonJobs((), {kind: Counter() for kind in Kind})
