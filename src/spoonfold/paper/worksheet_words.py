"""What a question of the worksheet asks, in words, and what is filled in."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from spoonfold.language.amounts import amount_of, amount_text
from spoonfold.language.calendar import time_text
from spoonfold.language.texts import Texts
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Ingredient
from spoonfold.paper.worksheet_degrees import degrees_asked
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_number
from spoonfold.quantity.unit import PIECE, UNITS
from spoonfold.sheets.amounts import ingredient_name
from spoonfold.teach.fractions import amount_kinds as amounts
from spoonfold.teach.fractions import clock_kinds as clock
from spoonfold.teach.fractions import kinds as kind
from spoonfold.teach.fractions import measure_kinds as measures
from spoonfold.teach.fractions.numbers import Food

_UNIT = {unit.name: unit for unit in UNITS}
LETTERS = "ABCDEFGH"


@dataclass(frozen=True, slots=True)
class Asked:
    """The words of a question."""

    text: str
    blanks: tuple[str, ...] = ()
    """What stands behind each blank: `cups`; empty for a number alone."""
    answer: str = ""
    hint: str = ""
    """A fact that is needed: `1 cup = 16 tbsp`."""
    choices: tuple[str, ...] = ()
    """One of these is circled; then there are no blanks."""
    rows: tuple[tuple[str, ...], ...] = ()
    """A table with one empty cell, each row after its name."""
    between: str = ""
    """What stands between two blanks: the colon of a ratio."""


@dataclass(frozen=True, slots=True)
class Names:
    """What numbers are called: dishes, foods, units."""

    texts: Texts
    titles: Mapping[str, str]
    ingredients: Mapping[tuple[str, str], Ingredient]
    pantry: Pantry = field(repr=False)

    def amount(self, number: Fraction, unit: str) -> str:
        """`1½ cups`; the number alone where the food itself is counted."""
        return amount_text(Amount(number, _UNIT[unit]), self.texts)

    def food(self, food: Food, number: Fraction | None = None) -> str:
        """`1½ cups red lentils`, `2 carrots`."""
        value = food.amount if number is None else number
        amount = Amount(value, _UNIT[food.unit])
        return amount_of((amount,), self.name(food, value), self.texts)

    def name(self, food: Food, number: Fraction) -> str:
        """The food's name, singular or plural as so many of it ask."""
        ingredient = self.ingredients[food.dish, food.key]
        item = self.pantry.find(ingredient.name)
        return ingredient_name(ingredient, (Amount(number, _UNIT[food.unit]),), item, self.texts)

    def measure(self, food: Food) -> str:
        """What stands behind a blank: `cups`, `carrots`."""
        return self.unit(food.unit) if food.unit else self.name(food, Fraction(2))

    def unit(self, name: str) -> str:
        unit = _UNIT[name]
        return self.texts.count(unit.name, unit.plural, 2) if unit != PIECE else ""

    def cups(self, number: Fraction) -> str:
        return self.amount(number, "cup")

    def clock(self, minutes: int) -> str:
        """A time of day, given in minutes after midnight."""
        hour, minute = divmod(minutes % (24 * 60), 60)
        return time_text(datetime.time(hour, minute), self.texts.language)


def asked_of(question: kind.Question, names: Names) -> Asked:
    """The words of a question and its answer."""
    match question:
        case amounts.Times():
            return _times(question, names)
        case (
            measures.CountScoops()
            | measures.FewestScoops()
            | measures.LostToScoop()
            | measures.LostToSpoons()
        ):
            return _scoops(question, names)
        case amounts.Compare() | amounts.MoreOrLess() | amounts.ReadLine() | measures.SameAs():
            return _compared(question, names)
        case amounts.PerPerson() | amounts.AtThatRate() | amounts.RatioTable() | amounts.Ratio():
            return _rates(question, names)
        case kind.About():
            return _amounts(question, names)
        case clock.Degrees():
            return Asked(
                degrees_asked(question, names.texts, names.titles[question.dish]),
                ("°F",),
                f"{show_number(question.answer[0])} °F",
            )
    return _timed(question, names)


def _times(question: amounts.Times, names: Names) -> Asked:
    say = names.texts.say
    told = say(
        "The recipe for {dish} serves {serves}. You cook for {people} people.",
        dish=names.titles[question.dish],
        serves=question.serves,
        people=question.people,
    )
    number = show_number(question.answer[0])
    if isinstance(question, amounts.TimesPercent):
        text = say("What percent of the recipe do you make?")
        return Asked(f"{told} {text}", ("%",), f"{number} %")
    text = say("How many times the recipe is that?")
    return Asked(f"{told} {text}", (say("times"),), say("{number} times", number=number))


