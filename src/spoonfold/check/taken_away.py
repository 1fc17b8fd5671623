"""What the author's own pantry.yaml takes away from what Spoonfold knows of a food.

Told as a warning at every check, and no `accept` reaches it: only a recipe's or the class's own
file can accept, and what is taken away here is missing on every sheet of every dish.
"""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.rule import Facts, Rule, warning
from spoonfold.problem import Problem
from spoonfold.read.folder import PANTRY_FILE


def pantry_takes_away(facts: Facts) -> Iterator[Problem]:
    """A food that the author describes with less than what ships says of it."""
    if PANTRY_FILE in facts.troubled:
        return
    for item, place in facts.folder.pantry.retold:
        if not item.taken_away:
            continue
        yield warning(
            "pantry-takes-away",
            place,
            f"Spoonfold knows “{item.name}” as {', '.join(item.taken_away)}; this entry says "
            "otherwise. No sheet warns of it any more, but for a line that says whose word it is.",
            "Where that is so of what you buy, leave it and read the label each time: this is told "
            "again and again. Else take out the key that says otherwise.",
        )


RULES = (Rule("pantry-takes-away", pantry_takes_away),)
