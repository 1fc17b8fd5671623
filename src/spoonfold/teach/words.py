"""Finding the taught words where they stand, so that each can lead to its explanation."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

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


@dataclass(frozen=True, slots=True)
class Marked:
    """The prose of a page with its words marked."""

    headnote: Prose
    steps: tuple[tuple[Inline, ...], ...]
    sections: Mapping[str, Prose]


def marked(
    words: Iterable[Word],
    headnote: Prose,
    steps: Sequence[tuple[Inline, ...]],
    sections: Mapping[str, Prose],
) -> Marked:
    """The same texts with the first mention of each word, in any of its forms, marked.

    The headnote is read before the steps, and the steps before the sections. Headings and links
    that lead out of the page stay as they are: a link inside a link can't be followed.
    """
    seeker = _Seeker(words)
    return Marked(seeker.blocks(headnote), tuple(seeker.inlines(step) for step in steps),
                  {key: seeker.blocks(prose) for key, prose in sections.items()})


def explained(
    words: Iterable[Word], headnote: Prose, steps: Sequence[tuple[Inline, ...]]
) -> tuple[Prose, tuple[tuple[Inline, ...], ...]]:
    """The headnote and the steps alone, marked."""
    found = marked(words, headnote, steps, {})
    return found.headnote, found.steps


def terms_in(texts: Iterable[Inline]) -> Iterator[str]:
    """The terms of the words marked in a text, in reading order."""
    for each in texts:
        match each:
            case Explained(_, term):
                yield term
            case Emphasis(children) | Link(children):
                yield from terms_in(children)


def found_in(text: str, words: Iterable[Word]) -> tuple[str, ...]:
    """The terms of all words that a plain text says in any form, in order of first mention."""
    return tuple(dict.fromkeys(_Seeker(words).terms(text)))


def prose_of(recipe: Recipe) -> Iterator[str]:
    """Everything of a recipe that is read as sentences: headnote, steps, notes, sections."""
    yield plain_prose(recipe.headnote)
    for step in recipe.steps:
        yield plain(step.text)
        yield step.easier or ""
        yield from (term.text for term in (*step.watch, *step.adult))
    yield from (plain_prose(prose) for prose in recipe.sections.values())


class _Seeker:
    """Holds the words that haven't been met yet."""

    def __init__(self, words: Iterable[Word]) -> None:
        self._term: dict[str, str] = {}
        for word in words:
            for form in (word.term, *word.forms):
                self._term.setdefault(form.casefold(), word.term)
        # The longest first: `claw grip` before `grip`.
        forms = sorted(self._term, key=lambda form: (-len(form), form))
        spaced = (r"\s+".join(re.escape(part) for part in form.split()) for form in forms)
        self._pattern = re.compile(rf"(?<!\w)(?:{'|'.join(spaced)})(?!\w)", re.IGNORECASE)
        self._met: set[str] = set()

    def terms(self, text: str) -> Iterator[str]:
        if self._term:
            for match in self._pattern.finditer(text):
                yield self._term[" ".join(match[0].casefold().split())]

    def blocks(self, prose: Prose) -> Prose:
        return tuple(self._block(block) for block in prose)

    def _block(self, block: Block) -> Block:
        match block:
            case Paragraph(children):
                return Paragraph(self.inlines(children))
            case Listing(items):
                return replace(block, items=tuple(self.blocks(item) for item in items))
            case Quote(blocks):
                return Quote(self.blocks(blocks))
        return block

    def inlines(self, children: tuple[Inline, ...]) -> tuple[Inline, ...]:
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

    def _text(self, text: Text) -> Iterable[Inline]:
        if not self._term:
            yield text
            return
        done = 0
        for match in self._pattern.finditer(text.text):
            term = self._term[" ".join(match[0].casefold().split())]
            if term in self._met:
                continue
            self._met.add(term)
            if match.start() > done:
                yield Text(text.text[done:match.start()], text.place)
            yield Explained((Text(match[0], text.place),), term)
            done = match.end()
        if done < len(text.text):
            yield Text(text.text[done:], text.place)


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
