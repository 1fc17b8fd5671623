"""Every answer of every worksheet, solved again from its printed words; and its key."""

from __future__ import annotations

import re
from functools import cache

import pytest
import sympy
from worksheet_cases import GRADES, NUMBER, SEEDS, SESSIONS, all_sheets, number, said, sheet, solved

every_grade = pytest.mark.parametrize("grade", GRADES)
every_session = pytest.mark.parametrize("session", SESSIONS)

_MATHS = re.compile(rf"(?:{NUMBER}|[-−+×÷%() ]|tsp|tbsp)+")
_FRACTION = re.compile(NUMBER)


@every_grade
@every_session
def test_answers_agree_with_another_path(grade: int, session: int) -> None:
    """What the key says is what sympy finds from the printed question, and nothing else."""
    for made in all_sheets(grade, session):
        for view in made.questions:
            assert solved(view) == said(view), view.asked


@every_grade
@every_session
def test_every_line_of_the_key_is_true(grade: int, session: int) -> None:
    """Both sides of every equals sign in the worked steps are the same number."""
    checked = 0
    for made in all_sheets(grade, session):
        for view in made.questions:
            for line in view.work:
                checked += _check(line)
    assert checked > 5 * len(SEEDS)


@cache
def _check(line: str) -> int:
    sides = [side.strip() for side in re.split(r"[=]", line.split(":")[-1])]
    if len(sides) < 2 or not all(_MATHS.fullmatch(side) for side in sides):
        return 0
    values = [_value(side) for side in sides]
    assert len(set(values)) == 1, line
    return 1


def _value(side: str) -> sympy.Rational:
    """A formula of the key as sympy reads it."""
    plain = _FRACTION.sub(lambda found: f"({number(found[0])})", re.sub(r"tsp|tbsp", "", side))
    for sign, code in (("÷", "/"), ("×", "*"), ("−", "-"), ("%", "/100")):
        plain = plain.replace(sign, code)
    return sympy.sympify(plain, rational=True)


@every_grade
@every_session
def test_the_last_step_gives_the_answer(grade: int, session: int) -> None:
    """Who follows the key to its end arrives at the answer."""
    for made in all_sheets(grade, session):
        for view in made.questions:
            asked = view.asked
            if asked.choices or asked.between or not asked.blanks:
                continue
            (answer,) = said(view)
            text = " ".join(view.work)
            assert answer in [number(found) for found in _FRACTION.findall(text)] or (
                f"{answer}/" in text
            ), (asked, view.work)


@every_grade
def test_a_long_sheet_has_nine_questions_and_a_short_one_three(grade: int) -> None:
    """No two questions of a sheet are the same, and a session never lacks one."""
    for session in SESSIONS:
        for made in all_sheets(grade, session):
            texts = [view.asked.text + str(view.asked.rows) for view in made.questions]
            assert len(texts) == len(set(texts)) == (9 if made.is_long else 3)


def test_a_seed_gives_the_same_sheet_and_another_seed_another() -> None:
    """Twenty seeds give twenty sheets, and each gives its own again."""
    sheets = [sheet(4, 5, seed, True) for seed in range(20)]
    again = [sheet.__wrapped__(4, 5, seed, True) for seed in range(20)]
    assert sheets == again
    assert len({tuple(view.asked.text for view in made.questions) for made in sheets}) == 20
