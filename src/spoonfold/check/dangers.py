"""Foods, tools and habits that can hurt a child in any dish: the list of `knowledge/dangers`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from spoonfold.check.kitchen import heats, read_flows
from spoonfold.check.rule import Facts, Rule, error, settings_of
from spoonfold.kitchen.reading import Sentence
from spoonfold.kitchen.wordings import Phrase, number_of, wordings
from spoonfold.knowledge.dangers import Danger, boil_minutes, dangers, not_dry
from spoonfold.knowledge.equipment import tool_named
from spoonfold.knowledge.habits import denials
from spoonfold.knowledge.names import singulars
from spoonfold.knowledge.step_words import step_words
from spoonfold.model.recipe import Ingredient, Step
from spoonfold.plan.safety.flow import MEATS, Flow
from spoonfold.plan.safety.words import on_heat
from spoonfold.problem import Place, Problem
from spoonfold.quantity.unit import unit_named


def _called(name: str) -> frozenset[str]:
    """Everything that the list of equipment calls a thing in English."""
    tool = tool_named(name)
    return frozenset() if tool is None else frozenset((tool.name, *tool.names.get("en", ())))


_MACHINES = _called("blender")
_IN_THE_POT = _called("stick blender")


def _words(ingredient: Ingredient) -> tuple[str, ...]:
    text = f"{ingredient.name} {ingredient.preparation or ''}".casefold().replace("-", " ")
    return tuple(text.replace(",", " ").split())


def _lines(flow: Flow) -> Iterator[Ingredient]:
    yield from flow.recipe.ingredients
    yield from (swap.use for swap in flow.recipe.swaps)


def unpasteurised(facts: Facts) -> Iterator[Problem]:
    """Milk, cheese, cider or juice that isn't pasteurised and isn't boiled."""
    for row, words, place in _refused(facts, "unpasteurised"):
        yield error("unpasteurised", place, row.say.format(words=words), row.write)


def poison(facts: Facts) -> Iterator[Problem]:
    """Plants and parts of plants that poison, and nutmeg where it is more than a spice."""
    for row, words, place in _refused(facts, "poison"):
        yield error("poison", place, row.say.format(words=words), row.write)
    for flow in read_flows(facts):
        for ingredient in _lines(flow):
            if "nutmeg" in _words(ingredient) and _spoons(ingredient) > NUTMEG * flow.recipe.serves:
                yield error(
                    "poison",
                    ingredient.place,
                    "So much nutmeg is no spice: two teaspoons of it make a grown person ill.",
                    "Write “1 pinch nutmeg”.",
                )


NUTMEG = Fraction(1, 4)
"""Teaspoons of nutmeg a person, beyond which it is no spice: our judgement. Poisonings are told of
from about five grams on, two teaspoons (from memory)."""


def _spoons(ingredient: Ingredient) -> Fraction:
    """How many teaspoons of it there are; none where it isn't measured by volume."""
    teaspoon, amount = unit_named("tsp"), ingredient.amount
    if teaspoon is None or amount is None or amount.unit.dimension is not teaspoon.dimension:
        return Fraction(0)
    return amount.to(teaspoon).middle


def too_young(facts: Facts) -> Iterator[Problem]:
    """Food on which small children choke, at a class of that age."""
    for row, words, place in _refused(facts, "too-young"):
        yield error("too-young", place, row.say.format(words=words), row.write)


def alcohol(facts: Facts) -> Iterator[Problem]:
    """Wine, beer and spirits: cooking leaves some of their alcohol in the food."""
    for row, words, place in _refused(facts, "alcohol"):
        yield error("alcohol", place, row.say.format(words=words), row.write)


def eaten_raw(facts: Facts) -> Iterator[Problem]:
    """Dishes that are raw fish or raw meat by their name."""
    for row, words, place in _refused(facts, "eaten-raw"):
        yield error("eaten-raw", place, row.say.format(words=words), row.write)


