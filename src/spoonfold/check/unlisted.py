"""Foods that a step names and the list lacks, or that stand behind the comma of another one's
line: their allergens would be on no sheet."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from spoonfold.check.rule import Facts, Rule, error, warning
from spoonfold.knowledge.equipment import tool_named
from spoonfold.knowledge.families import families
from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.pantry import Item, Pantry
from spoonfold.model.prose import Text
from spoonfold.model.recipe import Ingredient, Recipe
from spoonfold.plan.amounts.mentions import Mention, Names, mentions_in, plain_runs
from spoonfold.plan.safety.needs import occasions_of, of_safety
from spoonfold.problem import Level, Problem
from spoonfold.quantity.grammar import Refusal, read_line
from spoonfold.quantity.show import show_amount
from spoonfold.read.pantry import ALLERGENS

_NOT_HERE = re.compile(
    r"(?:\b(?:no|not|without|instead of|never|like|as big as|(?:size|shape|thickness) of)"
    r"\s+(?:an?\s+|the\s+|any\s+)?|-)$",
    re.IGNORECASE,
)
"""Words in front of a food that doesn't go in: “without milk”, “the size of a walnut”."""

_THE_FOOD = re.compile(r"\b(?:add|any|in|into|little|more|of|some|the|with)\s+$", re.IGNORECASE)
"""Words in front of a family that is also a verb: “fish out the pips”, “cream the butter” aren't
foods."""

_APART = "Give each a line of its own"


def unlisted_food(facts: Facts) -> Iterator[Problem]:
    """A food with an allergen, or of an animal, that a step names and the list doesn't: an error
    where a child avoids anything."""
    foods, classroom = _foods(facts.folder.pantry), facts.folder.classroom
    for recipe in facts.folder.recipes.values():
        if recipe.place.path not in facts.troubled:
            avoided = classroom is not None and any(
                of_safety(each.setting.needs) for each in occasions_of(recipe.key, classroom)
            )
            yield from _unlisted_in(recipe, foods, Level.ERROR if avoided else Level.WARNING)


_WITH = re.compile(r"(?:^|\b)(?:and|containing|plus|with)\s+(?:[\w-]+\s+){0,2}$|[&+]\s*$", re.I)
"""Words in front of a food that goes in beside the one that is listed."""
_OR = re.compile(r"(?:^|\b)or\s+(?:[\w-]+\s+){0,2}$", re.I)
_LEADS_ON = re.compile(r"^(?:(?:and|plus|with)\b|[&+])\s*", re.I)
_PURPOSE = re.compile(r"\b(?:as|for|than|to|until)\b", re.I)
"""What follows is what it is used for: “for the noodles”."""
_SIZE = re.compile(r"\b[\w-]+[- ]siz\w*", re.I)
_FORMULATED = 4
"""NOVA group 4: made of many foods."""


def food_behind_comma(facts: Facts) -> Iterator[Problem]:
    """A second food in an ingredient line, where only how the first is prepared belongs."""
    foods = _foods(facts.folder.pantry)
    for recipe in facts.folder.recipes.values():
        lines = (*recipe.ingredients, *(swap.use for swap in recipe.swaps))
        own = Names(lines, foods.pantry)
        for line in lines:
            if line.preparation:
                yield from _second_food(line, own, foods)


