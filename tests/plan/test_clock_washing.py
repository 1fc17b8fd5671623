"""Washing up while it cooks: it fills waits, moves no step, takes only what is finished with."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import pytest
from clock_classes import recipe_of, timed, work_of
from hypothesis import given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.plan.clock.clock import MORE_PASSES, ClassClock
from spoonfold.plan.clock.schedule import USUAL_PASSES
from spoonfold.plan.clock.steps import tasks_of
from spoonfold.plan.clock.tasks import equipment_of, tool
from spoonfold.plan.clock.times import ClassWork
from spoonfold.plan.clock.vessels import Placement, place
from spoonfold.plan.clock.washing import LONGEST, SHORTEST

SINK = "sink"
EQUIPMENT = {"burner": 2, "pot": 4, "knife": 8, "board": 8, "mixing bowl": 6, "whisk": 2, SINK: 1}
CUT = "class time: 10 min\nhands: 4\nneeds: knife x4, board x4"
SIMMER = "class time: 2 min\nwait: 30 min\nhands: 1\nneeds: burner, pot"


def washed(clock: ClassClock, table: int | None = None) -> Counter[str]:
    """Pieces washed, at one table or at all."""
    total: Counter[str] = Counter()
    for turn in clock.washing.turns:
        if table in (None, turn.table):
            total.update(dict(turn.things))
    return total


def one_table(*steps: str, **changes: Any) -> ClassClock:
    equipment = {**EQUIPMENT, **changes.pop("equipment", {})}
    return timed(work_of(recipe_of(*steps), tables=(4,), equipment=equipment, **changes))


class TestWhileItSimmers:
    def test_knives_and_boards_go_to_the_sink(self) -> None:
        """Eight pieces of a minute each: the knives at once, the boards once they are bare."""
        [turn] = one_table(CUT, SIMMER).washing.turns
        assert dict(turn.things) == {"knife": 4, "board": 4}
        assert (turn.start, turn.end) == (600, 1080)
        assert (turn.hands, turn.during) == (2, ("dish", 2))

    def test_hands_at_the_tap_are_not_cooking_by_themselves(self) -> None:
        """Somebody washes hands at one tap while two wash up at the other: nothing cooks then."""
        stir = "class time: 3 min\nhands: 1\nneeds: burner\nwash: hands"
        last = "class time: 10 min\nhands: 1"
        turn = one_table(CUT, stir, last, equipment={SINK: 2}).washing.turns[0]
        assert turn.start == 600 and turn.end > 780 + 20
        assert turn.during is None

    def test_food_waits_on_its_board(self) -> None:
        """Knives are free after cutting; boards when the pot takes what lies on them."""
        clock = one_table(
            CUT.replace("hands: 4", "hands: 2"),
            "class time: 20 min\nhands: 1\nafter: none\nneeds: burner",
            "class time: 2 min\nwait: 30 min\nhands: 1\nneeds: burner, pot\nafter: 1, 2",
        )
        first, second = clock.washing.turns
        assert dict(first.things) == {"knife": 4} and first.start == 600
        assert dict(second.things) == {"board": 4} and second.start == 1320

    def test_nobody_is_sent_for_what_is_in_use(self) -> None:
        """Two whisks, of which one is used for all until ten: a turn that begins before
        washes no more than the other."""
        bare = "class time: 1 min\nhands: 1\nwash: hands\nafter: none"
        clock = timed(
            work_of(
                recipe_of(
                    f"{bare}\nwait: 1 min\nneeds: whisk, knife x2",
                    "class time: 10 min\nhands: 1\nneeds: knife x2, whisk\nfor: class\nafter: none",
                    "class time: 4 min\nhands: 1\nwash: hands\nafter: 1, 2",
                    bare,
                    bare,
                    bare,
                ),
                tables=(1, 3),
                equipment=EQUIPMENT,
            )
        )
        first, second = (turn for turn in clock.washing.turns if turn.table == 2)
        assert first.start < 600 <= second.start == first.end
        assert dict(first.things) == {"knife": 2, "whisk": 1}
        assert dict(second.things)["whisk"] == 1

    def test_who_washes_up_is_not_idle(self) -> None:
        """Thirty minutes of waiting for all four are cut at the sink."""
        clock = one_table(CUT, SIMMER)
        assert [
            (each.hands, each.start // 60, each.end // 60) for each in clock.idle if each.hands == 4
        ] == [(4, 18, 42)]

    def test_pairs_take_turns(self) -> None:
        """Two tables at one tap: one after the other, nobody longer than ten minutes."""
        clock = timed(work_of(recipe_of(CUT, SIMMER), equipment=EQUIPMENT))
        assert washed(clock, 1) == washed(clock, 2) == {"knife": 4, "board": 4}
        turns = clock.washing.turns
        assert all(one.end <= other.start for one, other in pairwise(turns))
        assert all(turn.end - turn.start <= LONGEST for turn in turns)

    def test_children_wash_at_their_pace(self) -> None:
        """A class as quick as a practised cook takes half as long for each piece."""
        [turn] = one_table(CUT, SIMMER, pace=1).washing.turns
        assert turn.end - turn.start == 8 * 30


class TestWhatIsLeft:
    def test_what_is_eaten_from_or_needed_to_the_end(self) -> None:
        """The last step's things find no time."""
        clock = one_table(CUT, SIMMER, "class time: 5 min\nhands: 1\nneeds: whisk, mixing bowl")
        assert dict(clock.washing.left) == {"whisk": 1, "mixing bowl": 1}
        assert clock.washing.left_seconds == 120

    def test_without_a_sink_all_of_it(self) -> None:
        """Nobody is sent where there is no tap."""
        clock = timed(
            work_of(
                recipe_of(CUT, SIMMER),
                tables=(4,),
                equipment={name: count for name, count in EQUIPMENT.items() if name != SINK},
            )
        )
        assert clock.washing.turns == ()
        assert dict(clock.washing.left) == {"knife": 4, "board": 4}

    def test_nobody_goes_for_a_minute(self) -> None:
        """Two pieces aren't worth drying one's hands."""
        clock = one_table("class time: 10 min\nhands: 2\nneeds: knife x2", SIMMER)
        assert clock.washing.turns == () and dict(clock.washing.left) == {"knife": 2}

    def test_what_the_step_washes_is_not_counted_again(self) -> None:
        """A bowl that raw food was in is washed at once."""
        clock = one_table(
            "class time: 10 min\nhands: 2\nneeds: knife x2, mixing bowl x3\nwash: bowl", SIMMER
        )
        assert dict(clock.washing.left) == {"knife": 2}

    def test_what_goes_round_is_nobodys_until_the_end(self) -> None:
        """One whisk for two tables isn't washed while the other table still needs it."""
        clock = timed(
            work_of(
                recipe_of(CUT, "class time: 5 min\nhands: 1\nneeds: whisk", SIMMER),
                equipment={**EQUIPMENT, "whisk": 1},
            )
        )
        last = max(one.end for one in clock.placed if one.task.step.number == 2)
        assert all(
            turn.start >= last for turn in clock.washing.turns if "whisk" in dict(turn.things)
        )
        assert washed(clock)["whisk"] + dict(clock.washing.left).get("whisk", 0) == 1


