"""Names in recipes and skills mean something: foods, words, skills, cautions."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from spoonfold.check.known import again, describe_food, did_you_mean, unknown_once
from spoonfold.check.needs import somebody_avoids
from spoonfold.check.order import circles
from spoonfold.check.rule import Facts, Rule, error, steps_of, warning
from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.knowledge.names import fold, is_slip
from spoonfold.model.recipe import Ingredient
from spoonfold.problem import Problem
from spoonfold.read.folder import PANTRY_FILE, SKILLS_FILE, WORDS_FILE
from spoonfold.read.shape import nearest


def unknown_ingredient(facts: Facts) -> Iterator[Problem]:
    """A food that the pantry doesn't know, where nobody must avoid anything."""
    if PANTRY_FILE in facts.troubled:
        return
    pantry = facts.folder.pantry
    unknown: dict[str, list[Ingredient]] = defaultdict(list)
    for key, recipe in facts.folder.recipes.items():
        if somebody_avoids(key, facts):
            continue
        for each in (*recipe.ingredients, *(swap.use for swap in recipe.swaps)):
            if pantry.find(each.name) is None:
                unknown[fold(each.name)].append(each)
    for places in unknown.values():
        first = places[0]
        yield warning(
            "unknown-ingredient",
            first.place,
            f"The pantry doesn't know “{first.name}”, so nothing is said of its allergens, its "
            f"weight and its safety.{again(len(places))}",
            describe_food(facts, first.name),
        )


def unknown_word(facts: Facts) -> Iterator[Problem]:
    """A word to teach that words.yaml doesn't explain."""
    if WORDS_FILE in facts.troubled:
        return
    words = facts.folder.words
    taught = (term for recipe in facts.folder.recipes.values() for term in recipe.words)
    for term, more in unknown_once(taught, words):
        yield warning(
            "unknown-word",
            term.place,
            f"“{term.text}” is taught here, but {WORDS_FILE} doesn't explain it.{more}",
            f"[{term.text}]"
            if "," in term.text
            else did_you_mean(term.text, words, f"Explain it there:\n{term.text}: {{meaning: …}}"),
        )


def unknown_skill(facts: Facts) -> Iterator[Problem]:
    """A skill that skills.yaml doesn't explain."""
    if SKILLS_FILE in facts.troubled:
        return
    skills = facts.folder.skills
    used = (term for _, step in steps_of(facts) for term in step.skills)
    for term, more in unknown_once(used, skills):
        yield warning(
            "unknown-skill",
            term.place,
            f"“{term.text}” isn't a skill of {SKILLS_FILE}, so no card would say how it is "
            f"done.{more}",
            did_you_mean(term.text, skills, f"Explain it there: {term.text}: {{how: …}}"),
        )


def skill_first_unknown(facts: Facts) -> Iterator[Problem]:
    """A skill that comes after one that isn't there."""
    if SKILLS_FILE in facts.troubled:
        return
    skills = facts.folder.skills
    before = (term for skill in skills.values() for term in skill.first)
    for term, more in unknown_once(before, skills):
        yield warning(
            "skill-first-unknown",
            term.place,
            f"“{term.text}” should come first, but it isn't a skill of this file.{more}",
            did_you_mean(term.text, skills, "Explain it too, or take it out of `after`."),
        )


def skill_circle(facts: Facts) -> Iterator[Problem]:
    """Skills that come after each other, in a circle."""
    skills = facts.folder.skills
    names = tuple(skills)
    numbers = {name: number for number, name in enumerate(names)}
    edges = {
        numbers[name]: tuple(numbers[t.text] for t in skill.first if t.text in numbers)
        for name, skill in skills.items()
    }
    for path in circles(edges):
        skill = skills[names[path[0]]]
        target = names[path[1]]
        place = next(term.place for term in skill.first if term.text == target)
        shown = " → ".join(names[number] for number in path)
        yield error(
            "skill-circle",
            place,
            f"Each of these skills should come after the next, so none can come first: {shown}.",
            "Take one of them out of an `after`.",
        )


_MOST_WORDS = max(len(name.split()) for name in CAUTIONS) + 1


def _is_near(written: str, caution: str) -> bool:
    """Whether the one may be the other misspelt: “the stem” is no steam."""
    words, named = fold(written).split(" "), caution.split(" ")
    return len(words) == len(named) or set(named) <= set(words) or is_slip(fold(written), caution)


def caution_misspelt(facts: Facts) -> Iterator[Problem]:
    """A caution in free words that is nearly a named one."""
    for _, step in steps_of(facts):
        for term in step.watch:
            if term.text.casefold() in CAUTIONS or len(term.text.split()) > _MOST_WORDS:
                continue
            close = nearest(term.text, (name for name in CAUTIONS if _is_near(term.text, name)))
            # A whole sentence is free words, however many of them a named caution has.
            if close is not None and len(term.text.split()) <= len(close.split()) + 1:
                yield warning(
                    "caution-misspelt",
                    term.place,
                    f"“{term.text}” isn't a named caution, so these bare words would be printed, "
                    "and in no other language.",
                    f"Did you mean `{close}`?",
                )


RULES = (
    Rule("unknown-ingredient", unknown_ingredient),
    Rule("unknown-word", unknown_word),
    Rule("unknown-skill", unknown_skill),
    Rule("skill-first-unknown", skill_first_unknown),
    Rule("skill-circle", skill_circle),
    Rule("caution-misspelt", caution_misspelt, of_one=True),
)
