"""The numbers and operations of each grade, and the standards' own worked examples.

Limits: Common Core State Standards for Mathematics (2010), the notes under 3.NF and 4.NF and the
standards named in each test.
"""

from __future__ import annotations

import re
from fractions import Fraction as F

import pytest
from worksheet_cases import GRADES, NUMBER, SESSIONS, all_sheets, number

from spoonfold.sheets.worksheet.kinds.convert import Convert
from spoonfold.sheets.worksheet.kinds.multiply import Multiply
from spoonfold.sheets.worksheet.kinds.part import PartOf, ShareOne
from spoonfold.sheets.worksheet.kinds.rates import AtThatRate, PerPerson
from spoonfold.sheets.worksheet.kinds.ratio import Ratio
from spoonfold.sheets.worksheet.kinds.same_as import SameAs
from spoonfold.sheets.worksheet.kinds.scoops import CountScoops
from spoonfold.sheets.worksheet.kinds.times import Times
from spoonfold.sheets.worksheet.numbers import Food
from spoonfold.sheets.worksheet.question import Question
from spoonfold.sheets.worksheet.sheet import grade_for

every_grade = pytest.mark.parametrize("grade", GRADES)
every_session = pytest.mark.parametrize("session", SESSIONS)

DENOMINATORS = {3: {2, 3, 4, 6, 8}, 4: {2, 3, 4, 5, 6, 8, 10, 12, 100}}
"""The notes under 3.NF and 4.NF."""
STANDARDS = {
    3: {
        "3.OA.A.3",
        "3.NF.A.1",
        "3.NF.A.2.b",
        "3.NF.A.3.b",
        "3.NF.A.3.c",
        "3.NF.A.3.d",
        "3.MD.A.1",
        "3.NBT.A.2",
    },
    4: {"4.OA.A.2", "4.NF.A.2", "4.NF.B.4.a", "4.NF.B.4.c", "4.MD.A.1", "4.MD.A.2", "4.NBT.B.4"},
    5: {"5.NF.A.2", "5.NF.B.3", "5.NF.B.5.b", "5.NF.B.6", "5.NF.B.7.c", "5.MD.A.1"},
    6: {"6.RP.A.1", "6.RP.A.2", "6.RP.A.3.a", "6.RP.A.3.b", "6.RP.A.3.c", "6.RP.A.3.d", "6.NS.A.1"},
}
_OPERATION = re.compile(rf"({NUMBER}) ([×÷]) (?=({NUMBER}))")


@every_grade
@every_session
def test_every_question_names_a_standard_of_its_grade(grade: int, session: int) -> None:
    """The code is one that the standards have, of the sheet's own grade."""
    for made in all_sheets(grade, session):
        assert {view.standard for view in made.questions} <= STANDARDS[grade]


@every_grade
def test_every_standard_of_the_table_is_asked(grade: int) -> None:
    """Over the season and twenty seeds no promised standard is missing."""
    asked = {
        view.standard
        for session in SESSIONS
        for made in all_sheets(grade, session)
        for view in made.questions
    }
    assert asked == STANDARDS[grade]


@pytest.mark.parametrize("grade", DENOMINATORS)
@every_session
def test_denominators_stay_within_the_grade(grade: int, session: int) -> None:
    """No fraction of a question, its picture's words, its answer or its key is beyond them."""
    for made in all_sheets(grade, session):
        for view in made.questions:
            asked = view.asked
            texts = [asked.text, asked.hint, asked.answer, *view.work]
            below = {number(found).q for text in texts for found in re.findall(NUMBER, text)}
            below |= {int(found) for text in texts for found in re.findall(r"/(\d+)", text)}
            assert below - {1} <= DENOMINATORS[grade], (asked, view.work)


@every_grade
@every_session
def test_operations_stay_within_the_grade(grade: int, session: int) -> None:
    """Grade 3 multiplies and divides whole numbers; grade 4 also a fraction times a whole
    number; grade 5 also two fractions, and divides only a unit fraction and a whole number by
    each other (5.NF.B.7)."""
    for made in all_sheets(grade, session):
        for view in made.questions:
            for line in view.work:
                for one, sign, two in _OPERATION.findall(line):
                    assert _is_within(grade, sign, number(one), number(two)), line


def _is_within(grade, sign, one, two):
    broken = sum(each.q != 1 for each in (one, two))
    if broken == 0 or grade == 6:
        return True
    if sign == "×":
        return broken <= {3: 0, 4: 1, 5: 2}[grade]
    return (
        grade == 5
        and broken == 1
        and 1 in (one.p, two.p)
        and ((one.q == 1 and two.p == 1) or (one.p == 1 and two.q == 1))
    )


