"""Heat, raw and ready, cold and cautions, by written cases."""

from __future__ import annotations

from pathlib import Path

import pytest
from safety_cases import HERE, RECIPE, files_of

from spoonfold.check import clock, cold, examine, heat, raw
from spoonfold.check.rule import Rule
from spoonfold.problem import Level
from tiny_class import write_class
from titled_cases import Case, cases_in

FAMILIES: dict[str, tuple[Rule, ...]] = {
    "heat.txt": heat.RULES,
    "raw.txt": raw.RULES,
    "cold.txt": cold.RULES,
}
# Some of the dishes wait for hours: whether a class has them isn't what they are about.
TIMING = frozenset(rule.code for rule in clock.RULES)
WRONG = [(name, case) for name in FAMILIES for case in cases_in(HERE / name)]
RIGHT = list(cases_in(HERE / "right.txt"))
WORKED_OUT = list(cases_in(HERE / "worked_out.txt"))


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


@pytest.mark.parametrize("case", WORKED_OUT, ids=lambda case: case.where)
def test_what_nobody_wrote_is_worked_out(case: Case, tmp_path: Path) -> None:
    """Behind `!` stands a note as it might have been written: of its kind just that comes to the
    step, with a reason, and what was written stays before it."""
    files, [(line, note)] = files_of(case)
    recipe = examine(write_class(tmp_path, files)).facts.folder.recipes["dish"]
    step = max(
        (each for each in recipe.steps if each.place.line <= line), key=lambda each: each.number
    )
    kind, _, values = note.partition(": ")
    new = [each for each in step.worked_out if each.note == kind]
    assert [each.value for each in new] == values.split(", "), case.title
    assert all(each.why for each in new)
    names = {
        "watch": [term.text for term in step.watch],
        "wash": [term.text for term in step.wash],
        "adult": [term.text for term in step.adult],
        "needs": [need.name for need in step.needs],
    }[kind]
    assert names[-len(new) :] == values.split(", ")
    assert len(names) == len(set(names))


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
    """All sides are held."""
    assert len(WRONG) >= 15
    assert len(WORKED_OUT) >= 40
    assert len(RIGHT) >= 35
