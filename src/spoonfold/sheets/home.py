"""A recipe as a home sheet: one household size, and no caution printed in full twice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import Word
from spoonfold.plan.amounts.uses import Uses
from spoonfold.sheets.cautions import CautionView
from spoonfold.sheets.recipe import RecipeSheet, recipe_sheet
from spoonfold.sheets.steps import StepView


@dataclass(frozen=True, slots=True)
class Household:
    """Whom sheets to take home are for: so many people, who read one language of the class."""

    folder: ClassFolder
    """In their language."""
    classroom: Classroom
    uses: Mapping[str, Uses]
    people: int
    texts: Texts

    def sheet(self, key: str) -> RecipeSheet:
        """The recipe with that key, for them."""
        folder = self.folder
        return home_sheet(
            folder.recipes[key],
            self.uses[key],
            folder.pantry,
            folder.words,
            self.people,
            self.texts,
        )


def home_sheet(
    recipe: Recipe, uses: Uses, pantry: Pantry, words: Mapping[str, Word], people: int, texts: Texts
) -> RecipeSheet:
    """The recipe for so many people at home."""
    sheet = recipe_sheet(recipe, uses, pantry, words, (people,), None, texts)
    return replace(sheet, steps=reminded(sheet.steps, texts))


def reminded(steps: tuple[StepView, ...], texts: Texts) -> tuple[StepView, ...]:
    """The steps with every caution in full where it comes first and brief where it comes again.

    Six times the same box is read by nobody. What is never shortened: an adult's job, because
    it belongs to one step alone, and a caution of a single sentence.
    """
    told: dict[str, int] = {}
    views = []
    for step in steps:
        cautions = tuple(_brief(each, told, step.number, texts) for each in step.cautions)
        views.append(replace(step, cautions=cautions))
    return tuple(views)


def _brief(caution: CautionView, told: dict[str, int], number: int, texts: Texts) -> CautionView:
    first, rest = _first_sentence(caution.text)
    if caution.icon == "adult" or not rest:
        return caution
    before = told.setdefault(caution.title, number)
    if before == number:
        return caution
    return replace(
        caution, text=texts.say("{reminder} More at step {number}.", reminder=first, number=before)
    )


def _first_sentence(text: str) -> tuple[str, str]:
    """The first sentence and what follows it; a decimal point doesn't end a sentence."""
    first, stop, rest = text.partition(". ")
    return (first + stop.rstrip(), rest) if stop else (text, "")
