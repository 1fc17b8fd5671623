"""Every swap of the demo class, deleted or weakened one at a time: the check must fail, there.

Done in memory: the demo is read once, and one recipe's swaps are changed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from demo_class import demo_facts_with, demo_folder
from spoonfold.check import RULES, facts_of, kept_out, needs, swap_needs, swaps
from spoonfold.model.recipe import Recipe, Swap, Term
from spoonfold.plan.safety.avoid import Match, finding_of
from spoonfold.plan.safety.needs import answers_of, at_tables, occasions_of, replaced
from spoonfold.plan.shop.corner import PRICE
from spoonfold.problem import Level, Place, Problem

ROOT = Path(__file__).resolve().parents[2]
DEMO = demo_folder()
PAIRS = tuple((recipe, swap) for recipe in DEMO.recipes.values() for swap in recipe.swaps)
FAMILIES = (*swaps.RULES, *needs.RULES, *swap_needs.RULES, *kept_out.RULES)


def named(pairs: Iterable[tuple[Recipe, Swap]]) -> list[Any]:
    return [
        pytest.param(recipe, swap, id=f"{recipe.key}: {swap.use.name}") for recipe, swap in pairs
    ]


SWAPS = named(PAIRS)
FOR_NEEDS = named(each for each in PAIRS if each[1].because.text != PRICE)
FOR_THE_PRICE = named(each for each in PAIRS if each[1].because.text == PRICE)


def errors_with(recipe: Recipe, swaps: tuple[Swap, ...]) -> set[tuple[int, str]]:
    """The errors of the demo with other swaps in one recipe, by line and code; of the rules for
    swaps and needs, so that what a stranger in the pot does to heat and raw food stays apart."""
    changed = replace(recipe, swaps=swaps)
    folder = replace(DEMO, recipes={**DEMO.recipes, recipe.key: changed})
    facts = demo_facts_with(folder)
    problems: list[Problem] = [each for rule in FAMILIES for each in rule.run(facts)]
    errors = [each for each in problems if each.level is Level.ERROR]
    assert all(each.place.path == recipe.place.path for each in errors)
    return {(each.place.line, each.code) for each in errors}


def without(recipe: Recipe, swap: Swap) -> tuple[Swap, ...]:
    return tuple(each for each in recipe.swaps if each is not swap)


def using(recipe: Recipe, swap: Swap, food: str) -> tuple[Swap, ...]:
    """The recipe's swaps with another food in this one, on the same line."""
    other = replace(swap, use=replace(swap.use, name=food))
    return tuple(other if each is swap else each for each in recipe.swaps)


def food_with(word: str, otherwise: frozenset[str] = frozenset()) -> str:
    """A food of the pantry that surely is or contains something, and isn't of `otherwise`."""
    return next(
        name
        for name in DEMO.pantry.names
        if finding_of(DEMO.pantry.find(name), word, DEMO.pantry) is Match.CERTAIN
        and not any(finding_of(DEMO.pantry.find(name), each, DEMO.pantry) for each in otherwise)
    )


def test_the_demo_as_it_is_has_no_error() -> None:
    """What the mutations are compared with; and `spoonfold check` runs all of these rules."""
    assert set(FAMILIES) <= set(RULES)
    for recipe in DEMO.recipes.values():
        assert errors_with(recipe, recipe.swaps) == set()


def test_there_is_a_swap_for_every_need() -> None:
    """The demo would be no test if its needs met nothing."""
    assert len(FOR_NEEDS) >= 6
    classroom = DEMO.classroom
    assert classroom is not None
    met = {
        term
        for key, recipe in DEMO.recipes.items()
        for occasion in occasions_of(key, classroom)
        for answer in answers_of(recipe, occasion.setting.needs, DEMO.pantry)
        if answer.swap is not None
        for term in (each.avoided for each in answer.findings)
    }
    assert met == {"milk", "sesame", "meat", "wheat"}


@pytest.mark.parametrize(("recipe", "swap"), FOR_NEEDS)
def test_a_deleted_swap_fails_at_the_ingredient(recipe: Recipe, swap: Swap) -> None:
    """Without it the original would be served: an error on the original's own line."""
    lines = {each.place.line for each in replaced(recipe, swap)}
    found = errors_with(recipe, without(recipe, swap))
    assert {line for line, _ in found} == lines
    assert {code for _, code in found} <= {"need-not-met", "swap-incomplete"}


@pytest.mark.parametrize(("recipe", "swap"), FOR_NEEDS)
def test_a_swap_that_has_it_after_all_fails_at_the_swap(recipe: Recipe, swap: Swap) -> None:
    """The replacement is another food with the very thing that it should take out."""
    found = errors_with(recipe, using(recipe, swap, food_with(swap.because.text)))
    assert (swap.use.place.line, "swap-not-free") in found
    assert {line for line, _ in found} == {swap.use.place.line}


