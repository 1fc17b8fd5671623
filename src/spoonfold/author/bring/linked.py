"""A recipe in JSON-LD, by the vocabulary of schema.org (Recipe, HowToSection, HowToStep)."""

from __future__ import annotations

import json
import re
from collections import deque
from collections.abc import Iterator
from typing import Any

from spoonfold.author.bring.found import MOST_LINES, FoundRecipe, Heading
from spoonfold.author.bring.page import words_of
from spoonfold.author.words import unwrapped
from spoonfold.read.yaml_text import clean

# Part of ISO 8601 (durations without months, which no dish takes).
_DURATION = re.compile(
    r"P(?:(?P<d>[0-9]{1,4})D)?(?:T(?:(?P<h>[0-9]{1,4})H)?(?:(?P<m>[0-9]{1,5})M)?"
    r"(?:[0-9.]{1,9}S)?)?",
    re.IGNORECASE,
)
_TIMES = (("prepTime", "preparation"), ("cookTime", "cooking"), ("totalTime", "all of it"))
_MOST_NODES = 20_000
_DEEPEST = 8
"""Sections inside sections; a page that goes deeper is broken."""
# Common codes of UN/ECE Recommendation 20, which unitCode takes; the cups and spoons from memory.
_UNIT_CODES = {
    "GRM": "g",
    "KGM": "kg",
    "ONZ": "oz",
    "LBR": "lb",
    "MLT": "ml",
    "DLT": "dl",
    "LTR": "l",
    "OZA": "fl oz",
    "G21": "cup",
    "G24": "tbsp",
    "G25": "tsp",
    "C62": "",
    "H87": "",
    "EA": "",
}
_NUMBERED = re.compile(r"(?:step\s*[0-9]{1,2}\s*[.):]?|[0-9]{1,2}\s*[.)])\s+", re.IGNORECASE)


def load(text: str) -> Any:
    """A JSON value, or None where it isn't one."""
    try:
        return json.loads(text)
    except (ValueError, RecursionError):
        return None


def recipe_in(value: Any) -> dict[str, Any] | None:
    """The first object whose type is Recipe, wherever it stands."""
    open_ones = deque([value])
    for _ in range(_MOST_NODES):
        if not open_ones:
            break
        node = open_ones.popleft()
        if isinstance(node, dict):
            if "Recipe" in _types(node):
                return node
            open_ones.extend(node.values())
        elif isinstance(node, list):
            open_ones.extend(node)
    return None


def from_linked(recipe: dict[str, Any]) -> FoundRecipe:
    """What it says, in its own words."""
    # `ingredients` is what the vocabulary called it before recipeIngredient.
    listed = recipe.get("recipeIngredient", recipe.get("ingredients"))
    ingredients: list[str | Heading] = []
    for each in _list(listed):
        ingredients.extend(_listed(each, 0))
    return FoundRecipe(
        title=_text(recipe.get("name")) or _text(recipe.get("headline")),
        description=_text(recipe.get("description")),
        ingredients=tuple(ingredients),
        steps=tuple(_steps(recipe.get("recipeInstructions"), 0)),
        makes=tuple(filter(None, map(_yield, _list(recipe.get("recipeYield"))))),
        times=tuple(f"{what}: {time}" for key, what in _TIMES if (time := _time(recipe.get(key)))),
        tips=tuple(_tips(recipe)),
        place=_text(recipe.get("locationCreated")),
        author=", ".join(filter(None, map(_text, _list(recipe.get("author"))))),
        address=_text(recipe.get("url"))
        or _address(recipe.get("mainEntityOfPage"))
        or _address(recipe.get("@id")),
    )


def _listed(value: Any, deep: int) -> Iterator[str | Heading]:
    """The lines of an ingredient: words, a PropertyValue with its amount, or an ItemList."""
    if not isinstance(value, dict) or deep >= _DEEPEST:
        yield from _lines(_raw(value))
        return
    inside = value.get("itemListElement", value.get("item"))
    if inside is not None:
        name = _text(value.get("name"))
        if name and "ItemList" in _types(value):
            yield Heading(name)
        for each in _list(inside):
            yield from _listed(each, deep + 1)
        return
    amount, name = _amount(value, deep), _text(value.get("name"))
    if amount and name:
        behind = _text(value.get("description"))
        yield f"{amount} {name}, {behind}" if behind else f"{amount} {name}"
    else:
        yield from _lines(_raw(value))


def _amount(value: dict[str, Any], deep: int) -> str:
    """How much a PropertyValue, or the HowToSupply with a requiredQuantity, says there is."""
    given = value.get("requiredQuantity", value.get("value"))
    given = _list(given)[0] if _list(given) else None
    if isinstance(given, dict):
        return _amount(given, deep + 1) if deep < _DEEPEST else ""
    low, high = _text(value.get("minValue")), _text(value.get("maxValue"))
    number = _text(given) or "-".join(filter(None, (low, high)))
    code = _text(value.get("unitCode"))
    unit = _text(value.get("unitText")) or _UNIT_CODES.get(code.upper(), code)
    return f"{number} {unit}".strip() if number else ""


