"""Every ingredient is used up exactly: what the sums of `plan` found."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from spoonfold.check.rule import Facts, Rule
from spoonfold.problem import Problem

_CODES = (
    "never-used",
    "used-over",
    "used-in-part",
    "nothing-left",
    "unreadable-share",
    "share-of-nothing",
    "unknown-link",
    "ambiguous-link",
    "two-could-be-meant",
    "share-in-words",
    "amount-in-words",
)


def _passed_on(code: str) -> Callable[[Facts], Iterator[Problem]]:
    """A rule that passes on what the sums found under one code."""

    def run(facts: Facts) -> Iterator[Problem]:
        for uses in facts.uses.values():
            yield from (each for each in uses.problems if each.code == code)

    return run


RULES = tuple(Rule(code, _passed_on(code), of_one=True) for code in _CODES)