@every_grade
@every_session
def test_no_number_is_absurd(grade: int, session: int) -> None:
    """Cups, spoons and pieces that a kitchen measures: no thirteenths, no half eggs or cloves,
    nothing beyond what a class would cook."""
    whole = re.compile(
        rf"({NUMBER}) (?:large )?(?:eggs?|cloves?|leaves|leaf|rice papers?|"
        r"corn tortillas?|scoops|people|children)\b"
    )
    measured = re.compile(rf"({NUMBER}) (cups?|tbsp|tsp|pints?|quarts?|lb)\b")
    for made in all_sheets(grade, session):
        for view in made.questions:
            for text in (view.asked.text, view.asked.answer):
                for found in whole.findall(text):
                    assert number(found).q == 1, text
                    assert number(found) <= 60, text
                for amount, _ in measured.findall(text):
                    assert number(amount).q in (1, 2, 3, 4, 6, 8), text
                    assert 0 < number(amount) <= 72, text


def food(amount: F, people: int = 1, unit: str = "cup") -> Food:
    return Food("dish", "food", amount, unit, people, frozenset({1}))


EXAMPLES: tuple[tuple[str, Question, tuple[F, ...]], ...] = (
    ("3.NF.A.3.b: 1/2 = 2/4", SameAs("", food(F(1, 2)), 4), (F(2),)),
    ("3.NF.A.3.b: 4/6 = 2/3", SameAs("", food(F(4, 6)), 3), (F(2),)),
    ("3.NF.A.3.c: 6/1 = 6", SameAs("", food(F(6)), 1), (F(6),)),
    ("3.NF.A.3.c: 4/4 = 1", SameAs("", food(F(1)), 4), (F(4),)),
    ("4.NF.B.4.a: 5/4 = 5 × 1/4", CountScoops("", food(F(5, 4)), F(1, 4)), (F(5),)),
    ("4.NF.B.4.b: 3 × 2/5 = 6/5", Multiply("", food(F(2, 5)), F(3)), (F(6, 5),)),
    (
        "4.NF.B.4.c: 3/8 pound each for 5 people",
        Multiply("", food(F(3, 8), 1, "lb"), F(5)),
        (F(15, 8),),
    ),
    (
        "4.MD.A.1: 4 feet are 48 inches",
        Convert("", food(F(4), 1, "ft"), "in", "ft", "in", 12),
        (F(48),),
    ),
    ("5.NF.B.3: 50 pounds shared by 9 people", PerPerson("", food(F(50), 9, "lb")), (F(50, 9),)),
    ("5.NF.B.3: 3 divided by 4", Times("", "dish", 4, 3), (F(3, 4),)),
    ("5.NF.B.4.a: 2/3 × 4 = 8/3", Multiply("", food(F(4)), F(2, 3)), (F(8, 3),)),
    ("5.NF.B.4.a: 2/3 × 4/5 = 8/15", PartOf("", food(F(4, 5)), F(2, 3)), (F(8, 15),)),
    ("5.NF.B.7.a: 1/3 ÷ 4 = 1/12", ShareOne("", food(F(1, 3)), 4), (F(1, 12),)),
    ("5.NF.B.7.b: 4 ÷ 1/5 = 20", CountScoops("", food(F(4)), F(1, 5)), (F(20),)),
    ("5.NF.B.7.c: 1/2 pound shared by 3", ShareOne("", food(F(1, 2), 1, "lb"), 3), (F(1, 6),)),
    ("5.NF.B.7.c: servings of 1/3 cup in 2 cups", CountScoops("", food(F(2)), F(1, 3)), (F(6),)),
    (
        "6.NS.A.1: servings of 3/4 cup in 2/3 cup",
        CountScoops("", food(F(2, 3)), F(3, 4)),
        (F(8, 9),),
    ),
    (
        "6.RP.A.1: two wings for every beak",
        Ratio("", food(F(8), 1, ""), food(F(4), 1, "")),
        (F(2), F(1)),
    ),
    ("6.RP.A.2: 3 cups of flour for 4 of sugar", PerPerson("", food(F(3), 4)), (F(3, 4),)),
    ("6.RP.A.2: 75 dollars for 15", PerPerson("", food(F(75), 15, "")), (F(5),)),
    (
        "6.RP.A.3.b: 4 lawns in 7 hours, then 35 hours",
        AtThatRate("", food(F(4), 7, ""), 35),
        (F(20),),
    ),
)
"""Numbers of the examples that the Common Core State Standards for Mathematics (2010) give."""


@pytest.mark.parametrize(
    ("question", "answer"), [each[1:] for each in EXAMPLES], ids=[each[0] for each in EXAMPLES]
)
def test_the_standards_own_examples(question: Question, answer: tuple[F, ...]) -> None:
    """Each kind of question gives the result that its standard prints."""
    assert question.answer == answer


@pytest.mark.parametrize(
    ("ages", "grade"),
    [((8, 8), 3), ((9, 12), 5), ((10, 11), 5), ((11, 12), 6), ((5, 7), 3), ((13, 16), 6)],
)
def test_the_grade_follows_the_ages(ages: tuple[int, int], grade: int) -> None:
    """A class gets the grade of its middle age, and never one that has no sheets."""
    from dataclasses import replace

    from worksheet_cases import demo

    _, classroom = demo()
    assert grade_for(replace(classroom.setting, ages=ages)) == grade
