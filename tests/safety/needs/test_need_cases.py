"""The rules of needs and swaps, by written cases."""

from __future__ import annotations

from pathlib import Path

import pytest
from need_cases import HERE, RECIPE, files_of

from spoonfold.check import facts_of, kept_out, needs, swap_needs, swaps
from spoonfold.problem import Problem, has_errors, in_order
from spoonfold.read.folder import read_folder
from tiny_class import write_class
from titled_cases import Case, cases_in

RULES = (*swaps.RULES, *needs.RULES, *swap_needs.RULES, *kept_out.RULES)
WRONG = tuple(cases_in(HERE / "wrong.txt"))
RIGHT = tuple(cases_in(HERE / "right.txt"))


def found_in(folder: Path) -> tuple[Problem, ...]:
    """What the rules of needs and swaps find in a class that reads without an error."""
    read = read_folder(folder)
    assert not has_errors(read.problems), read.problems
    facts = facts_of(read.folder, read.problems)
    return in_order(problem for rule in RULES for problem in rule.run(facts))


def shown(problem: Problem) -> tuple[int, str]:
    assert problem.place.path == RECIPE
    return problem.place.line, f"{problem.level.value} {problem.code}"


@pytest.mark.parametrize("case", WRONG, ids=lambda case: case.where)
def test_what_is_wrong_is_found(case: Case, tmp_path: Path) -> None:
    """Exactly the problems that the case marks, each at its line."""
    files, expected = files_of(case)
    assert expected, case.title
    problems = found_in(write_class(tmp_path, files))
    assert [shown(each) for each in problems] == expected, case.title


@pytest.mark.parametrize("case", RIGHT, ids=lambda case: case.where)
def test_what_is_right_is_left_alone(case: Case, tmp_path: Path) -> None:
    """Nothing is said of what is only odd."""
    files, expected = files_of(case)
    assert not expected, case.title
    assert found_in(write_class(tmp_path, files)) == (), case.title


def test_there_are_enough_cases() -> None:
    """Both sides are held, and every rule is set off."""
    assert len(WRONG) >= 30 and len(RIGHT) >= 30
    codes = {problem.split()[1] for case in WRONG for _, problem in files_of(case)[1]}
    new = (*needs.RULES, *swap_needs.RULES, *kept_out.RULES)
    assert {rule.code for rule in new} <= codes


def test_a_message_says_which_table_and_never_who(tmp_path: Path) -> None:
    """The educator knows who sits there; the file and the screen don't."""
    case = next(each for each in WRONG if each.title.startswith("A need of one session"))
    (problem,) = found_in(write_class(tmp_path, files_of(case)[0]))
    assert problem.message == (
        "“milk” has what must be avoided: table 2 in session 1 avoids milk. No swap takes it out."
    )
    assert problem.hint == (
        "Milk can be oat milk; not for instant pudding (Iowa State University Extension, 2016 and "
        "2020). Under `swaps:` write for example\n"
        '- {instead of: "milk", use: "1 cup oat milk", because: milk}'
    )


def test_a_warning_says_how_to_take_it_as_read(tmp_path: Path) -> None:
    """What only a label can say is accepted with a reason, by a line that is ready to paste."""
    case = next(each for each in WRONG if each.title.startswith("Brands of rice paper"))
    (problem,) = found_in(write_class(tmp_path, files_of(case)[0]))
    assert problem.hint.endswith(
        '\naccept: [{warning: need-label, food: "rice papers", because: …}]'
    )


def test_a_hint_that_is_pasted_mends_it(tmp_path: Path) -> None:
    """Where a usual replacement is named, the hint's line under `swaps:` is the cure."""
    mended = 0
    for number, case in enumerate(WRONG):
        files, expected = files_of(case)
        if [problem for _, problem in expected] != ["error need-not-met"]:
            continue
        (problem,) = found_in(write_class(tmp_path / str(number), files))
        line = problem.hint.split("\n")[1]
        recipe = files["recipes/dish.md"]
        if "…" in line or recipe is None or "swaps:" in recipe:
            continue
        pasted = recipe.replace("---\n\n", f"swaps:\n  {line}\n---\n\n")
        folder = write_class(tmp_path / f"{number}-mended", {**files, "recipes/dish.md": pasted})
        assert found_in(folder) == (), (case.title, line)
        mended += 1
    assert mended >= 10
