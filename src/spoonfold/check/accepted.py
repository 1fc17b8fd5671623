"""Warnings that an author lives with, for a reason that is printed; an error can't be one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from spoonfold.check.rule import advice, error, warning
from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Acceptance, Term
from spoonfold.problem import Level, Problem
from spoonfold.read.shape import nearest, quoted_list
from spoonfold.read.yaml_text import yaml_text


@dataclass(frozen=True, slots=True)
class Accepted:
    """A warning or hint that is no longer told, and why."""

    problem: Problem
    because: str


def _acceptances(folder: ClassFolder) -> Iterator[Acceptance]:
    for recipe in folder.recipes.values():
        yield from recipe.accept
    if folder.classroom is not None:
        yield from folder.classroom.accept


def sorted_out(
    folder: ClassFolder, problems: Sequence[Problem]
) -> tuple[list[Problem], list[Accepted]]:
    """The problems that are still told, and those that their own file accepts.

    Of several foods an entry accepts the one that it names. One without a name, as they were
    written before there was such a key, holds where only one food is meant.
    """
    told = dict.fromkeys(problems)
    accepted: list[Accepted] = []
    foods = _foods_by_line(folder)
    for each in _acceptances(folder):
        here = [p for p in problems if p.place.path == each.place.path]
        meant = [p for p in here if p.code == each.warning.text]
        about = {p: p.food or foods.get((p.place.path, p.place.line), "") for p in meant}
        named = [p for p in meant if each.food is None or _is_food(about[p], each.food)]
        if any(p.level is Level.ERROR for p in meant):
            told[_cannot(each)] = None
        elif not meant:
            told[_nothing(each, here)] = None
        elif not named:
            told[_other_food(each, about.values())] = None
        elif len({fold(about[p]) for p in named} - {""}) > 1:
            told[_several_foods(each, about.values())] = None
        else:
            accepted.extend(Accepted(p, each.because) for p in named if p in told)
            for p in named:
                told.pop(p, None)
    return list(told), accepted


def _foods_by_line(folder: ClassFolder) -> dict[tuple[str, int], str]:
    """The food on a line of a list or of a swap, by file and line."""
    return {
        (line.place.path, line.place.line): line.name
        for recipe in folder.recipes.values()
        for line in (*recipe.ingredients, *(swap.use for swap in recipe.swaps))
    }


def _is_food(about: str, food: Term) -> bool:
    """Whether a warning is about the food that is written, be it one or many."""
    return not set(singulars(fold(about))).isdisjoint(singulars(fold(food.text)))


def _several_foods(each: Acceptance, foods: Iterable[str]) -> Problem:
    entries = "\n".join(
        f"  - warning: {each.warning.text}\n    food: {yaml_text(food)}\n"
        f"    because: {yaml_text(each.because)}"
        for food in dict.fromkeys(foods)
        if food
    )
    return warning(
        "accepts-several-foods",
        each.warning.place,
        f"“{each.warning.text}” is told of more than one food in this file: what was weighed for "
        "the one isn't weighed for the other, so none of them is accepted.",
        f"Name each that you have weighed, with its own reason:\naccept:\n{entries}",
    )


def _other_food(each: Acceptance, foods: Iterable[str]) -> Problem:
    food = each.food or each.warning
    told = quoted_list(tuple(dict.fromkeys(name for name in foods if name)))
    return advice(
        "accepts-nothing",
        food.place,
        f"“{each.warning.text}” isn't told of “{food.text}” in this file, so there is nothing to "
        "accept.",
        f"It is told of {told}." if told else "Leave out `food`.",
    )


def _cannot(each: Acceptance) -> Problem:
    return error(
        "cannot-accept",
        each.warning.place,
        f"“{each.warning.text}” is an error in this file, and an error can't be accepted: it would "
        "print something wrong, or hurt.",
        f"Mend it; `spoonfold why {each.warning.text}` says how. Then remove this line.",
    )


def _nothing(each: Acceptance, here: Iterable[Problem]) -> Problem:
    close = nearest(each.warning.text, {p.code for p in here if p.level is not Level.ERROR})
    return advice(
        "accepts-nothing",
        each.warning.place,
        f"Nothing in this file is found under “{each.warning.text}”, so there is nothing to "
        "accept.",
        f"Did you mean `{close}`?" if close else "Remove it: it may hide a later mistake.",
    )
