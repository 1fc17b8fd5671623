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


@dataclass(frozen=True, slots=True)
class Run:
    """A step's text and where its characters were written."""

    text: str
    """Folded."""
    starts: tuple[tuple[int, Place], ...]
    """From which character on a piece of the text stands at a place."""
    links: tuple[tuple[int, int], ...] = ()
    """From where to where a link goes."""

    def place(self, at: int) -> Place:
        """Where one of its characters was written."""
        found, begin = self.starts[0][1], 0
        for start, place in self.starts:
            if start > at:
                break
            found, begin = place, start
        return Place(found.path, found.line, found.column + at - begin if found.column else 0)

    def at(self, place: Place) -> int | None:
        """Which of its characters was written there; None: none."""
        for start, begin in reversed(self.starts):
            if begin.line == place.line and begin.column <= place.column:
                return start + place.column - begin.column
        return None


@dataclass(frozen=True, slots=True)
class Clause:
    """A run of words with at most one command."""

    text: str
    """Folded, without what is only done “until” something."""
    words: tuple[str, ...]
    """Of the command alone: how far, when and why it is done stands in the `tail`."""
    offsets: tuple[int, ...]
    """Where each of the words and of the tail begins in the run."""
    tail: tuple[str, ...]
    """From “until”, “before” or “so” on."""
    verb: Verb | None
    at: int
    """Which of the words the verb is; -1: none."""
    negated: bool
    person: str
    """Who does it, where that is said: `adult`, `everyone` ..."""
    is_time: bool
    """It says when, as “once the rice is soft” does, and tells nobody to do anything."""
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
    def introduction(self) -> Sequence[str]:
        """The words in front of the colon that it stands behind; empty: it stands behind none."""
        text, begin = self.run.text, self.begin
        if text[begin - 1 : begin] != ":":
            return ()
        return _ALONE.findall(re.split(r"[.!?;]\s", text[: begin - 1])[-1])

    @cached_property
    def places(self) -> tuple[Place, ...]:
        """Where each of the words stands."""
        found = _ALONE.finditer(self.run.text, self.begin, self.end)
        return tuple(self.run.place(match.start()) for match in found)

    @cached_property
    def clauses(self) -> tuple[Clause, ...]:
        """Its parts, each with at most one command."""
        return tuple(_clauses(self.run, self.begin, self.end))

    @cached_property
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

    @cached_property
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
    links = []
    for leaf in leaves(tuple(children)):
        match leaf:
            case Text(words, where):
                starts.append((len(text), where))
                text += words
            case Link(inner, place=where):
                starts.append((len(text), where))
                links.append((len(text), len(text) + len(plain(inner))))
                text += plain(inner)
            case Picture():
                pass
    folded = text.casefold().replace("’", "'")
    # Folding may lengthen a letter; then places are only as good as their line.
    return Run(folded, tuple(starts), tuple(links))


def _clauses(run: Run, begin: int, end: int) -> Iterator[Clause]:
    at, first = begin, True
    for match in (*_CLAUSE.finditer(run.text, begin, end), None):
        stop = end if match is None else match.start()
        found = [(each[0], each.start()) for each in _WORD.finditer(run.text, at, stop)]
        if found:
            yield _clause(run, run.text[at:stop].strip(), found, first)
            first = False
        at = stop if match is None else match.end()


def _clause(run: Run, text: str, found: Sequence[tuple[str, int]], first: bool) -> Clause:
    words, offsets = _apart(found)
    small = english().small
    is_time = words[0] in small.subordinate and words[0] != "so"
    cut = next((n for n, word in enumerate(words) if n and _cuts_off(words, n)), len(words))
    main, tail = words[:cut], words[cut:]
    if is_time:
        return Clause(text, main, offsets, tail, None, -1, False, "", True, None,
                      run.place(offsets[0]))  # fmt: skip
    index = _command_at(main)
    verb, at, unread, person = None, -1, None, ""
    if index is not None:
        verb = english().commands.get(main[index])
        at = index if verb is not None else -1
        if verb is None and _stands_as_command(main, index, first):
            unread = main[index]
            at = index
    if at < 0:
        at, verb, person = _told(main)
    before = main[:at] if at >= 0 else main[:4]
    negated = not small.negations.isdisjoint(before)
    place = run.place(offsets[max(at, 0)])
    return Clause(text, main, offsets, tail, verb, at, negated, person, False, unread, place)


