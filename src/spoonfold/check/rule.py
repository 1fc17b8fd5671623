"""What a rule is, and the facts that it is given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from spoonfold.model.classroom import Classroom, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Text
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.uses import Uses, uses_of
from spoonfold.plan.clock.class_work import Timed, timed_sessions
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.understood.recipe import understood
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.folder import CLASS_FILE


@dataclass(frozen=True, slots=True, eq=False)
class Facts:
    """All that rules look at; worked out once. Each is itself alone, so that what several rules
    need of it can be kept."""

    folder: ClassFolder
    """Its recipes with all notes, those that were worked out among them."""
    uses: Mapping[str, Uses]
    """By recipe."""
    troubled: frozenset[str] = frozenset()
    """Files in which reading found an error: what they seem to lack may only be unread."""
    flows: Mapping[str, Flow] = field(default_factory=dict)
    """By recipe: where raw and cooked food goes."""
    home_flows: Mapping[str, Flow] = field(default_factory=dict)
    """The same in the words that families read, where any step has words of its own for home."""
    clocks: tuple[Timed, ...] = ()
    """Every session that was read whole, in time."""
    texts: Mapping[str, str] = field(default_factory=dict)
    """What each file says, by its path."""


@dataclass(frozen=True, slots=True)
class Rule:
    """One thing that is looked for."""

    code: str
    """The code of every problem that it finds; its reason stands in `knowledge/reasons.json`."""
    run: Callable[[Facts], Iterable[Problem]]


def facts_of(
    folder: ClassFolder, found: Iterable[Problem] = (), texts: Mapping[str, str] | None = None
) -> Facts:
    """The facts of a folder as it was read. `found` are the problems of reading it, so that no rule
    complains of something that is there but couldn't be read."""
    uses = {name: uses_of(recipe, folder.pantry) for name, recipe in folder.recipes.items()}
    troubled = frozenset(each.place.path for each in found if each.level is Level.ERROR)
    broken = [name for name, recipe in folder.recipes.items() if recipe.place.path in troubled]
    # Of a class that was read in part, nobody knows who comes and what is there.
    classroom = None if CLASS_FILE in troubled else folder.classroom
    flows = {
        name: understood(Flow(recipe, uses[name], folder.pantry), classroom)
        for name, recipe in folder.recipes.items()
    }
    folder = replace(folder, recipes={name: flow.recipe for name, flow in flows.items()})
    return Facts(
        folder=folder,
        uses=uses,
        troubled=troubled,
        texts=texts or {},
        clocks=tuple(timed_sessions(folder, uses, broken)),
        flows=flows,
        home_flows={
            name: Flow(_at_home(flow.recipe), uses[name], folder.pantry)
            for name, flow in flows.items()
            if any(step.home for step in flow.recipe.steps)
        },
    )


def _at_home(recipe: Recipe) -> Recipe:
    steps = (
        replace(step, text=(Text(step.home, step.notes.get("home", step.place)),))
        if step.home
        else step
        for step in recipe.steps
    )
    return replace(recipe, steps=tuple(steps))


def flows_of(facts: Facts) -> Iterator[Flow]:
    """The recipes that were read whole: of the others nothing can be called missing."""
    for flow in facts.flows.values():
        if flow.recipe.place.path not in facts.troubled:
            yield flow


def error(code: str, place: Place, message: str, hint: str = "") -> Problem:
    """What would print something wrong, or hurt."""
    return Problem(code, Level.ERROR, place, message, hint)


def warning(code: str, place: Place, message: str, hint: str = "", food: str = "") -> Problem:
    """What is likely a mistake; `food`: what it is about, where that isn't on its line."""
    return Problem(code, Level.WARNING, place, message, hint, food)


def advice(code: str, place: Place, message: str, hint: str = "") -> Problem:
    """What would make the sheets better."""
    return Problem(code, Level.HINT, place, message, hint)


def steps_of(facts: Facts) -> Iterator[tuple[Recipe, Step]]:
    """Every step of every recipe."""
    for recipe in facts.folder.recipes.values():
        for step in recipe.steps:
            yield recipe, step


def settings_of(classroom: Classroom) -> Iterator[tuple[Setting, Place]]:
    """The setting of the class and each one that a session changes, with where it stands."""
    yield classroom.setting, classroom.place
    for session in classroom.sessions:
        if session.setting is not classroom.setting:
            yield session.setting, session.place


def key_place(setting: Setting, key: str, otherwise: Place) -> Place:
    """Where a key of a setting stands."""
    return setting.places.get(key, otherwise)