def _amounts(question: kind.About, names: Names) -> Asked:
    """Questions whose one answer is an amount of the food."""
    say, food, n = names.texts.say, question.food, show_number
    what, measure = names.food(food), names.measure(food)
    (value,) = question.answer
    answer = names.food(food, value)
    match question:
        case amounts.Multiply(times=times):
            text = say(
                "For {people} people you need {what}. You make the recipe {times} times. "
                "How much do you need?",
                people=food.people,
                what=what,
                times=n(times),
            )
        case amounts.PartOf(part=part):
            text = say(
                "For {people} people you need {what}. You make {part} of the recipe. "
                "How much do you need?",
                people=food.people,
                what=what,
                part=n(part),
            )
        case amounts.PercentOf(percent=percent):
            text = say(
                "For {people} people you need {what}. You make {percent} % of the recipe. "
                "How much do you need?",
                people=food.people,
                what=what,
                percent=percent,
            )
        case amounts.ShareOne(among=among):
            text = say(
                "You share {what} evenly among {among} bowls. How much goes in each bowl?",
                what=what,
                among=among,
            )
            measure = say(food.unit) if food.unit else names.name(food, Fraction(1))
        case measures.Convert(to=to, large=large, small=small, rate=rate):
            text = say(
                "For {people} people you need {what}. How many {unit} is that?",
                people=food.people,
                what=what,
                unit=names.unit(to),
            )
            return Asked(
                text,
                (names.unit(to),),
                names.amount(value, to),
                f"{names.amount(Fraction(1), large)} = {names.amount(Fraction(rate), small)}",
            )
        case _:
            raise TypeError(question)
    return Asked(text, (measure,), answer)


def _rates(question: kind.About, names: Names) -> Asked:
    say, food = names.texts.say, question.food
    what, measure = names.food(food), names.measure(food)
    match question:
        case amounts.PerPerson():
            text = say(
                "{people} people share {what}. How much is that for each person?",
                people=food.people,
                what=what,
            )
        case amounts.AtThatRate(others=others):
            text = say(
                "{people} people need {what}. How much do {others} people need, if each "
                "gets the same?",
                people=food.people,
                what=what,
                others=others,
            )
        case amounts.RatioTable(columns=columns, blank=blank):
            text = say("Everybody gets the same amount. Which number is missing in the table?")
            cells = [show_number(question.amount(people)) for people in columns]
            cells[blank] = ""
            rows = ((say("People"), *map(str, columns)), (_row_name(food, names), *cells))
            return Asked(text, (measure,), names.food(food, question.answer[0]), rows=rows)
        case amounts.Ratio(other=other):
            text = say(
                "The recipe has {what} and {other}. Write the ratio of the first to the "
                "second in the smallest whole numbers.",
                what=what,
                other=names.food(other),
            )
            one, two = map(show_number, question.answer)
            return Asked(text, ("", ""), f"{one} : {two}", between=":")
        case _:
            raise TypeError(question)
    return Asked(text, (measure,), names.food(food, question.answer[0]))


def _row_name(food: Food, names: Names) -> str:
    name = names.name(food, Fraction(2))
    return f"{name} ({names.unit(food.unit)})" if food.unit else name


def _scoops(question: kind.About, names: Names) -> Asked:
    say, food = names.texts.say, question.food
    need = say("For {people} people you need {what}.", people=food.people, what=names.food(food))
    match question:
        case measures.CountScoops(scoop=scoop):
            text = say(
                "You have only the {scoop} scoop. How many level scoops do you take?",
                scoop=names.cups(scoop),
            )
            number = show_number(question.answer[0])
            return Asked(f"{need} {text}", (say("scoops"),), say("{number} scoops", number=number))
        case measures.FewestScoops(cups=cups):
            text = say("Fill it exactly, with as few level scoops as you can. How many of each?")
            answer = " + ".join(
                f"{number} × {names.cups(cup)}"
                for cup, number in zip(cups, question.answer, strict=True)
                if number
            )
            return Asked(f"{need} {text}", (), answer)
        case measures.LostToScoop(lost=lost, other=other):
            text = say(
                "Oh no: the {lost} scoop is lost. How many {other} scoops hold as much as "
                "that one?",
                lost=names.cups(lost),
                other=names.cups(other),
            )
            number = show_number(question.answer[0])
            return Asked(f"{need} {text}", (say("scoops"),), say("{number} scoops", number=number))
        case measures.LostToSpoons(lost=lost):
            told = say("Oh no: the {lost} scoop is lost.", lost=names.cups(lost))
            tbsp, tsp = names.unit("tbsp"), names.unit("tsp")
            if len(question.answer) == 1:
                text = say("How many level tablespoons hold as much as that one?")
                return Asked(
                    f"{need} {told} {text}",
                    (tbsp,),
                    names.amount(question.answer[0], "tbsp"),
                    _equal(names, "cup", measures.TBSP_IN_CUP, "tbsp"),
                )
            text = say(
                "Take whole tablespoons for as much of it as you can, and teaspoons for "
                "the rest. How many of each?"
            )
            answer = " + ".join(
                (names.amount(question.answer[0], "tbsp"), names.amount(question.answer[1], "tsp"))
            )
            hint = ", ".join(
                (
                    _equal(names, "cup", measures.TBSP_IN_CUP, "tbsp"),
                    _equal(names, "tbsp", measures.TSP_IN_TBSP, "tsp"),
                )
            )
            return Asked(f"{need} {told} {text}", (tbsp, tsp), answer, hint, between="+")
    raise TypeError(question)


