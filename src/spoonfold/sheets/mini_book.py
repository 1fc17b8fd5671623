"""A book of eight small pages out of one side of one sheet, for a dish that is short enough.

Title, what to gather, the steps with their cautions in full, a note and a back: nothing of what
keeps a cook safe is left out, and no type is smaller than can be read in the hand. A dish that
needs more room has no mini-book.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from spoonfold.check.rule import advice
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Paper
from spoonfold.model.prose import plain, plain_prose
from spoonfold.model.recipe import Recipe
from spoonfold.problem import Place, Problem
from spoonfold.sheets.booklet.folding import FoldStep
from spoonfold.sheets.card import card_size
from spoonfold.sheets.shared.recipe import Household, RecipeSheet, household_of
from spoonfold.sheets.sheet import BuildContext, Layout, Part, Sheet

_STEP_LETTERS = 60
"""What a step takes up besides its words: its number, its minutes, the space around it."""


@dataclass(frozen=True, slots=True)
class MiniBook:
    """A book for one household size in one language."""

    language: str
    direction: str
    class_name: str
    location: str
    for_whom: str
    paper: Paper
    sheet: RecipeSheet
    folds: tuple[FoldStep, ...]

    @property
    def letters(self) -> int:
        """About how much room it takes, in letters."""
        return sum(_letters(self.sheet))


def mini_book_of(household: Household, key: str) -> MiniBook:
    """The book of the recipe with that key."""
    classroom, texts = household.classroom, household.texts
    return MiniBook(
        language=texts.language,
        direction=texts.direction,
        class_name=classroom.name,
        location=classroom.location,
        for_whom=texts.count("For 1 person", "For {number} people", household.people),
        paper=classroom.paper,
        sheet=household.sheet(key),
        folds=_folds(texts),
    )


def mini_book_name(key: str, language: str) -> str:
    """The file of a book."""
    return f"mini-book-{key}-{language}.pdf"


def _letters(sheet: RecipeSheet) -> Iterator[int]:
    """Of the pages between the title and the back."""
    for step in sheet.steps:
        yield len(plain(step.text)) + _STEP_LETTERS
        yield from (len(caution.title) + len(caution.text) for caution in step.cautions)
        yield from (len(use.sizes[0].text) + len(use.names[0]) for use in step.uses)
    yield from (
        len(line.names[0]) + len(line.preparation) + len(line.sizes[0].text) for line in sheet.lines
    )
    if "at home" in sheet.sections:
        yield len(plain_prose(sheet.sections["at home"]))


def _folds(texts: Texts) -> tuple[FoldStep, ...]:
    say = texts.say
    return (
        FoldStep(
            "panels",
            say("A sheet in eight, with the numbers of its pages."),
            say("Print and fold"),
            say(
                "Print the first page on one side, at actual size. Fold the sheet in the "
                "middle the long way, then the short way, and once more. Open it again: it "
                "has eight parts."
            ),
        ),
        FoldStep(
            "cut",
            say("A cut between the two middle parts of each row."),
            say("Cut once"),
            say(
                "Fold it in the middle the short way. Cut along the middle from the fold to "
                "the next crease: half of what lies before you."
            ),
        ),
        FoldStep(
            "push",
            say("Both ends are pushed together, and the cut opens."),
            say("Push together"),
            say(
                "Fold the sheet the long way, with the print outside. Push both ends toward "
                "each other until the cut opens and closes as a cross. Fold the pages round "
                "so that the title is in front."
            ),
        ),
    )


def too_long(recipes: Sequence[Recipe]) -> Problem:
    """There is no book from one sheet of these dishes: it would have to be printed too small."""
    keys = ", ".join(recipe.key for recipe in recipes)
    return advice(
        "no-mini-book",
        Place("content/class.yaml"),
        "With steps and cautions in readable type there is no book of eight pages from one sheet "
        f"of: {keys}.",
        "Nothing has to be done: the card has it all. A dish of few and short steps has one.",
    )


def made(context: BuildContext) -> Iterator[Sheet | Problem]:
    """A book from one sheet for each dish that is short enough, at the size of the cards."""
    people = card_size(context.classroom.households)
    long: dict[str, Recipe] = {}
    for edition in context.editions:
        household = household_of(edition, context.classroom, people)
        language = edition.texts.language
        for key, recipe in edition.folder.recipes.items():
            mini = mini_book_of(household, key)
            if mini.letters > MOST_LETTERS:
                long.setdefault(key, recipe)
                continue
            yield Sheet(
                (f"families/{mini_book_name(key, language)}",),
                f"Printing the book from one sheet of {key} ({language})",
                LAYOUT,
                {"mini": mini},
                language,
                too_long=too_long([recipe]),
            )
    if long:
        yield too_long(tuple(long.values()))


MOST_LETTERS = 2500
"""More letters than that were never seen to fit, so such a dish isn't tried."""

LAYOUT = Layout("mini-book.html", ("large", "middle", "small"), sides=9, is_mini_book=True)
"""Of 10½, 9¾ and 9 points. Eight small pages, and the sheet that says how to fold them."""

PART = Part(made, ("families/mini-book-*",))
