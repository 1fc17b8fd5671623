"""Habits that hurt, whatever is cooked: the rows of `knowledge/habits.json`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from spoonfold.check.kitchen import read_flows
from spoonfold.check.rule import Facts, Rule, error
from spoonfold.kitchen.reading import Sentence
from spoonfold.knowledge.habits import Habit, habits_of
from spoonfold.plan.safety.flow import Flow
from spoonfold.problem import Place, Problem


def cuts_a_hand(facts: Facts) -> Iterator[Problem]:
    """A blade, or an edge as sharp, that is led towards a hand."""
    for habit, place in _met(facts, "cuts-a-hand"):
        yield error("cuts-a-hand", place, habit.say, habit.write)


def burns_a_child(facts: Facts) -> Iterator[Problem]:
    """Steam, boiling sugar or a hot pot where a face or a child's hands are."""
    for habit, place in _met(facts, "burns-a-child"):
        yield error("burns-a-child", place, habit.say, habit.write)


def feeds_a_fire(facts: Facts) -> Iterator[Problem]:
    """Oil that nobody watches, and water or fuel on a fire."""
    for habit, place in _met(facts, "feeds-a-fire"):
        yield error("feeds-a-fire", place, habit.say, habit.write)


def chokes_in_a_game(facts: Facts) -> Iterator[Problem]:
    """Eating for a bet or against the clock."""
    for habit, place in _met(facts, "chokes-in-a-game"):
        yield error("chokes-in-a-game", place, habit.say, habit.write)


def acid_for_heat(facts: Facts) -> Iterator[Problem]:
    """Fish that lime or vinegar is said to cook."""
    for habit, place in _met(facts, "acid-for-heat"):
        yield error("acid-for-heat", place, habit.say, habit.write)


def slow_to_heat(facts: Facts) -> Iterator[Problem]:
    """Cold leftovers or frozen meat in a slow cooker."""
    for habit, place in _met(facts, "slow-to-heat"):
        yield error("slow-to-heat", place, habit.say, habit.write)


def _met(facts: Facts, code: str) -> Iterator[tuple[Habit, Place]]:
    """Where the words tell of a habit of that code."""
    for flow in read_flows(facts):
        words_of = {
            number: frozenset(word for each in flow.sentences[number] for word in each.words)
            for number in flow.steps
        }
        told: set[Place] = set()
        for habit in habits_of(code):
            begins = habit.groups[0].firsts
            # Most steps have no word that begins it.
            near = [n for n, words in words_of.items() if not begins.isdisjoint(words)]
            if not near or (
                habit.dish is not None and all(habit.dish.at(each) is None for each in _said(flow))
            ):
                continue
            for words, sentences in _spans(flow, near, habit.across):
                at = habit.met(words)
                if at is None:
                    continue
                place = [place for each in sentences for place in each.places][at]
                if place not in told:
                    told.add(place)
                    yield habit, place


def _said(flow: Flow) -> Iterator[tuple[str, ...]]:
    """The words of every sentence."""
    for sentences in flow.sentences.values():
        for each in sentences:
            yield each.words


def _spans(
    flow: Flow, numbers: Iterable[int], across: bool
) -> Iterator[tuple[tuple[str, ...], tuple[Sentence, ...]]]:
    """What is read as one in these steps, with its words: a sentence, or two that follow each
    other."""
    for number in numbers:
        said = flow.sentences[number]
        for at, first in enumerate(said):
            rest = said[at + 1 : at + 2] if across else ()
            yield sum((each.words for each in rest), first.words), (first, *rest)


RULES = (
    Rule("cuts-a-hand", cuts_a_hand, of_one=True),
    Rule("burns-a-child", burns_a_child, of_one=True),
    Rule("feeds-a-fire", feeds_a_fire, of_one=True),
    Rule("chokes-in-a-game", chokes_in_a_game, of_one=True),
    Rule("acid-for-heat", acid_for_heat, of_one=True),
    Rule("slow-to-heat", slow_to_heat, of_one=True),
)