@st.composite
def classes(draw: st.DrawFn) -> ClassWork:
    """One to three tables that cook a dish of three to six steps."""
    steps = []
    for number in range(1, draw(st.integers(3, 6)) + 1):
        notes = [f"class time: {draw(st.integers(1, 12))} min", f"hands: {draw(st.integers(1, 4))}"]
        if draw(st.booleans()):
            notes.append(f"wait: {draw(st.integers(1, 25))} min")
        needs = draw(
            st.lists(
                st.sampled_from(
                    ["knife", "knife x2", "board", "mixing bowl", "whisk", "burner, pot", SINK]
                ),
                unique_by=lambda name: name.split()[0],
                max_size=3,
            )
        )
        if needs:
            notes.append("needs: " + ", ".join(needs))
        if draw(st.booleans()):
            notes.append("for: class")
        if draw(st.integers(0, 4)) == 0:
            notes.append("wash: hands")
        after = draw(st.lists(st.integers(1, number - 1), unique=True)) if number > 1 else []
        notes.append("after: " + (", ".join(map(str, sorted(after))) or "none"))
        steps.append("\n".join(notes))
    tables = tuple(draw(st.lists(st.integers(1, 5), min_size=1, max_size=3)))
    return work_of(
        recipe_of(*steps), tables=tables, equipment={**EQUIPMENT, SINK: draw(st.integers(1, 2))}
    )


