"""Skills over the season, boards, closeness, the times of steps and the label of a box."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction as F
from pathlib import Path

import pytest

from demo_class import demo_facts, demo_folder
from spoonfold.check import examine
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.plan.safety.cold import chill_by, limit, sums, times_out
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.hazards import adult_due
from spoonfold.plan.safety.tools import Board, boards_of
from spoonfold.sheets.home_labels import home_label
from spoonfold.teach.skills import SkillUse, coaching_of, skill_uses, too_early
from tiny_class import CLASS, write_class

DEMO = demo_folder()
FLOWS: Mapping[str, Flow] = demo_facts().flows
assert DEMO.classroom is not None
SETTING: Setting = DEMO.classroom.setting
SEASON = [(each.number, [dish.text for dish in each.dishes]) for each in DEMO.classroom.sessions]
USES = tuple(skill_uses(SEASON, DEMO.recipes))


class TestSkills:
    def test_the_first_session_has_the_whole_coaching_and_later_ones_the_reminder(self) -> None:
        """Every skill of the demo: all of it in its first session, one line afterwards."""
        first: dict[str, int] = {}
        for note in coaching_of(USES, DEMO.skills):
            skill = DEMO.skills[note.use.skill.text]
            start = first.setdefault(skill.name, note.use.session)
            assert note.first_time is (note.use.session == start)
            assert note.text == (skill.how if note.first_time else skill.short or skill.how)
            assert note.caution == skill.caution
        assert {note.first_time for note in coaching_of(USES, DEMO.skills)} == {True, False}

    def test_what_an_adult_does_beforehand_teaches_nobody(self) -> None:
        """Steps before class are no use of a skill."""
        for use in USES:
            assert DEMO.recipes[use.recipe].steps[use.step - 1].when is None

    def test_the_demo_teaches_in_order(self) -> None:
        """No hint is due."""
        assert list(too_early(USES, DEMO.skills)) == []

    def test_a_season_turned_round_comes_too_early(self) -> None:
        """The last session first: each pair once, with the session that brings it."""
        turned = [(n, dishes) for n, (_, dishes) in enumerate(reversed(SEASON), 1)]
        found = list(too_early(tuple(skill_uses(turned, DEMO.recipes)), DEMO.skills))
        pairs = [(each.use.skill.text, each.first) for each in found]
        assert pairs and len(pairs) == len(set(pairs))
        assert all(each.learnt_in > each.use.session for each in found)

    def test_a_skill_of_no_session_is_no_hint(self) -> None:
        """Washing hands may be shown on arrival, and listed in no step."""
        grate = next(use for use in USES if use.skill.text == "grate")
        alone = (replace(grate, session=1),)
        assert isinstance(alone[0], SkillUse)
        assert list(too_early(alone, DEMO.skills)) == []


class TestBoards:
    def test_a_dish_with_raw_meat_has_two_boards(self) -> None:
        """The turkey is shaped on the raw one; all vegetables have the ready one."""
        boards = boards_of(FLOWS["turkey-kofta"])
        assert boards[8] is Board.RAW
        assert {board for step, board in boards.items() if step != 8} == {Board.READY}

    def test_a_dish_without_has_no_need_of_two(self) -> None:
        """One kind of board is enough."""
        assert boards_of(FLOWS["red-lentil-soup"]) == {}


class TestAdults:
    @pytest.mark.parametrize(
        ("recipe", "step", "job"),
        [
            ("red-lentil-soup", 6, "stays at the burner"),
            ("cabbage-pancakes", 7, "stays at the griddle"),
            ("turkey-kofta", 9, "opens the oven"),
            ("red-lentil-soup", 2, ""),
            ("red-lentil-soup", 1, ""),
        ],
    )
    def test_within_reach_at_heat(self, recipe: str, step: int, job: str) -> None:
        """At heat always, at a blade not from eight on, beforehand never."""
        assert adult_due(DEMO.recipes[recipe].steps[step - 1], 9) == job

    def test_blades_below_eight(self) -> None:
        """With sevens an adult sits beside the board; with eights the helper is at the table."""
        step = DEMO.recipes["red-lentil-soup"].steps[1]
        assert adult_due(step, 7) == "sits beside the cutting board"
        assert adult_due(step, 8) == ""


class TestTimes:
    def test_steps_add_up_along_after(self) -> None:
        """Soup: 20 minutes of arriving and talk; the onion's 5 minutes at pace 2; then 10."""
        times = sums(FLOWS["red-lentil-soup"], SETTING)
        assert times[2] == (20, 30)
        assert times[6] == (30, 40)
        assert 1 not in times, "done before class"

    def test_another_clock_fits_in(self) -> None:
        """The same question by a clock's times: the turkey waits until minute 80."""
        flow = FLOWS["turkey-kofta"]
        times = {n: (F(80), F(95)) for n in sums(flow, SETTING)}
        turkey = next(
            each for each in times_out(flow, SETTING, times) if each.name == "ground turkey"
        )
        assert (turkey.since, turkey.until, turkey.heated) == (-30, 95, True)
        assert turkey.minutes == 125 > limit(SETTING)

    def test_a_hot_day_halves_it(self) -> None:
        """One hour above 90 °F."""
        assert (limit(SETTING), limit(replace(SETTING, hot_days=True))) == (120, 60)

    def test_every_demo_session_is_in_time(self) -> None:
        """What perishes is hot or eaten within two hours of the refrigerator at home."""
        seen = 0
        for flow in FLOWS.values():
            for out in times_out(flow, SETTING, sums(flow, SETTING)):
                assert 0 <= out.minutes <= 120, (flow.recipe.key, out)
                seen += 1
        assert seen >= 8

    def test_rice_in_the_cooler_starts_its_time_at_the_pan(self) -> None:
        """It came among ice, so the way from home doesn't count."""
        flow = FLOWS["egg-fried-rice"]
        rice = next(
            each
            for each in times_out(flow, SETTING, sums(flow, SETTING))
            if each.name == "long-grain rice"
        )
        assert rice.since > 0


