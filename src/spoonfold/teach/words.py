"""Finding the taught words where they stand, so that each can lead to its explanation."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from functools import lru_cache

from spoonfold.model.prose import (
    Block,
    Emphasis,
    Explained,
    Inline,
    Link,
    Listing,
    Paragraph,
    Prose,
    Quote,
    Text,
    plain,
    plain_prose,
)
from spoonfold.model.recipe import Recipe
from spoonfold.model.teaching import Word


def marks_in(texts: Iterable[Inline]) -> Iterator[str]:
    """The names of the words marked in a text, in reading order."""
    for each in texts:
        match each:
            case Explained(_, term):
                yield term
            case Emphasis(children) | Link(children):
                yield from marks_in(children)


def prose_of(recipe: Recipe) -> Iterator[str]:
    """Everything of a recipe that is read as sentences: headnote, steps, notes, sections."""
    yield plain_prose(recipe.headnote)
    for step in recipe.steps:
        # A translation has the words that its original teaches.
        yield plain(step.text if recipe.language else step.said)
        yield step.easier or ""
        yield from (term.text for term in (*step.watch, *step.adult))
    yield from (plain_prose(prose) for prose in recipe.sections.values())


class Marker:
    """Marks the first mention of each word, in any of its forms, in the texts of one page.

    Texts are handed to it in the order in which they are read. Headings and links that lead out
    of the page stay as they are: a link inside a link can't be followed.
    """

    def __init__(self, words: Mapping[str, Word]) -> None:
        """The words by the names that the marks shall carry."""
        self._key: dict[str, str] = {}
        for key, word in words.items():
            for form in (word.term, *word.forms):
                self._key.setdefault(form.casefold(), key)
        self._pattern, self._folded = _patterns(frozenset(self._key))
        self._met: set[str] = set()

    def prose(self, prose: Prose) -> Prose:
        """The blocks with what has not been met before marked."""
        return tuple(self._block(block) for block in prose)

    def mentions(self, text: str) -> Iterator[str]:
        """The name of the word at each mention in a plain text, met before or not."""
        if self._key:
            for match in self._folded.finditer(text.casefold()):
                yield self._key[" ".join(match[0].split())]

    def _found(self, text: str) -> Iterator[tuple[re.Match[str], str]]:
        if self._key:
            folded = text.casefold()
            # Folding makes no letter shorter: where the length is the same, so is every place.
            found = (
                self._folded.finditer(folded)
                if len(folded) == len(text)
                else self._pattern.finditer(text)
            )
            for match in found:
                yield match, self._key[" ".join(match[0].casefold().split())]

    def _block(self, block: Block) -> Block:
        match block:
            case Paragraph(children):
                return Paragraph(self.inlines(children))
            case Listing(items):
                return replace(block, items=tuple(self.prose(item) for item in items))
            case Quote(blocks):
                return Quote(self.prose(blocks))
        return block

    def inlines(self, children: tuple[Inline, ...]) -> tuple[Inline, ...]:
        """One text with what has not been met before marked."""
        found: list[Inline] = []
        for child in _joined(children):
            match child:
                case Text():
                    found.extend(self._text(child))
                case Emphasis(inner):
                    found.append(replace(child, children=self.inlines(inner)))
                case Link(inner, address) if address.startswith("#"):
                    found.append(replace(child, children=self.inlines(inner)))
                case _:
                    found.append(child)
        return tuple(found)

    def _text(self, text: Text) -> Iterator[Inline]:
        done = 0
        for match, key in self._found(text.text):
            if key in self._met:
                continue
            self._met.add(key)
            if match.start() > done:
                yield Text(text.text[done : match.start()], text.place)
            said = text.text[match.start() : match.end()]
            yield Explained((Text(said, text.place),), key)
            done = match.end()
        if not done:
            yield text
        elif done < len(text.text):
            yield Text(text.text[done:], text.place)


@lru_cache(maxsize=8)
def _patterns(forms: frozenset[str]) -> tuple[re.Pattern[str], re.Pattern[str]]:
    """Any of the forms as a whole word, in a text as it is written and in a folded one, where the
    same is found in a quarter of the time."""
    # The longest first: `claw grip` before `grip`.
    ordered = sorted(forms, key=lambda form: (-len(form), form))
    spaced = (r"\s+".join(re.escape(part) for part in form.split()) for form in ordered)
    pattern = rf"(?<!\w)(?:{'|'.join(spaced)})(?!\w)"
    return re.compile(pattern, re.IGNORECASE), re.compile(pattern)


def _joined(children: tuple[Inline, ...]) -> list[Inline]:
    """Neighbouring texts as one: a word of two parts may stand on two source lines."""
    joined: list[Inline] = []
    for child in children:
        last = joined[-1] if joined else None
        if isinstance(child, Text) and isinstance(last, Text):
            joined[-1] = Text(last.text + child.text, last.place)
        else:
            joined.append(child)
    return joined
