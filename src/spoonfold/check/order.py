"""Which step waits for which: every step can be reached, and none waits for itself."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from spoonfold.check.rule import Facts, Rule, error, steps_of
from spoonfold.model.recipe import Recipe, Step
from spoonfold.problem import Place, Problem

_EARLIEST = {"day before": 0, "before class": 1, None: 2}


def _place(step: Step) -> Place:
    """Where the step says what it waits for."""
    return step.notes.get("after", step.place)


def after_unknown(facts: Facts) -> Iterator[Problem]:
    """`after` names a step that isn't there."""
    for recipe, step in steps_of(facts):
        missing = [n for n in step.after or () if n > len(recipe.steps)]
        if missing:
            known = [n for n in step.after or () if n <= len(recipe.steps) and n != step.number]
            shown = ", ".join(map(str, missing))
            yield error(
                "after-unknown",
                _place(step),
                f"Step {step.number} waits for step {shown}, but the recipe has "
                f"{len(recipe.steps)} step{'' if len(recipe.steps) == 1 else 's'}.",
                f"after: {', '.join(map(str, known)) or 'none'}",
            )


def after_itself(facts: Facts) -> Iterator[Problem]:
    """`after` names the step itself."""
    for _, step in steps_of(facts):
        if step.number in (step.after or ()):
            others = ", ".join(str(n) for n in step.after or () if n != step.number)
            yield error(
                "after-itself",
                _place(step),
                f"Step {step.number} waits for itself, so it can never begin.",
                f"after: {others or (step.number - 1) or 'none'}",
            )


def waits_for(recipe: Recipe) -> Mapping[int, tuple[int, ...]]:
    """Step numbers by the step that waits for them; missing steps and the step itself left out."""
    return {
        step.number: tuple(
            n
            for n in (step.after if step.after is not None else (step.number - 1,))
            if 0 < n <= len(recipe.steps) and n != step.number
        )
        for step in recipe.steps
    }


def circles(edges: Mapping[int, tuple[int, ...]]) -> Iterator[tuple[int, ...]]:
    """One circle out of every knot of nodes that wait for each other, its first node repeated."""
    done: set[int] = set()
    for start in edges:
        if start in done:
            continue
        path = _way_back(edges, start)
        if path is not None:
            yield path
            # The whole knot counts as told: what reaches this circle and is reached by it.
            inside = _reached(edges, start)
            done |= {node for node in inside if start in _reached(edges, node)}


def _reached(edges: Mapping[int, tuple[int, ...]], start: int) -> set[int]:
    reached: set[int] = set()
    todo = list(edges[start])
    while todo:
        node = todo.pop()
        if node not in reached:
            reached.add(node)
            todo.extend(edges[node])
    return reached


def _way_back(edges: Mapping[int, tuple[int, ...]], start: int) -> tuple[int, ...] | None:
    """The shortest way from a node to itself."""
    before: dict[int, int] = {}
    todo = [start]
    for node in todo:
        for following in edges[node]:
            if following == start:
                path = [start, node]
                while path[-1] != start:
                    path.append(before[path[-1]])
                return tuple(reversed(path))
            if following not in before:
                before[following] = node
                todo.append(following)
    return None


def after_circle(facts: Facts) -> Iterator[Problem]:
    """Steps that wait for each other."""
    for recipe in facts.folder.recipes.values():
        for path in circles(waits_for(recipe)):
            shown = " → ".join(map(str, path))
            # A circle needs a step that waits for a later one; that is the odd one out.
            odd = next(n for n, target in pairwise(path) if target > n)
            yield error(
                "after-circle",
                _place(recipe.steps[odd - 1]),
                f"These steps wait for each other, so none of them can begin: {shown}.",
                f"Take a number out of `after` in step {odd}, or give it `after: none`.",
            )


def too_late(facts: Facts) -> Iterator[Problem]:
    """A step done beforehand that waits for one done later."""
    for recipe, step in steps_of(facts):
        edges = waits_for(recipe)
        for number in edges[step.number] if step.after else ():
            other = recipe.steps[number - 1]
            if step.number in _reached(edges, number):
                continue  # A circle, which has a rule of its own.
            if _EARLIEST[step.when] < _EARLIEST[other.when]:
                yield error(
                    "before-what-it-needs",
                    _place(step),
                    f"Step {step.number} is done {_said(step)}, but waits for step {number}, "
                    f"which is done {_said(other)}.",
                    f"Give step {number} the note `when: {step.when}`, or take {number} out of "
                    "`after`.",
                )
                break


def _said(step: Step) -> str:
    return {"day before": "the day before", "before class": "before class"}.get(
        step.when or "", "in class"
    )


RULES = (
    Rule("after-unknown", after_unknown, of_one=True),
    Rule("after-itself", after_itself, of_one=True),
    Rule("after-circle", after_circle, of_one=True),
    Rule("before-what-it-needs", too_late, of_one=True),
)
