"""A recipe's words in another language, every part with its place.

Words that stay in another language than the sheet around them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from spoonfold.model.prose import Inline, Prose
from spoonfold.model.recipe import SwapStep, Term
from spoonfold.problem import Place


class Foreign(str):
    """Text that nobody has translated. It is text like any other, so that it may stand wherever
    text stands; a page that prints it whole says its language to whoever reads it aloud."""

    __slots__ = ("is_marked", "language")

    language: str
    """A BCP 47 tag."""
    is_marked: bool
    """Whether a word beside it says so to whoever sees it; not where all around it is foreign."""

    def __new__(cls, text: str, language: str, is_marked: bool = True) -> Foreign:
        made = super().__new__(cls, text)
        made.language = language
        made.is_marked = is_marked
        return made

    def __reduce__(self) -> tuple[type[Foreign], tuple[str, str, bool]]:
        # Texts go to other processes, and `str` alone would lose the language on the way.
        return Foreign, (str(self), self.language, self.is_marked)

    def changed(self, text: str) -> Foreign:
        """Other text of the same language: this one with a capital, say."""
        return Foreign(text, self.language, self.is_marked)


@dataclass(frozen=True, slots=True)
class TranslatedIngredient:
    """An ingredient line in another language, without its amount."""

    name: str
    preparation: str | None
    place: Place
    part: str | None = None
    """The heading that it stands under in the list."""
    steps: tuple[SwapStep, ...] = ()
    """Of a swap: the steps that have words of their own with it."""


@dataclass(frozen=True, slots=True)
class TranslatedStep:
    """A step in another language: its words and its free notes."""

    text: tuple[Inline, ...]
    group: str | None
    notes: Mapping[str, tuple[Term, ...]]
    place: Place


@dataclass(frozen=True, slots=True)
class Translation:
    """A recipe's words in another language; amounts, times and named notes are the original's."""

    of: str
    language: str
    title: str
    portion: str | None
    ingredients: tuple[TranslatedIngredient, ...]
    headnote: Prose
    sections: tuple[tuple[str, Prose], ...]
    """Heading and prose of every section but the steps, in the original's order."""
    steps: tuple[TranslatedStep, ...]
    read_by: str | None
    """Who that speaks the language has read it; None or `draft`: nobody yet."""
    place: Place
    origin: str | None = None
    """Town or region and country; None: as the original says it."""
    swaps: tuple[TranslatedIngredient, ...] = ()
    """What to use instead, in the original's order; empty: not translated."""

    @property
    def is_draft(self) -> bool:
        """Whether no fluent speaker has read it."""
        return self.read_by is None or self.read_by.casefold() == "draft"