def honey_before_one(facts: Facts) -> Iterator[Problem]:
    """Honey for a child under one year: at a class that has some, or by what a step says."""
    told = False
    for row, words, place in _refused(facts, "honey-before-one"):
        told = True
        yield error("honey-before-one", place, row.say.format(words=words), row.write)
    row = next(each for each in dangers() if each.code == "honey-before-one")
    for flow in () if told else read_flows(facts):
        if any("honey" in _words(each) for each in _lines(flow)):
            for number in flow.steps:
                for sentence in flow.sentences[number]:
                    at = _for_a_baby(sentence)
                    if at is not None:
                        yield error("honey-before-one", sentence.places[at], row.say, row.write)


def _for_a_baby(sentence: Sentence) -> int | None:
    """Which of its words speaks of a child under one year, unless it says that none gets any."""
    words = sentence.words
    if not denials().isdisjoint(words):
        return None
    for phrase in sentence.phrases.get("baby", ()):
        return phrase.at
    for at, word in enumerate(words):
        if word in ("month", "months") and at:
            aged = words[at + 1 : at + 2] == ("old",) or words[max(0, at - 2)] in ("at", "from")
            if aged and (number_of(words[at - 1]) or 12) < 12:
                return at
    return None


def _refused(facts: Facts, code: str) -> Iterator[tuple[Danger, str, Place]]:
    """Where a food of one of a code's rows stands, and nothing answers it."""
    for row in dangers():
        if row.code != code or (row.ages_below is not None and _youngest(facts) >= row.ages_below):
            continue
        for flow in read_flows(facts):
            if row.beside and not any(row.beside & _singular(each) for each in _lines(flow)):
                continue
            if not any(step.word_set & row.answered_by for step in flow.recipe.steps):
                for phrase, place in _met(flow, row):
                    yield row, phrase.words, place


def _singular(ingredient: Ingredient) -> frozenset[str]:
    return frozenset(form for word in _words(ingredient) for form in (word, *singulars(word)))


def _youngest(facts: Facts) -> int:
    if facts.folder.classroom is None:
        return 99
    return min(setting.ages[0] for setting, _ in settings_of(facts.folder.classroom))


def _met(flow: Flow, row: Danger) -> Iterator[tuple[Phrase, Place]]:
    for ingredient in _lines(flow) if row.in_list else ():
        words = _words(ingredient)
        if row.answered_in_line.isdisjoint(words):
            for phrase in wordings().found(words).get(row.name, ()):
                if not phrase.denied:
                    yield phrase, ingredient.place
    if row.in_steps:
        for sentence in _sentences(flow, row.name):
            for phrase in sentence.said(row.name):
                yield phrase, sentence.places[phrase.at]


def _sentences(flow: Flow, code: str) -> Iterator[Sentence]:
    """The sentences of the steps that may have words of a list."""
    for number, step in flow.steps.items():
        if wordings().may_say(step.word_set, code):
            yield from flow.sentences[number]


def beans_boiled(facts: Facts) -> Iterator[Problem]:
    """Dry kidney beans that aren't boiled hard."""
    for flow in read_flows(facts):
        for ingredient in _lines(flow):
            words = _words(ingredient)
            found = wordings().found(words).get("dry beans", ())
            unit = (
                ingredient.amount.unit.name if ingredient.amount and ingredient.amount.unit else ""
            )
            item = flow.item_of(ingredient)
            canned = item is not None and item.section == "cans and jars"
            if not found or canned or not_dry() & {*words, unit}:
                continue
            boiled = any(_boils_for(each) for said in flow.sentences.values() for each in said)
            if not boiled:
                yield error(
                    "beans-boiled",
                    ingredient.place,
                    f"Dry {ingredient.name} carry a poison that only a hard boil destroys, and no "
                    "step boils them for ten minutes and more.",
                    "Soak them, pour the water away, and write: “Boil them hard in fresh water "
                    "for 30 minutes.” Or use canned ones.",
                )