def _second_food(line: Ingredient, own: Names, foods: _Foods) -> Iterator[Problem]:
    item = foods.pantry.find(line.name)
    pieces = [piece.strip() for piece in (line.preparation or "").split(",")]
    for at, piece in enumerate(pieces):
        rest = ", ".join((*pieces[:at], *pieces[at + 1 :]))
        other = _listed_apart(_LEADS_ON.sub("", piece), line, foods)
        if other is not None:
            yield error(
                "food-behind-comma",
                line.place,
                f"“{piece}” stands where only how {line.name} is prepared belongs: nobody buys "
                "it, and no sheet warns those who avoid it.",
                f"{_APART}, and name each in its step:\n- {_line(line, rest)}\n- {other}",
            )
            continue
        for mention in mentions_in([Text(_SIZE.sub("", piece), line.place)], 0, foods.names):
            danger = foods.danger(mention)
            carried = (*item.allergens, *item.tags) if item else ()
            if (
                danger is None
                or _PURPOSE.search(mention.before)
                or own.meant(" ".join(_words(mention.words)))
                or (danger.allergens and set(danger.allergens) <= set(carried))
                or _shares_a_word(danger.name, line.name)
            ):
                continue
            if _OR.search(mention.before):
                yield error(
                    "food-behind-comma",
                    line.place,
                    f"“{mention.words}” stands behind “or”: which of the two a table eats, no "
                    "sheet can say, and none warns those who avoid it.",
                    "Choose one, and put the other under `swaps:`:\n"
                    f"- {_line(line, _without_or(line.preparation or ''))}",
                )
                continue
            tell = error if _WITH.search(mention.before) else warning
            yield tell(
                "food-behind-comma",
                line.place,
                f"“{mention.words}” stands behind the comma, where only how {line.name} is "
                "prepared belongs: no sheet warns those who avoid it.",
                f"{_APART}, with its amount, and name each in its step:\n- {_line(line, rest)}\n"
                f"- … {mention.words}\nWhere it is bought with it, call it so, without the comma "
                "and describe that in content/pantry.yaml.",
            )


def _without_or(preparation: str) -> str:
    """What is said of the first food alone: up to its “or”."""
    return re.split(r"(?:^|,|\s)\s*or\b", preparation, maxsplit=1, flags=re.I)[0].strip(" ,")


def _listed_apart(piece: str, line: Ingredient, foods: _Foods) -> str | None:
    """A piece of a line that has an amount and a food of its own, as its line; else None."""
    read = read_line(piece)
    if isinstance(read, Refusal) or read.amount is None or _shares_a_word(read.name, line.name):
        return None
    return piece if foods.pantry.find(read.name) is not None else None


def _shares_a_word(name: str, other: str) -> bool:
    """`lemon juice` is a part of the lemon."""
    forms = {form for word in _words(other) for form in singulars(word)}
    return any(not forms.isdisjoint(singulars(word)) for word in _words(name))


def _line(line: Ingredient, preparation: str) -> str:
    """The line with another preparation."""
    second = f" ({show_amount(line.second)})" if line.second else ""
    amount = f"{show_amount(line.amount)}{second} " if line.amount else ""
    after = ", ".join(each for each in (preparation, line.as_needed) if each)
    optional = " (optional)" if line.optional else ""
    return f"{amount}{line.name}{f', {after}' if after else ''}{optional}"


@dataclass(frozen=True, slots=True)
class _Danger:
    """What a step names that may hurt someone."""

    mention: Mention
    name: str
    allergens: tuple[str, ...]
    is_kind: bool = False
    """A word for many foods: most of them carry the allergens."""


class _Foods:
    """All foods of the pantry: a longer name that is harmless (`coconut milk`) keeps the shorter
    one inside it from being seen."""

    def __init__(self, pantry: Pantry) -> None:
        self.pantry = pantry
        # An author may have a food of her own by such a name.
        self.kinds = {
            word: family for word, family in families().items() if word not in pantry.called
        }
        self.verbs = frozenset(word for word, each in self.kinds.items() if each.often_a_verb)
        self.foods = (*pantry.names, *self.kinds)
        self.names = Names.of_pantry(pantry, tuple(self.kinds))
        self.position = {name: index for index, name in enumerate(pantry.names)}
        self.harmless: set[int] = set()
        """As far as steps have named them."""

    def dangers_in(self, recipe: Recipe, listed: Sequence[Item]) -> Iterator[_Danger]:
        """What the steps name that may hurt someone, but for what the list has as this food."""
        known = self.harmless | {
            self.position[item.name] for item in listed if item.name in self.position
        }
        for step in recipe.steps:
            for run in plain_runs(step.text):
                for mention in mentions_in(run, step.number, self.names, known):
                    danger = self.danger(mention)
                    if danger is not None:
                        yield danger

    def danger(self, mention: Mention) -> _Danger | None:
        """What a mention may hurt with; None: nothing, or it is said that it isn't in."""
        word = mention.words.casefold()
        if _NOT_HERE.search(mention.before) or (
            word in self.verbs and not _THE_FOOD.search(mention.before)
        ):
            return None
        named = [self.foods[index] for index in sorted(mention.meant)]
        if mention.after and tool_named(f"{mention.words} {mention.after}") is not None:
            # A muffin tin, a cheese grater.
            return None
        if len(named) == 1 and named[0] in self.kinds:
            family = self.kinds[named[0]]
            carried = tuple(each for each in family.known_by if each in ALLERGENS)
            return _Danger(mention, family.name, carried, is_kind=True)
        meant = [item for name in named if (item := self.pantry.find(name)) is not None]
        found = [item for item in meant if item.allergens or item.raw or "animal" in item.tags]
        if len(found) < len(meant):
            if len(meant) == 1:
                self.harmless.update(mention.meant)
            return None
        return _Danger(mention, found[0].name, found[0].allergens)