class TestItIsAFiller:
    @settings(max_examples=sampled(24, 120), deadline=None)
    @given(classes())
    def test_no_step_begins_later(self, work: ClassWork) -> None:
        """Every step starts when it does without any washing up."""
        placement, clock = place(tasks_of(work), USUAL_PASSES), timed(work)
        assert isinstance(placement, Placement)
        if placement.schedule.makespan > clock.cooking * 60:
            placement = place(tasks_of(work), MORE_PASSES)
            assert isinstance(placement, Placement)
        assert {one.task.activity.id: one.start for one in clock.placed} == dict(
            placement.schedule.starts
        )
        assert max((one.end for one in clock.placed), default=0) == clock.makespan

    @settings(max_examples=sampled(24, 120), deadline=None)
    @given(classes())
    def test_hands_and_taps_are_there(self, work: ClassWork) -> None:
        """No child is in two places, no tap has two pairs, and nobody washes after the end."""
        clock = timed(work)
        for table, children in enumerate(work.setting.tables, 1):
            assert (
                _most(
                    [
                        *(
                            (one.start, one.hands_free, one.task.hands[table])
                            for one in clock.placed
                            if table in one.task.hands
                        ),
                        *(
                            (turn.start, turn.end, turn.hands)
                            for turn in clock.washing.turns
                            if turn.table == table
                        ),
                    ]
                )
                <= children
            )
        assert (
            _most(
                [
                    *(
                        (one.start + hold.begin, one.start + hold.end, hold.amount)
                        for one in clock.placed
                        for hold in one.task.activity.holds
                        if hold.resource == tool(SINK)
                    ),
                    *((turn.start, turn.end, 1) for turn in clock.washing.turns),
                ]
            )
            <= work.setting.equipment[SINK]
        )
        for turn in clock.washing.turns:
            assert turn.start >= 0 and turn.end <= clock.makespan
            assert SHORTEST <= turn.end - turn.start <= LONGEST

    @settings(max_examples=sampled(24, 120), deadline=None)
    @given(classes())
    def test_nothing_is_taken_out_of_hands(self, work: ClassWork) -> None:
        """What is in use and what has gone to the sink are never more than there are."""
        clock = timed(work)
        total = washed(clock) + Counter(dict(clock.washing.left))
        for name, has in work.setting.equipment.items():
            used = [
                (one.start, one.end, equipment_of(one.task.step)[name])
                for one in clock.placed
                if equipment_of(one.task.step)[name]
            ]
            gone = [
                (turn.start, clock.makespan, dict(turn.things)[name])
                for turn in clock.washing.turns
                if name in dict(turn.things)
            ]
            assert total[name] <= has
            assert _most([*used, *gone]) <= max(has, _most(used))


def _most(spans: Sequence[tuple[int, int, int]]) -> int:
    return max(
        (sum(count for begin, end, count in spans if begin <= at < end) for at, _, _ in spans),
        default=0,
    )


@pytest.mark.parametrize("steps", [(CUT, SIMMER)])
def test_the_same_class_washes_the_same(steps: tuple[str, ...]) -> None:
    """Twice solved is once solved."""
    assert one_table(*steps).washing == one_table(*steps).washing