def _types(node: dict[str, Any]) -> set[str]:
    """The last part of each type's address: Recipe of https://schema.org/Recipe."""
    return {
        re.split(r"[/:#]", each)[-1] for each in _list(node.get("@type")) if isinstance(each, str)
    }


def _list(value: Any) -> list[Any]:
    if value is None:
        return []
    return value if isinstance(value, list) else [value]


def _raw(value: Any, deep: int = 0) -> str:
    """The words of a value: itself, or what it is called; with its line ends."""
    if isinstance(value, str):
        return words_of(value)
    if isinstance(value, bool) or value is None:
        return ""
    if isinstance(value, int | float):
        return str(value)
    if deep < _DEEPEST:
        if isinstance(value, list):
            return next(filter(None, (_raw(each, deep + 1) for each in value[:20])), "")
        if isinstance(value, dict):
            return next(
                filter(
                    None,
                    (
                        _raw(value.get(key), deep + 1)
                        for key in ("@value", "text", "name", "description")
                    ),
                ),
                "",
            )
    return ""


def _text(value: Any) -> str:
    return clean(_raw(value))


def _address(value: Any) -> str:
    text = _text(value.get("@id") or value.get("url")) if isinstance(value, dict) else _text(value)
    return text if text.startswith(("http://", "https://")) else ""


def _lines(text: str) -> Iterator[str]:
    """Its lines, without the bullets of a list."""
    for line in text.split("\n"):
        if words := clean(line).removeprefix("- "):
            yield words


def _steps(value: Any, deep: int) -> Iterator[str | Heading]:
    """Steps and the headings of their sections, in order."""
    if isinstance(value, str):
        lines = list(_lines(words_of(value)))
        numbered = any(map(_NUMBERED.match, lines))
        yield from (bare_step(line) for line in (lines if numbered else unwrapped(lines)))
    elif deep >= _DEEPEST:
        return
    elif isinstance(value, list):
        for each in value:
            yield from _steps(each, deep + 1)
    elif isinstance(value, dict):
        inside = value.get("itemListElement", value.get("steps", value.get("step")))
        if inside is None and "item" in value:
            inside = value["item"]
        if inside is not None:
            name = _text(value.get("name"))
            if name and "HowToSection" in _types(value):
                yield Heading(name)
            if _has_tips(value):
                inside = value["text"]
            yield from _steps(inside, deep + 1)
        else:
            yield from _steps(_raw(value), deep + 1)


def _is_tip(value: Any) -> bool:
    return isinstance(value, dict) and "HowToTip" in _types(value)


def _has_tips(value: dict[str, Any]) -> bool:
    """Whether a step says what it is by itself, so that what stands in it is told beside it."""
    inside = _list(value.get("itemListElement"))
    return (
        "HowToStep" in _types(value)
        and bool(_text(value.get("text")))
        and any(map(_is_tip, inside))
    )


def _whole_steps(value: Any, deep: int) -> Iterator[dict[str, Any]]:
    """The steps in all sections, in order."""
    for each in _list(value) if deep < _DEEPEST else ():
        if isinstance(each, dict) and "HowToSection" in _types(each):
            yield from _whole_steps(each.get("itemListElement"), deep + 1)
        elif isinstance(each, dict):
            yield each


def _tips(recipe: dict[str, Any]) -> Iterator[str]:
    """What it says beside its steps, each with the number of its step: HowToTip, timeRequired."""
    for part in _list(recipe.get("hasPart"))[:MOST_LINES]:
        if _is_tip(part):
            yield _text(part.get("text"))
    steps = list(_whole_steps(recipe.get("recipeInstructions"), 0))[:MOST_LINES]
    for number, step in enumerate(steps, 1):
        if time := _time(step.get("timeRequired")):
            yield f"step {number}: {time}"
        for each in _list(step.get("itemListElement"))[:MOST_LINES]:
            if _has_tips(step) and _is_tip(each):
                yield f"step {number}: {_text(each.get('text'))}"


def bare_step(line: str) -> str:
    """A step without the number that stands before it."""
    number = _NUMBERED.match(line)
    return line if number is None else line[number.end() :]


def _yield(value: Any) -> str:
    if isinstance(value, dict):
        # A QuantitativeValue: its number, and what is counted.
        number, unit = _text(value.get("value")), _text(value.get("unitText"))
        return f"{number} {unit}".strip() if number else _text(value)
    return _text(value)


def _time(value: Any) -> str:
    text = _text(value)
    match = _DURATION.fullmatch(text)
    if match is None:
        return text
    parts = (("d", "d"), ("h", "h"), ("m", "min"))
    said = [f"{int(match[key])} {unit}" for key, unit in parts if int(match[key] or 0)]
    return " ".join(said)
