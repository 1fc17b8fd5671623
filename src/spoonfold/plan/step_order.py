"""Which steps of a session must be over before another begins."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from spoonfold.model.recipe import Recipe
from spoonfold.plan.clock_tasks import waits_for

StepKey = tuple[str, int]
"""A recipe's key and the number of a step."""


def steps_before(recipes: Sequence[Recipe]) -> Mapping[StepKey, frozenset[StepKey]]:
    """Every step with all that lies before it, also through others.

    A step is written before what waits for it; where it isn't, which is a problem of its own,
    what lies before it isn't followed.
    """
    before: dict[StepKey, frozenset[StepKey]] = {}
    for recipe in recipes:
        for step in recipe.steps:
            own: frozenset[StepKey] = frozenset()
            for number in waits_for(step):
                key = recipe.key, number
                own |= {key} | before.get(key, frozenset())
            before[recipe.key, step.number] = own
    return before
