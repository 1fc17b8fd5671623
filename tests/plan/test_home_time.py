"""Time at home is told truly: hands, waiting, and what is begun the day before."""

from __future__ import annotations

from fractions import Fraction as F

import pytest
from clock_classes import DEMO, recipe_of, timed, work_of

from spoonfold.language.texts import Texts
from spoonfold.plan.clock.at_home import home_time
from spoonfold.sheets.shared.recipe import time_texts
from spoonfold.sheets.site.pages import recipe_data


def test_soaking_is_no_part_of_the_evening_and_of_all_of_it() -> None:
    """By hand, of the stew: 3 min and 8 h, then 5 min and 70 min, are done the day before; the
    whole is those 558 minutes and what the day itself takes."""
    time = home_time(DEMO.recipes["chickpea-stew"], F(4))
    assert time.before == 3 + 8 * 60 + 5 + 70 and time.starts_before
    assert time.whole == time.before + time.hands + time.waiting
    said = time_texts(time, Texts("en"))
    assert said[-1] == "start the day before" and len(said) == 3
    assert said[0].endswith("hands-on") and said[1].endswith("waiting")


def test_a_long_wait_that_nobody_called_the_day_before_is_told() -> None:
    """Dough that rests for eight hours is begun the day before, whatever its step says."""
    time = home_time(recipe_of("time: 5 min\nwait: 8 h aside"), F(4))
    assert (time.hands, time.waiting, time.before) == (5, 480, 0)
    assert time.starts_before


@pytest.mark.parametrize(("people", "hands", "waiting"), [(4, 6, 9), (5, 8, 12), (8, 10, 15)])
def test_a_skillets_loads_count(people: int, hands: int, waiting: int) -> None:
    """What holds two portions goes through it three times for five people: 4, 5 and 8 people
    are 2, 3 and 4 loads of 2 minutes and 3 of frying, after 2 of mixing that has no loads."""
    recipe = recipe_of("time: 2 min\nwait: 3 min", "time: 2 min\nwait: 3 min\nholds: 2 portions")
    time = home_time(recipe, F(people))
    assert (time.hands, time.waiting) == (hands, waiting)


def test_the_linked_data_has_all_of_it() -> None:
    """ISO 8601 durations: the whole, and the hands' part."""
    recipe = DEMO.recipes["chickpea-stew"]
    data = recipe_data(recipe, DEMO.pantry, Texts("en"), "A stew.", ("Morocco",))
    time = home_time(recipe, recipe.serves)
    assert data["totalTime"] == f"PT{int(time.whole)}M"
    assert data["performTime"] == f"PT{int(time.hands)}M"


class TestMissing:
    COOK = "time: 2 min\nwait: 10 min\nadult: stays\nneeds: {}, pot"

    def equipment(self, **counts: int) -> dict[str, int]:
        return {"pot": 4, "sink": 1, **counts}

    @pytest.mark.parametrize("named", ["burner", "oven"])
    def test_taking_it_away_gains_nothing(self, named: str) -> None:
        """Two tables at one burner, or oven, take turns; without any, or where nobody lists it,
        that is no shorter, and doesn't fit."""
        recipe = recipe_of(self.COOK.format(named))
        has = timed(work_of(recipe, equipment=self.equipment(**{named: 1})))
        none = timed(work_of(recipe, equipment=self.equipment(**{named: 0})))
        unlisted = timed(work_of(recipe, equipment=self.equipment()))
        assert has.fits and has.makespan > 20 * 60
        for clock in (none, unlisted):
            assert clock.makespan >= has.makespan and not clock.fits
            assert [each.has for each in clock.tasks.shortages] == [0]

    def test_a_pot_that_nobody_lists_is_one_pot(self) -> None:
        """Two tables cook in it one after the other."""
        recipe = recipe_of(self.COOK.format("burner"))
        few = {"burner": 2, "sink": 1}
        one = timed(work_of(recipe, equipment={**few, "pot": 1}))
        assert timed(work_of(recipe, equipment=few)).makespan >= one.makespan

    def test_a_spoon_that_nobody_lists_keeps_nobody_waiting(self) -> None:
        """What isn't cooked on or in doesn't put tables in a queue."""
        listed = timed(work_of(recipe_of("time: 5 min\nneeds: wooden spoon")))
        assert listed.makespan == 10 * 60 and listed.fits
