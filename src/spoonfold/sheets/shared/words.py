"""Words as they are explained, on whatever page they stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from spoonfold.model.prose import Inline, Prose, inlines, plain_prose
from spoonfold.model.recipe import slug
from spoonfold.model.teaching import Word
from spoonfold.teach.words import marks_in

FROM_MEMORY = "†"
"""Stands behind what was told from memory; a page that has one says so once, at its foot."""


@dataclass(frozen=True, slots=True)
class WordView:
    """A word with its meaning."""

    anchor: str
    term: str
    say: str
    meaning: str
    origin: str
    forms: tuple[str, ...]

    @property
    def is_from_memory(self) -> bool:
        """Whether any of it was told from memory."""
        return FROM_MEMORY in self.meaning or FROM_MEMORY in self.origin


def word_view(key: str, word: Word) -> WordView:
    """A word as it is explained; its name in the class's list gives its address."""
    return WordView(
        word_anchor(key), word.term, word.say or "", word.meaning, word.origin or "", word.forms
    )


def word_views(words: Mapping[str, Word]) -> tuple[WordView, ...]:
    """All words in the order of the alphabet."""
    views = (word_view(key, word) for key, word in words.items())
    return tuple(sorted(views, key=lambda view: (view.term.casefold(), view.anchor)))


def word_anchor(key: str) -> str:
    """Where the explanation of a word stands on its page."""
    return f"word-{slug(key)}"


def explained_in(text: Iterable[Inline], views: Iterable[WordView]) -> tuple[WordView, ...]:
    """Those of the words that are marked in a text, in reading order."""
    by_anchor = {view.anchor: view for view in views}
    anchors = (word_anchor(key) for key in marks_in(text))
    return tuple(by_anchor[anchor] for anchor in anchors if anchor in by_anchor)


def explained_in_prose(prose: Prose, views: Iterable[WordView]) -> tuple[WordView, ...]:
    """Those of the words that are marked in a prose, in reading order."""
    return explained_in(inlines(prose), views)


def is_from_memory(*texts: Prose) -> bool:
    """Whether anything in these was told from memory."""
    return any(FROM_MEMORY in plain_prose(text) for text in texts)
