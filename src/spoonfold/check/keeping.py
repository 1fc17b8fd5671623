"""What is kept too long, or where germs grow without air: jars, oil, leftovers."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.kitchen import heats, read_flows
from spoonfold.check.rule import Facts, Rule, error
from spoonfold.kitchen.reading import Sentence
from spoonfold.kitchen.wordings import wordings
from spoonfold.knowledge.dangers import keeping_words
from spoonfold.knowledge.step_words import step_words
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.words import is_chilled, on_heat
from spoonfold.problem import Place, Problem

_FOUR_DAYS = 4 * 1440


def oil_kept(facts: Facts) -> Iterator[Problem]:
    """Garlic or herbs under oil that are kept out of the cold."""
    for flow in read_flows(facts):
        names = [set(_words(each.name)) for each in flow.recipe.ingredients]
        plants = [
            each
            for each in flow.recipe.ingredients
            if "dried" not in _words(each.name)
            and any(wordings().found((word,)).get("oil kept") for word in _words(each.name))
        ]
        if not plants or not any("oil" in each for each in names):
            continue
        for place in _kept(flow, "oil"):
            yield error(
                "oil-kept",
                place,
                f"{plants[0].name.capitalize()} under oil, out of the cold, can grow the germ of "
                "botulism.",
                "Write: “Keep it in the refrigerator and use it within four days.” Or make only "
                "what is eaten today.",
            )


def jars_kept(facts: Facts) -> Iterator[Problem]:
    """Vegetables, beans, meat or soup in jars on a shelf, with neither acid nor sugar."""
    for flow in read_flows(facts):
        listed = {word for each in flow.recipe.ingredients for word in _words(each.name)}
        if not listed.isdisjoint(keeping_words("acid or sugar")) or "oil" in listed:
            continue
        said = {word for step in flow.steps.values() for word in step.word_set}
        if said.isdisjoint(keeping_words("jars")) or not any(heats(flow, n) for n in flow.steps):
            continue
        for place in _kept(flow, "jars"):
            yield error(
                "jars-kept",
                place,
                "Food without acid, closed in a jar and kept out of the cold, can grow the germ of "
                "botulism: boiling water doesn't kill it.",
                "Write: “Keep it in the refrigerator and eat it within four days”, or freeze it.",
            )


def _kept(flow: Flow, what: str) -> Iterator[Place]:
    """Sentences by which something stays out of the cold for long."""
    jarred = False
    for number, step in flow.steps.items():
        for sentence in flow.sentences[number]:
            jarred = jarred or not keeping_words("jars").isdisjoint(sentence.words)
            stays = "rest" in sentence.kinds or not keeping_words("keeps").isdisjoint(
                sentence.words
            )
            long = sentence.said("for long") or (sentence.minutes or 0) > _FOUR_DAYS
            in_jar = not step_words("jar of oil").isdisjoint(sentence.words)
            if what == "oil" and in_jar:
                long = (
                    long
                    or sentence.said("long")
                    or sentence.said("out of the cold")
                    or (sentence.minutes or 0) > 120
                )
            hot = what == "oil" and on_heat(step)
            cold = sentence.said("cold") or is_chilled(step) or hot
            if stays and long and not cold and (jarred or in_jar):
                yield sentence.places[0]


def kept_too_long(facts: Facts) -> Iterator[Problem]:
    """Cooked food that is eaten after more than four days in the cold."""
    for flow in read_flows(facts):
        for number in flow.steps:
            for sentence in flow.sentences[number]:
                if _is_old(sentence):
                    yield error(
                        "kept-too-long",
                        sentence.places[0],
                        "Cooked food keeps three to four days in a refrigerator: some germs grow "
                        "in the cold too.",
                        "Write: “Keep it in the refrigerator and eat it within three days”, or "
                        "freeze it.",
                    )


def _is_old(sentence: Sentence) -> bool:
    if not sentence.said("keeps four days") or {"freezer", "freeze", "frozen"} & set(
        sentence.words
    ):
        return False
    return bool(sentence.said("over four days")) or (sentence.minutes or 0) > _FOUR_DAYS


def _words(name: str) -> tuple[str, ...]:
    return tuple(name.casefold().replace("-", " ").replace(",", " ").split())


RULES = (
    Rule("oil-kept", oil_kept, of_one=True),
    Rule("jars-kept", jars_kept, of_one=True),
    Rule("kept-too-long", kept_too_long, of_one=True),
)
