"""Which questions a worksheet asks: chosen by a seed, from several topics, about several foods."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from importlib import import_module
from pkgutil import iter_modules

from spoonfold.sheets.worksheet import kinds
from spoonfold.sheets.worksheet.chance import Draws, draws_of, pick, shuffled
from spoonfold.sheets.worksheet.numbers import Numbers
from spoonfold.sheets.worksheet.question import Ask, Question, Topic

_SHORT = (
    (Topic.TIMES, Topic.MULTIPLY, Topic.HALVE),
    (Topic.SCOOPS, Topic.LOST, Topic.CONVERT),
    (Topic.RATIO, Topic.TIME, Topic.TEMPERATURE),
)
"""A short sheet asks one question of each row."""


def asks_by_topic() -> Mapping[Topic, tuple[Ask, ...]]:
    """Every kind of question there is, under its topics, by the names of their modules."""
    found: dict[Topic, tuple[Ask, ...]] = dict.fromkeys(Topic, ())
    for name in sorted(module.name for module in iter_modules(kinds.__path__)):
        asks: Mapping[Topic, Ask] = import_module(f"{kinds.__name__}.{name}").ASKS
        for topic, ask in asks.items():
            found[topic] += (ask,)
    return found


ASKS = asks_by_topic()


def questions_of(numbers: Numbers, grade: int, seed: int, long: bool) -> tuple[Question, ...]:
    """The questions of one sheet: nine in the long form, three in the short one.

    Fewer only where a dish has no numbers for more. The same numbers, grade, form and seed give
    the same questions.
    """
    dishes = "+".join(dish.key for dish in numbers.dishes)
    draws = draws_of(f"{dishes}/{seed}/{grade}/{'long' if long else 'short'}")
    rows = shuffled(draws, [(topic,) for topic in Topic] if long else _SHORT)
    chosen: list[Question] = []
    for row in rows:
        # A topic without sensible numbers hands its place to the next.
        for topic in (*shuffled(draws, row), *shuffled(draws, tuple(Topic))):
            candidates = [
                question for ask in ASKS[topic] for question in ask(numbers, grade, draws)
            ]
            found = _one(candidates, chosen, draws)
            if found is not None:
                chosen.append(found)
                break
    return tuple(chosen)


def _one(candidates: list[Question], chosen: list[Question], draws: Draws) -> Question | None:
    """One that hasn't been asked, of foods that were asked about the least."""
    asked = Counter(food.key for question in chosen for food in question.foods)
    seen = {type(question) for question in chosen}
    fresh = [each for each in candidates if each not in chosen]
    if not fresh:
        return None
    # The kind first: one with many numbers isn't likelier than one with few.
    of_kind: dict[type[Question], list[Question]] = {}
    for each in fresh:
        of_kind.setdefault(type(each), []).append(each)
    new = [kind for kind in of_kind if kind not in seen] or list(of_kind)
    group = of_kind[pick(draws, new)]
    least = min(_weight(each, asked) for each in group)
    return pick(draws, [each for each in group if _weight(each, asked) == least])


def _weight(question: Question, asked: Counter[str]) -> int:
    return sum(asked[food.key] for food in question.foods)
