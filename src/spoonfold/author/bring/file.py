"""What was found of a recipe, written the way a recipe is written here, every guess marked."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from spoonfold.author.bring.found import MOST_LINES, FoundRecipe, Heading
from spoonfold.author.bring.line import BroughtLine, brought_line
from spoonfold.author.bring.makes import serves as serves_of
from spoonfold.author.words import comment, markdown
from spoonfold.model.pantry import Pantry
from spoonfold.read.yaml_text import clean, yaml_text

# Where a sentence ends and the next begins; "1.5 cups" and "approx. 2" end none.
_SENTENCE = re.compile(r"(?<=[a-z)][.!?])\s+(?=[A-Z])")
# A temperature that could be either: 350 degrees is one thing in °F and another in °C.
_NO_SCALE = re.compile(
    r"\b[0-9]{2,3}\s*(?:°|º|˚|degrees?\b|deg\b\.?)(?!\s*(?:[FC]\b|fahrenheit|celsius|centigrade))",
    re.IGNORECASE,
)
_LONGEST_LINE = 300
_LONGEST_STEP = 2_000


@dataclass(frozen=True, slots=True)
class Strange:
    """An ingredient that the pantry doesn't know, and the nearest names in it."""

    name: str
    nearest: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RecipeText:
    """A recipe file and what is to be said of it."""

    text: str
    guesses: tuple[str, ...]
    looks: tuple[str, ...]
    """What she has to look up in the source."""
    unread: tuple[BroughtLine, ...]
    """Lines that are kept as comments."""
    strange: tuple[Strange, ...]


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a dish comes from, as far as the cook said."""

    place: str | None = None
    country: str | None = None


def recipe_text(found: FoundRecipe, pantry: Pantry, source: str, origin: Origin) -> RecipeText:
    """The file's text. `source` is what the recipe was brought from, in a few words."""
    guesses = list(found.guesses)
    steps = found.steps[:MOST_LINES]
    if len(steps) == 1 and isinstance(steps[0], str) and _SENTENCE.search(steps[0]):
        steps = tuple(_SENTENCE.split(steps[0]))[:MOST_LINES]
        guesses.append("the source has one paragraph; each of its sentences is a step here")
    if len(found.steps) > MOST_LINES or len(found.ingredients) > MOST_LINES:
        guesses.append(f"only the first {MOST_LINES} ingredients and steps are here")
    brought = [
        each if isinstance(each, Heading) else brought_line(clean(each, _LONGEST_LINE))
        for each in found.ingredients[:MOST_LINES]
    ]
    strange = tuple(_strange(brought, pantry))
    serves, guessed = serves_of(found.makes)
    guesses.extend(guessed)
    looks = tuple(_unscaled(steps))
    lines = [
        "---",
        *_origin_comments(found, source),
        *map(_guess, guesses),
        *(comment(f"look: {each}") for each in looks),
    ]
    lines.append(f"title: {yaml_text(found.title or 'Untitled dish')}")
    # Nobody guesses where a dish comes from.
    said = (
        ("place", origin.place or clean(found.place, _LONGEST_LINE)),
        ("country", origin.country),
    )
    lines.extend(f"{key}: {yaml_text(value)}" for key, value in said if value)
    lines.append(f"serves: {serves}")
    lines.append("ingredients:")
    nearest = {each.name: each.nearest for each in strange}
    lines.extend(_listed(brought, nearest))
    lines.append("---")
    if found.description:
        lines.extend(["", markdown(found.description)])
    lines.extend(["", "## Steps", ""])
    number = 0
    for step in steps:
        if isinstance(step, Heading):
            lines.extend(["", f"### {markdown(clean(step.text, _LONGEST_LINE))}", ""])
        else:
            number += 1
            lines.append(f"{number}. {markdown(clean(step, _LONGEST_STEP))}")
    all_guesses = (
        *guesses,
        *(
            f"“{each.was}”: {each.guess}"
            for each in brought
            if isinstance(each, BroughtLine) and each.guess
        ),
    )
    unread = tuple(each for each in brought if isinstance(each, BroughtLine) and each.problem)
    return RecipeText("\n".join([*lines, ""]), all_guesses, looks, unread, strange)


def _unscaled(steps: tuple[str | Heading, ...]) -> Iterator[str]:
    """Temperatures without their scale, each with its step."""
    for number, step in enumerate((each for each in steps if isinstance(each, str)), 1):
        for found in _NO_SCALE.finditer(step):
            yield f"step {number} says “{found[0]}”: is that °F or °C?"


def _guess(text: str) -> str:
    return comment(f"guess: {text}")


def _origin_comments(found: FoundRecipe, source: str) -> Iterator[str]:
    yield comment(f"source: {source}")
    if found.address:
        yield comment(f"source: {clean(found.address, _LONGEST_LINE)}")
    if found.author:
        yield comment(f"source: by {clean(found.author, _LONGEST_LINE)}")
    yield "# The words are still the source's own. Say them in your own before you hand them out."
    for said in (*found.origin[:MOST_LINES], *found.times[:10], *found.tips[:MOST_LINES]):
        yield comment(f"the source says: {clean(said, _LONGEST_LINE)}")
    for makes in found.makes[:10]:
        yield comment(f"the source says of how much it makes: {clean(makes, _LONGEST_LINE)}")
    for line in found.left_out[:MOST_LINES]:
        yield comment(f"left out: {clean(line, _LONGEST_LINE)}")


def _listed(
    brought: list[BroughtLine | Heading], nearest: dict[str, tuple[str, ...]]
) -> Iterator[str]:
    for each in brought:
        if isinstance(each, Heading):
            yield f"  - part: {yaml_text(clean(each.text, _LONGEST_LINE))}"
            continue
        if each.problem:
            yield f"  {comment(f'not read: {each.was}')}"
            yield f"  {comment(f'why: {each.problem}')}"
        elif each.guess:
            yield f"  {_guess(f'it was “{each.was}”. {each.guess}')}"
        for line, name in each.lines:
            if name in nearest:
                near = ", ".join(nearest[name]) or "none"
                yield f"  {comment(f'not in the pantry: {name}; nearest: {near}')}"
            yield f"  - {yaml_text(line)}"


def _strange(brought: list[BroughtLine | Heading], pantry: Pantry) -> Iterator[Strange]:
    seen = set()
    for each in brought:
        for _, name in each.lines if isinstance(each, BroughtLine) else ():
            if name not in seen and pantry.find(name) is None:
                seen.add(name)
                yield Strange(name, pantry.nearest(name))
