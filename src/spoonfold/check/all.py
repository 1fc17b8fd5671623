"""Every rule, in the order in which they run."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

from spoonfold.check import (
    amounts,
    asks,
    class_names,
    clock,
    cold,
    cooked_apart,
    dangers,
    day,
    equipment,
    habits,
    heat,
    keeping,
    kept_out,
    kitchen,
    names,
    needs,
    order,
    parts,
    pictures,
    raw,
    reading,
    recipe_names,
    season,
    shopping,
    skills,
    swap_needs,
    swaps,
    taken_away,
    translation,
    unlisted,
    untranslated,
    uses,
    warm,
    words,
)
from spoonfold.check.accepted import Accepted, sorted_out
from spoonfold.check.kept import Kept, keys_of, read_kept
from spoonfold.check.rule import Facts, Rule, facts_of, in_english, troubled_by
from spoonfold.kitchen.spanish.told import OwnWords
from spoonfold.model.folder import ClassFolder
from spoonfold.problem import Problem, in_order
from spoonfold.read.folder import CLASS_FILE, Progress, Read, read_folder

RULES: tuple[Rule, ...] = (
    *uses.RULES,
    *unlisted.RULES,
    *order.RULES,
    *parts.RULES,
    *swaps.RULES,
    *needs.RULES,
    *swap_needs.RULES,
    *cooked_apart.RULES,
    *kept_out.RULES,
    *heat.RULES,
    *raw.RULES,
    *kitchen.RULES,
    *warm.RULES,
    *asks.RULES,
    *dangers.RULES,
    *habits.RULES,
    *keeping.RULES,
    *cold.RULES,
    *pictures.RULES,
    *recipe_names.RULES,
    *skills.RULES,
    *words.RULES,
    *class_names.RULES,
    *season.RULES,
    *day.RULES,
    *names.RULES,
    *taken_away.RULES,
    *equipment.RULES,
    *clock.RULES,
    *amounts.RULES,
    *shopping.RULES,
    *translation.RULES,
    *untranslated.RULES,
    *reading.RULES,
)


def check_folder(facts: Facts) -> tuple[Problem, ...]:
    """Everything that the rules find, by file and line."""
    return in_order(
        problem
        for found in (*(found_in(facts, name) for name in facts.folder.recipes), _of_all(facts))
        for problem in found
    )


def found_in(facts: Facts, name: str) -> tuple[Problem, ...]:
    """What the rules find that look at one recipe alone."""
    alone = facts.alone(name)
    return tuple(problem for rule in RULES if rule.of_one for problem in rule.run(alone))


def _of_all(facts: Facts) -> Iterator[Problem]:
    """What the others find."""
    for rule in RULES:
        if not rule.of_one:
            yield from rule.run(facts)


@dataclass(frozen=True, slots=True)
class Examined:
    """A class folder, read and checked."""

    read: Read
    facts: Facts
    problems: tuple[Problem, ...]
    """Of reading and of checking, by file and line."""
    accepted: tuple[Accepted, ...] = ()
    """Warnings and hints that their own file accepts, with its reason."""


@contextmanager
def _uncollected() -> Iterator[None]:
    """Spares the search for circles of dead values, a seventh of the time: there are none here.

    Most commands check once and end soon after, so that what is there by then is spared later
    searches too. A program that checks again and again has searches of its own, and they have to
    find what it left behind.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        _spare_what_is_there()
        if was_on:
            gc.enable()


@cache
def _spare_what_is_there() -> None:
    """The first time alone. To ask whether it was done, `gc.get_freeze_count` walks past every
    object: in a large process that takes longer than to check a small class."""
    gc.freeze()


def examine(
    folder: Path,
    progress: Progress = lambda step: None,
    cache: Path | None = None,
    instead: Mapping[str, str] | None = None,
) -> Examined:
    """Reads a class folder and runs every rule over it, saying what it is at. `cache` is the
    folder in which it is kept what follows from a recipe; None: nothing is kept. `instead`: texts
    of files as they would be."""
    with _uncollected():
        read = read_folder(folder, progress, instead)
        progress("Checking")
        facts, found = _checked(read, read_kept(cache, folder))
    found = in_order([*read.problems, *found])
    told, accepted = sorted_out(read.folder, found)
    # Whatever is made is made of the recipes with all their notes.
    read = replace(read, folder=facts.folder)
    return Examined(read, facts, in_order(told), tuple(accepted))


def _checked(read: Read, kept: Kept) -> tuple[Facts, tuple[Problem, ...]]:
    """The facts of what was read and everything that the rules find, of what is kept as far as
    it goes."""
    read = replace(read, folder=in_english(read.folder))
    recipes = read.folder.recipes
    troubled = troubled_by(read.problems)
    classroom = None if CLASS_FILE in troubled else read.folder.classroom
    keys = keys_of(read, troubled)
    before = {name: kept.recipe(keys[name], each, classroom) for name, each in recipes.items()}
    facts = facts_of(
        read.folder,
        read.problems,
        {path: source.text for path, source in read.sources.items()},
        {name: recipe for name, recipe in before.items() if recipe is not None},
    )
    found: list[Problem] = []
    for name, recipe in recipes.items():
        problems = kept.problems(keys[name])
        if problems is None:
            problems = found_in(facts, name)
            kept.keep(keys[name], recipe, facts.folder.recipes[name], classroom, problems)
        found.extend(problems)
    kept.write()
    return facts, in_order(_in_own_words(read.folder, [*found, *_of_all(facts)]))


def _in_own_words(folder: ClassFolder, found: Iterable[Problem]) -> Iterator[Problem]:
    """With the author's words where the rules went by others."""
    own = {
        recipe.place.path: OwnWords(recipe)
        for recipe in folder.recipes.values()
        if any(each.wording is not None for each in recipe.ingredients)
    }
    for problem in found:
        words = own.get(problem.place.path)
        yield problem if words is None else words.of(problem)
