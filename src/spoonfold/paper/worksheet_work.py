"""How a question of the worksheet is worked out, line by line, for the key."""

from __future__ import annotations

from fractions import Fraction
from math import lcm

from spoonfold.paper.worksheet_words import LETTERS, Names
from spoonfold.quantity.show import show_number
from spoonfold.teach.fractions import amount_kinds as amounts
from spoonfold.teach.fractions import clock_kinds as clock
from spoonfold.teach.fractions import kinds as kind
from spoonfold.teach.fractions import measure_kinds as measures
from spoonfold.teach.fractions.measure_kinds import TBSP_IN_CUP, TSP_IN_TBSP


def work_of(question: kind.Question, names: Names) -> tuple[str, ...]:
    """Formulas and short words, each line one step."""
    match question:
        case amounts.TimesPercent(serves=serves, people=people):
            return (
                _divided(people, serves),
                f"{_over(Fraction(people, serves))} = {n(question.answer[0])}/100 = "
                f"{n(question.answer[0])} %",
            )
        case amounts.Times(serves=serves, people=people):
            return (_divided(people, serves),)
        case kind.About():
            return _about(question, names)
        case clock.Degrees():
            return _degrees(question)
    return _timed(question, names)


n = show_number


def _over(value: Fraction) -> str:
    """One fraction without a whole number before it: `5/4`; a whole number stays."""
    return (
        str(value.numerator)
        if value.denominator == 1
        else (f"{value.numerator}/{value.denominator}")
    )


def _with_mixed(formula: str, value: Fraction) -> str:
    """A formula that ends in `value`, and the mixed number where that is another."""
    over, mixed = _over(value), n(value)
    is_mixed = value > 1 and value.denominator != 1
    return f"{formula} = {over} = {mixed}" if is_mixed else f"{formula} = {over}"


def _divided(one: int | Fraction, two: int | Fraction) -> str:
    return _with_mixed(f"{n(Fraction(one))} ÷ {n(Fraction(two))}", Fraction(one) / two)


def _multiplied(one: Fraction, two: Fraction) -> tuple[str, ...]:
    """Mixed numbers as one fraction, then tops times tops and bottoms times bottoms."""
    lines = [
        f"{n(each)} = {_over(each)}" for each in (one, two) if each > 1 and each.denominator != 1
    ]
    top = one.numerator * two.numerator
    below = one.denominator * two.denominator
    formula = f"{_over(one)} × {_over(two)}"
    if below != 1 and (top, below) != (one * two).as_integer_ratio():
        formula += f" = {top}/{below}"
    return (*lines, _with_mixed(formula, one * two))


def _about(question: kind.About, names: Names) -> tuple[str, ...]:
    food = question.food
    amount = food.amount
    match question:
        case amounts.Multiply(times=factor) | amounts.PartOf(part=factor):
            if question.standard == "3.OA.A.3" and factor < 1:
                return (_divided(amount, 1 / factor),)
            if question.standard == "5.NF.B.7.c":
                return (_divided(amount, 1 / factor),)
            return _multiplied(amount, factor)
        case amounts.ShareOne(among=among):
            return (
                names.texts.say(
                    "1 of {count} equal parts is {part}.", count=among, part=n(question.answer[0])
                ),
            )
        case amounts.PercentOf(percent=percent):
            part = Fraction(percent, 100)
            return (f"{percent} % = {percent}/100 = {n(part)}", *_multiplied(amount, part))
        case amounts.PerPerson():
            return (_divided(amount, food.people),)
        case amounts.AtThatRate(others=others):
            rate = amount / food.people
            each = names.texts.say("Each person: {sum}", sum=_divided(amount, food.people))
            return (each, *_multiplied(rate, Fraction(others)))
        case amounts.RatioTable(columns=columns, blank=blank):
            rate = amount / food.people
            each = names.texts.say("Each person: {sum}", sum=_divided(amount, food.people))
            return (each, *_multiplied(rate, Fraction(columns[blank])))
        case amounts.Ratio(other=other):
            one, two = question.answer
            common = amount / one
            ratio = f"{n(amount)} : {n(other.amount)}"
            if common == 1:
                return (ratio, names.texts.say("Only 1 divides both: that is the smallest."))
            return (
                ratio,
                names.texts.say(
                    "Both divided by {number}: {ratio}", number=n(common), ratio=f"{one} : {two}"
                ),
            )
        case measures.Convert(to=to, small=small, rate=rate):
            if to == small:
                return _multiplied(amount, Fraction(rate))
            if amount.denominator != 1:
                # Grade 5 multiplies fractions and doesn't yet divide any fraction (5.NF.B.7).
                return _multiplied(amount, Fraction(1, rate))
            return (_divided(amount, rate),)
    return _measured(question, names)


