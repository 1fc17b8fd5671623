"""Warnings that an author lives with, for a reason that is printed; an error can't be one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from spoonfold.check.rule import advice, error
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Acceptance
from spoonfold.problem import Level, Problem
from spoonfold.read.shape import nearest


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
    """The problems that are still told, and those that their own file accepts."""
    told = dict.fromkeys(problems)
    accepted: list[Accepted] = []
    for each in _acceptances(folder):
        here = [p for p in problems if p.place.path == each.place.path]
        meant = [p for p in here if p.code == each.warning.text]
        if any(p.level is Level.ERROR for p in meant):
            told[_cannot(each)] = None
        elif not meant:
            told[_nothing(each, here)] = None
        else:
            accepted.extend(Accepted(p, each.because) for p in meant if p in told)
            for p in meant:
                told.pop(p, None)
    return list(told), accepted


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
