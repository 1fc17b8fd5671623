"""Which questions a worksheet asks: chosen by a seed, from several topics, about several foods."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable

from spoonfold.teach.fractions.amounts import compared, halved, multiplied, times_the_recipe
from spoonfold.teach.fractions.chance import Draws, draws_of, pick, shuffled
from spoonfold.teach.fractions.clock import heated, timed
from spoonfold.teach.fractions.kinds import Question, Topic
from spoonfold.teach.fractions.measures import converted, lost, scooped
from spoonfold.teach.fractions.numbers import Numbers

Maker = Callable[[Numbers, int, Draws], Iterable[Question]]

MAKERS: dict[Topic, Maker] = {
    Topic.TIMES: times_the_recipe,
    Topic.MULTIPLY: multiplied,
    Topic.SCOOPS: scooped,
    Topic.LOST: lost,
    Topic.RATIO: compared,
    Topic.CONVERT: converted,
    Topic.HALVE: halved,
    Topic.TIME: timed,
    Topic.TEMPERATURE: heated,
}
_SHORT = (
    (Topic.TIMES, Topic.MULTIPLY, Topic.HALVE),
    (Topic.SCOOPS, Topic.LOST, Topic.CONVERT),
    (Topic.RATIO, Topic.TIME, Topic.TEMPERATURE),
)
"""A short sheet asks one question of each row."""
LONG, SHORT = len(MAKERS), len(_SHORT)


def questions_of(numbers: Numbers, grade: int, seed: int, long: bool) -> tuple[Question, ...]:
    """The questions of one sheet: nine in the long form, three in the short one.

    Fewer only where a dish has no numbers for more. The same numbers, grade, form and seed give
    the same questions.
    """
    dishes = "+".join(dish.key for dish in numbers.dishes)
    draws = draws_of(f"{dishes}/{seed}/{grade}/{'long' if long else 'short'}")
    rows = shuffled(draws, [(topic,) for topic in MAKERS] if long else _SHORT)
    chosen: list[Question] = []
    for row in rows:
        # A topic without sensible numbers hands its place to the next.
        for topic in (*shuffled(draws, row), *shuffled(draws, tuple(MAKERS))):
            found = _one(list(MAKERS[topic](numbers, grade, draws)), chosen, draws)
            if found is not None:
                chosen.append(found)
                break
    return tuple(chosen)


def _one(candidates: list[Question], chosen: list[Question], draws: Draws) -> Question | None:
    """One that hasn't been asked, of foods that were asked about the least."""
    asked = Counter(food.key for question in chosen for food in question.foods)
    kinds = {type(question) for question in chosen}
    fresh = [each for each in candidates if each not in chosen]
    if not fresh:
        return None
    # The kind first: one with many numbers isn't likelier than one with few.
    of_kind: dict[type[Question], list[Question]] = {}
    for each in fresh:
        of_kind.setdefault(type(each), []).append(each)
    new = [kind for kind in of_kind if kind not in kinds] or list(of_kind)
    group = of_kind[pick(draws, new)]
    least = min(_weight(each, asked) for each in group)
    return pick(draws, [each for each in group if _weight(each, asked) == least])


def _weight(question: Question, asked: Counter[str]) -> int:
    return sum(asked[food.key] for food in question.foods)
