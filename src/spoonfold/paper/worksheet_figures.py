"""What is drawn beside a question: bars, cups, number lines. Values alone; press draws them."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.paper.worksheet_words import LETTERS, Names
from spoonfold.quantity.show import show_number
from spoonfold.teach.fractions import amount_kinds as amounts
from spoonfold.teach.fractions import clock_kinds as clock
from spoonfold.teach.fractions import kinds as kind
from spoonfold.teach.fractions import measure_kinds as measures
from spoonfold.teach.fractions.numbers import Food

_CUP_TSP = 48
_TSP = {"cup": _CUP_TSP, "tbsp": 3, "tsp": 1}
"""NIST Handbook 44, appendix C."""
_MOST_BARS = 5


@dataclass(frozen=True, slots=True)
class Bar:
    """One whole, divided into equal parts, shaded from the left."""

    parts: int
    shaded: Fraction
    """0 to 1."""
    label: str


@dataclass(frozen=True, slots=True)
class Bars:
    """Wholes of one size, in reading order."""

    bars: tuple[Bar, ...]
    words: str
    """For who can't see it."""


@dataclass(frozen=True, slots=True)
class Cup:
    """A cup measure, drawn at its true size beside the others."""

    tsp: Fraction
    label: str
    is_lost: bool = False


@dataclass(frozen=True, slots=True)
class Cups:
    """Cup measures in a row."""

    cups: tuple[Cup, ...]
    has_boxes: bool
    """A box under each for how many are taken."""
    words: str


@dataclass(frozen=True, slots=True)
class Mark:
    """A place on a line, and what stands there."""

    at: Fraction
    label: str


@dataclass(frozen=True, slots=True)
class Line:
    """A number line with a tick at every step."""

    low: Fraction
    high: Fraction
    step: Fraction
    above: tuple[Mark, ...]
    """Numbers of the line."""
    below: tuple[Mark, ...]
    """A second row of numbers."""
    points: tuple[Mark, ...]
    """Dots on the line, with their letters or words."""
    words: str


Figure = Bars | Cups | Line


def figure_of(question: kind.Question, names: Names) -> Figure | None:
    """The picture that helps with a question; None where it needs none."""
    match question:
        case amounts.Times():
            return _people_line(question.serves, question.people, names)
        case (
            measures.CountScoops()
            | measures.FewestScoops()
            | measures.LostToScoop()
            | measures.LostToSpoons()
        ):
            return _scoops(question, names)
        case amounts.Compare(scoops=scoops):
            bars = [
                Bar(scoop.denominator, Fraction(0), names.cups(Fraction(1))) for scoop in scoops
            ]
            return Bars(
                tuple(bars),
                names.texts.say(
                    "Two bars to shade, each one cup: the first in {first} equal parts, "
                    "the second in {second}.",
                    first=scoops[0].denominator,
                    second=scoops[1].denominator,
                ),
            )
        case amounts.ReadLine(marks=marks, food=food):
            return _letters(food, marks, names)
        case measures.SameAs(food=food, below=below):
            return _same(food, below, names)
        case amounts.PerPerson(food=food):
            return _double_line(food, food.people, names)
        case amounts.AtThatRate(food=food, others=others):
            return _double_line(food, others, names)
        case amounts.Multiply(food=food, times=times) if times.denominator == 1:
            return _repeated(food, int(times), names)
        case (
            amounts.PartOf(food=food) | amounts.MoreOrLess(food=food) | amounts.Multiply(food=food)
        ):
            return _amount(food, names)
        case amounts.ShareOne(food=food):
            return Bars(
                (Bar(1, Fraction(0), names.amount(food.amount, food.unit)),),
                names.texts.say("An empty bar to divide: {what}.", what=names.food(food)),
            )
        case measures.Convert(large=large, small=small) if {large, small} <= _TSP.keys():
            drawn = (_measure(large, names), _measure(small, names))
            return Cups(
                drawn,
                False,
                names.texts.say(
                    "Two measures at true size: {first} and {second}.",
                    first=drawn[0].label,
                    second=drawn[1].label,
                ),
            )
        case amounts.PercentOf(food=food):
            return _percent(food, names)
        case clock.EndTime():
            return _clock(question, names)
        case clock.Degrees():
            return _thermometer(question, names)
    return None


