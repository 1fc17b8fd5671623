"""A recipe as a sheet: the same value serves the site's page, the booklet and the card."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import chain

from spoonfold.language.amounts import minutes_text, oven_text
from spoonfold.language.calendar import country_text
from spoonfold.language.marks import draft_mark, language_mark
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import Setting
from spoonfold.model.pantry import Pantry
from spoonfold.model.prose import Inline, Paragraph, Picture, Prose, inlines, plain, plain_prose
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import Word
from spoonfold.plan.amounts.scale import scaled_for_class
from spoonfold.plan.amounts.uses import Uses
from spoonfold.sheets.labels import Labels, labels_of
from spoonfold.sheets.recipe_lines import LineView, SwapView, home_sizes, lines_view, swaps_view
from spoonfold.sheets.recipe_sizes import Column, class_columns, home_columns, size_notes
from spoonfold.sheets.steps import Fact, StepView, steps_view
from spoonfold.sheets.words import (
    WordView,
    explained_in,
    explained_in_prose,
    is_from_memory,
    word_view,
)
from spoonfold.teach.words import Marker, marks_in

_TOLD = ("culture", "talk", "at home", "science")
"""The sections, in the order in which words are looked for in them."""


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
    uses: Uses,
    pantry: Pantry,
    words: Mapping[str, Word],
    households: Sequence[int],
    setting: Setting | None,
    texts: Texts,
) -> RecipeSheet:
    """The sheet for some household sizes, and for the class where a setting is given."""
    sizes = home_sizes(recipe, uses, pantry, households)
    in_class = None if setting is None else scaled_for_class(recipe, uses, pantry, setting)
    lede, rest = opening(recipe.headnote)
    # In this order, so that a word is explained where it is done, and on paper, which leaves out
    # the rest of the headnote and the science, as well as on the site.
    marker = Marker(words)
    lede = marker.prose(lede)
    instructions = [marker.inlines(step.said) for step in recipe.steps]
    sections = {key: marker.prose(recipe.sections[key]) for key in _TOLD if key in recipe.sections}
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
        facts=_facts(recipe, texts),
        lede=lede,
        headnote=rest,
        labels=labels_of(recipe, pantry, texts),
        columns=home_columns(recipe, households, texts),
        class_columns=() if setting is None else class_columns(recipe, setting, texts),
        lines=lines_view(recipe, sizes, in_class, pantry, texts),
        size_notes=tuple(size_notes(recipe, people, texts) for people in households),
        steps=steps_view(recipe, instructions, sizes, pantry, setting is None, texts),
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


def _facts(recipe: Recipe, texts: Texts) -> tuple[Fact, ...]:
    facts = []
    if recipe.portion:
        facts.append(Fact("people", texts.say("One portion: {portion}", portion=recipe.portion)))
    total = total_minutes(recipe)
    if total:
        facts.append(
            Fact("clock", texts.say("About {minutes} at home", minutes=minutes_text(total, texts)))
        )
    if recipe.oven is not None:
        facts.append(Fact("oven", texts.say("Oven {heat}", heat=oven_text(recipe.oven, texts))))
    return tuple(facts)


def total_minutes(recipe: Recipe) -> Fraction:
    """Minutes at home, one step after the other; what is done the day before doesn't count."""
    return sum(
        (
            (step.time or Fraction(0)) + (step.wait or Fraction(0))
            for step in recipe.steps
            if step.when != "day before"
        ),
        Fraction(0),
    )
