"""A cup that the amount needs is lost: what stands in for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.quantity.show import show_number as n
from spoonfold.sheets.worksheet.chance import Draws
from spoonfold.sheets.worksheet.figures import Cups, cup_of, one_of
from spoonfold.sheets.worksheet.names import Names
from spoonfold.sheets.worksheet.numbers import TBSP_IN_CUP, TSP_IN_TBSP, Numbers, a_few_cups
from spoonfold.sheets.worksheet.question import AboutFood, Answer, Asked, Question, Topic
from spoonfold.sheets.worksheet.working import in_scoops, multiplied, with_mixed


def lost_cups(numbers: Numbers, grade: int, draws: Draws) -> Iterator[Question]:
    """Smaller cups in grade 3, spoons from grade 4 on."""
    cups = numbers.room.cups
    for food in a_few_cups(numbers.scaled_foods(grade), grade):
        for cup in cups:
            if food.amount != cup and (cup == 1 or food.amount % 1 != cup):
                continue
            if grade == 3:
                for other in cups:
                    count = cup / other
                    if other < cup and count.denominator == 1:
                        standard = "3.NF.A.3.c" if cup == 1 else "3.NF.A.3.b"
                        yield LostToScoop(standard, food, cup, other)
            elif cup < 1:
                standard = {4: "4.MD.A.2", 5: "5.MD.A.1", 6: "6.NS.A.1"}[grade]
                yield LostToSpoons(standard, food, cup)


@dataclass(frozen=True, slots=True)
class LostToScoop(AboutFood):
    """A cup is lost: how many of a smaller one stand in for it."""

    lost: Fraction
    other: Fraction

    @property
    def answer(self) -> Answer:
        return (self.lost / self.other,)

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        text = say(
            "Oh no: the {lost} scoop is lost. How many {other} scoops hold as much as that one?",
            lost=names.cups(self.lost),
            other=names.cups(self.other),
        )
        answer = say("{number} scoops", number=n(self.answer[0]))
        return Asked(f"{names.need(self.food)} {text}", (say("scoops"),), answer)

    def work(self, names: Names) -> tuple[str, ...]:
        (count,) = self.answer
        parts = f"{n(count)}/{self.other.denominator}"
        return (
            f"{n(self.lost)} = {parts}",
            in_scoops(self.standard, parts, count, self.other, names),
        )

    def figure(self, names: Names) -> Cups:
        lost, other = cup_of(self.lost, names, is_lost=True), cup_of(self.other, names)
        return Cups(
            (lost, other),
            False,
            names.texts.say(
                "Two cups at true size: the lost one is dashed, {lost}; beside it {other}.",
                lost=lost.label,
                other=other.label,
            ),
        )


@dataclass(frozen=True, slots=True)
class LostToSpoons(AboutFood):
    """A cup is lost: how many whole tablespoons, and how many teaspoons for what is left."""

    lost: Fraction

    @property
    def answer(self) -> Answer:
        tsp = self.lost * TBSP_IN_CUP * TSP_IN_TBSP
        tbsp, rest = divmod(tsp, TSP_IN_TBSP)
        return (Fraction(tbsp), rest) if rest else (Fraction(tbsp),)

    def asked(self, names: Names) -> Asked:
        say = names.texts.say
        told = say("Oh no: the {lost} scoop is lost.", lost=names.cups(self.lost))
        tbsp, *tsp = self.answer
        answer, hint = names.amount(tbsp, "tbsp"), names.equal("cup", TBSP_IN_CUP, "tbsp")
        if not tsp:
            text = say("How many level tablespoons hold as much as that one?")
            blanks: tuple[str, ...] = (names.unit("tbsp"),)
        else:
            text = say(
                "Take whole tablespoons for as much of it as you can, and teaspoons for "
                "the rest. How many of each?"
            )
            blanks = (names.unit("tbsp"), names.unit("tsp"))
            answer = f"{answer} + {names.amount(tsp[0], 'tsp')}"
            hint = f"{hint}, {names.equal('tbsp', TSP_IN_TBSP, 'tsp')}"
        between = "+" if tsp else ""
        return Asked(
            f"{names.need(self.food)} {told} {text}", blanks, answer, hint, between=between
        )

    def work(self, names: Names) -> tuple[str, ...]:
        if self.standard == "4.MD.A.2":
            return self._by_teaspoons(names)
        lost, tbsp = self.lost, self.lost * TBSP_IN_CUP
        if self.standard == "6.NS.A.1":
            turned = with_mixed(f"{n(lost)} × {TBSP_IN_CUP}", tbsp)
            lines: tuple[str, ...] = (f"{n(lost)} ÷ 1/{TBSP_IN_CUP} = {turned}",)
        else:
            lines = multiplied(lost, Fraction(TBSP_IN_CUP))
        if len(self.answer) == 1:
            return lines
        rest = names.amount(self.answer[1], "tsp")
        return (*lines, f"{n(tbsp % 1)} × {TSP_IN_TBSP} {names.unit('tsp')} = {rest}")

    def _by_teaspoons(self, names: Names) -> tuple[str, ...]:
        """Grade 4 multiplies by a whole number, and has no part of a tablespoon left over."""
        lost, unit = self.lost, names.unit("tsp")
        if len(self.answer) == 1:
            return (f"{TBSP_IN_CUP} × {n(lost)} = {n(lost * TBSP_IN_CUP)}",)
        whole, rest = self.answer
        spoons = TBSP_IN_CUP * TSP_IN_TBSP
        left = names.texts.say("{number} left over", number=n(rest))
        return (
            f"{TBSP_IN_CUP} × {TSP_IN_TBSP} {unit} = {spoons} {unit}",
            f"{spoons} × {n(lost)} = {spoons}/{lost.denominator} = {n(lost * spoons)} {unit}",
            f"{n(lost * spoons)} ÷ {TSP_IN_TBSP} = {n(whole)}, {left}",
        )

    def figure(self, names: Names) -> Cups:
        lost = cup_of(self.lost, names, is_lost=True)
        drawn = (lost, one_of("tbsp", names), one_of("tsp", names))
        return Cups(
            drawn[: 1 + len(self.answer)],
            False,
            names.texts.say(
                "At true size: the lost cup is dashed, {lost}; beside it the spoons.",
                lost=lost.label,
            ),
        )


ASKS = {Topic.LOST: lost_cups}