def _people_line(serves: int, people: int, names: Names) -> Line | None:
    """People on a line, a label after every recipe's worth."""
    end = math.ceil(Fraction(people, serves)) * serves
    if end > 24:
        return None
    above = tuple(Mark(Fraction(at), str(at)) for at in range(0, end + 1, serves))
    return Line(
        Fraction(0),
        Fraction(end),
        Fraction(1),
        above,
        (),
        (Mark(Fraction(people), names.texts.say("people")),),
        names.texts.say(
            "A number line from 0 to {end} people with a number after every {serves}, and "
            "a dot at {people}.",
            end=end,
            serves=serves,
            people=people,
        ),
    )


def _scoops(question: kind.About, names: Names) -> Figure:
    food = question.food
    match question:
        case measures.CountScoops(scoop=scoop) if food.amount <= 3:
            parts = scoop.denominator if question.standard.startswith("3") else 1
            return _wholes(food, parts, names)
        case measures.CountScoops(scoop=scoop):
            return Cups(
                (_measure("cup", names), _cup(scoop, names)),
                False,
                names.texts.say(
                    "Two measures at true size: {first} and {second}.",
                    first=names.cups(Fraction(1)),
                    second=names.cups(scoop),
                ),
            )
        case measures.FewestScoops(cups=cups):
            drawn = tuple(_cup(cup, names) for cup in cups)
            return Cups(
                drawn,
                True,
                names.texts.say(
                    "Cups at true size, each with a box for a number: {cups}.",
                    cups=", ".join(cup.label for cup in drawn),
                ),
            )
        case measures.LostToScoop(lost=lost, other=other):
            drawn = (_cup(lost, names, True), _cup(other, names))
            return Cups(
                drawn,
                False,
                names.texts.say(
                    "Two cups at true size: the lost one is dashed, {lost}; beside it {other}.",
                    lost=drawn[0].label,
                    other=drawn[1].label,
                ),
            )
        case measures.LostToSpoons(lost=lost):
            drawn = (_cup(lost, names, True), _measure("tbsp", names), _measure("tsp", names))
            return Cups(
                drawn[: 1 + len(question.answer)],
                False,
                names.texts.say(
                    "At true size: the lost cup is dashed, {lost}; beside it the spoons.",
                    lost=drawn[0].label,
                ),
            )
    raise TypeError(question)


def _cup(size: Fraction, names: Names, is_lost: bool = False) -> Cup:
    return Cup(size * _CUP_TSP, names.cups(size), is_lost)


def _measure(unit: str, names: Names) -> Cup:
    """One of a unit: a cup, a tablespoon, a teaspoon."""
    return Cup(Fraction(_TSP[unit]), names.amount(Fraction(1), unit))


def _filled(amount: Fraction, parts: int, label: str) -> list[Bar]:
    """As many wholes as hold the amount, shaded up to it."""
    return [Bar(parts, min(Fraction(1), amount - at), label) for at in range(math.ceil(amount))]


def _wholes(food: Food, parts: int, names: Names) -> Bars:
    one = names.cups(Fraction(1))
    bars = tuple(_filled(food.amount, parts, one))
    said = names.texts.say(
        "Bars, each one whole: {count}. Shaded in all: {amount}.",
        count=len(bars),
        amount=names.amount(food.amount, food.unit),
    )
    return Bars(bars, said)


def _amount(food: Food, names: Names) -> Bars | None:
    """The amount as shaded bars, where it is a few cups or pieces that can be drawn."""
    if food.unit not in ("cup", "tsp", "tbsp") or food.amount > 3:
        return None
    one = names.amount(Fraction(1), food.unit)
    bars = tuple(_filled(food.amount, food.amount.denominator, one))
    return Bars(
        bars,
        names.texts.say(
            "Bars, each one whole: {count}. Shaded in all: {amount}.",
            count=len(bars),
            amount=names.amount(food.amount, food.unit),
        ),
    )


def _repeated(food: Food, times: int, names: Names) -> Bars | None:
    """The amount again and again, one bar each."""
    if food.whole or food.amount > 1 or times > _MOST_BARS:
        return None
    one = names.amount(Fraction(1), food.unit)
    bars = [Bar(food.amount.denominator, food.amount, one)] * times
    return Bars(
        tuple(bars),
        names.texts.say(
            "{count} bars, each one whole, each shaded to {amount}.",
            count=times,
            amount=names.amount(food.amount, food.unit),
        ),
    )


