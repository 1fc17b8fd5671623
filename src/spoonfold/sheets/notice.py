"""The ingredient and allergen notice: for families to read before the first session.

It lists every dish and every ingredient. What the class's own needs are never reaches it: it
is the same sheet whoever comes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from spoonfold.language.calendar import date_text
from spoonfold.language.marks import beside_original, draft_mark
from spoonfold.language.texts import SOURCE_LANGUAGE, Texts, direction_of
from spoonfold.model.classroom import Classroom, Paper, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe, Swap
from spoonfold.plan.safety.avoid import Match, finding_of
from spoonfold.plan.safety.needs import left_with, swaps_of
from spoonfold.read.pantry import ALLERGENS
from spoonfold.sheets.shared.labels import (
    KINDS,
    FoodLabel,
    Label,
    food_label,
    label_words,
    labels_of,
)
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, Sheet

# What the laws' words mean at a kitchen table: the examples of 21 U.S.C. 321(qq) and of
# Regulation (EU) No 1169/2011, Annex II.
EXAMPLES: Mapping[str, str] = {
    "fish": "fish (such as cod or salmon)",
    "crustacean": "crustacean (such as crab or shrimp)",
    "tree nut": "tree nut (such as almond or walnut)",
    "gluten": "gluten (wheat, rye, barley, oats)",
    "mollusc": "mollusc (such as squid or mussel)",
    "sulphite": "sulphite (as in some dried fruit)",
}


@dataclass(frozen=True, slots=True)
class Replacement:
    """One food in place of another."""

    instead_of: str
    name: str
    label: str
    """What it contains itself, and what its label must be read for."""


@dataclass(frozen=True, slots=True)
class Without:
    """What a dish can be made without, by its swaps."""

    what: str
    replacements: tuple[Replacement, ...]
    read: tuple[str, ...]
    """The foods of that version whose labels must be read for it."""


@dataclass(frozen=True, slots=True)
class NoticeDish:
    """One dish with all of its ingredients."""

    key: str
    title: str
    language: str
    """Of the title."""
    direction: str
    draft: str
    """That no fluent speaker has read its translation; mostly empty."""
    dates: tuple[str, ...]
    flagged: tuple[FoodLabel, ...]
    """With an allergen, a label to read, or a kind that families ask for."""
    plain: tuple[FoodLabel, ...]
    unknown: tuple[FoodLabel, ...]
    left_out: tuple[Label, ...]
    """Allergens that a food usually has, and not by the class's own pantry.yaml."""
    without: tuple[Without, ...]


@dataclass(frozen=True, slots=True)
class Notice:
    """The sheet."""

    language: str
    direction: str
    class_name: str
    location: str
    paper: Paper
    first: str
    """The day of the first session; empty where there is none."""
    looked_for: tuple[str, ...]
    kinds: tuple[str, ...]
    dishes: tuple[NoticeDish, ...]
    fixed_language: str
    """The language that the fixed texts are in: English where nobody has translated them."""


def notice_of(folder: ClassFolder, classroom: Classroom, texts: Texts) -> Notice:
    """Every dish in the order in which it is cooked, then those that no session cooks."""
    order = dict.fromkeys(
        dish.text
        for session in classroom.sessions
        for dish in session.dishes
        if dish.text in folder.recipes
    )
    order.update(dict.fromkeys(folder.recipes))
    dates = [session.date for session in classroom.sessions]
    return Notice(
        language=texts.language,
        direction=texts.direction,
        class_name=classroom.name,
        location=classroom.location,
        paper=classroom.paper,
        first=date_text(min(dates), texts.language) if dates else "",
        looked_for=tuple(_explained(each, texts) for each in ALLERGENS),
        kinds=tuple(texts.say(each) for each in KINDS),
        dishes=tuple(_dish(folder.recipes[key], folder.pantry, classroom, texts) for key in order),
        fixed_language=texts.language if texts.is_translated else SOURCE_LANGUAGE,
    )


def _explained(allergen: str, texts: Texts) -> str:
    return texts.say(EXAMPLES.get(allergen, allergen))


