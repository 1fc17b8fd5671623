"""What is packed: as many as are in use at once, no more than there are, from where it is kept;
and what is done beforehand, at the size of the class."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from demo_class import demo_folder
from in_full import sampled
from spoonfold.check import facts_of
from spoonfold.language.texts import Texts
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import plain
from spoonfold.plan.clock.step_order import steps_before
from spoonfold.plan.people.packing import Packing, most_at_once, packing_of
from spoonfold.plan.safety.apart import portions_apart
from spoonfold.read.folder import read_folder
from spoonfold.sheets.prep import Prep, prep_of
from spoonfold.sheets.shared.steps import says_amount
from tiny_class import CLASS, RICE, write_class

Key = tuple[str, int]

TWO_BOARDS = RICE.replace(
    "  - 2 cups water\n", "  - 2 cups water\n  - 1 carrot\n  - 1 onion\n"
).replace(
    "1. Boil the rice in the water with salt.",
    """\
1. Cut the carrot.
    - needs: knife, board
    - after: none
2. Cut the onion.
    - needs: knife, board
    - after: {after}
3. Boil the rice in the water with salt.""",
)


@pytest.fixture(scope="module")
def demo() -> ClassFolder:
    return demo_folder()


def packed(folder: ClassFolder, number: int) -> Packing:
    assert folder.classroom is not None
    session = folder.classroom.sessions[number - 1]
    recipes = [folder.recipes[dish.text] for dish in session.dishes]
    apart = portions_apart(recipes, facts_of(folder).uses, folder.pantry, session.setting)
    return packing_of(recipes, session.setting, apart)


def prepared(folder: ClassFolder, number: int) -> Prep:
    assert folder.classroom is not None
    session = folder.classroom.sessions[number - 1]
    return prep_of(folder, folder.classroom, session, facts_of(folder).uses, Texts("en"))


def small(tmp_path: Path, rice: str, *changes: tuple[str, str]) -> ClassFolder:
    text = CLASS
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    read = read_folder(write_class(tmp_path, {"class.yaml": text, "recipes/rice.md": rice}))
    assert not read.problems
    return read.folder


class TestAtOnce:
    @settings(max_examples=sampled(60, 300), deadline=None)
    @given(st.data())
    def test_the_most_at_once_is_that_of_every_set_tried(self, data: st.DataObject) -> None:
        """The flow gives what trying every set of steps gives."""
        count = data.draw(st.integers(1, 7))
        before: dict[Key, frozenset[Key]] = {}
        for number in range(1, count + 1):
            own: frozenset[Key] = frozenset()
            for other in range(1, number):
                if data.draw(st.booleans()):
                    own |= {("dish", other)} | before["dish", other]
            before["dish", number] = own
        weights = {key: data.draw(st.integers(0, 5)) for key in before}
        assert most_at_once(weights, before) == _tried(weights, before)

    def test_one_board_goes_from_step_to_step(self, tmp_path: Path) -> None:
        """Two steps one after the other share a board; side by side they need two."""
        after_each_other = small(tmp_path / "a", TWO_BOARDS.format(after="1"))
        side_by_side = small(tmp_path / "b", TWO_BOARDS.format(after="none"))
        assert _count(packed(after_each_other, 1), "board") == 1
        assert _count(packed(side_by_side, 1), "board") == 2

    def test_dishes_of_a_day_run_side_by_side(self, demo: ClassFolder) -> None:
        """No step of one dish waits for one of another."""
        recipes = [demo.recipes["tomato-rice"], demo.recipes["fruit-salad"]]
        before = steps_before(recipes)
        assert all(key[0] == other[0] for key, others in before.items() for other in others)

    def test_every_table_has_its_own(self, tmp_path: Path) -> None:
        """Two tables need twice as many, but never more than there are."""
        folder = small(
            tmp_path,
            TWO_BOARDS.format(after="none"),
            ("tables: [4]", "tables: [4, 4, 4]"),
            ("helpers: 1", "helpers: 3"),
        )
        assert _count(packed(folder, 1), "knife") == 4


def _tried(weights: Mapping[Key, int], before: Mapping[Key, frozenset[Key]]) -> int:
    best = 0
    for size in range(1, len(weights) + 1):
        for chosen in combinations(weights, size):
            if not any(one in before[other] for one in chosen for other in chosen):
                best = max(best, sum(weights[key] for key in chosen))
    return best


def _count(packing: Packing, name: str) -> int:
    return next(
        each.count for things in packing.by_keeper.values() for each in things if each.name == name
    )


class TestPacking:
    def test_every_thing_that_a_step_needs_is_packed(self, demo: ClassFolder) -> None:
        """Nothing that is needed in class is forgotten, and no list has a thing twice."""
        assert demo.classroom is not None
        for session in demo.classroom.sessions:
            packing = packed(demo, session.number)
            names = [each.name for things in packing.by_keeper.values() for each in things]
            assert len(names) == len(set(names))
            needed = {
                need.name
                for dish in session.dishes
                for step in demo.recipes[dish.text].steps
                if step.when != "day before"
                for need in step.needs
            }
            assert needed <= set(names)
            for things in packing.by_keeper.values():
                assert all(each.has is None or 0 < each.count <= each.has for each in things)

    def test_a_towel_for_every_board(self, demo: ClassFolder) -> None:
        """As many towels as boards, whether a step names them or not."""
        assert demo.classroom is not None
        for session in demo.classroom.sessions:
            packing = packed(demo, session.number)
            assert _count(packing, "clean towel") >= _count(packing, "board")

    def test_towels_that_are_on_no_list_are_asked_for(self, tmp_path: Path) -> None:
        """A class that lists no towels is told how many to bring."""
        assert packed(small(tmp_path, TWO_BOARDS.format(after="none")), 1).towels == 2

    def test_things_come_from_where_they_are_kept(self, tmp_path: Path) -> None:
        """`kept` parts the list; what it doesn't name is in the class's boxes."""
        folder = small(
            tmp_path,
            TWO_BOARDS.format(after="none"),
            ("households:", "kept: {site: [burner], helpers: [pot]}\nhouseholds:"),
        )
        packing = packed(folder, 1)
        where = {
            keeper: [each.name for each in things] for keeper, things in packing.by_keeper.items()
        }
        assert where == {"boxes": ["knife", "board"], "helpers": ["pot"], "site": ["burner"]}
        assert packing.is_parted

    def test_what_the_class_lists_comes_first(self, tmp_path: Path) -> None:
        """Then what a step needs and no list has."""
        folder = small(tmp_path, RICE)
        assert folder.classroom is not None
        setting = replace(folder.classroom.setting, equipment={"pot": 1})
        (things,) = packing_of([folder.recipes["rice"]], setting).by_keeper.values()
        assert [(each.name, each.has) for each in things] == [("pot", 1), ("burner", None)]

    def test_without_kept_there_is_one_list(self, tmp_path: Path) -> None:
        """Where nobody said where things are kept, they aren't guessed apart."""
        packing = packed(small(tmp_path, RICE), 1)
        assert list(packing.by_keeper) == ["boxes"] and not packing.is_parted

    def test_what_is_done_at_home_needs_no_packing_but_the_cooler(self, demo: ClassFolder) -> None:
        """The big pot of the day before stays at home; the cooler travels."""
        names = {each.name for things in packed(demo, 4).by_keeper.values() for each in things}
        assert "cooler" in names
        assert "big pot" not in names

    def test_blades_come_first(self, demo: ClassFolder) -> None:
        """Knives, graters and peelers are counted apart from everything else."""
        view = prepared(demo, 1).packing
        assert [row.name for row in view.sharp] == ["knife", "grater", "peeler"]
        assert all(
            row.name not in ("knife", "grater", "peeler")
            for each in view.lists
            for row in each.rows
        )


