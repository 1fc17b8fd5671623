"""Which step comes before which: within a recipe, and over the dishes of a session."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from spoonfold.model.recipe import Recipe, Step

StepKey = tuple[str, int]
"""A recipe's key and the number of a step."""


class Order:
    """Which step of a recipe comes before which; missing numbers and a step itself left out.

    By what is written: food is judged by the order in which its steps are told. `at_work`: by what
    each waits for, which may be less where nobody wrote it."""

    def __init__(self, steps: Sequence[Step], at_work: bool = False) -> None:
        numbers = {step.number for step in steps}
        self.direct: dict[int, tuple[int, ...]] = {}
        for step in steps:
            asked = step.after if step.after is not None else (step.number - 1,)
            if at_work:
                asked = step.follows
            self.direct[step.number] = tuple(n for n in asked if n in numbers and n != step.number)
        self.before: dict[int, frozenset[int]] = {n: self._reach(n) for n in self.direct}
        self.following: dict[int, frozenset[int]] = {
            n: frozenset(m for m, before in self.before.items() if n in before and m != n)
            for n in self.direct
        }
        # A step has more steps before it than any of those has: a topological order.
        self.sorted = tuple(sorted(self.direct, key=lambda n: (len(self.before[n]), n)))

    def _reach(self, start: int) -> frozenset[int]:
        reached: set[int] = set()
        todo = list(self.direct[start])
        while todo:
            number = todo.pop()
            if number not in reached:
                reached.add(number)
                todo.extend(self.direct[number])
        return frozenset(reached)


def steps_before(recipes: Sequence[Recipe]) -> Mapping[StepKey, frozenset[StepKey]]:
    """Every step of a session with all that lies before it, also through others.

    No step of one dish waits for one of another.
    """
    return {
        (recipe.key, number): frozenset((recipe.key, other) for other in before)
        for recipe in recipes
        for number, before in Order(recipe.steps, at_work=True).before.items()
    }