@lru_cache(maxsize=1)
def _foods(pantry: Pantry) -> _Foods:
    return _Foods(pantry)


def _unlisted_in(recipe: Recipe, foods: _Foods, level: Level) -> Iterator[Problem]:
    listed = (*recipe.ingredients, *(swap.use for swap in recipe.swaps))
    items = [item for each in listed if (item := foods.pantry.find(each.name)) is not None]
    found = tuple(foods.dangers_in(recipe, items))
    if not found:
        return
    own = Names(listed, foods.pantry)
    words = {
        form
        for each in listed
        for word in _words(f"{each.name} {each.preparation or ''}")
        for form in singulars(word)
    }
    # What most of a kind carry stands on every sheet, where a listed food carries it.
    carried = {each for item in items for each in (*item.allergens, *item.tags)}
    labels = {each for item in items for each in item.check_label}
    kinds = {
        kind
        for kind, of in foods.kinds.items()
        if not (carried if of.is_sure else carried | labels).isdisjoint(of.known_by)
    }
    title = {form for word in _words(recipe.title) for form in singulars(word)}
    told: set[str] = set()
    for danger in found:
        if danger.name not in told | kinds and not (
            _is_own(danger.mention, own, words) or _is_made(danger, carried, title, foods.pantry)
        ):
            told.add(danger.name)
            yield _problem(danger, level)


def _is_own(mention: Mention, own: Names, listed: set[str]) -> bool:
    """Whether the list has it by this name, or all its words in one name or another."""
    words = _words(mention.words)
    return bool(own.meant(" ".join(words))) or all(
        listed.intersection(singulars(word)) for word in words
    )


_SHOPS_AND_COOKS = ("bread", "frozen")
"""Sections of what a shop sells ready and a cook makes too: bread, pancakes, dumplings."""


def _is_made(danger: _Danger, carried: set[str], title: set[str], pantry: Pantry) -> bool:
    """Whether a step that names it may as well mean what the recipe itself makes: its title says
    so, or the list has all that would be in it."""
    item = None if danger.is_kind else pantry.find(danger.name)
    if item is None or not (item.section in _SHOPS_AND_COOKS or item.processing == _FORMULATED):
        return False
    of_animals = item.tags & {"meat", "seafood", "gelatin", "honey"}
    return carried.issuperset((*item.allergens, *of_animals)) or (
        item.section in _SHOPS_AND_COOKS
        and all(not title.isdisjoint(singulars(word)) for word in _words(danger.mention.words))
    )


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", fold(text))


def _problem(danger: _Danger, level: Level) -> Problem:
    carried = f"{'most often ' if danger.is_kind else ''}{', '.join(danger.allergens)}"
    missed = (
        f"its allergens ({carried}) are on no sheet"
        if danger.allergens
        else ("no sheet warns those who avoid it")
    )
    return Problem(
        "unlisted-food",
        level,
        danger.mention.place,
        f"This step names “{danger.mention.words}”, and the list of ingredients has none: nobody "
        f"buys it, and {missed}.",
        f"Add it to the list with its amount, or, where no {danger.name} goes in, say it in other "
        "words.",
        food=danger.name,
    )


RULES = (
    Rule("unlisted-food", unlisted_food, of_one=True),
    Rule("food-behind-comma", food_behind_comma, of_one=True),
)