def _equal(names: Names, large: str, rate: int, small: str) -> str:
    return f"{names.amount(Fraction(1), large)} = {names.amount(Fraction(rate), small)}"


def _compared(question: kind.About, names: Names) -> Asked:
    say, food, n = names.texts.say, question.food, show_number
    choices: tuple[str, ...]
    need = say("For {people} people you need {what}.", people=food.people, what=names.food(food))
    place = int(question.answer[0])
    match question:
        case amounts.Compare(counts=counts, scoops=scoops):
            first, second = (
                f"{count} × {names.cups(scoop)}"
                for count, scoop in zip(counts, scoops, strict=True)
            )
            name = names.name(food, Fraction(2))
            text = say(
                "Level scoops of {name}: the first bowl gets {first}, the second bowl gets "
                "{second}. Which bowl has more?",
                name=name,
                first=first,
                second=second,
            )
            choices = (say("the first bowl"), say("the second bowl"))
        case amounts.MoreOrLess(times=times):
            made = (
                say("You make the recipe {times} times.", times=n(times))
                if times > 1
                else say("You make {part} of the recipe.", part=n(times))
            )
            text = f"{need} {made} " + say("Don't work it out: do you need less, the same or more?")
            choices = (say("less"), say("the same"), say("more"))
        case amounts.ReadLine(marks=marks):
            text = (
                need
                + " "
                + say(
                    "Which letter stands at {amount} on the line?", amount=names.cups(food.amount)
                )
            )
            choices = tuple(LETTERS[: len(marks)])
        case measures.SameAs(below=below):
            text = need + " " + say("Write the same number another way. What belongs on top?")
            top = f"{food.amount.numerator}/{food.amount.denominator}"
            return Asked(text, ("",), n(question.answer[0]), f"{top} = ?/{below}")
        case _:
            raise TypeError(question)
    return Asked(text, (), choices[place], choices=choices)


def _timed(question: kind.Question, names: Names) -> Asked:
    say = names.texts.say
    (value,) = question.answer
    match question:
        case clock.EndTime(dish=dish, begins=begins, steps=(one,)):
            text = say(
                "{dish}: step {step} takes {minutes} minutes. You begin it at {time}. "
                "When is it done?",
                dish=names.titles[dish],
                step=one.step,
                minutes=one.minutes,
                time=names.clock(begins),
            )
            return Asked(text, ("", ""), names.clock(int(value)), between=":")
        case clock.EndTime(dish=dish, begins=begins, steps=(one, two)):
            text = say(
                "{dish}: step {step} takes {minutes} minutes. Right after it, step {next} "
                "takes {more} minutes. You begin at {time}. When are both done?",
                dish=names.titles[dish],
                step=one.step,
                minutes=one.minutes,
                next=two.step,
                more=two.minutes,
                time=names.clock(begins),
            )
            return Asked(text, ("", ""), names.clock(int(value)), between=":")
        case clock.HourPart(dish=dish, step=step, minutes=minutes):
            told = (
                say(
                    "{dish}: step {step} takes {minutes} minutes.",
                    dish=names.titles[dish],
                    step=step,
                    minutes=minutes,
                )
                if step
                else say("Our class lasts {minutes} minutes.", minutes=minutes)
            )
            text = say("How many hours is that? Write it with a fraction.")
            return Asked(
                f"{told} {text}",
                (say("h"),),
                say("{hours} h", hours=show_number(value)),
                say("1 hour = 60 minutes"),
            )
        case clock.SessionMinutes(hours=hours, minutes=minutes):
            text = say(
                "Our class lasts {hours} h {minutes} min. How many minutes is that?",
                hours=hours,
                minutes=minutes,
            )
            return Asked(
                text,
                (say("minutes"),),
                say("{number} minutes", number=show_number(value)),
                say("1 hour = 60 minutes"),
            )
        case clock.WashTime(children=children, seconds=seconds):
            text = say(
                "{children} children wash their hands at one tap, one after the other, "
                "each for {seconds} seconds. How many minutes is that?",
                children=children,
                seconds=seconds,
            )
            return Asked(
                text,
                (say("minutes"),),
                say("{number} minutes", number=show_number(value)),
                say("1 minute = 60 seconds"),
            )
    raise TypeError(question)
