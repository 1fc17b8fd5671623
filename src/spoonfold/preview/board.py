"""What the page tells at one moment, and the board where it is written and read."""

from __future__ import annotations

import json
import re
import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from spoonfold.check.reasons.explain import explain
from spoonfold.preview.listed import Group
from spoonfold.problem import Problem, by_file, has_errors
from spoonfold.read.folder import Read

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
            if (found := explain(code)) is not None
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