def _measured(question: kind.About, names: Names) -> tuple[str, ...]:
    amount = question.food.amount
    match question:
        case measures.CountScoops(scoop=scoop) if question.standard in ("5.NF.B.7.c", "6.NS.A.1"):
            turned = n(1 / scoop)
            return (
                f"{n(amount)} ÷ {n(scoop)} = {_over(amount)} × {turned} = {n(question.answer[0])}",
            )
        case measures.CountScoops(scoop=scoop):
            below = scoop.denominator
            over = f"{n(amount * below)}/{below}"
            same = [] if amount < 1 and _over(amount) == over else [f"{n(amount)} = {over}"]
            return (*same, _parts_line(question, over, scoop, names))
        case measures.FewestScoops(cups=cups):
            taken = [
                cup
                for cup, count in zip(cups, question.answer, strict=True)
                for _ in range(int(count))
            ]
            return (" + ".join(map(n, taken)) + f" = {n(amount)}",)
        case measures.LostToScoop(lost=lost, other=other):
            below = other.denominator
            top = n(question.answer[0])
            over = f"{top}/{below}"
            return (f"{n(lost)} = {over}", _parts_line(question, over, other, names))
        case measures.LostToSpoons(lost=lost):
            return _spoons(question, lost, names)
        case amounts.Compare():
            return _order(question, names)
        case amounts.MoreOrLess(times=times):
            sign = ">" if times > 1 else "<"
            said = (
                names.texts.say("Times a number above 1 gives more.")
                if times > 1
                else names.texts.say("Times a number below 1 gives less.")
            )
            return (f"{n(times)} {sign} 1", said)
        case amounts.ReadLine(marks=marks):
            below = amount.denominator
            return (
                names.texts.say("One space of the line is {part}.", part=f"1/{below}"),
                f"{n(amount)} = {_over(amount)}",
                f"{LETTERS[marks.index(amount)]} = {_over(amount)}",
            )
        case measures.SameAs(below=below):
            by = below // amount.denominator
            over = _over(amount)
            mixed = [f"{n(amount)} = {over}"] if amount > 1 else []
            return (
                *mixed,
                names.texts.say("Each part becomes {count} smaller ones.", count=by),
                f"{amount.numerator} × {by} = {n(question.answer[0])}",
                f"{over} = {n(question.answer[0])}/{below}",
            )
    raise TypeError(question)


def _spoons(question: measures.LostToSpoons, lost: Fraction, names: Names) -> tuple[str, ...]:
    tbsp = lost * TBSP_IN_CUP
    if question.standard == "4.MD.A.2":
        tsp = names.unit("tsp")
        spoons = TBSP_IN_CUP * TSP_IN_TBSP
        if len(question.answer) == 1:
            return (f"{TBSP_IN_CUP} × {n(lost)} = {n(tbsp)}",)
        whole, rest = question.answer
        left = names.texts.say("{number} left over", number=n(rest))
        return (
            f"{TBSP_IN_CUP} × {TSP_IN_TBSP} {tsp} = {spoons} {tsp}",
            f"{spoons} × {n(lost)} = {spoons}/{lost.denominator} = {n(lost * spoons)} {tsp}",
            f"{n(lost * spoons)} ÷ {TSP_IN_TBSP} = {n(whole)}, {left}",
        )
    if question.standard == "6.NS.A.1":
        lines = [
            f"{n(lost)} ÷ 1/{TBSP_IN_CUP} = " + _with_mixed(f"{n(lost)} × {TBSP_IN_CUP}", tbsp)
        ]
    else:
        lines = list(_multiplied(lost, Fraction(TBSP_IN_CUP)))
    if len(question.answer) == 2:
        lines.append(
            f"{n(tbsp % 1)} × {TSP_IN_TBSP} {names.unit('tsp')} = "
            f"{names.amount(question.answer[1], 'tsp')}"
        )
    return tuple(lines)