def _boils_for(sentence: Sentence) -> bool:
    words = frozenset(sentence.words)
    minutes = sentence.minutes
    boils = words & step_words("boil")
    return bool(boils) and minutes is not None and minutes >= boil_minutes()


def for_adults_alone(facts: Facts) -> Iterator[Problem]:
    """A blade, a flame or a heat that no child works with, without an adult who does."""
    code = "adults' tools"
    for flow in read_flows(facts):
        for number, step in flow.steps.items():
            named = {word for name in step.tools for word in name.split()}
            may = wordings().may_say(step.word_set | named, code)
            if not may or step.adult or step.when is not None:
                continue
            tools = tuple(word for name in sorted(step.tools) for word in name.split())
            noted = next(iter(wordings().found(tools).get(code, ())), None)
            for sentence in flow.sentences[number]:
                phrase = next(iter(sentence.said(code)), noted)
                if phrase is not None and not _an_adult_does(flow, number):
                    yield error(
                        "for-adults-alone",
                        step.place if phrase is noted else sentence.places[phrase.at],
                        f"“{phrase.words}” is for an adult alone: a child is cut or burnt badly "
                        "by it.",
                        "- adult: does this",
                    )
                    break
    yield from _deep_oil(facts)


def _deep_oil(facts: Facts) -> Iterator[Problem]:
    """Oil to swim in, at the heat, without an adult who does it."""
    for flow in read_flows(facts):
        for ingredient in flow.recipe.ingredients:
            if _spoons(ingredient) < DEEP_OIL or _OILS.isdisjoint(_words(ingredient)):
                continue
            first = next((n for n in flow.steps if _heats_oil(flow, n)), None)
            if first is None or _does_it_alone(flow.steps[first]) or _an_adult_does(flow, first):
                continue
            yield error(
                "for-adults-alone",
                flow.steps[first].place,
                f"Step {first} heats so much oil that food swims in it: it burns badly, and "
                "catches fire when it smokes.",
                "- adult: does this alone",
            )


def _does_it_alone(step: Step) -> bool:
    """By its note: to stay near while a child drops food in is too little."""
    return any("alone" in each.text or "does this" in each.text for each in step.adult)


def _heats_oil(flow: Flow, number: int) -> bool:
    words = flow.steps[number].word_set
    if _OILS.isdisjoint(words):
        return False
    return heats(flow, number) or not step_words("hot oil").isdisjoint(words)


_OILS = frozenset({"oil", "lard", "shortening"})
DEEP_OIL = Fraction(3, 2) * 48
"""Teaspoons of oil from which on it is deep: a cup and a half, our judgement."""


def _an_adult_does(flow: Flow, number: int) -> bool:
    return bool(flow.steps[number].word_set & step_words("grown-up"))


def bursts(facts: Facts) -> Iterator[Problem]:
    """A closed can, or an egg in its shell in a microwave, that is heated."""
    for flow in read_flows(facts):
        for number, step in flow.steps.items():
            if not wordings().may_say(step.word_set, "bursts", "shell"):
                continue
            for sentence in flow.sentences[number]:
                phrase = next(iter((*sentence.said("bursts"), *sentence.said("shell"))), None)
                if phrase is None:
                    continue
                closed = "can" in phrase.words or "tin" in phrase.words or "jar" in phrase.words
                zapped = "microwave" in step.tools or "microwave" in sentence.words
                heated = on_heat(step) or sentence.said("heat") or zapped
                if heated if closed else zapped and not {"egg", "eggs"}.isdisjoint(step.word_set):
                    yield error(
                        "bursts",
                        sentence.places[phrase.at],
                        f"“{phrase.words}”, heated, bursts: steam has no way out.",
                        "Open the can, or crack the egg into a bowl, before anything gets hot.",
                    )


