"""A recipe as a sheet shows it: the list, the steps, what is told of it; and as a home sheet.

A home sheet has one household size, and prints no caution in full twice.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain

from spoonfold.language.amounts import minutes_text, oven_text
from spoonfold.language.calendar import country_text
from spoonfold.language.marks import draft_mark, language_mark
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import Classroom, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Inline, Paragraph, Picture, Prose, inlines, plain, plain_prose
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import Word
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.at_home import HomeTime, home_time
from spoonfold.read.recipe import SECTIONS
from spoonfold.sheets.shared.cautions import CautionView
from spoonfold.sheets.shared.labels import Labels, labels_of
from spoonfold.sheets.shared.lines import (
    Column,
    DishAmounts,
    LineView,
    SwapView,
    class_columns,
    dish_amounts,
    home_columns,
    lines_view,
    size_notes,
    swaps_view,
)
from spoonfold.sheets.shared.steps import Fact, StepView, steps_view
from spoonfold.sheets.shared.words import (
    WordView,
    explained_in,
    explained_in_prose,
    is_from_memory,
    word_view,
)
from spoonfold.sheets.sheet import Edition
from spoonfold.teach.words import Marker, marks_in


@dataclass(frozen=True, slots=True)
class RecipeSheet:
    """Everything that a recipe shows."""

    key: str
    title: str
    language: str
    """Of the title and all prose."""
    direction: str
    mark: str
    """`in English`, where that isn't the reader's language; mostly empty."""
    draft: str
    """That no fluent speaker has read the translation; mostly empty."""
    origin: str
    countries: tuple[str, ...]
    facts: tuple[Fact, ...]
    lede: Prose
    """The first paragraph of the headnote."""
    headnote: Prose
    """The rest of it."""
    labels: Labels
    columns: tuple[Column, ...]
    class_columns: tuple[Column, ...]
    lines: tuple[LineView, ...]
    size_notes: tuple[tuple[str, ...], ...]
    """What to know about each size: pans, batches."""
    steps: tuple[StepView, ...]
    swaps: tuple[SwapView, ...]
    sections: Mapping[str, Prose]
    words: tuple[WordView, ...]
    """What the dish teaches."""
    explained: tuple[WordView, ...]
    """Every word that is marked on the page, taught here or not."""
    description: str
    sources: tuple[str, ...]
    """Where its culture and science were looked up."""

    def explained_in(self, text: tuple[Inline, ...]) -> tuple[WordView, ...]:
        """The words that are marked in a text of this sheet."""
        return explained_in(text, self.explained)

    def explained_in_prose(self, prose: Prose) -> tuple[WordView, ...]:
        """The words that are marked in a prose of this sheet."""
        return explained_in_prose(prose, self.explained)

    @property
    def notes(self) -> tuple[str, ...]:
        """What to know about all sizes, in their order."""
        return tuple(chain.from_iterable(self.size_notes))

    @property
    def unsaid(self) -> tuple[WordView, ...]:
        """Words that the dish teaches and that are marked nowhere on its page."""
        return tuple(word for word in self.words if word not in self.explained)

    def is_told_from_memory(self, section: str) -> bool:
        """Whether anything in a section was told from memory."""
        return is_from_memory(self.sections.get(section, ()))

    def is_from_memory(self, *sections: str) -> bool:
        """Whether anything in these sections, in the headnote or in an explanation was told
        from memory."""
        prose = (self.sections[each] for each in sections if each in self.sections)
        return is_from_memory(self.lede, self.headnote, *prose) or any(
            word.is_from_memory for word in (*self.words, *self.explained)
        )


def recipe_sheet(
    recipe: Recipe,
    amounts: DishAmounts,
    pantry: Pantry,
    words: Mapping[str, Word],
    households: Sequence[int],
    setting: Setting | None,
    texts: Texts,
) -> RecipeSheet:
    """The sheet for some household sizes, and for the class where a setting is given; `amounts`
    are the dish's at these, in whatever language its recipe was."""
    lede, rest = opening(recipe.headnote)
    # In this order, so that a word is explained where it is done, and on paper, which leaves out
    # the rest of the headnote and the science, as well as on the site.
    marker = Marker(words)
    lede = marker.prose(lede)
    instructions = [marker.inlines(step.said) for step in recipe.steps]
    sections = {
        key: marker.prose(recipe.sections[key]) for key in SECTIONS if key in recipe.sections
    }
    rest = marker.prose(rest)
    met = {
        *marks_in(inlines((*lede, *rest))),
        *marks_in(chain(*instructions)),
        *marks_in(chain.from_iterable(inlines(prose) for prose in sections.values())),
    }
    return RecipeSheet(
        key=recipe.key,
        title=recipe.title,
        language=recipe.language or texts.language,
        direction=direction_of(recipe.language or texts.language),
        mark=language_mark(recipe.language, texts),
        draft=draft_mark(recipe.is_draft, texts),
        origin=recipe.origin,
        countries=tuple(
            name for code in recipe.countries if (name := country_text(code, texts.language))
        ),
        facts=_facts(
            recipe, Fraction(households[0]) if len(households) == 1 else recipe.serves, texts
        ),
        lede=lede,
        headnote=rest,
        labels=labels_of(recipe, pantry, texts),
        columns=home_columns(recipe, households, texts),
        class_columns=() if setting is None else class_columns(recipe, setting, texts),
        lines=lines_view(recipe, amounts, pantry, texts),
        size_notes=tuple(size_notes(recipe, people, texts) for people in households),
        steps=steps_view(recipe, instructions, amounts.sizes, pantry, texts),
        swaps=swaps_view(recipe, households, pantry, texts),
        sections=sections,
        words=taught_words(recipe, words),
        explained=tuple(word_view(key, word) for key, word in words.items() if key in met),
        description=plain_prose(lede),
        sources=recipe.sources,
    )


