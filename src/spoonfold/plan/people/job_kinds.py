"""What kinds of job there are, and which jobs a session has.

The list is fixed, so that a season can be even: a step of a recipe is one of four kinds, by
what it needs and which skills it asks for, and every table has a few standing jobs besides.
Which jobs a table needs is common practice.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum

from spoonfold.model.caution import CAUTIONS
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.clock.tasks import COOKERS, waits_for


class Kind(Enum):
    """A kind of job, in the order in which charts show them."""

    READ = "read aloud"
    """Reads each step to the table before it begins."""
    KNIFE = "knife"
    """Steps with a knife or scissors."""
    GRATE = "grate, peel, open"
    """Steps with a grater, a peeler or a can opener."""
    MIX = "measure and mix"
    """Every other step that children do."""
    HEAT = "at the heat"
    """Steps at a burner, a griddle or the oven."""
    WATCH = "raw and ready"
    """Sees that what touched raw food is washed before it touches anything else."""
    SET = "set the table"
    CLEAN = "clean up"
    """Leads the washing up and counts the tools back in."""


_TOOLS = (
    (Kind.KNIFE, frozenset({"knife", "scissors"})),
    (Kind.GRATE, frozenset({"grater", "peeler", "opener"})),
)
"""By the last word of what a step needs."""

_SKILLS = (
    (Kind.HEAT, frozenset({"stir at the heat", "flip"})),
    (Kind.KNIFE, frozenset({"claw grip", "bridge hold", "slice", "dice", "snip"})),
    (Kind.GRATE, frozenset({"grate", "peel", "open a can"})),
)


@dataclass(frozen=True, slots=True)
class Job:
    """Something that one child does on one day."""

    kind: Kind
    dish: str | None = None
    """The recipe's key; None: a standing job."""
    steps: tuple[Step, ...] = ()
    """One, or a run of steps with raw food that the same hands do; none: a standing job."""

    @property
    def is_raw(self) -> bool:
        """Whether its hands touch raw food."""
        return any(is_raw(step) for step in self.steps)


@dataclass(frozen=True, slots=True)
class Post:
    """A job to be filled by so many different children."""

    job: Job
    table: int | None
    """Counted from 1; None: it is done once for everyone, and any table may send a child."""
    hands: int


def kind_of(step: Step) -> Kind:
    """The kind of a step: the one that takes most care, where it could be several."""
    tools = {need.name.casefold().rpartition(" ")[2] for need in step.needs}
    skills = {term.text.casefold() for term in step.skills}
    if tools & COOKERS:
        return Kind.HEAT
    for kind, named in _SKILLS[:1]:
        if skills & named:
            return kind
    for kind, named in _TOOLS:
        if tools & named:
            return kind
    for kind, named in _SKILLS[1:]:
        if skills & named:
            return kind
    return Kind.MIX


def posts_of(recipes: Sequence[Recipe], tables: Sequence[int]) -> tuple[Post, ...]:
    """Every job of a session. `tables` are the children at each."""
    return tuple(post for post in _posts(recipes, tables) if post.hands)


def _posts(recipes: Sequence[Recipe], tables: Sequence[int]) -> Iterator[Post]:
    numbers = range(1, len(tables) + 1)
    for table in numbers:
        yield from (
            Post(Job(kind), table, min(1, tables[table - 1]))
            for kind in (Kind.READ, Kind.SET, Kind.CLEAN)
        )
    yield from _watches(recipes, tables)
    for recipe in recipes:
        for steps in _runs(recipe):
            job = Job(kind_of(steps[0]), recipe.key, steps)
            hands = children_of(steps[0])
            if steps[0].for_class:
                yield Post(job, None, min(hands, sum(tables)))
            else:
                yield from (Post(job, table, min(hands, tables[table - 1])) for table in numbers)


def _runs(recipe: Recipe) -> Iterator[tuple[Step, ...]]:
    """The steps that are done in class, in order. Raw food that goes on from one step to the next
    stays in the same hands: the fewer they are, the fewer there are to wash."""
    run: tuple[Step, ...] = ()
    for step in recipe.steps:
        if step.when is not None:
            continue
        if run and not _goes_on(run[-1], step):
            yield run
            run = ()
        run = (*run, step)
    if run:
        yield run


def _goes_on(before: Step, step: Step) -> bool:
    return (
        is_raw(before)
        and is_raw(step)
        and waits_for(step) == (before.number,)
        and before.for_class == step.for_class
        and children_of(before) == children_of(step)
        and kind_of(before) is kind_of(step)
    )


def _watches(recipes: Sequence[Recipe], tables: Sequence[int]) -> Iterator[Post]:
    """Somebody watches wherever raw food is handled in class."""
    raw = [
        step for recipe in recipes for step in recipe.steps if step.when is None and is_raw(step)
    ]
    if any(not step.for_class for step in raw):
        yield from (
            Post(Job(Kind.WATCH), table, min(1, children))
            for table, children in enumerate(tables, 1)
        )
    elif raw:
        yield Post(Job(Kind.WATCH), None, min(1, sum(tables)))


def is_raw(step: Step) -> bool:
    """Whether raw food is handled, by the cautions that the step names."""
    known = (CAUTIONS.get(term.text.casefold()) for term in step.watch)
    return any(caution is not None and caution.icon == "raw" for caution in known)


def children_of(step: Step) -> int:
    """How many children are at work: as noted, else one, unless an adult or the class does it."""
    if step.hands is not None:
        return step.hands
    return int(not (step.adult or step.for_class))
