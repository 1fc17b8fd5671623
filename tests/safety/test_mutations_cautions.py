"""Every caution, wash, temperature, thermometer and adult of the demo class, deleted or weakened
one at a time: the check must fail, in that step.

Done in memory: the demo is read once, and one recipe's text is changed and read again.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from spoonfold.check import cautions, facts_of, heat, raw
from spoonfold.problem import Level, Problem
from spoonfold.read.files import Source
from spoonfold.read.folder import read_folder
from spoonfold.read.recipe import read_recipe

ROOT = Path(__file__).resolve().parents[2]
DEMO = read_folder(ROOT)
FAMILIES = (*heat.RULES, *raw.RULES, *cautions.RULES)
_NOTE = re.compile(r"    - (?P<key>watch|wash|heat|adult|needs): (?P<value>.*)")
_STEP = re.compile(r"[0-9]+\. ")


@dataclass(frozen=True, slots=True)
class Mutation:
    """One thing gone, or one degree."""

    recipe: str
    what: str
    text: str
    lines: range
    """The lines of the step, its number first."""


def mutations() -> Iterator[Mutation]:
    """Whatever stands in content/recipes."""
    for key, recipe in DEMO.folder.recipes.items():
        source = DEMO.sources[recipe.place.path].text
        lines = source.split("\n")
        starts = [step.place.line - 1 for step in recipe.steps]
        for start, step in zip(starts, recipe.steps, strict=True):
            end = start + 1
            while end < len(lines) and lines[end].startswith("    "):
                end += 1
            for at in range(start, end):
                match = _NOTE.fullmatch(lines[at])
                if match is None or (match["key"] == "needs" and step.heat is None):
                    continue
                for what, value in _weaker(match["key"], match["value"]):
                    new = [] if value is None else [f"    - {match['key']}: {value}"]
                    text = "\n".join([*lines[:at], *new, *lines[at + 1 :]])
                    yield Mutation(
                        key, f"{key} {step.number}: {what}", text, range(start + 1, end + 1)
                    )


def _weaker(key: str, value: str) -> Iterator[tuple[str, str | None]]:
    """Each way to say less: one name gone, one degree less, the note gone."""
    if key == "heat":
        degrees = int(value.removesuffix(" °F"))
        yield f"without {value}", None
        yield f"{degrees - 1} °F", f"{degrees - 1} °F"
        yield f"{degrees - 1}.9 °F", f"{degrees - 1}.9 °F"
        yield "one whole °C too low", f"{-(-(degrees - 32) * 5 // 9) - 1} °C"
    elif key == "needs" and "thermometer" in value:
        yield "no thermometer", _without(value, "thermometer")
    elif key in ("watch", "wash"):
        for name in value.split(", "):
            yield f"{key} without {name}", _without(value, name)
        if key == "watch":
            for name in value.split(", "):
                yield f"{name} in vague words", value.replace(name, "be careful", 1)


def _without(value: str, name: str) -> str | None:
    return ", ".join(each for each in value.split(", ") if each != name) or None


def errors_of(recipe: str, text: str) -> list[Problem]:
    """What the rules of heat, raw food and cautions say of that recipe."""
    path = DEMO.folder.recipes[recipe].place.path
    found: list[Problem] = []
    read = read_recipe(Source(path, text), recipe, found)
    assert read is not None and found == []
    others = frozenset(DEMO.folder.recipes) - {recipe}
    folder = replace(DEMO.folder, recipes={recipe: read}, unread=others)
    facts = facts_of(folder)
    problems = [each for rule in FAMILIES for each in rule.run(facts)]
    assert all(each.level is Level.ERROR for each in problems)
    return problems


MUTATIONS = tuple(mutations())


@pytest.mark.parametrize("mutation", MUTATIONS, ids=lambda each: each.what)
def test_what_is_missing_is_told_in_its_step(mutation: Mutation) -> None:
    """An error, and every line that it names belongs to the step that was weakened."""
    found = errors_of(mutation.recipe, mutation.text)
    assert found
    assert {each.place.line for each in found} <= set(mutation.lines)


@pytest.mark.parametrize("key", DEMO.folder.recipes)
def test_nothing_is_missing_as_it_is(key: str) -> None:
    """What the mutations are compared with."""
    assert errors_of(key, DEMO.sources[DEMO.folder.recipes[key].place.path].text) == []


def test_the_demo_has_enough_to_lose() -> None:
    """A demo without cautions would pass in silence."""
    kinds = [re.split(r" [0-9]+: ", each.what)[1].split(" ")[0] for each in MUTATIONS]
    assert kinds.count("watch") >= 100
    assert kinds.count("wash") >= 20
    assert sum("°" in each.what for each in MUTATIONS) >= 18


def test_every_hot_step_keeps_its_adult() -> None:
    """Each step at a burner, a griddle or the oven in class, its adult taken away."""
    tried = 0
    for key, recipe in DEMO.folder.recipes.items():
        lines = DEMO.sources[recipe.place.path].text.split("\n")
        for step in recipe.steps:
            hot = {need.name for need in step.needs} & {"burner", "griddle", "oven shelf"}
            if not hot or step.when is not None:
                continue
            at = step.notes["adult"].line - 1
            found = errors_of(key, "\n".join([*lines[:at], *lines[at + 1 :]]))
            assert [(each.code, each.place) for each in found] == [("adult-missing", step.place)]
            tried += 1
    assert tried >= 12
