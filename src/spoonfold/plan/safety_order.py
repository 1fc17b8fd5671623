"""Which step comes before which, by `after`."""

from __future__ import annotations

from collections.abc import Sequence

from spoonfold.model.recipe import Step


class Order:
    """Which step comes before which, by `after`; circles and missing numbers left out."""

    def __init__(self, steps: Sequence[Step]) -> None:
        numbers = {step.number for step in steps}
        self.direct: dict[int, tuple[int, ...]] = {}
        for step in steps:
            asked = step.after if step.after is not None else (step.number - 1,)
            self.direct[step.number] = tuple(
                n for n in asked if n in numbers and n != step.number)
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