ONE_POT = """\
---
title: Plain rice
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 1 cup rice, rinsed
  - 2 cups water
  - 2 tbsp butter
  - salt, to taste
swaps:
  - {instead of: butter, use: 2 tbsp sunflower oil, because: milk}
---

Rice as it is eaten every day.

## Steps

1. Boil the rice in the water with salt.
    - time: 3 min
    - wait: 15 min
    - for: class
    - needs: burner, pot, colander
    - watch: boiling water, hot handle, steam
    - adult: stays at the burner
2. Stir in the butter.
    - time: 1 min
    - for: class
    - needs: burner, pot, wooden spoon, knife
    - watch: hot handle, sharp edge
    - adult: stays at the burner
3. Heap it up.
    - time: 1 min
    - for: class
    - needs: bowl
"""
_KITCHEN = "{burner: 1, pot: 1, knife: 4, board: 4}"
_FULL = "{burner: 2, pot: 4, wooden spoon: 4, colander: 2, knife: 4, board: 4, bowl: 4}"


class TestApart:
    """A swap for a food of the one pot for all has a pot of its own."""

    def counts(
        self, tmp_path: Path, needs: str, rice: str = ONE_POT, kitchen: str = _FULL
    ) -> dict[str, int]:
        text = CLASS.replace("tables: [4]", "tables: [4, 4, 4]").replace(_KITCHEN, kitchen)
        read = read_folder(
            write_class(tmp_path, {"class.yaml": text + needs, "recipes/rice.md": rice})
        )
        assert not read.problems
        return {
            each.name: each.count
            for things in packed(read.folder, 1).by_keeper.values()
            for each in things
        }

    def test_without_a_swap_there_is_one_pot(self, tmp_path: Path) -> None:
        """One of everything, for all three tables."""
        assert self.counts(tmp_path, "") == {
            "burner": 1,
            "pot": 1,
            "wooden spoon": 1,
            "colander": 1,
            "knife": 1,
            "bowl": 1,
        }

    def test_a_swap_brings_a_pot_and_a_spoon(self, tmp_path: Path) -> None:
        """From the step on that takes the butter: its pot, its spoon, and the bowl after that. It
        is made first, so the burner and the knife, once washed, do for both."""
        assert self.counts(tmp_path, "needs: [{table: 2, avoid: [milk]}]\n") == {
            "burner": 1,
            "pot": 2,
            "wooden spoon": 2,
            "colander": 1,
            "knife": 1,
            "bowl": 2,
        }

    @pytest.mark.parametrize(
        ("needs", "pots"),
        [
            ("{table: 1, avoid: [milk]}, {table: 2, avoid: [milk]}", 3),
            # Nobody eats of a pot with butter any more.
            ("{avoid: [milk]}", 1),
            ("{table: 1, avoid: [milk]}, {table: 2, avoid: [milk]}, {table: 3, avoid: [milk]}", 1),
            # Nothing moves between the tables, also where two of them avoid something else.
            ("{table: 1, avoid: [milk]}, {table: 2, avoid: [soy]}", 2),
        ],
    )
    def test_each_table_has_its_own(self, needs: str, pots: int, tmp_path: Path) -> None:
        """One for each table with the swap, and one for those without."""
        assert self.counts(tmp_path, f"needs: [{needs}]\n")["pot"] == pots

    def test_a_table_with_a_pot_of_its_own_needs_no_more(self, tmp_path: Path) -> None:
        """Three tables that cook by themselves have three pots, with a swap or without."""
        alone = ONE_POT.replace("    - for: class\n", "")
        milk = "needs: [{table: 2, avoid: [milk]}]\n"
        assert self.counts(tmp_path / "a", "", alone) == self.counts(tmp_path / "b", milk, alone)

    def test_a_small_pot_stands_in_for_the_large_one(self, tmp_path: Path) -> None:
        """A table's portion fits in a pot where the class has one big pot alone."""
        large = ONE_POT.replace("burner, pot", "burner, big pot")
        kitchen = _FULL.replace("pot: 4", "big pot: 1, pot: 3")
        counts = self.counts(tmp_path, "needs: [{table: 2, avoid: [milk]}]\n", large, kitchen)
        assert (counts["big pot"], counts["pot"]) == (1, 1)

    def test_no_more_than_there_are(self, tmp_path: Path) -> None:
        """A list can't ask for a second pot that nobody has."""
        kitchen = _FULL.replace("pot: 4", "pot: 1")
        counts = self.counts(tmp_path, "needs: [{table: 2, avoid: [milk]}]\n", kitchen=kitchen)
        assert counts["pot"] == 1

    def test_the_visitor_of_the_demo_has_a_pot(self, demo: ClassFolder) -> None:
        """Session 5: couscous in one pot for all, and rice at table 1 in another; both stand
        beside the big one."""
        rows = {
            row.name: row.count for each in prepared(demo, 5).packing.lists for row in each.rows
        }
        assert (rows["big pot"], rows["pot"]) == (1, 2)


