"""What a rule is, and the facts that it is given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TypeVar

from spoonfold.kitchen.spanish.recipe import NamesInEnglish, recipe_in_english
from spoonfold.knowledge.lexicons import READ, is_read
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Text
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.uses import Uses, uses_of
from spoonfold.plan.clock.class_work import Timed, timed, timed_sessions
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.understood.recipe import understood
from spoonfold.problem import Level, Place, Problem
from spoonfold.read.folder import CLASS_FILE, PANTRY_FILE

T = TypeVar("T")


@dataclass(frozen=True, eq=False)
class Facts:
    """All that rules look at; worked out once, when it is first asked for. Each is itself alone,
    so that what several rules need of it can be kept."""

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
    texts: Mapping[str, str] = field(default_factory=dict)
    """What each file says, by its path."""

    @cached_property
    def clocks(self) -> tuple[Timed, ...]:
        """Every session that was read whole, in time."""
        recipes = self.folder.recipes.values()
        broken = [each.key for each in recipes if each.place.path in self.troubled]
        return tuple(timed_sessions(self.folder, self.uses, broken))

    def with_session(self, session: Session) -> Facts:
        """The same with another in the place of the session of its number: only that one is timed
        anew."""
        classroom = self.folder.classroom
        assert classroom is not None
        sessions = (
            session if each.number == session.number else each for each in classroom.sessions
        )
        folder = replace(self.folder, classroom=replace(classroom, sessions=tuple(sessions)))
        other = replace(self, folder=folder)
        new = timed(folder, session, self.uses)
        others = {each.session.number: each for each in self.clocks}
        if isinstance(new, Timed):
            others[session.number] = new
        # Where the property itself keeps what was worked out.
        other.__dict__["clocks"] = tuple(others[number] for number in sorted(others))
        return other

    def alone(self, name: str) -> Facts:
        """What a rule may know that looks at one recipe alone."""
        folder = self.folder
        return Facts(
            ClassFolder(
                classroom=folder.classroom,
                recipes={name: folder.recipes[name]},
                unread=frozenset(),
                translations={},
                pantry=folder.pantry,
                words={},
                skills={},
                lessons={},
                after=(),
                children=(),
                files=frozenset(),
            ),
            {name: self.uses[name]},
            self.troubled & {CLASS_FILE, PANTRY_FILE, folder.recipes[name].place.path},
            {name: self.flows[name]},
            {name: self.home_flows[name]} if name in self.home_flows else {},
        )


@dataclass(frozen=True, slots=True)
class Rule:
    """One thing that is looked for."""

    code: str
    """The code of every problem that it finds; its reason stands in `knowledge/reasons.json`."""
    run: Callable[[Facts], Iterable[Problem]]
    of_one: bool = False
    """Whether it looks at each recipe alone, with the class and the pantry: then what it finds is
    kept while these stay as they are. It is given `alone`, where nothing else is to be seen."""


class _WhenAsked(Mapping[str, T]):
    """What is worked out of each recipe when somebody asks for it, once."""

    def __init__(self, names: Iterable[str], work_out: Callable[[str], T]) -> None:
        self._names = dict.fromkeys(names)
        self._work_out = work_out
        self._found: dict[str, T] = {}

    def __getitem__(self, name: str) -> T:
        if name not in self._found:
            if name not in self._names:
                raise KeyError(name)
            self._found[name] = self._work_out(name)
        return self._found[name]

    def __contains__(self, name: object) -> bool:
        return name in self._names

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)


def troubled_by(found: Iterable[Problem]) -> frozenset[str]:
    """The files in which an error stands."""
    return frozenset(each.place.path for each in found if each.level is Level.ERROR)


def facts_of(
    folder: ClassFolder,
    found: Iterable[Problem] = (),
    texts: Mapping[str, str] | None = None,
    understood_before: Mapping[str, Recipe] | None = None,
) -> Facts:
    """The facts of a folder as it was read. `found` are the problems of reading it, so that no rule
    complains of something that is there but couldn't be read. `understood_before`: recipes with
    all notes, as far as they are known."""
    known = understood_before or {}
    folder = in_english(folder)
    read, pantry = folder.recipes, folder.pantry
    troubled = troubled_by(found)
    uses = _WhenAsked(read, lambda name: uses_of(read[name], pantry))
    # Of a class that was read in part, nobody knows who comes and what is there.
    classroom = None if CLASS_FILE in troubled else folder.classroom

    def flow_of(name: str) -> Flow:
        if name in known:
            return Flow(known[name], uses[name], pantry)
        return understood(Flow(read[name], uses[name], pantry), classroom)

    flows = _WhenAsked(read, flow_of)
    recipes = _WhenAsked(read, lambda name: known[name] if name in known else flows[name].recipe)
    told_at_home = (name for name, each in read.items() if any(step.home for step in each.steps))
    return Facts(
        folder=replace(folder, recipes=recipes),
        uses=uses,
        troubled=troubled,
        texts=texts or {},
        flows=flows,
        home_flows=_WhenAsked(
            told_at_home, lambda name: flows[name].in_other_words(_at_home(recipes[name]))
        ),
    )


def in_english(folder: ClassFolder) -> ClassFolder:
    """With English for the rules where the class writes in another language that is understood.

    What has it already stays as it is."""
    language = (folder.classroom.languages[0] if folder.classroom else READ).split("-")[0]
    if language == READ or not is_read(language):
        return folder
    names = NamesInEnglish(folder.pantry, language)
    recipes = {name: recipe_in_english(recipe, names) for name, recipe in folder.recipes.items()}
    return replace(folder, recipes=recipes)


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
