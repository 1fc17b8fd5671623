"""A recipe has what the sheets need of it."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, advice, error, steps_of, warning
from spoonfold.problem import Place, Problem


def no_time(facts: Facts) -> Iterator[Problem]:
    """A step of which nobody knows how long it takes: neither does it say so, nor its verbs."""
    for _, step in steps_of(facts):
        noted = any(name in step.notes for name in ("time", "wait", "class time"))
        if not noted and step.time is None and step.wait is None:
            yield warning(
                "no-time",
                step.place,
                f"Step {step.number} doesn't say how long it takes, so the plan of the session "
                "counts it as no time at all.",
                "    - time: 5 min",
            )


def no_headnote(facts: Facts) -> Iterator[Problem]:
    """A recipe that begins with its steps."""
    for recipe in facts.folder.recipes.values():
        if not recipe.headnote:
            yield advice(
                "no-headnote",
                recipe.place,
                f"“{recipe.title}” has no words before its steps.",
                "Say in a sentence or two what it is and what to look forward to.",
            )


def title_twice(facts: Facts) -> Iterator[Problem]:
    """Two files that name their dish alike."""
    seen: dict[str, Place] = {}
    for recipe in facts.folder.recipes.values():
        first = seen.setdefault(" ".join(recipe.title.casefold().split()), recipe.place)
        if first is not recipe.place:
            yield error(
                "title-twice",
                recipe.place,
                f"{first.path} has the title “{recipe.title}” too, so nobody could tell the two "
                "sheets apart.",
                f"title: {recipe.title}, in another way",
            )


RULES = (
    Rule("no-time", no_time, of_one=True),
    Rule("no-headnote", no_headnote, of_one=True),
    Rule("title-twice", title_twice),
)
