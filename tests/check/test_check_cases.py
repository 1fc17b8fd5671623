"""Every rule of reading and checking, by written cases."""

from __future__ import annotations

from pathlib import Path

import pytest
from written_cases import BASE, Case, all_cases, write

from spoonfold.check import (
    RULES,
    amounts,
    class_names,
    equipment,
    examine,
    order,
    parts,
    pictures,
    recipe_names,
    swaps,
    translation,
    uses,
)
from spoonfold.problem import Level, Problem

CASES = tuple(all_cases())
FAMILIES = (
    amounts,
    class_names,
    equipment,
    order,
    parts,
    pictures,
    recipe_names,
    swaps,
    translation,
    uses,
)
OWN = frozenset(rule.code for family in FAMILIES for rule in family.RULES)
EXPECTED = frozenset(line.rsplit(" ", 1)[-1] for case in CASES for line in case.expected)
# Rules of families that are held by tests of another kind, such as the clock of a session.
ELSEWHERE = frozenset(rule.code for rule in RULES) - EXPECTED


def _shown(problem: Problem) -> str:
    place = problem.place
    spot = "".join(f":{each}" for each in (place.line, place.column) if each)
    path = place.path.removeprefix("content/")
    return f"{path}{spot} {problem.level.value} {problem.code}"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.where)
def test_written_case(case: Case, tmp_path: Path) -> None:
    """The class, changed as the case says, has exactly the problems that the case lists."""
    write(case, tmp_path)
    found = [each for each in examine(tmp_path).problems if each.code not in ELSEWHERE]
    assert [_shown(problem) for problem in found] == case.expected, case.title


def test_the_base_is_right() -> None:
    """Without a change no family has an error or a warning."""
    assert [each for each in examine(BASE).problems if each.level is not Level.HINT] == []


def test_there_are_enough_cases() -> None:
    """Both sides are held: what is wrong is found, and what is only odd is left alone."""
    assert sum(bool(case.expected) for case in CASES) >= 50
    assert sum(not case.expected for case in CASES) >= 20


def test_every_rule_has_a_case() -> None:
    """A rule that no case can set off might as well not be there."""
    assert EXPECTED >= OWN


def test_messages_are_sentences(tmp_path: Path) -> None:
    """Every message ends as a sentence does, has no machine's words, and fits in a terminal."""
    for number, case in enumerate(CASES):
        write(case, tmp_path / str(number))
        for problem in examine(tmp_path / str(number)).problems:
            assert problem.message[-1] in ".?!", problem
            assert not {"None", "Fraction(", "Place("} & set(problem.message.split()), problem
            assert len(problem.message) < 400, problem
