"""One ingredient line of somewhere else as lines that are read here, or why it can't be."""

from __future__ import annotations

import re
from dataclasses import dataclass

from spoonfold.author.bring.abroad import in_our_measures
from spoonfold.author.bring.looks import BULLET, foods_in, without
from spoonfold.quantity.grammar import Line, read_line
from spoonfold.quantity.refusal import Refusal
from spoonfold.read.yaml_text import clean

_MOST_TRIES = 6
"""Slips in one line, each mended by what its refusal suggests."""
# What these suggest may change how much there is, so they are left to the cook.
_LEFT_TO_HER = frozenset({"two-amounts", "number-too-large"})
_SHORT_SIZE = "short-size"
"""A slip that is told whatever else was mended: the food weighs what its size says."""
_NO_NAME = re.compile(r"[^\w' -]+|[\d_]+|(?<!\w)[' -]+|[' -]+(?!\w)")
"""Figures and signs, which stand in no name of a food."""
_MOST_WORDS = 5
"""Of a line without an amount that still looks like a food, not like a sentence."""


@dataclass(frozen=True, slots=True)
class BroughtLine:
    """What became of one line."""

    was: str
    lines: tuple[tuple[str, str], ...] = ()
    """Each line as it is written here, and the ingredient that it names."""
    guess: str = ""
    """Why it isn't what it was, where it isn't."""
    problem: str = ""
    """Why it can't be read, where it can't; then the lines name only its foods."""


def brought_line(text: str) -> BroughtLine:
    """Reads a line, mending the usual slips by what their refusals suggest."""
    was = clean(text)
    start = without(BULLET, was).strip(" ;")
    # A full stop ends a sentence, not an ingredient; that of an abbreviation does no harm.
    start = start[:-1].rstrip() if start.endswith(".") and not start.endswith("..") else start
    ours, abroad = in_our_measures(start)
    open_ones, lines = ours.split("\n"), []
    first: Refusal | None = None
    tries, short = 0, ""
    while open_ones:
        words = open_ones.pop(0)
        read = read_line(words)
        if isinstance(read, Line):
            lines.append((words, read.name))
            continue
        if read.code == _SHORT_SIZE:
            short = short or read.why
        else:
            first = first or read
        tries += 1
        mended = _mended(read, words, start)
        if not mended or tries > _MOST_TRIES:
            return BroughtLine(was, _foods_of(start), problem=_said(first or read))
        open_ones[:0] = mended
    whys = (abroad, first.why if first else "", short)
    return BroughtLine(was, tuple(lines), guess=" ".join(filter(None, whys)))


def _foods_of(words: str) -> tuple[tuple[str, str], ...]:
    """A line without an amount for each food that stands in one that can't be read, so that its
    allergens are seen; of foods that nobody knows, what is left of its words."""
    bare = " ".join(_NO_NAME.sub(" ", words).split())
    names = foods_in(words) or ((bare,) if 0 < len(bare.split()) <= _MOST_WORDS else ())
    lines = [(f"{name}, as needed", read_line(f"{name}, as needed")) for name in names]
    return tuple((line, read.name) for line, read in lines if isinstance(read, Line))


def _mended(refusal: Refusal, words: str, start: str) -> list[str]:
    """The lines to read in place of a refused one; none where only the cook can say."""
    if refusal.code == "no-amount" and refusal.instead is None:
        named = any(map(str.isalpha, words)) and not any(map(str.isdigit, words))
        return [f"{words}, as needed"] if named and len(words.split()) <= _MOST_WORDS else []
    if refusal.instead in (None, words) or refusal.code in _LEFT_TO_HER:
        return []
    assert refusal.instead is not None
    mended = refusal.instead.split("\n")
    if refusal.code != "either-or":
        return mended
    # "1 cup or 1 can of it": not her own choice of two foods, but two ways to read her line.
    return mended[:1] if words.count(" or ") <= start.count(" or ") else []


def _said(refusal: Refusal) -> str:
    return f"{refusal.why} For example: {refusal.instead}" if refusal.instead else refusal.why
