"""What sheets are made of, and what a row of the table of sheets says and hands over."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import IntEnum
from functools import cached_property

from spoonfold.check import Examined
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.people.jobs import SeasonJobs, jobs_of
from spoonfold.problem import Problem


@dataclass(frozen=True, slots=True)
class Edition:
    """The class folder in one language, and the fixed texts that go with it."""

    folder: ClassFolder
    uses: Mapping[str, Uses]
    texts: Texts

    @property
    def language(self) -> str:
        return self.texts.language


@dataclass(frozen=True)
class BuildContext:
    """All that sheets are made of."""

    examined: Examined
    classroom: Classroom
    editions: tuple[Edition, ...]
    """One for each language asked for."""
    main: Edition
    """The class's first language: the adults' sheets are in it."""
    households: tuple[int, ...]
    """Sizes of booklets asked for."""
    booklets: frozenset[str] = frozenset()
    """The files of booklets that will lie beside the site."""
    numbers: tuple[int, ...] = ()
    """Sessions asked for; none: all of them."""

    @property
    def folder(self) -> ClassFolder:
        return self.main.folder

    @property
    def sessions(self) -> tuple[Session, ...]:
        """Those whose sheets are asked for. What comes of the others counts all the same: whose
        turn it is, what is left over."""
        every = self.classroom.sessions
        return tuple(each for each in every if each.number in (self.numbers or (each.number,)))

    @property
    def texts(self) -> Texts:
        return self.main.texts

    @property
    def uses(self) -> Mapping[str, Uses]:
        return self.main.uses

    @property
    def recipes(self) -> Mapping[str, Recipe]:
        return self.main.folder.recipes

    @cached_property
    def season(self) -> SeasonJobs:
        """Who does what over the whole season: the turns depend on each other."""
        return jobs_of(self.classroom, self.recipes, self.examined.facts.clocks)


@dataclass(frozen=True, slots=True)
class Layout:
    """How a sheet is laid out on paper."""

    template: str
    """In `layouts/pages/`."""
    sizes: tuple[str, ...] = ("",)
    """Sizes of type, the largest first: the first that fits is printed, or else the last."""
    sides: int | None = None
    """How many pages it may take; None for as many as it needs."""
    holds: tuple[int, ...] = ()
    """The most letters that a sheet was seen to hold in each size but the last, and a little
    more; `tests/speed/sizes.py` prints what was seen."""
    is_mini_book: bool = False
    """Its small pages are placed on one sheet to fold; where they are too many, nothing is
    made."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One PDF: what it shows, how it is laid out, where it goes."""

    paths: tuple[str, ...]
    """Below the output folder; one sheet may lie in two places."""
    doing: str
    """What is said while it is printed."""
    layout: Layout
    values: Mapping[str, object]
    """What the template is handed."""
    language: str
    """Of its fixed texts."""
    sides: int | None = None
    """How many pages it may take, where that isn't what its layout says."""
    too_long: Problem | None = None
    """What is told where it takes more than that, also in the smallest type."""

    @property
    def most_pages(self) -> int | None:
        return self.layout.sides if self.sides is None else self.sides


@dataclass(frozen=True, slots=True)
class Page:
    """A page of the site."""

    path: str
    template: str
    values: object
    edition: Edition


@dataclass(frozen=True, slots=True)
class Event:
    """One meeting, in the local time of the class."""

    uid: str
    """The same for the same meeting of the same season, also after its date has changed."""
    starts: datetime.datetime
    ends: datetime.datetime
    summary: str
    location: str
    description: str
    is_called_off: bool = False


@dataclass(frozen=True, slots=True)
class Calendar:
    """A season's meetings."""

    name: str
    language: str
    stamp: datetime.datetime
    """When this was made; midnight of the season's first day, since nothing here asks a clock."""
    events: tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class File:
    """A file that is no PDF."""

    path: str
    content: Calendar | Sequence[Sequence[str]]
    """Rows of texts are a table for a spreadsheet, the headings first."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A finished PDF inside another."""

    path: str
    title: str
    """For the outline."""
    copies: int = 1


@dataclass(frozen=True, slots=True)
class Joined:
    """A PDF made of finished ones, with a slip that is printed when those are there."""

    path: str
    doing: str
    """What is said while it is made."""
    pieces: tuple[Piece, ...]
    """The finished ones, in order; one that isn't there is left out."""
    known_by: str
    """All that goes into it besides them."""
    title: str
    """Of the slip, for the outline."""
    slip: Callable[[Mapping[str, int]], Sheet]
    """The slip to print, by how many pages each that is there has."""
    is_folded: bool = False
    """Whether it is the only piece's pages, placed to be folded and stapled."""
    is_rtl: bool = False
    """Whether such pages are turned to the right."""


Made = Sheet | Page | File | Joined | Problem
"""A problem tells why something isn't made."""


class Moment(IntEnum):
    """When a sheet of the print pack is needed, in this order."""

    BEFORE = 1
    LEAD = 2
    """On the day, by the lead cook alone: keys lie here, so that none is handed out with the
    children's sheets."""
    DAY = 3
    DOOR = 4


@dataclass(frozen=True, slots=True)
class PackEntry:
    """A sheet of the print pack, and how often it is needed."""

    moment: Moment
    path: str
    """Of the finished file, from the top of the output."""
    title: str
    use: str
    """For whom, and when."""
    copies: int = 1
    """None where the day doesn't need it."""


@dataclass(frozen=True, slots=True)
class Part:
    """A row of the table of sheets: what `--only` may name, and makes."""

    made: Callable[[BuildContext], Iterable[Made]]
    owns: tuple[str, ...]
    """Patterns of its files below the output folder: carried over where it isn't made."""
    in_pack: Callable[[BuildContext, Session], Iterable[PackEntry]] = lambda context, session: ()
    """What a session's print pack has of it, in the class's first language."""


@dataclass(frozen=True, slots=True)
class SessionFile:
    """The file of a sheet that every session's folder has."""

    stem: str

    def name(self, language: str) -> str:
        return f"{self.stem}-{language}.pdf"

    def path(self, session: Session, language: str) -> str:
        return f"class/session-{session.number:02}/{self.name(language)}"

    @property
    def owns(self) -> tuple[str, ...]:
        return (f"class/session-*/{self.stem}*",)


_NAMED = 2
"""Parts that are named as the ones to shorten."""


def longest(parts: Sequence[tuple[int, str]]) -> str:
    """Which parts of a sheet that is too long to shorten, by how many letters each has."""
    chosen = sorted(parts, key=lambda part: -part[0])[:_NAMED]
    return " and ".join(f"{name} ({count} letters)" for count, name in chosen if count)
