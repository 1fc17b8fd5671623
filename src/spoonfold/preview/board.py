"""What the page tells at one moment, and the board where it is written and read.

The sheets that there are, by who they are for, and what tells that they have changed."""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace

from spoonfold.digest import digest_of
from spoonfold.knowledge.reasons import reasons
from spoonfold.press.memo import Memo
from spoonfold.problem import Problem, by_file, has_errors
from spoonfold.read.folder import Read

SITE = "site"
_BOOKLETS = "site/booklets/"
SESSION = re.compile(r"class/session-0*([0-9]+)/(.+)")
"""A file of one session: its number, and what it is called."""
_SHORT = 16
"""Signs of a digest: enough to tell two versions of one file apart."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One file to look at."""

    name: str
    """In words, from the file's own name."""
    path: str
    """Below the output."""


@dataclass(frozen=True, slots=True)
class Group:
    """Sheets that belong together."""

    title: str
    is_private: bool
    """Whether it is for the adults of the class alone."""
    entries: tuple[Entry, ...]


def groups_of(memo: Memo, languages: Collection[str]) -> tuple[Group, ...]:
    """What families get, what is for the whole season, and each session's sheets; the language
    is named where the class has several."""
    families, season = [], []
    sessions: dict[int, list[Entry]] = {}
    for path in sorted(memo.files, key=_order):
        top, _, rest = path.partition("/")
        session = SESSION.fullmatch(path)
        if session:
            sessions.setdefault(int(session[1]), []).append(
                Entry(_name(session[2], languages), path)
            )
        elif top == "families":
            families.append(Entry(_name(rest, languages), path))
        elif top == "class":
            season.append(Entry(_name(rest, languages), path))
    groups = (
        Group("For families", False, tuple(families)),
        Group("The whole season", True, tuple(season)),
        *(Group(f"Session {number}", True, tuple(sessions[number])) for number in sorted(sessions)),
    )
    return tuple(group for group in groups if group.entries)


def revisions_of(memo: Memo) -> Mapping[str, str]:
    """A mark for each sheet, and one for all pages of the site, that is another once it has
    changed: pages share their stylesheets and pictures."""
    pages = [
        piece
        for path in sorted(memo.files)
        if _is_page(path)
        for piece in (path, memo.files[path].digest)
    ]
    marks = {
        path: record.digest[:_SHORT] for path, record in memo.files.items() if not _is_page(path)
    }
    return {**marks, SITE: digest_of(*pages)[:_SHORT]} if pages else marks


def _is_page(path: str) -> bool:
    return path.startswith("site/") and not path.startswith(_BOOKLETS)


def _order(path: str) -> tuple[bool, list[tuple[int, str]]]:
    """What is printed comes first; a booklet for ten people comes after the one for two."""
    return not path.endswith(".pdf"), [
        (int(part), "") if part.isdecimal() else (-1, part)
        for part in re.split(r"([0-9]+|[-/.])", path)
        if part not in ("", "-")
    ]


def _name(file: str, languages: Collection[str]) -> str:
    """`helper-brief-en.pdf` as `Helper brief`; other kinds of file with their kind."""
    stem, _, kind = file.rpartition(".")
    words = re.split(r"[-/_]+", stem)
    found = [word for word in words if word in languages]
    rest = " ".join(word for word in words if word not in languages)
    notes = [*(found if len(languages) > 1 else []), *([kind] if kind != "pdf" else [])]
    return " ".join([rest[:1].upper() + rest[1:], *(f"({note})" for note in notes)])


_LONGEST = 240
"""Signs of a source line that are shown on each side of the spot."""


@dataclass(frozen=True, slots=True)
class Line:
    """A source line, parted at the spot that a problem is about."""

    before: str
    spot: str
    after: str


@dataclass(frozen=True, slots=True)
class Told:
    """One problem as the page tells it."""

    problem: Problem
    line: Line | None


@dataclass(frozen=True, slots=True)
class State:
    """Everything that the page tells."""

    class_name: str
    doing: str = ""
    """What is being made at this moment; empty when nothing is."""
    made_at: str = ""
    """The time of the last good build."""
    told: tuple[Told, ...] = ()
    trouble: tuple[str, ...] = ()
    """Why something could not be made on this computer, and how to mend it."""
    groups: tuple[Group, ...] = ()
    revisions: Mapping[str, str] = field(default_factory=dict)


class Board:
    """Holds the state: one thread writes, the server's threads read."""

    def __init__(self, state: State, begun: str) -> None:
        """`begun` tells this run of the preview from every other."""
        self._lock = threading.Lock()
        self._begun, self._number, self._state = begun, 0, state
        self.looked_at = ""
        """The page or sheet that was asked for last, below the output."""

    @property
    def state(self) -> State:
        return self._state

    def show(self, state: State) -> None:
        """Puts up another state."""
        with self._lock:
            if state != self._state:
                self._state, self._number = state, self._number + 1

    def doing(self, step: str) -> None:
        """Says what is being made; nothing else changes."""
        self.show(replace(self._state, doing=step))

    def news(self, seen: str) -> bytes | None:
        """The state as JSON; None for who has `seen` it, known by its token."""
        with self._lock:
            token, state = f"{self._begun}.{self._number}", self._state
        return None if seen == token else _as_json(token, state)


def told_of(problems: Iterable[Problem], read: Read) -> tuple[Told, ...]:
    """Problems with their source lines; each text is split once."""
    texts: dict[str, list[str]] = {}
    found = []
    for each in problems:
        place = each.place
        source = read.sources.get(place.path)
        if source is not None and place.path not in texts:
            texts[place.path] = source.text.split("\n")
        lines = texts.get(place.path, [])
        line = lines[place.line - 1] if 0 < place.line <= len(lines) else ""
        found.append(Told(each, _parted(line, place.column) if line.strip() else None))
    return tuple(found)


def _parted(line: str, column: int) -> Line:
    at = max(column - 1, 0)
    before, rest = line[:at], line[at:].rstrip()
    word = re.match(r"\S+|\s+", rest) if column else None
    spot = word[0] if word else ""
    after = rest[len(spot) :]
    return Line(
        ("…" if len(before) > _LONGEST else "") + before[-_LONGEST:],
        spot[:_LONGEST],
        after[:_LONGEST] + ("…" if len(after) > _LONGEST else ""),
    )


def _as_json(token: str, state: State) -> bytes:
    lines = {each.problem: each.line for each in state.told}
    problems = [each.problem for each in state.told]
    data = {
        "token": token,
        "class": state.class_name,
        "doing": state.doing,
        "madeAt": state.made_at,
        "hasErrors": has_errors(problems),
        "trouble": state.trouble,
        "files": [
            {"path": file.path, "problems": [_problem(each, lines[each]) for each in file.problems]}
            for file in by_file(problems)
        ],
        "why": {
            code: found.why
            for code in sorted({each.code for each in problems})
            if (found := reasons().get(code)) is not None
        },
        "groups": [
            {
                "title": group.title,
                "isPrivate": group.is_private,
                "entries": [{"name": each.name, "path": each.path} for each in group.entries],
            }
            for group in state.groups
        ],
        "revisions": state.revisions,
    }
    return json.dumps(data).encode()


def _problem(problem: Problem, line: Line | None) -> dict[str, object]:
    return {
        "level": problem.level.value,
        "code": problem.code,
        "line": problem.place.line,
        "message": problem.message,
        "hint": problem.hint,
        "source": None if line is None else [line.before, line.spot, line.after],
    }
