"""Signs that nobody sees and that no file of an author may hold."""

from __future__ import annotations

import re

from spoonfold.problem import Level, Place, Problem

# Controls, other line ends than a line feed, and what is no character at all: YAML 1.2
# (5.1) refuses most of them, and the rest would make the line numbers wrong.
_NOT_TEXT = re.compile(
    "[\\x00-\\x08\\x0b-\\x1f\\x7f-\\x9f\\u2028\\u2029\\ud800-\\udfff\\ufffe\\uffff]"
)

# Embeddings, overrides and isolates (Unicode Standard Annex 9, section 2): they print letters
# and figures in another order than they are written in, by which a reader is misled (Unicode
# Technical Report 36, bidirectional text spoofing). The marks that only lend a place the
# direction of a letter (U+200E, U+200F, U+061C) stay: who types Arabic or Hebrew may need one.
_TURNING = re.compile("[\u202a-\u202e\u2066-\u2069]")
# The same as YAML and Markdown spell a sign that isn't typed (YAML 1.2.2, 5.7; CommonMark 0.31,
# 6.2 and 2.5). A backslash in front of the spelling makes plain words of it, but not two.
_SPELT = re.compile(
    r"(?<!\\)((?:\\\\)*)(\\(?:u|U0000)20(?:2[a-e]|6[6-9])"
    r"|&#(?:x0*20(?:2[a-e]|6[6-9])|0*(?:823[4-8]|829[4-7]));)",
    re.IGNORECASE,
)
_LONGEST_SHOWN = 200
"""Characters of a line that is shown without its signs; a longer one is a whole paragraph."""


def odd_sign(text: str, path: str) -> Problem | None:
    """The first sign of a file that isn't text or turns the order of what is printed."""
    odd = _NOT_TEXT.search(text)
    if odd is not None:
        return Problem(
            "not-text",
            Level.ERROR,
            _place(text, odd.start(), path),
            "There is an invisible sign here that isn't text; a word processor may have put it in.",
            "Delete it, or type the line again by hand.",
        )
    turning = None if text.isascii() else _TURNING.search(text)
    if turning is not None:
        return _turned(
            text,
            turning.start(),
            path,
            f"An invisible sign stands here (U+{ord(turning[0]):04X}), which turns",
        )
    spelt = _SPELT.search(text) if "\\" in text or "&#" in text else None
    if spelt is not None:
        return _turned(
            text, spelt.start(2), path, f"`{spelt[2]}` means an invisible sign, which turns"
        )
    return None


def _turned(text: str, at: int, path: str, said: str) -> Problem:
    line = text[text.rfind("\n", 0, at) + 1 :].partition("\n")[0]
    mended = _SPELT.sub(r"\1", _TURNING.sub("", line)).strip()
    shown = 0 < len(mended) <= _LONGEST_SHOWN
    return Problem(
        "turned-text",
        Level.ERROR,
        _place(text, at, path),
        f"{said} the order of what follows: an amount or a food could be printed otherwise than "
        "it is written.",
        # Which of the two was meant, what is seen or what is kept, the author alone knows.
        "Type the line again by hand, as it is meant; words of every language find their "
        "direction without such a sign."
        + (f" Without it the line reads:\n{mended}" if shown else ""),
    )


def _place(text: str, at: int, path: str) -> Place:
    return Place(path, text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at))
