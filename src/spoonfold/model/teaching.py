"""Words, skills, lessons, and what was noted after a session."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

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
    """What was noted when a session was over; no names."""

    session: int
    date: datetime.date | None
    came: int | None
    minutes: Mapping[str, Fraction]
    keep: tuple[str, ...]
    change: tuple[str, ...]
    body: Prose
    place: Place
