"""What a build makes: sheets to print and files to write, part by part."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from spoonfold.check import Examined
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.people.jobs import SeasonJobs, jobs_of
from spoonfold.problem import Problem
from spoonfold.sheets.calendar import Calendar


@dataclass(frozen=True, slots=True)
class Sheet:
    """One PDF: what it shows, how it is laid out, where it goes."""

    paths: tuple[str, ...]
    """Below the output folder; one sheet may lie in two places."""
    doing: str
    """What is said while it is printed."""
    template: str
    values: Mapping[str, object]
    """What the template is handed."""
    language: str
    """Of its fixed texts."""
    sizes: tuple[str, ...] = ("",)
    """Sizes of type, the largest first: the first that fits is printed, or else the last."""
    sides: int | None = None
    """How many pages it may take; None for as many as it needs."""
    too_long: Problem | None = None
    """What is told where it takes more than that, also in the smallest type."""
    is_mini_book: bool = False
    """Its small pages are placed on one sheet to fold; where they are too many, nothing is
    made."""


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


@dataclass(frozen=True, slots=True)
class Tongue:
    """The class folder in one language, and the fixed texts that go with it."""

    folder: ClassFolder
    uses: Mapping[str, Uses]
    texts: Texts


@dataclass(frozen=True)
class Work:
    """All that sheets are made of."""

    examined: Examined
    classroom: Classroom
    tongues: tuple[Tongue, ...]
    """One for each language asked for."""
    main: Tongue
    """The class's first language: the adults' sheets are in it."""
    households: tuple[int, ...]
    """Sizes of booklets asked for."""

    @property
    def folder(self) -> ClassFolder:
        return self.main.folder

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
        return jobs_of(self.classroom, self.recipes)


Made = Sheet | File | Joined | Problem
"""A problem tells why something isn't made."""


@dataclass(frozen=True, slots=True)
class Part:
    """What `--only` may name, and makes."""

    name: str
    made: Callable[[Work], Iterable[Made]]
    owns: tuple[str, ...]
    """Patterns of its files below the output folder: carried over where it isn't made."""


def in_session(name: str) -> tuple[str, ...]:
    """The pattern of a sheet that every session's folder has."""
    return (f"class/session-*/{name}*",)
