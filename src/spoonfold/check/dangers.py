"""Foods, tools and habits that can hurt a child in any dish: the list of `knowledge/dangers`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spoonfold.check.kitchen import heats, read_flows
from spoonfold.check.rule import Facts, Rule, error, settings_of
from spoonfold.kitchen.reading import Sentence
from spoonfold.kitchen.wordings import Phrase, wordings
from spoonfold.knowledge.dangers import Danger, boil_minutes, dangers, not_dry
from spoonfold.knowledge.equipment import tool_named
from spoonfold.knowledge.step_words import step_words
from spoonfold.model.recipe import Ingredient
from spoonfold.plan.safety.flow import MEATS, Flow
from spoonfold.plan.safety.words import is_chilled, on_heat
from spoonfold.problem import Place, Problem


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
    """Plants and parts of plants that poison."""
    for row, words, place in _refused(facts, "poison"):
        yield error("poison", place, row.say.format(words=words), row.write)


def too_young(facts: Facts) -> Iterator[Problem]:
    """Food on which small children choke, at a class of that age."""
    for row, words, place in _refused(facts, "too-young"):
        yield error("too-young", place, row.say.format(words=words), row.write)


def _refused(facts: Facts, code: str) -> Iterator[tuple[Danger, str, Place]]:
    """Where a food of one row stands, and nothing answers it."""
    row = next(each for each in dangers() if each.code == code)
    if row.ages_below is not None and _youngest(facts) >= row.ages_below:
        return
    for flow in read_flows(facts):
        if not any(step.word_set & row.answered_by for step in flow.recipe.steps):
            for phrase, place in _met(flow, code, row.in_steps):
                yield row, phrase.words, place


def _youngest(facts: Facts) -> int:
    if facts.folder.classroom is None:
        return 99
    return min(setting.ages[0] for setting, _ in settings_of(facts.folder.classroom))


def _met(flow: Flow, code: str, in_steps: bool) -> Iterator[tuple[Phrase, Place]]:
    for ingredient in _lines(flow):
        for phrase in wordings().found(_words(ingredient)).get(code, ()):
            if not phrase.denied:
                yield phrase, ingredient.place
    if in_steps:
        for sentence in _sentences(flow, code):
            for phrase in sentence.said(code):
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


def oil_kept(facts: Facts) -> Iterator[Problem]:
    """Garlic or herbs under oil that are kept out of the cold."""
    for flow in read_flows(facts):
        names = [set(_words(each)) for each in flow.recipe.ingredients]
        if not any("oil" in each for each in names):
            continue
        plants = [
            each
            for each in flow.recipe.ingredients
            if wordings().found(_words(each)).get("oil kept")
        ]
        for number, step in flow.steps.items() if plants else ():
            for sentence in flow.sentences[number]:
                kept = "rest" in sentence.kinds and step_words("jar of oil") & set(sentence.words)
                far = sentence.said("long") or (sentence.minutes or 0) > 120
                away = sentence.said("out of the cold")
                cold = sentence.said("cold") or is_chilled(step) or on_heat(step)
                if kept and (far or away) and not cold:
                    yield error(
                        "oil-kept",
                        sentence.places[0],
                        f"{plants[0].name.capitalize()} under oil, out of the cold, can grow "
                        "the germ of botulism.",
                        "Write: “Keep it in the refrigerator and use it within four days.” Or "
                        "make only what is eaten today.",
                    )


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


def _an_adult_does(flow: Flow, number: int) -> bool:
    return bool(flow.steps[number].word_set & step_words("grown-up"))


def bursts(facts: Facts) -> Iterator[Problem]:
    """A closed can, or an egg in its shell in a microwave, that is heated."""
    for flow in read_flows(facts):
        for number, step in flow.steps.items():
            if not wordings().may_say(step.word_set, "bursts"):
                continue
            for sentence in flow.sentences[number]:
                phrase = next(iter(sentence.said("bursts")), None)
                if phrase is None:
                    continue
                shell = "egg" in phrase.words
                zapped = "microwave" in step.tools or "microwave" in sentence.words
                heated = on_heat(step) or sentence.said("heat") or zapped
                if zapped if shell else heated:
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
            if any(each.said("cooled") for each in said) or not any(
                "grind" in each.kinds for each in said
            ):
                continue
            yield error(
                "hot-in-blender",
                step.place,
                f"Step {number} blends what comes from the heat: steam throws the lid off, and "
                "burns whoever stands there.",
                "Write: “Let it cool for ten minutes. An adult blends it, the jar at most half "
                "full, the cap of the lid out and a towel over it.”",
            )


def rinsed_raw(facts: Facts) -> Iterator[Problem]:
    """Raw poultry or meat that is rinsed."""
    for flow in read_flows(facts):
        raw = {each.hazard.ingredient.key: each for each in flow.raw if each.hazard.kind in MEATS}
        for journey in raw.values():
            if journey.hazard.kind in ("fish", "shellfish"):
                continue
            calls = flow.calls[journey.hazard.ingredient.key]
            for number in journey.handled:
                if not {"rinse", "wash"} & flow.steps[number].word_set:
                    continue
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
    for sentence in sentences:
        for clause in sentence.clauses:
            if clause.verb is None or clause.negated or clause.verb.name not in ("rinse", "wash"):
                continue
            behind = clause.words[1:4]
            if any(word in calls or word.removesuffix("s") in calls for word in behind):
                yield clause.place


RULES = (
    Rule("unpasteurised", unpasteurised),
    Rule("poison", poison),
    Rule("too-young", too_young),
    Rule("beans-boiled", beans_boiled),
    Rule("oil-kept", oil_kept),
    Rule("for-adults-alone", for_adults_alone),
    Rule("bursts", bursts),
    Rule("fire-indoors", fire_indoors),
    Rule("hot-in-blender", hot_in_blender),
    Rule("rinsed-raw", rinsed_raw),
)
