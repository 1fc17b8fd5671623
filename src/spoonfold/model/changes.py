"""What is different on one day: each line of `content/changes/DATE.txt` as a value."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from enum import StrEnum

from spoonfold.model.recipe import Term
from spoonfold.problem import Place


class Kind(StrEnum):
    """What a line changes."""

    CHILDREN = "children"
    GUESTS = "guests"
    NEED = "need"
    MISSING = "missing"
    """Something that isn't there: a food, or a tool by `no`."""
    BROKEN = "broken"
    BORROWED = "borrowed"
    HELPERS = "helpers"
    MINUTES = "minutes"
    STARTS = "starts"
    DATE = "date"
    ROOM = "room"
    CALLED_OFF = "called off"
    AS_OF = "as of"


@dataclass(frozen=True, slots=True)
class Change:
    """One line."""

    kind: Kind
    place: Place
    text: str
    """As the author wrote it."""
    number: int = 0
    """So many; with `is_by`, so many more, or fewer where it is below zero."""
    is_by: bool = False
    table: int | None = None
    words: tuple[Term, ...] = ()
    """What is avoided, missing, broken or borrowed; the room; the author's time."""
    date: datetime.date | None = None
    starts: datetime.time | None = None
    keep_out: bool = False
    """Not even in the room."""

    @property
    def subject(self) -> tuple[object, ...]:
        """What it is about: two lines about the same contradict each other."""
        named = tuple(term.text.casefold() for term in self.words)
        return (self.kind, self.table, *(() if self.kind in _ONCE else named))


_ONCE = frozenset({Kind.ROOM, Kind.AS_OF})
"""Whose words are what it changes to, not what is changed."""


@dataclass(frozen=True, slots=True)
class DayChanges:
    """All that is different on the day of one session."""

    date: datetime.date
    """The day that was planned, by which the file is named."""
    lines: tuple[Change, ...]
    place: Place

    @property
    def as_of(self) -> str:
        """When it was known, in the author's words; empty: nobody said."""
        said = (each.words[0].text for each in self.lines if each.kind is Kind.AS_OF)
        return next(said, "")
