"""Worksheets of the demo class, and their words read back and solved by another path.

The solver knows only the printed words and pictures, never the values they were made of, and
works with sympy's own numbers and equations.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import product

import sympy

from demo_class import demo_examined
from in_full import sampled
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.sheets.worksheet.figures import Cups, Line
from spoonfold.sheets.worksheet.sheet import QuestionView, Worksheet, worksheet_of

GRADES = (3, 4, 5, 6)
SEEDS = range(sampled(4, 20))
SESSIONS = range(8)

NUMBER = r"(?:\d+ \d+/\d+|\d+/\d+|\d*[¼½¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]|\d+)"
X = sympy.Symbol("x")

Answer = tuple[sympy.Rational, ...] | str
"""Numbers for a question's blanks, or the choice to ring."""
Solver = Callable[[QuestionView, Sequence[sympy.Rational], str], Answer]
"""From a question, the numbers that its pattern found, and its hint."""


@cache
def demo() -> tuple[ClassFolder, Classroom]:
    """The demo class, read once."""
    folder = demo_examined().read.folder
    assert folder.classroom is not None
    return folder, folder.classroom


@cache
def sheet(session: int, grade: int, seed: int, is_long: bool) -> Worksheet:
    """One worksheet of the demo class; `session` counts from 0."""
    folder, classroom = demo()
    made = worksheet_of(
        folder, classroom, classroom.sessions[session], grade, seed, is_long, Texts("en")
    )
    assert made is not None
    return made


def all_sheets(grade: int, session: int) -> Iterator[Worksheet]:
    """Both forms for every seed."""
    for seed, is_long in product(SEEDS, (True, False)):
        yield sheet(session, grade, seed, is_long)


def number(text: str) -> sympy.Rational:
    """A printed number: `12`, `3/4`, `1¾`, `1 11/12`."""
    # Unicode's own table says that ¾ is 3⁄4.
    plain = re.sub(r"(?<=\d)(?=[¼-¾⅐-⅞])", " ", text)
    plain = unicodedata.normalize("NFKD", plain).replace("⁄", "/")
    return sum((sympy.Rational(part) for part in plain.split()), sympy.Integer(0))


def numbers(text: str) -> list[sympy.Rational]:
    """All numbers of a text, in its order."""
    return [number(found) for found in re.findall(NUMBER, text)]


def clock(text: str) -> int:
    """`10:51 AM` as minutes after midnight."""
    found = re.search(r"(\d+):(\d+)\s*([AP])M", text)
    assert found, text
    return int(found[1]) % 12 * 60 + int(found[2]) + 720 * (found[3] == "P")


def solved(view: QuestionView) -> Answer:
    """The answer to a printed question."""
    text, hint = view.asked.text, view.asked.hint
    for pattern, solve in _SOLVERS:
        found = re.search(pattern.replace("#", f"({NUMBER})"), text)
        if found:
            return solve(view, [number(group) for group in found.groups()], hint)
    raise AssertionError(f"no solver knows: {text}")


def said(view: QuestionView) -> Answer:
    """The answer that the key gives, read back the same way."""
    if view.asked.choices:
        return view.asked.answer
    if "×" in view.asked.answer:
        return tuple(numbers(view.asked.answer))
    if re.search(r"\d:\d\d", view.asked.answer):
        return (sympy.Integer(clock(view.asked.answer)),)
    return tuple(numbers(view.asked.answer))


def one(equation: sympy.Eq) -> tuple[sympy.Rational, ...]:
    """The only solution of an equation."""
    line = sympy.Poly(equation.lhs - equation.rhs, X)
    assert line.degree() == 1, equation
    slope, height = line.all_coeffs()
    return (-height / slope,)


def _amount(text: str) -> sympy.Rational:
    found = re.search(rf"you need ({NUMBER})", text)
    assert found, text
    return number(found[1])


