"""An ingredient line as cooks write it: what it says where it can mean one thing only.

`read_line` is strict and says of every slip how the line should be. Here that advice is followed:
where nothing is lost and nothing chosen by it, the line is read as it was meant; where something
is, the refusal's advice becomes lines that are read as they stand.
"""

from __future__ import annotations

import re
from dataclasses import replace
from functools import lru_cache

from spoonfold.quantity.grammar import Line, read_line
from spoonfold.quantity.number import skip_spaces, starts_number
from spoonfold.quantity.refusal import Refusal, either

_MOST_TRIES = 8
"""Slips in one line."""

_EACH = re.compile(r"\beach\b", re.IGNORECASE)

_SAME_MEANING = frozenset(
    {
        "a-for-one",
        "amount-behind",
        "comma-before-name",
        "comma-missing",
        "contents-before-unit",
        "optional-first",
        "seasoning-alone",
        "short-size",
        "word-for-number",
    }
)
"""Slips of form: the line that is advised says the same in another order."""

_SAME_FOOD = frozenset(
    {
        "bracket-after-name",
        "bracket-not-amount",
        "decimal-comma",
        "foreign-digit",
        "odd-character",
        "unit-misspelt",
    }
)
"""Slips that only one line can mend, though not quite what was written."""


# Half of all recipes hold the same few lines.
@lru_cache(maxsize=1 << 13)
def read_lines(text: str) -> tuple[Line, ...] | Refusal:
    """Every line that the text says: `salt and pepper` are two. Of a refusal, `instead` is read as
    it stands wherever anything can be advised, and `certain` where nothing else could be meant."""
    first, lines = _followed(text)
    if first is None:
        return tuple(line for _, line in lines)
    if not lines:
        return first
    return replace(first, instead="\n".join(words for words, _ in lines))


def _followed(text: str) -> tuple[Refusal | None, list[tuple[str, Line]]]:
    """What the text says once all advice is followed, line by line, and the first refusal that
    more than the form of the line stands behind. No lines: nobody can say."""
    told: Refusal | None = None
    offset: int | None = None
    lines: list[tuple[str, Line]] = []
    open_ones = [text]
    for _ in range(_MOST_TRIES):
        if not open_ones:
            break
        words = open_ones.pop(0)
        read = read_line(words)
        if isinstance(read, Line):
            lines.append((words, read))
            continue
        # Columns are those of the line as she wrote it.
        offset = read.offset if offset is None else offset
        if not _is_form(read, words):
            certain = read.code in _SAME_FOOD and not read.readings
            if told is None:
                told = replace(read, offset=offset, certain=certain)
            elif not certain:
                told = replace(told, certain=False)
        if read.readings:
            assert told is not None
            settled = [_settled(each) for each in read.readings]
            return replace(told, instead=either(*settled), readings=tuple(settled)), []
        if read.instead is None or read.instead == words:
            # What was advised before leads nowhere: this is what stands in the way.
            return replace(read, offset=offset, instead=None, certain=False), []
        open_ones[:0] = read.instead.split("\n")
    if open_ones:
        return told or Refusal("unreadable-amount", "This can't be read.", offset or 0), []
    return told, lines


def _settled(words: str) -> str:
    """One of two readings with every other slip mended too."""
    _, lines = _followed(words)
    return "\n".join(each for each, _ in lines) or words


def _is_form(refusal: Refusal, words: str) -> bool:
    if refusal.readings:
        return False
    if refusal.code == "two-ingredients":
        # With an amount and no “each”, nobody knows how much of which.
        unmeasured = not starts_number(words, skip_spaces(words, 0))
        return unmeasured or _EACH.search(words) is not None
    return refusal.code in _SAME_MEANING
