"""What is told of a Spanish recipe, with its author's own words where the rules go by English."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from spoonfold.knowledge.equipment import tool_named
from spoonfold.knowledge.lexicons import lexicon_of
from spoonfold.model.prose import Inline, Picture, Text, leaves, plain
from spoonfold.model.recipe import Ingredient, Recipe, Step
from spoonfold.problem import Place, Problem
from spoonfold.quantity.temperature import Temperature

_QUOTED = re.compile("“([^”]*)”")
_BRACKETS = re.compile(r"(\([^()]*\))")
_SIGNS = re.compile(r"[^\w°]+")


@dataclass(frozen=True)
class OwnWords:
    """The author's words of one recipe."""

    recipe: Recipe

    @cached_property
    def _names(self) -> Callable[[str], str]:
        lines: Iterable[Ingredient] = (
            *self.recipe.ingredients,
            *(each.use for each in self.recipe.swaps),
        )
        said = {each.name: each.said for each in lines if each.name != each.said}
        if not said:
            return str
        longest = sorted(said, key=len, reverse=True)
        pattern = re.compile(
            rf"(?<![\w#-])(?:{'|'.join(map(re.escape, longest))})(?![\w-])", re.IGNORECASE
        )
        folded = {name.casefold(): own for name, own in said.items()}

        def told(text: str) -> str:
            # In brackets stands what a chart says: ground beef, pork, veal or lamb.
            parts = _BRACKETS.split(text)
            parts[::2] = [
                pattern.sub(lambda found: folded[found[0].casefold()], part) for part in parts[::2]
            ]
            return "".join(parts)

        return told

    def of(self, problem: Problem) -> Problem:
        """A problem in this recipe with its words for what the rules call otherwise."""
        message = _QUOTED.sub(
            lambda found: f"“{self._own(found[1], problem.place)}”", problem.message
        )
        return replace(
            problem,
            message=self._names(message),
            hint=self._names(_QUOTED.sub(lambda found: f"“{to_write(found[1])}”", problem.hint)),
            food=self._names(problem.food),
        )

    def _own(self, words: str, place: Place) -> str:
        """The words that stand where these were read from; themselves where they weren't."""
        for step in self.recipe.steps:
            found = _Said(step).behind(words, place) if step.wording is not None else None
            if found:
                return found
        return words


_DEGREES = re.compile(r"(\d+)(?= °F)")
_TOOL = re.compile(r"^(Wash the|another) ([a-z ]+?)(\.?)$")


def to_write(words: str) -> str:
    """What is proposed to be written, in Spanish; as it is where nobody has said it so."""
    known = lexicon_of("es")["to write"]
    degrees = _DEGREES.search(words)
    general = _DEGREES.sub("{°F}", words)
    if general in known:
        said = str(known[general])
        if degrees is None:
            return said
        celsius = Temperature(Fraction(int(degrees[1]))).whole_celsius
        return said.replace("{°C}", str(celsius))
    tool = _TOOL.match(words)
    named = tool_named(tool[2]) if tool else None
    if tool is None or named is None or not named.names.get("es"):
        return words
    own = named.names["es"][0]
    is_she = own.split(" ")[0].endswith("a") or own.split(" ")[0] in _SHE
    if tool[1] == "another":
        return f"{'otra' if is_she else 'otro'} {own}"
    return f"Lava {'la' if is_she else 'el'} {own}{tool[3]}"


_SHE = frozenset({"sartén", "fuente"})
"""Tools that are feminine and don't end in -a."""


@dataclass(frozen=True)
class _Said:
    """A step in English and in its own words."""

    step: Step

    @cached_property
    def _own(self) -> tuple[str, Sequence[tuple[int, Place]]]:
        text, starts = "", []
        for words, place in _texts(self.step.wording or ()):
            starts.append((len(text), place))
            text += words
        return text, starts

    def _at(self, place: Place) -> int | None:
        """Which of its own characters was written there."""
        for start, begin in reversed(self._own[1]):
            if begin.line == place.line and begin.column <= place.column:
                return start + place.column - begin.column
        return None

    @cached_property
    def _read(self) -> Sequence[tuple[str, int]]:
        """Each run of English words with the character that it was read from."""
        return [
            (_folded(words), at)
            for words, place in _texts(self.step.text)
            if _folded(words) and (at := self._at(place)) is not None
        ]

    def behind(self, words: str, place: Place) -> str | None:
        """What English words near a place were read from."""
        meant, near = _folded(words), self._at(place)
        if near is None or not meant:
            return None
        read = self._read
        close = [n for n, (_, at) in enumerate(read) if abs(at - near) <= _NEAR]
        for size in range(1, _MOST):
            for first in close:
                run = read[first : first + size]
                if f" {meant} " in f" {' '.join(each for each, _ in run)} ":
                    return self._slice([at for _, at in run])
        return None

    def _slice(self, starts: Sequence[int]) -> str:
        text = self._own[0]
        end = min((at for _, at in self._read if at > max(starts)), default=len(text))
        return text[min(starts) : end].strip(" ,.;:!?\n")


_MOST = 9
"""Runs of words of which one is never more."""
_NEAR = 60
"""Characters around a place in which the words are looked for."""


def _folded(words: str) -> str:
    return _SIGNS.sub(" ", words.casefold()).strip()


def _texts(children: tuple[Inline, ...]) -> Iterator[tuple[str, Place]]:
    for leaf in leaves(children):
        if isinstance(leaf, Text):
            yield leaf.text, leaf.place
        elif not isinstance(leaf, Picture):
            inner = next((each for each in leaves(leaf.children) if isinstance(each, Text)), None)
            yield plain(leaf.children), inner.place if inner else leaf.place
