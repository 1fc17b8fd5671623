"""The recipe card: one dish on one sheet, to hand out on the day that it was cooked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from spoonfold.model.classroom import Paper, Session
from spoonfold.sheets.shared.head import dishes_of, recipe_address
from spoonfold.sheets.shared.recipe import Household, RecipeSheet, household_of
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, Sheet


@dataclass(frozen=True, slots=True)
class Card:
    """A card for one household size in one language."""

    language: str
    direction: str
    class_name: str
    location: str
    people: int
    for_whom: str
    paper: Paper
    sheet: RecipeSheet
    address: str
    """Of the recipe's page on the net; empty where the class has no site."""


def card_of(household: Household, key: str) -> Card:
    """The card of the recipe with that key."""
    classroom, people, texts = household.classroom, household.people, household.texts
    return Card(
        language=texts.language,
        direction=texts.direction,
        class_name=classroom.name,
        location=classroom.location,
        people=people,
        for_whom=texts.count("for 1 person", "for {number} people", people),
        paper=classroom.paper,
        sheet=household.sheet(key),
        address=recipe_address(classroom, texts.language, key),
    )


def card_size(households: Sequence[int]) -> int:
    """The household size that cards are made for: the middle one; of two, the smaller."""
    return sorted(households)[(len(households) - 1) // 2]


def card_name(key: str, language: str, people: int) -> str:
    """The file of a card."""
    return f"card-{key}-{language}-{people}.pdf"


def made(context: BuildContext) -> Iterator[Sheet]:
    """One for each dish, at the middle household size."""
    people = card_size(context.classroom.households)
    for edition in context.editions:
        household = household_of(edition, context.classroom, people)
        for key in edition.folder.recipes:
            card = card_of(household, key)
            yield Sheet(
                (f"families/{card_name(key, card.language, people)}",),
                f"Printing the card of {key} ({card.language})",
                LAYOUT,
                {"card": card},
                edition.texts.language,
            )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    """One a dish for each child."""
    say, people = context.texts.say, card_size(context.classroom.households)
    for recipe in dishes_of(context.folder, session):
        yield PackEntry(
            Moment.DOOR,
            f"families/{card_name(recipe.key, context.texts.language, people)}",
            say("To take home: {dish}", dish=recipe.title),
            say("at the door: one for each child"),
            sum(session.setting.tables),
        )


LAYOUT = Layout(
    "card.html", ("large", "middle", "small", "smallest"), sides=2, holds=(3000, 4100, 4480)
)

PART = Part(made, ("families/card-*",), in_pack)
