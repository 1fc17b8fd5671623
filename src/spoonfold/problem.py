"""A located problem: what is wrong with what the author wrote, where, and what to write instead.

Problems are values. Every room returns them beside its result; none is ever raised.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import Enum
from typing import NamedTuple


class Level(Enum):
    """How much a problem matters. Only an error keeps a build from being swapped in."""

    ERROR = "error"
    WARNING = "warning"
    HINT = "hint"


class Place(NamedTuple):
    """Where something stands in the class folder. A tuple, since every word that is read has one:
    it is made in a third of the time."""

    path: str
    """The file, relative to the class folder, with forward slashes."""
    line: int = 0
    """Counted from 1; 0 means the file as a whole."""
    column: int = 0
    """Counted from 1 in characters; 0 means the line as a whole."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One way to mend a problem, ready to be written: new text in the place of some of a line."""

    place: Place
    """Where the old text stands, or a spot before it on its line."""
    old: str
    """Some of one line."""
    new: str
    """May be several lines."""
    certain: bool = False
    """Whether nothing is chosen by it: nothing else can have been meant, and no child's safety
    hangs on it."""

    def columns(self, line: str) -> tuple[int, int] | None:
        """Where the old text begins and ends in its line, counted from 1, the end behind the last
        character; None where it isn't there."""
        start = line.find(self.old, max(self.place.column - 1, 0))
        return None if start < 0 else (start + 1, start + 1 + len(self.old))


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing to mend."""

    code: str
    """The rule's name: kebab-case words that a cook can read."""
    level: Level
    place: Place
    message: str
    """What is wrong and why it matters, in one or two sentences."""
    hint: str = ""
    """What to write instead; a rewritten line stands alone on its own line."""
    food: str = ""
    """The food that it is about, as the author calls it; empty: none, or the one on its line."""
    edits: tuple[Edit, ...] = field(default=(), compare=False)
    """What the hint says to write, as data: each mends it, and where there are several she has to
    choose."""
    move: str = field(default="", compare=False)
    """The path that the whole file should have, where that mends it and nothing is chosen by it."""

    @property
    def certain_edit(self) -> Edit | None:
        """The one thing that it can be mended by; None where she has to choose or to say."""
        return self.edits[0] if len(self.edits) == 1 and self.edits[0].certain else None

    @property
    def is_mendable(self) -> bool:
        """Whether it can be mended without a choice of hers."""
        return self.certain_edit is not None or bool(self.move)


@dataclass(frozen=True, slots=True)
class Failure:
    """Why something can't be done here, whatever the author wrote: the disk, this machine, or the
    way in which it was asked for. Told to a person, and returned like a problem."""

    code: str
    message: str
    hint: str
    """What to do about it."""


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems by file, then line; the same problem once."""
    unique = dict.fromkeys(problems)
    return tuple(sorted(unique, key=lambda each: (each.place, each.code, each.message)))


@dataclass(frozen=True, slots=True)
class FileProblems:
    """What is to be mended in one file."""

    path: str
    problems: tuple[Problem, ...]
    """Errors, warnings, hints; within a level by line."""


def by_file(problems: Iterable[Problem]) -> tuple[FileProblems, ...]:
    """Problems as they are told: files with errors first, then by name; each problem once."""
    files: dict[str, list[Problem]] = {}
    for each in in_order(problems):
        files.setdefault(each.place.path, []).append(each)
    # Sorting keeps the order of what is equally important.
    told = [FileProblems(path, tuple(sorted(found, key=_rank))) for path, found in files.items()]
    return tuple(sorted(told, key=lambda each: _rank(each.problems[0])))


_RANKS = {level: rank for rank, level in enumerate(Level)}


def _rank(problem: Problem) -> int:
    return _RANKS[problem.level]


def has_errors(problems: Iterable[Problem]) -> bool:
    """Whether anything here forbids a build."""
    return any(each.level is Level.ERROR for each in problems)
