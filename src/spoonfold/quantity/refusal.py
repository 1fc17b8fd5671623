"""A text that was not understood, said so that a cook can mend it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a text was refused, and what to write instead. A value; never raised."""

    code: str
    """Kebab-case words that name the kind of mistake."""
    why: str
    """One or two plain sentences for a cook."""
    offset: int
    """Where in the text the trouble starts, in characters from 0."""
    instead: str | None = None
    """The rewritten text, ready to paste; two lines where the text should be two lines.

    Where only the cook knows which of two readings is meant, both stand on one line with
    " or " between them: pasted whole, that is refused again and never read wrongly.
    """
    readings: tuple[str, ...] = ()
    """Those two readings, each by itself; none where there is but one."""
    certain: bool = False
    """Whether `instead` can be written without asking her: nothing is chosen by it."""


def fold(text: str) -> str:
    """The text with every run of white space as one space, and none before a comma."""
    return " ".join(text.split()).replace(" ,", ",").strip(" ,")


def rewritten(text: str, start: int, end: int, new: str) -> str:
    """The whole text with the characters from `start` to `end` replaced, and folded."""
    return fold(text[:start] + new + text[end:])


def either(first: str, second: str) -> str:
    """Two readings between which only the cook can choose."""
    return f"{first} or {second}"
