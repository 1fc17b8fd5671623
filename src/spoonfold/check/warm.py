"""Food that spoils, out of the cold for too long by the words of the steps."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from spoonfold.check.kitchen import read_flows
from spoonfold.check.rule import Facts, Rule, error
from spoonfold.kitchen.actions import Called
from spoonfold.kitchen.wordings import span_said
from spoonfold.plan.safety.flow import FROZEN, MEATS, Flow
from spoonfold.plan.safety.ledger import Stay, Where, heats_food
from spoonfold.plan.safety.limits import COLD_BY_CODE, HOT_BY_CODE, MOST_OUT
from spoonfold.plan.safety.words import is_chilled
from spoonfold.problem import Place, Problem
from spoonfold.quantity.temperature import Temperature

_MAY_LIE = frozenset({"rest", "soak", "cover", "move", "cold"})
_KEEPS = frozenset({"leave", "keep", "store", "save", "forget", "abandon", "park", "hold", "wait"})
"""Verbs that say of a food that it lies somewhere for long."""


def left_warm(facts: Facts) -> Iterator[Problem]:
    """Food that spoils, out of cold and heat for more than two hours, or nobody knows how long."""
    for flow in read_flows(facts):
        for number in flow.order.sorted:
            found = next(_lying(flow, number), None)
            if found is not None:
                yield _warm(number, *found)


def _lying(flow: Flow, number: int) -> Iterator[tuple[str, Place, str]]:
    """What lies warm in a step, where that is said, and for how long."""
    stays = [each for each in flow.ledger.stays[number] if each.spoils]
    for stay in stays:
        degrees = stay.action.degrees
        if (
            degrees is not None
            and stay.action.kind == "rest"
            and not _ferments(flow, stay)
            and _is_between(degrees)
        ):
            long = stay.action.minutes
            if (long or 0) > MOST_OUT or (long is None and stay.action.verb.name in _KEEPS):
                where = f"at {degrees.whole_fahrenheit} °F"
                told = "and the words don't say how long" if long is None else f"for {_hours(long)}"
                yield _called(stay), stay.action.place, f"{where}, {told}"
                continue
        if stay.where is Where.WARM and stay.action.kind != "thaw" and not _ferments(flow, stay):
            if stay.warm > MOST_OUT and stay.action.minutes:
                yield _called(stay), stay.action.place, f"for about {_hours(stay.warm)}"
            elif _for_an_unknown_time(stay):
                yield _called(stay), stay.action.place, "and the words don't say how long"
    yield from _by_the_words(flow, number)


def _is_between(degrees: Temperature) -> bool:
    """Whether it is warmer than cold food and colder than hot food is held: Food Code 3-501.16."""
    return COLD_BY_CODE.fahrenheit < degrees.fahrenheit < HOT_BY_CODE.fahrenheit


def _by_the_words(flow: Flow, number: int) -> Iterator[tuple[str, Place, str]]:
    """A long time that no action has, or from one time of day to another, and nothing of cold."""
    sentences = flow.sentences[number]
    if any(each.said("cold") for each in sentences) or is_chilled(flow.steps[number]):
        return
    if any(heats_food(each) for each in flow.actions[number].actions):
        return
    stays = [each for each in _open(flow, number) if each.spoils and not _ferments(flow, each)]
    if not stays or any(each.where is not Where.WARM for each in stays):
        return
    span = span_said(each.words for each in sentences)
    times = [each.minutes for each in sentences if not each.said("heat")]
    long = max((each for each in (span, *times) if each is not None), default=Fraction(0))
    if long > MOST_OUT and not any(each.action.kind == "thaw" for each in stays):
        yield _called(stays[-1]), flow.steps[number].place, f"for about {_hours(long)}"


def _open(flow: Flow, number: int) -> Iterator[Stay]:
    """The last stay of every food in a step, or in those that it waits for."""
    own = flow.ledger.stays[number]
    stays = own or [each for n in flow.order.direct[number] for each in flow.ledger.stays[n]]
    last = {stay.portion: stay for stay in stays}
    yield from last.values()


def _ferments(flow: Flow, stay: Stay) -> bool:
    """Milk with a yogurt culture, or cut vegetables in salt: they turn sour before they spoil."""
    with_it = {each.key for each in stay.action.foods | stay.action.joined}
    names = [name for key in with_it for name in flow.calls[key]]
    if "yogurt" in names and "milk" in names:
        return not stay.action.words.isdisjoint(("warm", "cosy", "cozy", "wrapped", "maker"))
    return "salt" in names and not stay.nature.spoils and not stay.is_cooked


def _for_an_unknown_time(stay: Stay) -> bool:
    action = stay.action
    return action.kind == "rest" and action.where == "warm" and action.minutes is None


def _called(stay: Stay) -> str:
    cooked = stay.is_cooked and not stay.nature.spoils and "cooked" not in stay.nature.name
    return f"cooked {stay.nature.name}" if cooked else stay.nature.name


def _hours(minutes: Fraction) -> str:
    hours = minutes / 60
    return f"{float(hours):g} hours" if hours < 48 else f"{float(hours / 24):g} days"


def _warm(number: int, food: str, place: Place, how_long: str) -> Problem:
    return error(
        "left-warm",
        place,
        f"Step {number} leaves {food} out of the cold, {how_long}: it spoils after two hours.",
        "Say in that sentence where it is cold (“in the refrigerator”), or a time of two hours at "
        "most.",
    )


def thawed_warm(facts: Facts) -> Iterator[Problem]:
    """Meat, fish or poultry that thaws anywhere but in the cold, in cold water or a microwave."""
    for flow in read_flows(facts):
        told: set[str] = set()
        for number in flow.order.sorted:
            for stay in flow.ledger.stays[number]:
                key = stay.portion.key
                if stay.nature.raw not in MEATS or not stay.is_raw or key in told:
                    continue
                where = _thaws_at(flow, number, stay)
                if where:
                    told.add(key)
                    yield error(
                        "thawed-warm",
                        stay.action.place,
                        f"{stay.nature.name.capitalize()} thaws here, {where}.",
                        "Write “in the refrigerator, the day before”, or “in cold water that is "
                        "changed every half hour”, and cook it at once.",
                    )


def _thaws_at(flow: Flow, number: int, stay: Stay) -> str:
    """Where it thaws as it mustn't, as words of the problem; empty: it doesn't."""
    action = stay.action
    frozen = FROZEN in stay.nature.name or "freezer" in flow.steps[number].word_set
    if action.heat == "slow cooker" and FROZEN in stay.nature.name:
        return "in a slow cooker, which warms it for hours before it is hot"
    if action.kind == "thaw" and not action.denied:
        cold = stay.where is Where.COLD or action.heat == "microwave"
        said = {"cold", "refrigerator", "fridge"} & action.words
        return "" if cold or said else "and the words don't say in the cold"
    if not frozen or heats_food(action):
        return ""
    if action.kind not in _MAY_LIE and not action.minutes:
        return ""
    warm = action.where == "warm" or not action.words.isdisjoint(("warm", "hot", "lukewarm"))
    return "where it is warm" if warm and stay.where is not Where.COLD else ""


def how_long(facts: Facts) -> Iterator[Problem]:
    """Food that spoils and is kept, with neither a time nor a cold place."""
    for flow in read_flows(facts):
        for number in flow.order.sorted:
            for stay in flow.ledger.stays[number]:
                action = stay.action
                asked = action.verb.name in _KEEPS or action.verb.name.startswith("marinat")
                until = "until" in action.until or "till" in action.until
                if (
                    asked
                    and stay.spoils
                    and stay.where is Where.WARM
                    and action.called is not Called.UNSAID
                    and not action.where
                    and action.minutes is None
                    and not until
                    and not action.denied
                ):
                    yield error(
                        "how-long",
                        action.place,
                        f"Step {number} leaves {_called(stay)}, and the words say neither where "
                        "nor how long.",
                        "Say where it is cold (“in the refrigerator”), or how many minutes.",
                    )
                    break


RULES = (
    Rule("left-warm", left_warm, of_one=True),
    Rule("thawed-warm", thawed_warm, of_one=True),
    Rule("how-long", how_long, of_one=True),
)
