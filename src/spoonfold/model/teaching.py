"""Words, skills, lessons, and what was noted after a session."""

from __future__ import annotations

import datetime
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from spoonfold.model.classroom import Session
from spoonfold.model.prose import Prose
from spoonfold.model.recipe import Term
from spoonfold.problem import Place


@dataclass(frozen=True, slots=True)
class TranslatedWord:
    """A taught word in another language; None or empty: not translated."""

    term: str | None
    meaning: str | None
    say: str | None
    origin: str | None
    forms: tuple[str, ...]
    place: Place


@dataclass(frozen=True, slots=True)
class TranslatedSkill:
    """A skill in another language; None: not translated."""

    name: str | None
    how: str | None
    caution: str | None
    short: str | None
    place: Place


@dataclass(frozen=True, slots=True)
class Word:
    """A word that the class teaches."""

    term: str
    meaning: str
    say: str | None
    """How it is said, in plain letters."""
    origin: str | None
    forms: tuple[str, ...]
    place: Place
    translations: Mapping[str, TranslatedWord] = field(default_factory=dict)
    """By language."""


@dataclass(frozen=True, slots=True)
class Skill:
    """Something that hands learn to do."""

    name: str
    how: str
    caution: str | None
    short: str | None
    """The one-line reminder for the second time."""
    first: tuple[Term, ...]
    """Skills that come before it."""
    by_the_piece: bool
    place: Place
    translations: Mapping[str, TranslatedSkill] = field(default_factory=dict)
    """By language."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """A short talk of about ten minutes."""

    key: str
    title: str
    minutes: int | None
    aims: tuple[str, ...]
    sources: tuple[str, ...]
    body: Prose
    place: Place


@dataclass(frozen=True, slots=True)
class After:
    """What was noted when a day was over; no names. It belongs to its day and its dishes."""

    date: datetime.date | None
    """None: only known by a number that no session has."""
    session: int | None
    """Of this season; None: the day is one of an earlier season, or of none."""
    dishes: tuple[Term, ...]
    """What was cooked, where the session of that day doesn't say it."""
    came: int | None
    minutes: Mapping[str, Fraction]
    """How long each dish took, by its recipe."""
    keep: tuple[str, ...]
    change: tuple[str, ...]
    for_families: Prose
    """What they may read; all the rest is for adults of the class."""
    body: Prose
    """The rest."""
    place: Place
    spent: Fraction | None = None
    """On food, in the class's currency."""
    helpers: int | None = None
    """How many came besides the lead cook; None: as planned."""
    votes: Mapping[str, tuple[int, int]] = field(default_factory=dict)
    """By recipe, how many would eat it again, of how many."""
    quotes: tuple[str, ...] = ()
    """What was said, for the report; no names."""
    number: int | None = None
    """Of the session, as it was written."""
    named: datetime.date | None = None
    """The day that names its file."""

    def cooked(self, sessions: Sequence[Session]) -> frozenset[str]:
        """The recipes of that day, as far as anything says them."""
        planned = (each.dishes for each in sessions if each.number == self.session)
        own = self.dishes or next(planned, ())
        return frozenset((*(each.text for each in own), *self.minutes))