class TestPrep:
    def test_every_step_beforehand_is_there_once(self, demo: ClassFolder) -> None:
        """What has a `when` is on the list of its day, and nothing else is."""
        assert demo.classroom is not None
        for session in demo.classroom.sessions:
            prep = prepared(demo, session.number)
            for found, when in ((prep.day_before, "day before"), (prep.on_site, "before class")):
                assert [(each.dish, each.number) for each in found] == [
                    (demo.recipes[dish.text].title, step.number)
                    for dish in session.dishes
                    for step in demo.recipes[dish.text].steps
                    if step.when == when
                ]

    def test_amounts_are_those_of_the_class(self, demo: ClassFolder) -> None:
        """Rice for fifteen: 1 1/3 cups for 4, times 15/4, is 5 cups."""
        rice = next(
            each for each in prepared(demo, 4).day_before[0].taken if each.name == "long-grain rice"
        )
        assert rice.amount.text == "5 cups"

    def test_no_step_says_the_amount_of_a_household(self, demo: ClassFolder) -> None:
        """“Put 5 cups of the water in” would be wrong for fifteen: the words say 18½ cups."""
        step = prepared(demo, 2).on_site[0]
        assert step.taken[0].amount.text == "18½ cups"
        words = plain(step.text)
        assert "Put 18½ cups water in the big pot" in words and "5 cups of" not in words

    @pytest.mark.parametrize(
        ("words", "says"),
        [
            ("5 cups of the water", True),
            ("the last cup of water", True),
            ("½ of it", True),
            ("half the oil", False),
            ("the water", False),
            ("the other half of the oil", False),
        ],
    )
    def test_words_that_hold_at_one_size_alone(self, words: str, says: bool) -> None:
        """A number or a unit ties words to one size; a share or a name doesn't."""
        assert says_amount(words) is says

    def test_cautions_and_heat_are_all_there(self, demo: ClassFolder) -> None:
        """Every caution and every adult's job of a step stands with it."""
        assert demo.classroom is not None
        for session in demo.classroom.sessions:
            prep = prepared(demo, session.number)
            steps = {
                (recipe.title, step.number): step
                for dish in session.dishes
                for recipe in [demo.recipes[dish.text]]
                for step in recipe.steps
            }
            for each in (*prep.day_before, *prep.on_site):
                step = steps[each.dish, each.number]
                assert len(each.cautions) == len(step.watch) + len(step.adult)

    def test_cooked_food_that_is_chilled_has_blanks_for_its_temperature(
        self, demo: ClassFolder
    ) -> None:
        """Rice that goes into the refrigerator is measured twice; soaking isn't."""
        assert [each.is_cooled for each in prepared(demo, 4).day_before] == [False, True]
        assert [each.is_cooled for each in prepared(demo, 5).day_before] == [False, True]

    def test_a_tables_own_is_made_apart(self, tmp_path: Path) -> None:
        """What a table swaps in a step beforehand stands at that step, with its amount."""
        rice = RICE.replace(
            "---\n\nRice as",
            "swaps:\n  - instead of: rice\n    use: 1 cup quinoa\n"
            "    because: price\n---\n\nRice as",
        ).replace("    - time: 3 min", "    - time: 3 min\n    - when: before class")
        folder = small(
            tmp_path, rice, ("households:", "needs: [{table: 1, avoid: [rice]}]\nhouseholds:")
        )
        (step,) = prepared(folder, 1).on_site
        assert step.swaps == ("At table 1: 1 cup quinoa instead of rice, made apart and first.",)

    def test_what_spoils_stays_cold_until_its_step(self, demo: ClassFolder) -> None:
        """Each food where it first goes in, a table's own among them."""
        assert prepared(demo, 6).kept_cold == (
            "Keep cold until its step (refrigerator, cooler): plain yogurt (step 6); coconut "
            "yogurt (step 6); ground turkey (step 7)."
        )

    def test_without_a_cold_place_nothing_is_promised(self, tmp_path: Path) -> None:
        """Where there is one, the cream is kept in it."""
        rice = RICE.replace("---\n\nRice as", "  - 1 cup heavy cream\n---\n\nRice as", 1)
        rice = rice.replace("the water with", "the water and the heavy cream with")
        with_one = small(tmp_path / "with", rice, ("equipment: {", "equipment: {refrigerator: 1, "))
        without = small(tmp_path / "without", rice)
        assert "heavy cream" in prepared(with_one, 1).kept_cold
        assert prepared(without, 1).kept_cold == ""

    def test_two_spoons_each(self, demo: ClassFolder) -> None:
        """Twelve children, three helpers and the lead cook: 32 spoons, and nobody is forced."""
        tasting = prepared(demo, 1).packing.tasting
        assert "32 clean spoons" in tasting
        assert tasting.endswith("Trying is invited, never forced.")

    def test_another_number_of_children_changes_the_amounts(self, demo: ClassFolder) -> None:
        """A table less is fifteen portions less five."""
        assert demo.classroom is not None
        session = demo.classroom.sessions[3]
        fewer = replace(session, setting=replace(session.setting, tables=(4, 4), helpers=2))
        prep = prep_of(demo, demo.classroom, fewer, facts_of(demo).uses, Texts("en"))
        rice = next(each for each in prep.day_before[0].taken if each.name == "long-grain rice")
        assert rice.amount.text == "3⅓ cups"
