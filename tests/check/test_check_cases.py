"""Every rule of checking, by written cases."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest
from written_cases import BASE, Case, all_cases, write

from spoonfold.check import RULES, asks, dangers, examine, habits, keeping, kitchen, warm
from spoonfold.problem import Level, Problem

CASES = tuple(all_cases())


def _shown(problem: Problem) -> str:
    place = problem.place
    spot = "".join(f":{each}" for each in (place.line, place.column) if each)
    path = place.path.removeprefix("content/")
    return f"{path}{spot} {problem.level.value} {problem.code}"


def _codes(lines: list[str]) -> set[str]:
    return {line.rsplit(" ", 1)[-1] for line in lines}


@cache
def _of_the_base() -> tuple[Problem, ...]:
    return examine(BASE).problems


def _besides_the_base(problems: Iterable[Problem]) -> Iterator[Problem]:
    """Without what the base itself is told, on whatever line that now stands."""
    base = Counter((each.place.path, each.code) for each in _of_the_base())
    for each in problems:
        if base[each.place.path, each.code]:
            base[each.place.path, each.code] -= 1
        else:
            yield each


def _assert_a_sentence(problem: Problem) -> None:
    """It ends as a sentence does, has no machine's words, and fits in a terminal."""
    assert problem.message[-1] in ".?!", problem
    assert not {"None", "Fraction(", "Place("} & set(problem.message.split()), problem
    assert len(problem.message) < 400, problem


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.where)
def test_written_case(case: Case, tmp_path: Path) -> None:
    """The class, changed as the case says, has exactly the problems that the case lists."""
    write(case, tmp_path)
    problems = examine(tmp_path).problems
    for each in problems:
        _assert_a_sentence(each)
    assert [_shown(each) for each in _besides_the_base(problems)] == case.expected, case.title


def test_the_base_is_right() -> None:
    """Without a change no rule has an error or a warning."""
    assert [each for each in _of_the_base() if each.level is not Level.HINT] == []


def test_there_are_enough_cases() -> None:
    """Both sides are held: what is wrong is found, and what is only odd is left alone."""
    assert sum(bool(case.expected) for case in CASES) >= 50
    assert sum(not case.expected for case in CASES) >= 20


# What the words of a step give away is held in the same way by tests/kitchen, a whole dish a case.
OF_WORDS = frozenset(
    rule.code for family in (kitchen, warm, asks, dangers, habits, keeping) for rule in family.RULES
)


@pytest.mark.parametrize("code", [rule.code for rule in RULES if rule.code not in OF_WORDS])
def test_every_rule_has_a_wrong_case_and_a_right_one_beside_it(code: str) -> None:
    """What no case sets off might as well not be looked for; what no case just escapes might
    refuse what is right."""
    wrong = [case for case in CASES if code in _codes(case.expected)]
    assert wrong, f"no case of tests/check/cases is wrong by {code}"
    assert any(case.mended and code not in _codes(case.mended.expected) for case in wrong), (
        f"no case that is wrong by {code} has the nearest that is right below it, behind ~"
    )