def fire_indoors(facts: Facts) -> Iterator[Problem]:
    """Charcoal or a camp stove in a room."""
    for flow in read_flows(facts):
        for sentence in _sentences(flow, "fire indoors"):
            outside = step_words("outdoors") & set(sentence.words)
            for phrase in sentence.said("fire indoors"):
                if not outside:
                    yield error(
                        "fire-indoors",
                        sentence.places[phrase.at],
                        f"“{phrase.words}” gives off carbon monoxide, which kills in a room "
                        "without a smell.",
                        "Use the burner or the oven; or write “outdoors”, with an adult at the "
                        "fire.",
                    )
                    break


def hot_in_blender(facts: Facts) -> Iterator[Problem]:
    """Hot food that goes into a closed blender."""
    for flow in read_flows(facts):
        for number, step in flow.steps.items():
            blends = (step.tools | step.word_set) & _MACHINES and not step.tools & _IN_THE_POT
            if not blends or not any(heats(flow, n) for n in (number, *flow.order.direct[number])):
                continue
            said = flow.sentences[number]
            if any(each.said("cooled") for each in said) or not any(map(_runs, said)):
                continue
            yield error(
                "hot-in-blender",
                step.place,
                f"Step {number} blends what comes from the heat: steam throws the lid off, and "
                "burns whoever stands there.",
                "Write: “Let it cool for ten minutes. An adult blends it, the jar at most half "
                "full, the cap of the lid out and a towel over it.”",
            )


def _runs(sentence: Sentence) -> bool:
    """Whether food goes into a machine, and it is switched on."""
    into = not _MACHINES.isdisjoint(sentence.words) and "into" in sentence.words
    return into or "grind" in sentence.kinds


def rinsed_raw(facts: Facts) -> Iterator[Problem]:
    """Raw poultry or meat that is rinsed."""
    for flow in read_flows(facts):
        raw = {each.hazard.ingredient.key: each for each in flow.raw if each.hazard.kind in MEATS}
        for journey in raw.values():
            if journey.hazard.kind in ("fish", "shellfish"):
                continue
            calls = flow.calls[journey.hazard.ingredient.key]
            for number in journey.handled:
                for place in _rinsing(flow.sentences[number], calls):
                    yield error(
                        "rinsed-raw",
                        place,
                        f"Rinsing raw {journey.hazard.name} splashes its germs over sink, salad "
                        "and clothes.",
                        "Write: “Don't rinse it. Pat it dry with paper, throw the paper away and "
                        "wash your hands.”",
                    )


def _rinsing(sentences: Sequence[Sentence], calls: frozenset[str]) -> Iterator[Place]:
    """Where the words rinse what is called so, by its name or by “it” and “them” behind it."""
    for sentence in sentences:
        water = sentence.said("rinsed in water")
        else_meant = not (denials() | step_words("not itself rinsed")).isdisjoint(sentence.words)
        if water and not else_meant and _names(sentence.words, calls):
            yield sentence.places[water[0].at]
            continue
        spoken_of = False
        for clause in sentence.clauses:
            rinses = clause.verb is not None and clause.verb.name in ("rinse", "wash")
            behind = clause.words[1:4]
            meant = _names(behind, calls) or (spoken_of and {"it", "them"} & set(behind[:1]))
            if rinses and meant and not clause.negated:
                yield clause.place
            spoken_of = _names(clause.words, calls)


def _names(words: Sequence[str], calls: frozenset[str]) -> bool:
    return any(word in calls or word.removesuffix("s") in calls for word in words)


RULES = (
    Rule("unpasteurised", unpasteurised, of_one=True),
    Rule("poison", poison, of_one=True),
    Rule("too-young", too_young, of_one=True),
    Rule("beans-boiled", beans_boiled, of_one=True),
    Rule("alcohol", alcohol, of_one=True),
    Rule("eaten-raw", eaten_raw, of_one=True),
    Rule("honey-before-one", honey_before_one, of_one=True),
    Rule("for-adults-alone", for_adults_alone, of_one=True),
    Rule("bursts", bursts, of_one=True),
    Rule("fire-indoors", fire_indoors, of_one=True),
    Rule("hot-in-blender", hot_in_blender, of_one=True),
    Rule("rinsed-raw", rinsed_raw, of_one=True),
)
