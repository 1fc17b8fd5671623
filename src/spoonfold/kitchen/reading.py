"""A step's words as sentences and what each of them tells somebody to do.

A verb counts where a command stands: at the beginning of a sentence, or after a comma, “and”,
“then” or “but”. “The mix”, “to the boil” and “baking powder” are no verbs there. What stands in
such a place and isn't known is kept as not understood: whoever judges a dangerous step by its
words has to know that they were not all read.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from spoonfold.kitchen.lexicon import Verb, english
from spoonfold.kitchen.wordings import Phrase, longest_said, wordings
from spoonfold.model.prose import Inline, Link, Picture, Text, leaves, plain
from spoonfold.model.recipe import Step
from spoonfold.problem import Place

_SENTENCE_END = re.compile(r"[.!?;:](?=\s|$)|[()—–]|\s-\s")
_CLAUSE = re.compile(r",\s*(?:and |then |but |or )?(?:then )?|\b(?:and|then|but)\b(?: then\b)?")
_ALONE = re.compile(r"[^\W_]+(?:'[^\W_]+)*")
_WORD = re.compile(r"[^\W_]+(?:['’-][^\W_]+)*")
_UNTIL = re.compile(r"\b(?:until|till|til)\b")


@dataclass(frozen=True, slots=True)
class Run:
    """A step's text and where its characters were written."""

    text: str
    """Folded."""
    starts: tuple[tuple[int, Place], ...]
    """From which character on a piece of the text stands at a place."""

    def place(self, at: int) -> Place:
        """Where one of its characters was written."""
        found, begin = self.starts[0][1], 0
        for start, place in self.starts:
            if start > at:
                break
            found, begin = place, start
        return Place(found.path, found.line, found.column + at - begin if found.column else 0)


@dataclass(frozen=True, slots=True)
class Clause:
    """A run of words with at most one command."""

    text: str
    """Folded, without what is only done “until” something."""
    words: tuple[str, ...]
    verb: Verb | None
    negated: bool
    unread: str | None
    """The word that stands where a command would and isn't known."""
    place: Place


@dataclass(frozen=True)
class Sentence:
    """Words between two full stops."""

    run: Run
    """The step that it stands in."""
    begin: int
    """Its first character there."""
    end: int

    @cached_property
    def words(self) -> tuple[str, ...]:
        """Folded, without signs and hyphens."""
        return tuple(_ALONE.findall(self.run.text, self.begin, self.end))

    @cached_property
    def places(self) -> tuple[Place, ...]:
        """Where each of the words stands."""
        found = _ALONE.finditer(self.run.text, self.begin, self.end)
        return tuple(self.run.place(match.start()) for match in found)

    @cached_property
    def clauses(self) -> tuple[Clause, ...]:
        """Its parts, each with at most one command."""
        return tuple(_clauses(self.run, self.begin, self.end))

    @property
    def kinds(self) -> frozenset[str]:
        """The kinds of all that it tells to do."""
        return frozenset(each.verb.kind for each in self.clauses if each.verb and not each.negated)

    @cached_property
    def phrases(self) -> Mapping[str, tuple[Phrase, ...]]:
        """The wordings in it, by the name of their list."""
        return wordings().found(self.words)

    def said(self, name: str) -> tuple[Phrase, ...]:
        """Those of one list that aren't denied."""
        return tuple(each for each in self.phrases.get(name, ()) if not each.denied)

    @property
    def minutes(self) -> Fraction | None:
        """The longest time that it names."""
        return longest_said(self.words)


def sentences_of(step: Step) -> tuple[Sentence, ...]:
    """A step's sentences in order, in English."""
    run = _run(step.text, step.place)
    found = []
    begin = 0
    for match in (*_SENTENCE_END.finditer(run.text), None):
        end = len(run.text) if match is None else match.start()
        if run.text[begin:end].strip():
            found.append(Sentence(run, begin, end))
        begin = end if match is None else match.end()
    return tuple(found)


def _run(children: Sequence[Inline], place: Place) -> Run:
    text, starts = "", [(0, place)]
    for leaf in leaves(tuple(children)):
        match leaf:
            case Text(words, where):
                starts.append((len(text), where))
                text += words
            case Link(inner, place=where):
                starts.append((len(text), where))
                text += plain(inner)
            case Picture():
                pass
    folded = text.casefold().replace("’", "'")
    # Folding may lengthen a letter; then places are only as good as their line.
    return Run(folded, tuple(starts))


def _clauses(run: Run, begin: int, end: int) -> Iterator[Clause]:
    at, first = begin, True
    for match in (*_CLAUSE.finditer(run.text, begin, end), None):
        stop = end if match is None else match.start()
        if run.text[at:stop].strip():
            yield _clause(run, at, stop, first)
            first = False
        at = stop if match is None else match.end()


def _first_letter(text: str, at: int) -> int:
    while at < len(text) and text[at].isspace():
        at += 1
    return at


def _clause(run: Run, begin: int, end: int, first: bool) -> Clause:
    whole = run.text[begin:end]
    main = _UNTIL.split(whole, maxsplit=1)[0]
    found = [(match[0], match.start()) for match in _WORD.finditer(main)]
    words = tuple(word for word, _ in found)
    negated = not english().small.negations.isdisjoint(words[:4])
    index = _command_at(words)
    verb, unread, at = None, None, begin
    if index is not None:
        word, offset = found[index]
        at = begin + offset
        verb = english().commands.get(word)
        if verb is None and _stands_as_command(words, index, first):
            unread = word
    elif words:
        verb = next(_told(words), None)
    return Clause(
        whole.strip(), words, verb, negated, unread, run.place(_first_letter(run.text, at))
    )


def _command_at(words: Sequence[str]) -> int | None:
    """Where a command would stand; None where the clause begins as a statement does."""
    for index, word in enumerate(words):
        if (
            word in english().small.negations
            or word in english().small.fillers
            or (word.endswith("ly") and len(word) > 4)
        ):
            continue
        if word in english().small.no_command or word[0].isdigit():
            return None
        return index
    return None


def _stands_as_command(words: Sequence[str], index: int, first: bool) -> bool:
    """Whether an unknown word can only be a command: what is listed has no article behind it."""
    word, after = words[index], words[index + 1 : index + 2]
    if word in english().forms or not after or after[0] in english().small.states:
        return False
    if first and index == 0:
        return after[0] in english().small.determiners or after[0] in (
            "in",
            "on",
            "into",
            "onto",
            "with",
            "for",
        )
    return after[0] in english().small.determiners


def _told(words: Sequence[str]) -> Iterator[Verb]:
    """What a statement says that somebody does: “an adult drains the pasta”."""
    for word in words[1:6]:
        verb = english().forms.get(word)
        if verb is not None and word not in english().commands:
            yield verb
