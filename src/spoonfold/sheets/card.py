"""The recipe card: one dish on one sheet, to hand out on the day that it was cooked."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spoonfold.model.classroom import Paper
from spoonfold.sheets.address import recipe_address
from spoonfold.sheets.home import Household
from spoonfold.sheets.recipe import RecipeSheet

SIZES = ("large", "middle", "small", "smallest")
"""Sizes of type to try, in this order, until the card fits on one sheet."""

SIDES = 2
"""A sheet has a front and a back."""


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