def _table(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    (_, *people), (_, *amounts) = view.asked.rows
    known = [place for place, amount in enumerate(amounts) if amount]
    blank = amounts.index("")
    assert len(known) == len(amounts) - 1
    found = {
        one(sympy.Eq(X / number(people[blank]), number(amounts[at]) / number(people[at])))
        for at in known
    }
    assert len(found) == 1
    return found.pop()


def _convert(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    _, rate = numbers(hint)
    large, small = (side.split(maxsplit=1)[1] for side in hint.split(" = "))
    unit = view.asked.blanks[0]
    amount = _amount(view.asked.text)
    if unit.rstrip("s") == small.rstrip("s"):
        return one(sympy.Eq(X, amount * rate))
    assert unit.rstrip("s") == large.rstrip("s")
    return one(sympy.Eq(X * rate, amount))


def _ratio(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    found = re.search(rf"has ({NUMBER}) .*? and ({NUMBER}) [^0-9]*\. Write", view.asked.text)
    assert found, view.asked.text
    ratio = sympy.Rational(number(found[1]), number(found[2]))
    return (sympy.Integer(ratio.p), sympy.Integer(ratio.q))


def _fewest(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    """By search: every way with the fewest scoops; there must be one."""
    amount = _amount(view.asked.text)
    assert isinstance(view.figure, Cups)
    cups = [number(cup.label.split()[0]) for cup in view.figure.cups]
    most = [int(amount / cup) for cup in cups]
    ways = [
        counts
        for counts in product(*(range(n + 1) for n in most))
        if sum(n * cup for n, cup in zip(counts, cups, strict=True)) == amount
    ]
    least = min(sum(way) for way in ways)
    best = [way for way in ways if sum(way) == least]
    assert len(best) == 1, best
    return tuple(
        value
        for count, cup in zip(best[0], cups, strict=True)
        if count
        for value in (sympy.Integer(count), cup)
    )


def _spoons(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    (lost,) = given
    tbsp = lost * 16
    whole = sympy.floor(tbsp)
    return (whole, (tbsp - whole) * 3)


def _letter(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    assert isinstance(view.figure, Line)
    at = [point for point in view.figure.points if sympy.Rational(str(point.at)) == given[0]]
    assert len(at) == 1
    return at[0].label


def _first_or_second(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    one_count, one_size, two_count, two_size = given
    first, second = one_count * one_size, two_count * two_size
    assert first != second
    return "the first bowl" if first > second else "the second bowl"


def _more_or_less(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    amount = _amount(view.asked.text)
    made = amount * given[-1]
    return "less" if made < amount else "more" if made > amount else "the same"


def _same(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    found = re.fullmatch(r"(\d+)/(\d+) = \?/(\d+)", hint)
    assert found, hint
    top, below, other = found.groups()
    assert sympy.Rational(top, below) == _amount(view.asked.text)
    return one(sympy.Eq(X / int(other), sympy.Rational(top, below)))


def _end(view: QuestionView, given: Sequence[sympy.Rational], hint: str) -> Answer:
    steps = [int(n) for n in re.findall(r"takes (\d+) minutes", view.asked.text)]
    return (sympy.Integer(clock(view.asked.text) + sum(steps)),)


_SOLVERS: tuple[tuple[str, Solver], ...] = (
    (r"Which number is missing in the table", _table),
    (
        r"serves #\. You cook for # people\. What percent",
        lambda view, given, hint: one(sympy.Eq(X / 100 * given[0], given[1])),
    ),
    (
        r"serves #\. You cook for # people\. How many times",
        lambda view, given, hint: one(sympy.Eq(X * given[0], given[1])),
    ),
    (
        r"You make # % of the recipe\. How much",
        lambda view, given, hint: one(sympy.Eq(X, _amount(view.asked.text) * given[0] / 100)),
    ),
    (
        r"You make # of the recipe\. How much",
        lambda view, given, hint: one(sympy.Eq(X / given[0], _amount(view.asked.text))),
    ),
    (
        r"You make the recipe # times\. How much",
        lambda view, given, hint: one(sympy.Eq(X / given[0], _amount(view.asked.text))),
    ),
    (r"You make (?:the recipe )?# (?:times|of the recipe)\. Don't work it out", _more_or_less),
    (
        r"You share # .* evenly among # bowls",
        lambda view, given, hint: one(sympy.Eq(X * given[1], given[0])),
    ),
    (
        r"You have only the # cup scoop\. How many",
        lambda view, given, hint: one(sympy.Eq(X * given[0], _amount(view.asked.text))),
    ),
    (r"as few level scoops as you can", _fewest),
    (
        r"the # cup scoop is lost\. How many # cup scoops",
        lambda view, given, hint: one(sympy.Eq(X * given[1], given[0])),
    ),
    (
        r"the # cup scoop is lost\. How many level tablespoons",
        lambda view, given, hint: one(sympy.Eq(X / 16, given[0])),
    ),
    (r"the # cup scoop is lost\. Take whole tablespoons", _spoons),
    (r"first bowl gets # × # cup, the second bowl gets # × # cup", _first_or_second),
    (r"Which letter stands at # cups? on the line", _letter),
    (r"Write the same number another way", _same),
    (
        r"# people share # .* for each person",
        lambda view, given, hint: one(sympy.Eq(X * given[0], given[1])),
    ),
    (
        r"# people need # .* How much do # people need",
        lambda view, given, hint: one(sympy.Eq(X / given[2], given[1] / given[0])),
    ),
    (r"Write the ratio of the first to the second", _ratio),
    (r"(?:is it|are both|is it) done\?", _end),
    (
        r"# minutes\. How many hours is that",
        lambda view, given, hint: one(sympy.Eq(X * 60, given[0])),
    ),
    (
        r"lasts # h # min\. How many minutes",
        lambda view, given, hint: one(sympy.Eq(X, given[0] * 60 + given[1])),
    ),
    (
        r"^# children wash .* for # seconds",
        lambda view, given, hint: one(sympy.Eq(X * 60, given[0] * given[1])),
    ),
    (
        r"reach # °F\. The thermometer shows # °F",
        lambda view, given, hint: one(sympy.Eq(given[1] + X, given[0])),
    ),
    (
        r"at # °F or colder\. The thermometer shows # °F",
        lambda view, given, hint: one(sympy.Eq(given[1] - X, given[0])),
    ),
    (
        r"# °F(?: or colder)?\. It was # °F and has gone # of the way",
        lambda view, given, hint: one(sympy.Eq((X - given[1]) / (given[0] - given[1]), given[2])),
    ),
    (
        r"# °F(?: or colder)?\. It starts at # °F and takes # minutes",
        lambda view, given, hint: one(sympy.Eq(X * given[2], abs(given[0] - given[1]))),
    ),
    (r"How many \S+(?: oz)? is that", _convert),
)