def opening(headnote: Prose) -> tuple[Prose, Prose]:
    """The first paragraph that has words of its own, and everything else."""
    for index, block in enumerate(headnote):
        if isinstance(block, Paragraph) and not all(
            isinstance(each, Picture) or not plain((each,)).strip() for each in block.children
        ):
            return (block,), (*headnote[:index], *headnote[index + 1 :])
    return (), headnote


def taught_words(recipe: Recipe, words: Mapping[str, Word]) -> tuple[WordView, ...]:
    """What the dish teaches, in the order of its header."""
    return tuple(
        word_view(term.text, words[term.text]) for term in recipe.words if term.text in words
    )


def _facts(recipe: Recipe, portions: Fraction, texts: Texts) -> tuple[Fact, ...]:
    facts = []
    if recipe.portion:
        facts.append(Fact("people", texts.say("One portion: {portion}", portion=recipe.portion)))
    said = time_texts(home_time(recipe, portions), texts)
    if said:
        facts.append(Fact("clock", ", ".join(said)))
    if recipe.oven is not None:
        facts.append(Fact("oven", texts.say("Oven {heat}", heat=oven_text(recipe.oven, texts))))
    return tuple(facts)


def time_texts(time: HomeTime, texts: Texts) -> tuple[str, ...]:
    """`25 min hands-on`, `40 min waiting`, `start the day before`, as far as there is any."""
    said = []
    if time.hands:
        said.append(texts.say("{minutes} hands-on", minutes=minutes_text(time.hands, texts)))
    if time.waiting:
        said.append(texts.say("{minutes} waiting", minutes=minutes_text(time.waiting, texts)))
    if time.starts_before:
        said.append(texts.say("start the day before"))
    return tuple(said)


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


def household_of(edition: Edition, classroom: Classroom, people: int) -> Household:
    """So many people who read the language of that edition."""
    return Household(edition.folder, classroom, edition.uses, people, edition.texts)


def home_sheet(
    recipe: Recipe, uses: Uses, pantry: Pantry, words: Mapping[str, Word], people: int, texts: Texts
) -> RecipeSheet:
    """The recipe for so many people at home."""
    amounts = dish_amounts(recipe, uses, pantry, (people,), None)
    sheet = recipe_sheet(recipe, amounts, pantry, words, (people,), None, texts)
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