def _same(food: Food, below: int, names: Names) -> Bars:
    """The amount shaded, and under it the same wholes divided anew, for the child to shade."""
    one = names.amount(Fraction(1), food.unit)
    first = _filled(food.amount, food.amount.denominator, one)
    second = [Bar(below, Fraction(0), one) for _ in first]
    return Bars(
        (*first, *second),
        names.texts.say(
            "Bars in {first} parts, shaded to {amount}; under them bars to shade, in {second} "
            "parts.",
            first=food.amount.denominator,
            second=below,
            amount=names.amount(food.amount, food.unit),
        ),
    )


def _letters(food: Food, marks: tuple[Fraction, ...], names: Names) -> Line:
    points = tuple(Mark(at, LETTERS[place]) for place, at in enumerate(marks))
    above = tuple(Mark(Fraction(at), str(at)) for at in range(3))
    return Line(
        Fraction(0),
        Fraction(2),
        Fraction(1, food.amount.denominator),
        above,
        (),
        points,
        names.texts.say(
            "A line of cups from 0 to 2, with {parts} spaces in each cup, and letters "
            "at these spaces: {places}.",
            parts=food.amount.denominator,
            places=", ".join(
                f"{mark.label} {show_number(mark.at * food.amount.denominator)}" for mark in points
            ),
        ),
    )


def _double_line(food: Food, people: int, names: Names) -> Line | None:
    """People above, amounts below: only the amount that the recipe says."""
    end = max(people, food.people)
    if end > 16:
        return None
    above = tuple(Mark(Fraction(at), str(at)) for at in range(end + 1))
    below = (
        Mark(Fraction(0), "0"),
        Mark(Fraction(food.people), names.amount(food.amount, food.unit)),
    )
    return Line(
        Fraction(0),
        Fraction(end),
        Fraction(1),
        above,
        below,
        (),
        names.texts.say(
            "A double number line: people from 0 to {end}, and below {people} the amount {amount}.",
            end=end,
            people=food.people,
            amount=names.amount(food.amount, food.unit),
        ),
    )


def _percent(food: Food, names: Names) -> Line:
    above = tuple(Mark(Fraction(at), f"{at} %") for at in (0, 25, 50, 75, 100))
    below = (Mark(Fraction(0), "0"), Mark(Fraction(100), names.amount(food.amount, food.unit)))
    return Line(
        Fraction(0),
        Fraction(100),
        Fraction(25),
        above,
        below,
        (),
        names.texts.say(
            "A double number line: 0 to 100 percent, and below 100 percent the amount {amount}.",
            amount=names.amount(food.amount, food.unit),
        ),
    )


def _clock(question: clock.EndTime, names: Names) -> Line:
    """Five-minute ticks from before the start to after the end, an hour at least."""
    begins, ends = question.begins, int(question.answer[0])
    low = begins // 15 * 15
    high = max((ends // 15 + 1) * 15, low + 60)
    every = 15 if high - low <= 60 else 30
    above = tuple(
        Mark(Fraction(at), names.clock(at)) for at in range(low, high + 1) if at % every == 0
    )
    return Line(
        Fraction(low),
        Fraction(high),
        Fraction(5),
        above,
        (),
        (Mark(Fraction(begins), names.texts.say("start")),),
        names.texts.say(
            "A line of time from {low} to {high} with a tick every 5 minutes, and a dot "
            "at {start}.",
            low=names.clock(low),
            high=names.clock(high),
            start=names.clock(begins),
        ),
    )


def _thermometer(question: clock.Degrees, names: Names) -> Line:
    """Ten degrees a tick; both temperatures that the question tells."""
    heat, start = question.heat, question.start
    low = min(heat.goal, start) // 20 * 20
    high = -(-max(heat.goal, start) // 20) * 20
    every = 20 if high - low <= 160 else 50 if high - low <= 400 else 100
    step = 2 if high - low <= 60 else 5 if high - low <= 160 else 10
    above = tuple(Mark(Fraction(at), str(at)) for at in range(low, high + 1) if at % every == 0)
    points = (
        Mark(
            Fraction(start),
            names.texts.say("start")
            if not isinstance(question, clock.ToGo)
            else names.texts.say("now"),
        ),
        Mark(Fraction(heat.goal), names.texts.say("goal")),
    )
    return Line(
        Fraction(low),
        Fraction(high),
        Fraction(step),
        above,
        (),
        points,
        names.texts.say(
            "A thermometer from {low} to {high} °F, with dots at {start} and {goal}.",
            low=low,
            high=high,
            start=start,
            goal=heat.goal,
        ),
    )