def notice_name(language: str) -> str:
    """The file of the notice in one language."""
    return f"allergen-notice-{language}.pdf"


def _dish(recipe: Recipe, pantry: Pantry, classroom: Classroom, texts: Texts) -> NoticeDish:
    labels = tuple(
        dict.fromkeys(
            food_label(each, pantry, texts, recipe.is_draft) for each in recipe.ingredients
        )
    )
    return NoticeDish(
        key=recipe.key,
        title=recipe.title,
        language=recipe.language or texts.language,
        direction=direction_of(recipe.language or texts.language),
        draft=draft_mark(recipe.is_draft, texts),
        dates=tuple(
            date_text(session.date, texts.language)
            for session in classroom.sessions
            if any(dish.text == recipe.key for dish in session.dishes)
        ),
        flagged=tuple(each for each in labels if each.known and not each.plain),
        plain=tuple(each for each in labels if each.plain),
        unknown=tuple(each for each in labels if not each.known),
        left_out=labels_of(recipe, pantry, texts).left_out,
        without=_without(recipe, pantry, texts),
    )


def _without(recipe: Recipe, pantry: Pantry, texts: Texts) -> tuple[Without, ...]:
    """What the dish can be made without: only where a swap takes out every food that has it."""
    reasons = dict.fromkeys(
        swap.because.text
        for swap in recipe.swaps
        if finding_of(pantry.find(swap.use.name), swap.because.text, pantry)
        in (None, Match.LABEL, Match.ASK)
        and any(_has(each.name, swap.because.text, pantry) for each in recipe.ingredients)
    )
    return tuple(
        _version(recipe, reason, pantry, texts)
        for reason in reasons
        if not left_with(recipe, reason, pantry)
    )


def _has(name: str, what: str, pantry: Pantry) -> bool:
    return finding_of(pantry.find(name), what, pantry) not in (None, Match.UNKNOWN)


def _version(recipe: Recipe, reason: str, pantry: Pantry, texts: Texts) -> Without:
    replacements = []
    read = []
    for each in recipe.ingredients:
        swap = _serving(recipe, each.key, reason, pantry)
        if swap is not None:
            label = food_label(swap.use, pantry, texts, recipe.is_draft)
            replacements.append(Replacement(each.said, label.name, label_words(label, texts)))
        name = each.name if swap is None else swap.use.name
        if finding_of(pantry.find(name), reason, pantry) in (Match.LABEL, Match.UNKNOWN):
            read.append(each.said if swap is None else swap.use.said)
    return Without(
        beside_original(reason, recipe.is_draft, texts),
        tuple(dict.fromkeys(replacements)),
        tuple(dict.fromkeys(read)),
    )


def _serving(recipe: Recipe, key: str, reason: str, pantry: Pantry) -> Swap | None:
    """The swap that takes an ingredient out for a reason; None where it needn't go."""
    ingredient = next(each for each in recipe.ingredients if each.key == key)
    if not _has(ingredient.name, reason, pantry):
        return None
    serving = [
        swap
        for swap in swaps_of(recipe, ingredient)
        if finding_of(pantry.find(swap.use.name), reason, pantry)
        not in (Match.CERTAIN, Match.UNKNOWN)
    ]
    serving.sort(key=lambda swap: swap.because.text != reason)
    return serving[0] if serving else None


def made(context: BuildContext) -> Iterator[Sheet]:
    """What is in every dish, for families to say what a child can't eat."""
    for edition in context.editions:
        notice = notice_of(edition.folder, context.classroom, edition.texts)
        yield Sheet(
            (f"families/{notice_name(notice.language)}",),
            f"Printing the notice of ingredients and allergens ({notice.language})",
            LAYOUT,
            {"notice": notice},
            edition.texts.language,
        )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    yield PackEntry(
        Moment.DAY,
        f"families/{notice_name(context.texts.language)}",
        say("Ingredients and allergens"),
        say("on the wall, unless it still hangs there"),
    )


LAYOUT = Layout("notice.html")

PART = Part(made, ("families/allergen-notice-*",), in_pack)
