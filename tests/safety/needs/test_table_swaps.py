"""The swaps of a session at its tables: scaled, measured, kept apart, and naming nobody."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from demo_class import demo_facts
from spoonfold.check import facts_of
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, DietNeed
from spoonfold.model.recipe import Term
from spoonfold.plan.safety.swapped import TableSwap, table_swaps
from spoonfold.problem import Place
from spoonfold.quantity.show import show_amount
from spoonfold.read.folder import read_folder
from spoonfold.sheets.shared.swaps import TableSwapView, contact_rules, session_swaps
from tiny_class import CLASS, write_class

DEMO = demo_facts()
TEXTS = Texts("en")


def classroom() -> Classroom:
    assert DEMO.folder.classroom is not None
    return DEMO.folder.classroom


def views(number: int) -> tuple[TableSwapView, ...]:
    """The swaps of one of the demo's sessions."""
    return session_swaps(
        classroom().sessions[number - 1], DEMO.folder.recipes, DEMO.uses, DEMO.folder.pantry, TEXTS
    )


def swaps_in(folder: Path) -> tuple[TableSwap, ...]:
    facts = facts_of(read_folder(folder).folder)
    assert facts.folder.classroom is not None
    return table_swaps(
        facts.folder.recipes["dish"],
        facts.uses["dish"],
        facts.folder.pantry,
        facts.folder.classroom.setting,
    )


DISH = """\
---
title: Dish
place: Lima, Peru
country: PE
serves: 4
ingredients:
{lines}
swaps:
{swaps}
---

A dish.

## Steps

{steps}
"""


def dish(lines: str, swaps: str, steps: str) -> str:
    return DISH.format(lines=lines, swaps=swaps, steps=steps)


def class_with(needs: str) -> str:
    return CLASS.replace("tables: [4]", "tables: [4, 3]").replace("[rice]", "[dish]") + needs


class TestTheDemo:
    def test_the_kofta_is_made_twice(self) -> None:
        """Five eat at a table (four children, a helper) and the recipe serves four: a quarter
        more of each replacement, in scoops where it is scooped."""
        shown = {(each.table, each.name): each.amount.text for each in views(6)}
        assert shown[2, "coconut yogurt"] == "1¼ cups"
        assert shown[3, "white beans"] == "2½ cans (15 oz each)"
        (yogurt,) = (each for each in views(6) if each.table == 2)
        assert sum(mark.tsp * mark.count for mark in yogurt.amount.scoops) == 60
        assert yogurt.steps[0].step == 6 and yogurt.steps[0].amount.text == "1¼ cups"

    def test_what_must_be_read_is_said(self) -> None:
        """Some coconut yogurts contain milk: at the table without milk, its label is read."""
        (yogurt,) = (each for each in views(6) if each.table == 2)
        assert yogurt.duties == (
            "Read the label of coconut yogurt each time: it must not name milk.",
        )

    def test_a_label_may_ask_for_the_swap(self) -> None:
        """Table 3 avoids meat, and some yogurts have gelatin: the swap is for those alone."""
        (yogurt,) = (each for each in views(6) if each.table == 3 and "yogurt" in each.name)
        assert yogurt.duties[0] == (
            "Only if the label of plain yogurt names meat, lard or gelatin."
        )

    def test_a_need_of_one_session_has_its_swap_there_alone(self) -> None:
        """The visitor's swap is in session 5, made apart from the one pot."""
        stew = DEMO.folder.recipes["chickpea-stew"]
        session = classroom().sessions[4]
        (swap,) = table_swaps(stew, DEMO.uses[stew.key], DEMO.folder.pantry, session.setting)
        assert swap.table == 1 and swap.shared
        assert swap.amount is not None and swap.amount.exact.low == Fraction(15, 8)
        (visitor,) = views(5)
        assert visitor.name == "instant rice" and len(visitor.duties) == 1
        assert visitor.duties == (
            "The others get theirs out of one pot. Make this table's apart, first.",
        )
        others = [each for number in (1, 2, 3, 4, 6, 7, 8) for each in views(number)]
        assert others and not [each for each in others if each.table == 1]

    def test_no_sheet_names_a_child_or_a_reason(self) -> None:
        """A view says the table, the foods and the amounts, and what to do; not who or why."""
        for session in classroom().sessions:
            for each in views(session.number):
                said = " ".join((each.where, each.name, *each.duties))
                assert "child" not in said and "allerg" not in said
                assert each.where == f"At table {each.table}"

    def test_every_unmet_ingredient_is_replaced_by_something_free(self) -> None:
        """Over the season: what each table is given is nothing that this table avoids."""
        count = 0
        for session in classroom().sessions:
            for term in session.dishes:
                recipe = DEMO.folder.recipes[term.text]
                for each in table_swaps(
                    recipe, DEMO.uses[term.text], DEMO.folder.pantry, session.setting
                ):
                    item = DEMO.folder.pantry.find(each.swap.use.name)
                    assert item is not None
                    for need in session.setting.needs:
                        if need.table in (None, each.table):
                            for word in need.avoid:
                                assert word.text not in (*item.allergens, *item.tags)
                                count += 1
        assert count >= 6