@pytest.mark.parametrize(("recipe", "swap"), FOR_NEEDS)
def test_a_swap_that_nobody_can_judge_fails_at_the_swap(recipe: Recipe, swap: Swap) -> None:
    """The replacement isn't in the pantry."""
    found = errors_with(recipe, using(recipe, swap, "moon cream"))
    assert found == {(swap.use.place.line, "swap-unknown")}


@pytest.mark.parametrize(("recipe", "swap"), SWAPS)
def test_a_swap_for_the_same_food_fails_at_the_swap(recipe: Recipe, swap: Swap) -> None:
    """The replacement is the original."""
    found = errors_with(recipe, using(recipe, swap, replaced(recipe, swap)[0].name))
    assert (swap.use.place.line, "swap-for-itself") in found
    assert {line for line, _ in found} == {swap.use.place.line}


@pytest.mark.parametrize(("recipe", "swap"), SWAPS)
def test_a_swap_of_nothing_fails_at_its_name(recipe: Recipe, swap: Swap) -> None:
    """The original is misspelt."""
    lost = replace(swap, instead_of=Term("moon cream", swap.instead_of.place))
    found = errors_with(recipe, tuple(lost if each is swap else each for each in recipe.swaps))
    assert (swap.instead_of.place.line, "swap-of-nothing") in found


@pytest.mark.parametrize(("recipe", "swap"), FOR_NEEDS)
def test_a_swap_of_another_ingredient_fails_at_the_one_left(recipe: Recipe, swap: Swap) -> None:
    """The swap is moved to a food that nobody avoids."""
    originals = replaced(recipe, swap)
    other = next(
        each
        for each in recipe.ingredients
        if each not in originals
        and finding_of(DEMO.pantry.find(each.name), swap.because.text, DEMO.pantry) is None
        and each.name != swap.use.name
    )
    moved = replace(swap, instead_of=Term(other.name, swap.instead_of.place))
    found = errors_with(recipe, tuple(moved if each is swap else each for each in recipe.swaps))
    assert {line for line, _ in found} == {each.place.line for each in originals}


def test_a_swap_that_brings_a_second_need_fails_at_the_swap() -> None:
    """Wherever a child avoids two things, a swap for the one with the other in it."""
    classroom = DEMO.classroom
    assert classroom is not None
    tried = 0
    for key, recipe in DEMO.recipes.items():
        for occasion in occasions_of(key, classroom):
            for answer in answers_of(recipe, occasion.setting.needs, DEMO.pantry):
                swap = answer.swap
                if swap is None or answer.match is not Match.CERTAIN:
                    continue
                own = frozenset(each.avoided for each in answer.findings)
                for word in at_tables(answer.need, occasion.setting.needs):
                    if word in own:
                        continue
                    food = food_with(word, own)
                    found = errors_with(recipe, using(recipe, swap, food))
                    assert found == {(swap.use.place.line, "swap-brings")}, (key, food)
                    tried += 1
    assert tried >= 2


@pytest.mark.parametrize(("recipe", "swap"), FOR_THE_PRICE)
def test_only_a_swap_for_the_price_may_go_unnoticed(recipe: Recipe, swap: Swap) -> None:
    """It is nobody's safety: without it the dish only costs more."""
    assert errors_with(recipe, without(recipe, swap)) == set()


def test_kept_out_of_the_room_is_found_in_every_swap() -> None:
    """Each swap in turn brings peanuts into a room that must be without them."""
    classroom = DEMO.classroom
    assert classroom is not None
    place = Place("content/class.yaml", 1, 1)
    need = replace(
        classroom.setting.needs[0], avoid=(Term("peanut", place),), table=None, keep_out=True
    )
    setting = replace(classroom.setting, needs=(need,))
    strict = replace(
        classroom,
        setting=setting,
        sessions=tuple(replace(each, setting=setting) for each in classroom.sessions),
    )
    for recipe, swap in PAIRS:
        changed = replace(recipe, swaps=using(recipe, swap, "peanut butter"))
        folder = replace(DEMO, classroom=strict, recipes={**DEMO.recipes, recipe.key: changed})
        facts = facts_of(folder)
        found = {
            (each.place.path, each.place.line)
            for rule in FAMILIES
            for each in rule.run(facts)
            if each.code == "kept-out"
        }
        assert found == {(recipe.place.path, swap.use.place.line)}


def test_mutations_leave_places_alone() -> None:
    """A mutated swap still stands on the line of its file, or the lines above would mean
    nothing."""
    for recipe, swap in PAIRS:
        line = (ROOT / recipe.place.path).read_text("utf-8").split("\n")[swap.use.place.line - 1]
        assert line.strip().startswith("use:")
        for each in replaced(recipe, swap):
            shown = (ROOT / recipe.place.path).read_text("utf-8").split("\n")
            assert each.name in shown[each.place.line - 1]
