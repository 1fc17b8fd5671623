"""Words are explained where children meet them, and only those. Hints: she knows her children."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import chain

from spoonfold.check.rule import Facts, Rule, advice
from spoonfold.knowledge.kitchen_terms import kitchen_terms
from spoonfold.model.prose import plain_prose
from spoonfold.model.teaching import Word
from spoonfold.problem import Place, Problem
from spoonfold.read.folder import WORDS_FILE
from spoonfold.teach.words import Marker, prose_of

OFTEN = 3
"""Steps in which a kitchen word stands before somebody should explain it (common practice)."""

LANGUAGE = "en"
"""What the kitchen words are in."""


def word_unexplained(facts: Facts) -> Iterator[Problem]:
    """A kitchen word that stands in several steps and that no word of the class explains."""
    if WORDS_FILE in facts.troubled or not _is_in_english(facts):
        return
    explained = {
        form.casefold() for word in facts.folder.words.values() for form in (word.term, *word.forms)
    }
    first: dict[str, Place] = {}
    times = Counter[str]()
    nowhere = Place(WORDS_FILE)
    marker = Marker(
        {
            term: Word(term, "", None, None, forms, nowhere)
            for term, forms in kitchen_terms().items()
            if not explained & {term.casefold(), *(form.casefold() for form in forms)}
        }
    )
    for recipe in facts.folder.recipes.values():
        for step in recipe.steps:
            for term in set(marker.mentions(step.words)):
                first.setdefault(term, step.place)
                times[term] += 1
    for term, count in sorted(times.items()):
        if count >= OFTEN:
            yield advice(
                "word-unexplained",
                first[term],
                f"“{term}” stands here and in {count - 1} more steps, and {WORDS_FILE} doesn't "
                "explain it.",
                f"Explain it there:\n{term}: {{meaning: …}}",
            )


def word_unused(facts: Facts) -> Iterator[Problem]:
    """A word that is explained and stands in no dish and no lesson, in any of its forms."""
    folder = facts.folder
    if folder.unread or WORDS_FILE in facts.troubled:
        return
    marker = Marker(folder.words)
    # Most words stand in the first few dishes; of the others few texts have even a beginning.
    unsaid = {
        key: {form.casefold().split()[0] for form in (word.term, *word.forms)}
        for key, word in folder.words.items()
    }
    for text in chain(
        (text for recipe in folder.recipes.values() for text in prose_of(recipe)),
        (plain_prose(lesson.body) for lesson in folder.lessons.values()),
    ):
        if not unsaid:
            break
        folded = text.casefold()
        if any(begins in folded for begins in chain.from_iterable(unsaid.values())):
            for key in marker.mentions(text):
                unsaid.pop(key, None)
    for key, word in folder.words.items():
        if key in unsaid:
            yield advice(
                "word-unused",
                word.place,
                f"“{word.term}” is explained, but no dish and no lesson says it in any form that "
                "is listed.",
                "List the form that the steps use under `forms`, use the word, or take it out.",
            )


def _is_in_english(facts: Facts) -> bool:
    """Whether the dishes are written in the language of the kitchen words."""
    classroom = facts.folder.classroom
    return classroom is None or classroom.languages[:1] in ((), (LANGUAGE,))


RULES = (Rule("word-unexplained", word_unexplained), Rule("word-unused", word_unused))