class TestScaling:
    def test_parts_of_it_go_where_the_original_went(self, tmp_path: Path) -> None:
        """A quarter in one step and the rest in another: so does the replacement."""
        folder = write_class(
            tmp_path,
            {
                "class.yaml": class_with("needs: [{table: 2, avoid: [milk]}]\n"),
                "recipes/dish.md": dish(
                    "  - 1/2 cup butter\n  - 1 cup rice",
                    '  - {instead of: butter, use: "1/2 cup olive oil", because: milk}',
                    '1. Warm [some](#butter "1/4").\n2. Add [the rest](#butter "rest") and rice.',
                ),
            },
        )
        (swap,) = swaps_in(folder)
        assert swap.table == 2 and not swap.shared and swap.amount is not None
        # Three children eat at table 2 of a class whose helpers don't.
        assert swap.amount.exact.low == Fraction(3, 8)
        assert {number: measured.exact.low for number, measured in swap.by_step.items()} == {
            1: Fraction(3, 32),
            2: Fraction(9, 32),
        }

    def test_one_swap_for_two_parts_is_shared_out(self, tmp_path: Path) -> None:
        """Two spoons in the marinade and one in the dip, replaced by three."""
        folder = write_class(
            tmp_path,
            {
                "class.yaml": class_with("needs: [{table: 1, avoid: [wheat]}]\n"),
                "recipes/dish.md": dish(
                    "  - part: Marinade\n  - 2 tbsp soy sauce\n  - part: Dip\n  - 1 tbsp soy sauce",
                    '  - {instead of: soy sauce, use: "3 tbsp coconut aminos", because: wheat}',
                    "1. Mix [it](#marinade-soy-sauce).\n2. Pour [it](#dip-soy-sauce).",
                ),
            },
        )
        (swap,) = swaps_in(folder)
        assert swap.amount is not None and show_amount(swap.amount.exact) == "3 tbsp"
        assert [show_amount(each.exact) for each in swap.by_step.values()] == ["2 tbsp", "1 tbsp"]

    def test_what_is_as_needed_stays_so(self, tmp_path: Path) -> None:
        """Butter to taste is replaced by oil to taste: nothing is multiplied."""
        folder = write_class(
            tmp_path,
            {
                "class.yaml": class_with("needs: [{table: 1, avoid: [milk]}]\n"),
                "recipes/dish.md": dish(
                    "  - 1 cup rice\n  - butter, to taste",
                    '  - {instead of: butter, use: "olive oil, to taste", because: milk}',
                    "1. Boil rice with butter.",
                ),
            },
        )
        (swap,) = swaps_in(folder)
        assert swap.amount is None and swap.by_step == {}

    def test_a_need_without_a_table_holds_at_all_of_them(self, tmp_path: Path) -> None:
        """One swap a table, each at its own size."""
        folder = write_class(
            tmp_path,
            {
                "class.yaml": class_with("needs: [{avoid: [milk]}]\n"),
                "recipes/dish.md": dish(
                    "  - 1 cup milk",
                    '  - {instead of: milk, use: "1 cup oat milk", because: milk}',
                    "1. Warm the milk.",
                ),
            },
        )
        found = swaps_in(folder)
        assert [(each.table, each.amount and each.amount.exact.low) for each in found] == [
            (1, Fraction(1)),
            (2, Fraction(3, 4)),
        ]

    def test_a_swap_in_the_one_pot_is_shared(self, tmp_path: Path) -> None:
        """Soy for table 1 instead of milk; table 2 avoids soy, so it is made apart."""
        folder = write_class(
            tmp_path,
            {
                "class.yaml": class_with(
                    "needs: [{table: 1, avoid: [milk]}, {table: 2, avoid: [soy]}]\n"
                ),
                "recipes/dish.md": dish(
                    "  - 1 cup milk",
                    '  - {instead of: milk, use: "1 cup soy milk", because: milk}',
                    "1. Warm the milk.\n    - for: class",
                ),
            },
        )
        (swap,) = swaps_in(folder)
        assert swap.table == 1 and swap.shared

    def test_a_table_is_given_one_thing_in_place_of_another(self, tmp_path: Path) -> None:
        """Two children at one table: one replacement that suits them both."""
        folder = write_class(
            tmp_path,
            {
                "class.yaml": class_with(
                    "needs: [{table: 1, avoid: [milk]}, {table: 1, avoid: [soy, milk]}]\n"
                ),
                "recipes/dish.md": dish(
                    "  - 1 cup milk",
                    '  - {instead of: milk, use: "1 cup soy milk", because: milk}\n'
                    '  - {instead of: milk, use: "1 cup oat milk", because: milk}',
                    "1. Warm the milk.",
                ),
            },
        )
        (swap,) = swaps_in(folder)
        assert swap.swap.use.name == "oat milk"

    def test_kept_out_of_the_room_has_no_swap(self) -> None:
        """What may not be in the room isn't replaced at a table: it is an error."""
        need = DietNeed(
            (Term("milk", Place("content/class.yaml", 1)),), 2, True, Place("content/class.yaml", 1)
        )
        recipe = DEMO.folder.recipes["turkey-kofta"]
        setting = replace(classroom().setting, needs=(need,))
        assert table_swaps(recipe, DEMO.uses[recipe.key], DEMO.folder.pantry, setting) == ()


def test_contact_rules_say_soap() -> None:
    """Sanitiser doesn't take allergens away; soap and water do. The label and the family
    decide."""
    said = " ".join(contact_rules(TEXTS))
    for words in (
        "soap and water",
        "Sanitiser doesn't",
        "first",
        "clean board",
        "own bowl",
        "Read the label",
        "family's own word",
    ):
        assert words in said


def test_what_is_only_not_liked_is_swapped_and_not_guarded(tmp_path: Path) -> None:
    """Another child at the table who must not eat it makes it an allergy."""
    (taste,), (need,) = (
        swaps_in(
            write_class(
                tmp_path / str(len(more)),
                {
                    "class.yaml": class_with(
                        f"needs: [{{table: 1, avoid: [garlic], because: taste}}{more}]\n"
                    ),
                    "recipes/dish.md": dish(
                        "  - 2 cloves garlic\n  - 1 tbsp curry powder",
                        '  - {instead of: garlic, use: "1 tbsp parsley", because: garlic}',
                        "1. Mix the garlic and the curry powder.",
                    ),
                },
            )
        )
        for more in ("", ", {table: 1, avoid: [garlic]}")
    )
    assert taste.is_taste and taste.swap.use.name == "parsley"
    assert not need.is_taste