def _apart(found: Sequence[tuple[str, int]]) -> tuple[tuple[str, ...], tuple[int, ...]]:
    """The words, those with a hyphen in two unless they are one verb."""
    words, offsets = [], []
    for word, offset in found:
        if "-" not in word or word in english().forms:
            words.append(word)
            offsets.append(offset)
            continue
        for part in word.split("-"):
            words.append(part)
            offsets.append(offset)
            offset += len(part) + 1
    return tuple(words), tuple(offsets)


def _cuts_off(words: Sequence[str], at: int) -> bool:
    """Whether what follows says how far, when or why."""
    word = words[at]
    if word not in english().small.cut_off:
        return False
    return word != "so" or words[at + 1 : at + 2] in (("that",), ("it",), ("they",))


def _command_at(words: Sequence[str]) -> int | None:
    """Where a command would stand; None where the clause begins as a statement does."""
    small = english().small
    for index, word in enumerate(words):
        if word == "no":
            # “no wet batter below” tells nobody to wet anything.
            return None
        if (
            word in small.negations
            or word in small.fillers
            or (word.endswith("ly") and len(word) > 4)
        ):
            continue
        if word in ("with", "in", "on", "using", "for"):
            return _behind_phrase(words, index)
        if word in small.no_command or word[0].isdigit():
            return None
        return index
    return None


def _behind_phrase(words: Sequence[str], begin: int) -> int | None:
    """The command behind “with wet hands”, where no comma parts them."""
    small = english().small
    for at in range(begin + 2, min(begin + 6, len(words) - 1)):
        known = words[at] in english().commands and words[at + 1] in small.determiners
        if known and words[at - 1] not in small.determiners:
            return at
    return None


def _stands_as_command(words: Sequence[str], index: int, first: bool) -> bool:
    """Whether an unknown word can only be a command: what is listed has no article behind it."""
    word, after = words[index], words[index + 1 : index + 2]
    if word.endswith(("ful", "fuls")):
        # “Ladlefuls on the griddle”: how much.
        return False
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


_GOES_ON = frozenset({"rest", "cold", "thaw", "soak", "wet", "cook"})
"""What food does by itself, as a sentence says it: “the soup simmers”."""


def _told(words: Sequence[str]) -> tuple[int, Verb | None, str]:
    """What a statement says that somebody does, where that word stands, and who does it."""
    lexicon = english()
    small = lexicon.small
    person = next((word for word in words[:4] if word in small.persons), "")
    for at in range(1, min(len(words), 8)):
        word, before = words[at], words[at - 1]
        verb = lexicon.forms.get(word)
        if verb is None or before in small.determiners:
            continue
        if verb.name == "leave" and not small.negations.isdisjoint(words[:at]):
            # “no pink is left”
            continue
        base = word in lexicon.commands
        if person and before != "of":
            asked = before in small.modals or before in small.negations
            if asked or (before in small.persons and not word.endswith("ing")):
                return at, verb, person
            if not base and word.endswith("s"):
                return at, verb, person
        if _is_done(words, at) and (not base or not _regular_past(word)):
            return at, verb, person
        if verb.kind in _GOES_ON and (
            (not base and word.endswith("s")) or before in ("may", "can", "should", "must")
        ):
            return at, verb, person
    return -1, None, person


def _regular_past(word: str) -> bool:
    return not word.endswith(("ed", "en", "t"))


def _is_done(words: Sequence[str], at: int) -> bool:
    """Whether a form is what is done to something: “must not be cooked”, “is then left”."""
    word = words[at]
    if word.endswith(("ing", "s")):
        return False
    before = words[max(0, at - 3) : at]
    if not english().small.passives.isdisjoint(before):
        verb = english().forms[word]
        return "be" in before or "being" in before or verb.kind in ("rest", "cold", "thaw", "eat")
    return False