def _parts_line(question: kind.About, over: str, scoop: Fraction, names: Names) -> str:
    """So many parts; as a product only from grade 4 on, where fractions are multiplied."""
    count = n(question.answer[0])
    if question.standard.startswith("3"):
        return names.texts.say(
            "{over} is {count} parts of {part}.", over=over, count=count, part=n(scoop)
        )
    return f"{over} = {count} × {n(scoop)}"


def _order(question: amounts.Compare, names: Names) -> tuple[str, ...]:
    """Grade 3 reasons from equal tops; grade 4 brings both to one denominator."""
    one, two = question.filled
    sign = ">" if one > two else "<"
    overs = [
        f"{count * scoop.numerator}/{scoop.denominator}"
        for count, scoop in zip(question.counts, question.scoops, strict=True)
    ]
    if question.counts[0] == question.counts[1]:
        large, small = max(question.scoops), min(question.scoops)
        return (
            names.texts.say(
                "Equally many scoops, and {large} is more than {small}.",
                large=n(large),
                small=n(small),
            ),
            f"{overs[0]} {sign} {overs[1]}",
        )
    below = lcm(*(scoop.denominator for scoop in question.scoops))
    lines = [
        f"{over} = {n(value * below)}/{below}"
        for over, value in zip(overs, (one, two), strict=True)
        if not over.endswith(f"/{below}")
    ]
    return (*lines, f"{n(one * below)}/{below} {sign} {n(two * below)}/{below}")


def _degrees(question: clock.Degrees) -> tuple[str, ...]:
    goal, start = question.heat.goal, question.start
    warm, cool = max(goal, start), min(goal, start)
    way = f"{warm} − {cool} = {question.way}"
    match question:
        case clock.PartWay(part=part):
            gone = question.way * part
            sign = "+" if goal > start else "−"
            return (
                way,
                *_multiplied(Fraction(question.way), part),
                f"{start} {sign} {n(gone)} = {n(question.answer[0])}",
            )
        case clock.EachMinute(minutes=minutes):
            return (way, _divided(question.way, minutes))
    return (way,)


def _timed(question: kind.Question, names: Names) -> tuple[str, ...]:
    (value,) = question.answer
    match question:
        case clock.EndTime(begins=begins, steps=steps):
            minutes = sum(each.minutes for each in steps)
            total = (
                [" + ".join(str(each.minutes) for each in steps) + f" = {minutes}"]
                if len(steps) > 1
                else []
            )
            hour = (begins // 60 + 1) * 60
            to_hour = hour - begins
            if to_hour >= minutes:
                return (
                    *total,
                    names.texts.say(
                        "{time} and {minutes} minutes: {end}",
                        time=names.clock(begins),
                        minutes=minutes,
                        end=names.clock(int(value)),
                    ),
                )
            return (
                *total,
                names.texts.say(
                    "{minutes} minutes to {time}", minutes=to_hour, time=names.clock(hour)
                ),
                f"{minutes} − {to_hour} = {minutes - to_hour}",
                names.texts.say(
                    "{time} and {minutes} minutes: {end}",
                    time=names.clock(hour),
                    minutes=minutes - to_hour,
                    end=names.clock(int(value)),
                ),
            )
        case clock.HourPart(minutes=minutes):
            return (_with_mixed(f"{minutes} ÷ 60 = {minutes}/60", value),)
        case clock.SessionMinutes(hours=hours, minutes=minutes):
            return (f"{hours} × 60 = {hours * 60}", f"{hours * 60} + {minutes} = {n(value)}")
        case clock.WashTime(children=children, seconds=seconds):
            all_seconds = children * seconds
            return (f"{children} × {seconds} = {all_seconds}", _divided(all_seconds, 60))
    raise TypeError(question)