class TestHomeLabels:
    def test_a_cooked_dish_counts_from_its_heat(self) -> None:
        """Two hours after the turkey is done, or after the yogurt left home: the earlier."""
        flow = FLOWS["turkey-kofta"]
        times = sums(flow, SETTING)
        yogurt = next(
            each for each in times_out(flow, SETTING, times) if each.name == "plain yogurt"
        )
        assert chill_by(flow, SETTING, times) == yogurt.since + 120
        label = home_label(flow, SETTING, times, Texts("en"))
        assert label.chill_by == datetime.time(11, 30)
        assert label.dish == DEMO.recipes["turkey-kofta"].title
        assert "milk" in {each.allergen for each in label.labels.contains}

    def test_a_soup_counts_from_the_end_of_its_heat(self) -> None:
        """Nothing in it was out of the cold before."""
        flow = FLOWS["red-lentil-soup"]
        times = sums(flow, SETTING)
        assert chill_by(flow, SETTING, times) == times[8][1] + 120

    def test_what_needs_no_cold_has_no_time(self, tmp_path: Path) -> None:
        """Bread and jam may wait."""
        recipe = (
            "---\ntitle: Bread\nplace: Lima, Peru\ncountry: PE\nserves: 4\ningredients:\n"
            "  - 4 slices white bread\n  - 2 tbsp jam\n---\n\nBread.\n\n## Steps\n\n"
            "1. Spread the jam on the bread.\n    - time: 2 min\n"
        )
        folder = write_class(
            tmp_path,
            {
                "recipes/rice.md": None,
                "recipes/bread.md": recipe,
                "class.yaml": CLASS.replace("[rice]", "[bread]"),
            },
        )
        facts = examine(folder).facts
        assert facts.folder.classroom is not None
        setting = facts.folder.classroom.setting
        flow = facts.flows["bread"]
        assert home_label(flow, setting, sums(flow, setting), Texts("en")).chill_by is None


class TestAccepting:
    RECIPE = (
        "---\ntitle: Bread\nplace: Lima, Peru\ncountry: PE\nserves: 4\n"
        "accept:\n  - {{warning: {code}, because: the loaf knows}}\n"
        "ingredients:\n  - 4 slices white bread\n---\n\nBread.\n\n## Steps\n\n"
        "1. Count the bread.\n"
    )

    def test_a_warning_is_kept_with_its_reason(self, tmp_path: Path) -> None:
        """It is told no more, and stays a value to print."""
        folder = write_class(
            tmp_path,
            {
                "recipes/rice.md": None,
                "recipes/bread.md": self.RECIPE.format(code="no-time"),
                "class.yaml": CLASS.replace("[rice]", "[bread]"),
            },
        )
        examined = examine(folder)
        assert examined.problems == ()
        (accepted,) = examined.accepted
        assert accepted.because == "the loaf knows"
        assert (accepted.problem.code, accepted.problem.place.line) == ("no-time", 16)

    def test_another_file_is_not_spoken_for(self, tmp_path: Path) -> None:
        """A recipe accepts its own warnings, not its neighbour's."""
        other = self.RECIPE.format(code="no-time").replace("title: Bread", "title: Toast")
        plain = other.replace("accept:\n  - {warning: no-time, because: the loaf knows}\n", "")
        folder = write_class(
            tmp_path,
            {
                "recipes/rice.md": None,
                "recipes/bread.md": self.RECIPE.format(code="no-time"),
                "recipes/toast.md": plain,
                "class.yaml": CLASS.replace("[rice]", "[bread]"),
            },
        )
        assert [(each.code, each.place.path) for each in examine(folder).problems] == [
            ("no-time", "content/recipes/toast.md")
        ]
