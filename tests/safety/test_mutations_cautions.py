"""Every caution, wash, temperature, thermometer and adult of the demo class, deleted or weakened
one at a time: a temperature is missed in its step, and all else is still on the finished step.

Done in memory: the demo is read once, and one recipe's text is changed and read again.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

import pytest

from demo_class import demo_read
from spoonfold.check import facts_of, heat, raw
from spoonfold.check.rule import Facts
from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.knowledge.equipment import Kind
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.safety.dish import dishes_at
from spoonfold.plan.safety.hazards import OF_A_NEED
from spoonfold.problem import Level, Problem
from spoonfold.read.files import Source
from spoonfold.read.recipe import read_recipe

DEMO = demo_read()
FAMILIES = (*heat.RULES, *raw.RULES)
_NOTE = re.compile(r"    - (?P<key>[a-z ]+): (?P<value>.*)")


@dataclass(frozen=True, slots=True)
class Mutation:
    """One thing gone, or one degree."""

    recipe: str
    step: int
    what: str
    text: str
    lines: range
    """The lines of the step, its number first."""
    note: str
    name: str
    """What the note no longer says."""


def _text(key: str) -> str:
    return DEMO.sources[DEMO.folder.recipes[key].place.path].text


def mutations() -> Iterator[Mutation]:
    """Whatever stands in content/recipes."""
    for key, recipe in DEMO.folder.recipes.items():
        lines = _text(key).split("\n")
        for step in recipe.steps:
            start = end = step.place.line - 1
            end += 1
            while end < len(lines) and lines[end].startswith("    "):
                end += 1
            for at in range(start, end):
                match = _NOTE.fullmatch(lines[at])
                if match is None:
                    continue
                for what, name, value in _weaker(match["key"], match["value"], step):
                    new = [] if value is None else [f"    - {match['key']}: {value}"]
                    text = "\n".join([*lines[:at], *new, *lines[at + 1 :]])
                    yield Mutation(
                        key,
                        step.number,
                        f"{key} {step.number}: {what}",
                        text,
                        range(start + 1, end + 1),
                        match["key"],
                        name,
                    )


def _weaker(key: str, value: str, step: Step) -> Iterator[tuple[str, str, str | None]]:
    """Each way to say less: one name gone, one degree less, the note gone."""
    if key == "heat":
        degrees = int(value.removesuffix(" °F"))
        yield f"without {value}", value, None
        yield f"{degrees - 1} °F", value, f"{degrees - 1} °F"
        yield f"{degrees - 1}.9 °F", value, f"{degrees - 1}.9 °F"
        yield "one whole °C too low", value, f"{-(-(degrees - 32) * 5 // 9) - 1} °C"
    elif key == "needs" and step.heat is not None and "thermometer" in value:
        yield "no thermometer", "thermometer", _without(value, "thermometer")
    elif key == "adult" and step.when is None and step.has(Kind.HEAT_SOURCE):
        yield "adult gone", value, None
    elif key in ("watch", "wash"):
        for name in value.split(", "):
            yield f"{key} without {name}", name, _without(value, name)
            if key == "watch":
                yield f"watch {name} in vague words", name, value.replace(name, "be careful", 1)


def _without(value: str, name: str) -> str | None:
    return ", ".join(each for each in value.split(", ") if each != name) or None


def facts_with(recipe: str, text: str) -> Facts:
    """The demo with that one recipe, its text changed."""
    path = DEMO.folder.recipes[recipe].place.path
    found: list[Problem] = []
    read = read_recipe(Source(path, text), recipe, found)
    assert read is not None and found == []
    others = frozenset(DEMO.folder.recipes) - {recipe}
    return facts_of(replace(DEMO.folder, recipes={recipe: read}, unread=others))


def errors_of(facts: Facts) -> list[Problem]:
    """What the rules of heat and raw food say of it."""
    problems = [each for rule in FAMILIES for each in rule.run(facts)]
    assert all(each.level is Level.ERROR for each in problems)
    return problems


NAMES: Mapping[str, Callable[[Step], list[str]]] = {
    "watch": lambda step: [term.text for term in step.watch],
    "wash": lambda step: [term.text for term in step.wash],
    "adult": lambda step: [term.text for term in step.adult],
    "needs": lambda step: [need.name for need in step.needs],
}
MUTATIONS = tuple(mutations())
HEAT = [each for each in MUTATIONS if each.note == "heat"]
SAID_OTHERWISE = frozenset(
    {
        # Nothing says then that the eggs aren't in the pan when the rice in it reaches 165 °F.
        "egg-fried-rice 8: without 160 °F",
        # Frozen corn in a pan whose middle is hot and steams.
        "black-bean-tacos 9: without 165 °F",
        # A batter that is hot and set in the middle.
        "cabbage-pancakes 7: without 160 °F",
    }
)
"""Words or another note prove the heat all the same."""
REST = [each for each in MUTATIONS if each.note != "heat"]


@pytest.mark.parametrize("mutation", HEAT, ids=lambda each: each.what)
def test_a_missing_temperature_is_told_in_its_step(mutation: Mutation) -> None:
    """An error, and every line that it names belongs to the step that was weakened."""
    found = errors_of(facts_with(mutation.recipe, mutation.text))
    assert bool(found) is (mutation.what not in SAID_OTHERWISE)
    assert {each.place.line for each in found} <= set(mutation.lines)


@pytest.mark.parametrize("mutation", REST, ids=lambda each: each.what)
def test_what_is_due_is_still_on_the_finished_step(mutation: Mutation) -> None:
    """Said in full, whatever was written; free words of the author alone can get lost."""
    facts = facts_with(mutation.recipe, mutation.text)
    recipe = facts.folder.recipes[mutation.recipe]
    if mutation.name == OF_A_NEED:
        recipe = next(iter(swapping(facts, recipe, mutation.step)))
    names = NAMES[mutation.note](recipe.steps[mutation.step - 1])
    if mutation.note == "adult":
        assert names
    else:
        assert mutation.name in names
        assert len(names) == len(set(names))


def swapping(facts: Facts, recipe: Recipe, step: int) -> Iterator[Recipe]:
    """The dish at each table that cooks the step with something else: the caution of a swap is
    said there alone, since families read the recipe itself."""
    assert DEMO.folder.classroom is not None
    for session in DEMO.folder.classroom.sessions:
        if any(dish.text == recipe.key for dish in session.dishes):
            for dish in dishes_at(
                recipe, facts.uses[recipe.key], facts.folder.pantry, session.setting, "en"
            ):
                taken = dish.uses.by_step.get(step, ())
                if any(use.ingredient.key in dish.instead_of for use in taken):
                    yield dish.recipe


@pytest.mark.parametrize("key", DEMO.folder.recipes)
def test_nothing_is_missing_or_added_as_it_is(key: str) -> None:
    """What the mutations are compared with: a note that is written is never overruled, and none
    is worked out beside it."""
    facts = facts_with(key, _text(key))
    assert errors_of(facts) == []
    for step in facts.folder.recipes[key].steps:
        assert [each for each in step.worked_out if each.note in step.notes] == []
        assert {each.note for each in step.worked_out} <= {"needs"}


def test_the_demo_has_enough_to_lose() -> None:
    """A demo without cautions would pass in silence."""
    kinds = [each.note for each in MUTATIONS]
    assert kinds.count("watch") >= 100
    assert kinds.count("wash") >= 20
    assert kinds.count("adult") >= 12
    assert kinds.count("needs") >= 4
    assert len(HEAT) >= 18
    assert all(each.name in CAUTIONS for each in MUTATIONS if each.note == "watch")
