"""Heat, raw and ready, cold and cautions, by written cases."""

from __future__ import annotations

from pathlib import Path

import pytest
from safety_cases import HERE, RECIPE, files_of

from spoonfold.check import cautions, clock, cold, examine, heat, raw
from spoonfold.check.rule import Rule
from spoonfold.problem import Level
from tiny_class import write_class
from titled_cases import Case, cases_in

FAMILIES: dict[str, tuple[Rule, ...]] = {
    "heat.txt": heat.RULES,
    "raw.txt": raw.RULES,
    "cold.txt": cold.RULES,
    "cautions.txt": cautions.RULES,
}
# Some of the dishes wait for hours: whether a class has them isn't what they are about.
TIMING = frozenset(rule.code for rule in clock.RULES)
WRONG = [(name, case) for name in FAMILIES for case in cases_in(HERE / name)]
RIGHT = list(cases_in(HERE / "right.txt"))


@pytest.mark.parametrize(("name", "case"), WRONG, ids=lambda each: getattr(each, "where", ""))
def test_a_wrong_one_gives_its_problem_at_its_line(name: str, case: Case, tmp_path: Path) -> None:
    """Of its own family of rules exactly that one, as an error; whatever else the short recipe
    lacks is the other families' to say."""
    files, expected = files_of(case)
    assert len(expected) == 1, case.where
    codes = {rule.code for rule in FAMILIES[name]}
    found = [each for each in examine(write_class(tmp_path, files)).problems if each.code in codes]
    assert [(each.place.line, each.code) for each in found] == expected, case.title
    assert all(each.level is Level.ERROR and each.place.path == RECIPE for each in found)
    assert all(each.hint for each in found)


@pytest.mark.parametrize("case", RIGHT, ids=lambda case: case.where)
def test_a_right_one_gives_none(case: Case, tmp_path: Path) -> None:
    """However odd it is, no rule of the whole check finds an error or a warning."""
    files, expected = files_of(case)
    assert expected == [], case.where
    # How a session of one small dish fills its time isn't what these cases are about.
    found = [
        each
        for each in examine(write_class(tmp_path, files)).problems
        if each.level is not Level.HINT and each.code not in TIMING
    ]
    assert found == [], case.title


def test_there_are_enough_cases() -> None:
    """Both sides are held."""
    assert len(WRONG) >= 35
    assert len(RIGHT) >= 35
