"""A line of a file as a terminal shows it, cut round one spot, with a caret under that spot.

Columns of a terminal aren't characters: a tab is wide, Chinese letters are two columns, accents
that are written as signs of their own are none (Unicode Standard Annex 11, East Asian Width).
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

_CUT = "…"
_TAB = "→   "
"""A tab is seen: what is wrong with it is that it can't be."""
_STRANGE = "�"
_LEAST_AFTER = 12
"""So much of the line is seen from the spot on."""
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c")
"""Signs that make a terminal show what follows in another order (Unicode Annex 9)."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A line and what stands under it."""

    line: str
    caret: str | None
    """Spaces and the caret; None where no spot is known."""


def printable(text: str) -> str:
    """The text without signs that would command the terminal or turn the line round."""
    return text if text.isascii() and text.isprintable() else "".join(map(_seen, text))


def columns(text: str) -> int:
    """How many columns a terminal needs for printable text."""
    return len(text) if text.isascii() else sum(map(_columns, text))


def shown_line(line: str, column: int, room: int) -> Shown:
    """The line within `room` columns. `column` is counted in characters from 1; 0 is no spot."""
    at = max(column - 1, 0)
    # Of a line as long as a book only what can be seen is looked at.
    first = max(0, at - 4 * room)
    before = [_seen(sign) for sign in line[first:at]]
    after = [_seen(sign) for sign in line[at : at + 4 * room].rstrip()]
    cut = first > 0
    taken = sum(map(columns, before))
    if taken + sum(map(columns, after)) > room and taken > room - _LEAST_AFTER:
        cut, start = True, 0
        while start < len(before) and (taken > room // 2 - 1 or not columns(before[start])):
            taken -= columns(before[start])
            start += 1
        before = before[start:]
    head = (_CUT if cut else "") + "".join(before)
    width = columns(head)
    left = room - width
    if sum(map(columns, after)) > left:
        tail, left = "", left - 1
        for sign in after:
            left -= columns(sign)
            if left < 0:
                break
            tail += sign
        tail += _CUT
    else:
        tail = "".join(after)
    if not column:
        return Shown(head + tail, None)
    return Shown(head + tail, " " * width + "^" + _said(line, at, first))


def _said(line: str, at: int, first: int) -> str:
    """The word at the spot, where a terminal may show the line from right to left and so the
    caret under another word."""
    if not any(unicodedata.bidirectional(sign) in ("R", "AL") for sign in line[first : at + 40]):
        return ""
    word = re.match(r"\S{1,30}", line[at:])
    return f" “{printable(word[0])}”" if word else ""


def _seen(sign: str) -> str:
    if sign == "\t":
        return _TAB
    if sign in _TURNING or unicodedata.category(sign) in ("Cc", "Cs"):
        return _STRANGE
    return sign


def _columns(sign: str) -> int:
    # Vowels and finals of Hangul in parts share the columns of their first letter.
    if unicodedata.category(sign) in ("Mn", "Me", "Cf") or "\u1160" <= sign <= "\u11ff":
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1
