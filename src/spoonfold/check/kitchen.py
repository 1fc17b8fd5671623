"""What the words of a step say that notes don't: food that isn't done, or warm, or dirty."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, error, flows_of, key_place, warning
from spoonfold.kitchen.lexicon import english
from spoonfold.kitchen.reading import Sentence
from spoonfold.kitchen.wordings import Phrase, wordings
from spoonfold.knowledge.lexicons import is_read
from spoonfold.knowledge.step_words import step_words
from spoonfold.plan.safety.flow import MEATS, Flow, Journey
from spoonfold.plan.safety.ledger import heats_food
from spoonfold.plan.safety.touch import HANDS, carried
from spoonfold.plan.safety.words import on_heat, tokens_of
from spoonfold.problem import Place, Problem

_DONE = {"egg": "egg", "fish": "fish", "shellfish": "fish"}
"""Which list of doneness words goes with a raw hazard; the others are meat."""
_NOT_JUDGED = frozenset({"flour", "sprouts"})
_MAY_BE_PINK = frozenset({"whole meat", "pork"})
"""At their temperature, with their rest, these are done though rosy (the chart's own words)."""
_LIES = frozenset({"rest", "thaw", "cold", "soak", "cover", "move", "mix", "open"})
_THAWS = step_words("thaw")
_TIMES = step_words("hours or days")
_MOST_KINDS = MEATS | {"egg"}


def stops_short(facts: Facts) -> Iterator[Problem]:
    """Raw food that the words call done before it is, and cooked food that they only warm."""
    yield from _warmed_short(facts)
    for flow in read_flows(facts):
        told: set[Place] = set()
        for journey in flow.raw:
            for sentence, phrase in _undone(flow, journey):
                place = sentence.places[phrase.at]
                if place not in told:
                    told.add(place)
                    yield error(
                        "stops-short",
                        place,
                        f"“{phrase.words}” is not done: {journey.hazard.name} may still carry "
                        "living germs then.",
                        "Say how far it is cooked: “until the middle reaches "
                        f"{_least(journey)} °F”. If the word means something else here, "
                        "say it in other words.",
                    )


def _warmed_short(facts: Facts) -> Iterator[Problem]:
    """Food that was cooked before and is heated again, but not hot."""
    for flow in read_flows(facts):
        for number in flow.order.sorted:
            again = [
                each
                for each in flow.ledger.stays[number]
                if each.spoils
                and not each.nature.raw
                and heats_food(each.action)
                and not {"cooked", "leftover"}.isdisjoint(each.nature.name.casefold().split())
            ]
            for sentence in _saying("stops short again", flow, number) if again else ():
                phrase = sentence.phrases["stops short again"][0]
                yield error(
                    "stops-short",
                    sentence.places[phrase.at],
                    f"“{phrase.words}” isn't hot: {again[0].nature.name} that is heated again must "
                    "reach 165 °F all through, or stay cold.",
                    "Write: “until it reaches 165 °F”.",
                )


def _saying(name: str, flow: Flow, number: int) -> Iterator[Sentence]:
    """The sentences of a step that have words of a list."""
    if not wordings().may_say(flow.steps[number].word_set, name):
        return
    for sentence in flow.sentences[number]:
        if sentence.said(name):
            yield sentence


def _least(journey: Journey) -> int:
    least = journey.hazard.least
    return 165 if least is None else least.whole_fahrenheit


def _undone(flow: Flow, journey: Journey) -> Iterator[tuple[Sentence, Phrase]]:
    hazard = journey.hazard
    if hazard.kind in _NOT_JUDGED:
        return
    if hazard.kind in _MAY_BE_PINK and journey.cooked is not None:
        return
    key, name = hazard.ingredient.key, f"stops short {_DONE.get(hazard.kind, 'meat')}"
    for number in flow.steps:
        near = number in journey.touched or (
            number in flow.order.following[hazard.start] and key in flow.named[number]
        )
        if not near or not wordings().may_say(flow.steps[number].word_set, name):
            continue
        for sentence in flow.sentences[number]:
            for phrase in sentence.said(name):
                if not (
                    _of_another(flow, key, sentence)
                    or _on_the_way(flow, journey, number, sentence, phrase)
                ):
                    yield sentence, phrase


def _on_the_way(
    flow: Flow, journey: Journey, number: int, sentence: Sentence, phrase: Phrase
) -> bool:
    """Whether food is only called so before it is done or after: “until the runny part has set”,
    “let it cool till lukewarm”."""
    if journey.cooked is None:
        return False
    clause = next(
        (
            each
            for each in reversed(sentence.clauses)
            if sentence.run.place(each.offsets[0]) <= sentence.places[phrase.at]
        ),
        None,
    )
    forms = english().forms
    cools = clause is not None and any(
        word in forms and forms[word].kind == "cold" for word in clause.words
    )
    later = [
        each
        for n in flow.steps
        if n == number or n in flow.order.following[number]
        for each in flow.sentences[n]
        if n != number or each.begin > sentence.begin
    ]
    firm = journey.hazard.kind == "egg" and any(
        not english().groups["firm"].isdisjoint(each.words) for each in later
    )
    return cools or firm


def _of_another(flow: Flow, key: str, sentence: Sentence) -> bool:
    """Whether a sentence names other foods of the list, and not this one."""
    named = _named(flow, sentence)
    return bool(named) and key not in named


def _named(flow: Flow, sentence: Sentence) -> frozenset[str]:
    words = tokens_of(sentence.words)
    return frozenset(key for key, calls in flow.calls.items() if calls & words)


def tasted_raw(facts: Facts) -> Iterator[Problem]:
    """Raw meat, egg, batter or dough that somebody is told to taste."""
    for flow in read_flows(facts):
        told: set[Place] = set()
        for journey in flow.raw:
            if journey.hazard.kind == "sprouts":
                continue
            for number in journey.handled:
                # Where it is cooked in this very step, tasting comes after the heat.
                if number == journey.cooked or heats(flow, number):
                    continue
                for sentence in _saying("tasted", flow, number):
                    phrase = sentence.said("tasted")[0]
                    place = sentence.places[phrase.at]
                    if place in told or _of_another(flow, journey.hazard.ingredient.key, sentence):
                        continue
                    told.add(place)
                    yield error(
                        "tasted-raw",
                        place,
                        f"Step {number} has somebody taste while {journey.hazard.name} in it is "
                        "still raw.",
                        "Let them taste after it is cooked, or taste a part that was set aside "
                        "before the raw food went in, and say so.",
                    )


def met_raw_again(facts: Facts) -> Iterator[Problem]:
    """A plate, tool or hand that met raw food and comes back to other food unwashed."""
    yield from _carried_on(facts)
    for flow in read_flows(facts):
        told: set[Place] = set()
        for journey in flow.raw:
            if journey.hazard.kind not in _MOST_KINDS:
                continue
            for number in sorted(
                flow.order.following[journey.hazard.start] | {journey.hazard.start}
            ):
                for sentence in flow.sentences[number]:
                    phrase = _again(flow, journey, number, sentence)
                    if phrase is not None and sentence.places[phrase.at] not in told:
                        told.add(sentence.places[phrase.at])
                        yield error(
                            "met-raw-again",
                            sentence.places[phrase.at],
                            f"“{phrase.words}”: what met raw {journey.hazard.name} carries its "
                            "germs to what is eaten.",
                            "Say what is clean: “on a clean plate”, “with clean tongs”, or “wash "
                            "the board, the knife and your hands” before it is used again.",
                        )


def _carried_on(facts: Facts) -> Iterator[Problem]:
    """A knife, a board or hands that go from raw food to what is eaten as it is."""
    for flow in read_flows(facts):
        for each in carried(flow):
            yield error(
                "met-raw-again",
                each.action.place,
                f"Here {each.meets} meets the {each.thing} that touched raw "
                f"{each.raw.removeprefix('raw ')}, and nothing is washed in between.",
                f"Say before it: “Wash the {each.thing}.” Or make it a step of its own, or take "
                f"“another {each.thing}”."
                if each.thing != HANDS
                else "Say before it: “Wash your hands.” Or make it a step of its own.",
            )


def heats(flow: Flow, number: int) -> bool:
    """Whether something is hot at a step, by its notes or by what it tells to do."""
    return on_heat(flow.steps[number]) or any(
        sentence.kinds & {"cook", "wet"} for sentence in flow.sentences[number]
    )


def _first_heat(flow: Flow, journey: Journey) -> int | None:
    """Where a raw food first comes to the heat, also by words alone."""
    start = journey.hazard.start
    along = (n for n in flow.order.sorted if n == start or n in flow.order.following[start])
    return next((n for n in along if heats(flow, n)), None)


def _again(flow: Flow, journey: Journey, number: int, sentence: Sentence) -> Phrase | None:
    """The words by which something comes back, if any does."""
    if sentence.said("washed") and not _without_washing(sentence):
        return None
    hot = _first_heat(flow, journey)
    cooked = hot is not None and (number == hot or number in flow.order.following[hot])
    for phrase in sentence.phrases.get("unwashed", ()):
        meets = _named(flow, sentence) - {journey.hazard.ingredient.key}
        if phrase.words.startswith("same"):
            if cooked or (meets and number in _next_to(flow, journey)):
                return phrase
        elif number in _next_to(flow, journey) and _of_tools(sentence, phrase):
            return phrase
    if not cooked:
        return None
    containers = sentence.said("container")
    for phrase in (*sentence.said("came from"), *sentence.said("back to")):
        near = [each for each in containers if 0 < abs(each.at - phrase.at) <= 5]
        if any("pan" not in each.words and "sheet" not in each.words for each in near):
            return phrase
    return None


def _next_to(flow: Flow, journey: Journey) -> frozenset[int]:
    """The steps where it is handled and those right after."""
    handled = set(journey.handled)
    return frozenset(handled | {n for n in flow.steps if handled & set(flow.order.direct[n])})


def _without_washing(sentence: Sentence) -> bool:
    return any(not each.words.startswith("same") for each in sentence.phrases.get("unwashed", ()))


def _of_tools(sentence: Sentence, phrase: Phrase) -> bool:
    """“without washing” alone, or with hands or a tool behind it: no need to wash rice is right."""
    end = phrase.at + phrase.length
    behind = sentence.words[end : end + 3]
    tools = [each for each in sentence.phrases.get("hands and tools", ()) if each.at >= end]
    return not behind or any(each.at <= end + 3 for each in tools)


def heat_of_nothing(facts: Facts) -> Iterator[Problem]:
    """A temperature noted where nothing is hot."""
    for flow in flows_of(facts):
        for number, step in flow.steps.items():
            before = flow.order.direct[number]
            if step.heat is None or any(heats(flow, n) for n in (number, *before)):
                continue
            yield error(
                "heat-of-nothing",
                step.notes.get("heat", step.place),
                f"Step {number} notes a temperature, and nothing is hot there: no burner, oven or "
                "other heat is needed in it or in the step before it.",
                "Name what heats it under `needs` (“- needs: burner, skillet”), or move the note "
                "to the step that cooks.",
            )


def words_not_read(facts: Facts) -> Iterator[Problem]:
    """A class whose steps are in a language that can't be read."""
    classroom = facts.folder.classroom
    if classroom is not None and not is_read(classroom.languages[0]):
        yield warning(
            "words-not-read",
            key_place(classroom.setting, "languages", classroom.place),
            "The words of the steps are read in English and Spanish alone: in "
            f"“{classroom.languages[0]}” every dish is judged by its notes, and a danger that only "
            "the words tell isn't seen.",
            "Write all notes, and read the steps once more with raw food and time in mind.",
        )


def read_flows(facts: Facts) -> Iterator[Flow]:
    """The recipes whose words can be read."""
    language = facts.folder.classroom.languages[0] if facts.folder.classroom else "en"
    for flow in flows_of(facts):
        if is_read(flow.recipe.language or language):
            yield flow
            # Families read other words of some steps: those may say nothing dangerous either.
            if flow.recipe.key in facts.home_flows:
                yield facts.home_flows[flow.recipe.key]


RULES = (
    Rule("stops-short", stops_short, of_one=True),
    Rule("tasted-raw", tasted_raw, of_one=True),
    Rule("met-raw-again", met_raw_again, of_one=True),
    Rule("heat-of-nothing", heat_of_nothing, of_one=True),
    Rule("words-not-read", words_not_read),
)
