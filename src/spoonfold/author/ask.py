"""The questions that the words of a recipe leave open, each with what can be answered.

A way to mend a problem that chooses something is a question, and so is a note that a step should
have: how hot, who does it. The answer goes into the file as `mend` writes there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from spoonfold.author.mend import with_edits
from spoonfold.author.written import Refused, write_over
from spoonfold.problem import Edit, Level, Place, Problem

_NOTE = re.compile(r"- (?P<key>heat|adult|time|wait|done): (?P<value>\S.*)")
"""The last line of a hint that says which note a step should have."""
_STEP = re.compile(r"\s{0,3}[0-9]{1,9}[.)]\s")
_NOTE_LINE = re.compile(r"\s+[-*+]\s+(?P<key>[a-z ]+?)\s*:", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Question:
    """One thing that only she can say."""

    problem: Problem
    ways: tuple[Edit, ...]
    """What can be answered, the likeliest first; never none."""
    before: str = ""
    """What stands in front of her own words in what is written."""

    def shown(self, way: Edit) -> str:
        """An answer as it would stand in the file, without what stands there already."""
        return way.new.rsplit("\n", 1)[-1].strip() if self.before else way.new

    def own(self, words: str) -> Edit:
        """Her own words in the place of what can be answered."""
        return replace(self.ways[0], new=f"{self.before}{words}" if self.before else words)


def questions(problems: Iterable[Problem], path: str, text: str) -> tuple[Question, ...]:
    """The questions of one file, by line. `text` is the file's, with `\\n` line ends."""
    lines = text.split("\n")
    asked = []
    for each in problems:
        if each.place.path != path or each.level is Level.HINT or each.certain_edit is not None:
            continue
        if each.edits:
            asked.append(Question(each, each.edits))
            continue
        note = _NOTE.fullmatch(each.hint.rsplit("\n", 1)[-1].strip())
        spot = None if note is None else _spot(lines, each.place.line, note["key"])
        if note is not None and spot is not None:
            line, old, before = spot
            edit = Edit(Place(path, line, 1), old, f"{before}{note['value']}")
            asked.append(Question(each, (edit,), before))
    return tuple(sorted(asked, key=lambda each: each.problem.place))


def _spot(lines: Sequence[str], number: int, key: str) -> tuple[int, str, str] | None:
    """Where a note of the step on a line goes: the line whose place it takes, what stands there,
    and what is written up to its value. None: no step is there."""
    if not 1 <= number <= len(lines):
        return None
    first = next((n for n in range(number, 0, -1) if _STEP.match(lines[n - 1])), None)
    if first is None:
        return None
    last = first
    for n in range(first + 1, len(lines) + 1):
        line = lines[n - 1]
        if not line.strip() or _STEP.match(line) or line.startswith("#"):
            break
        note = _NOTE_LINE.match(line)
        if note is None:
            last = n if last == n - 1 else last
        elif note["key"].lower() == key:
            return n, line, line[: note.end()] + " "
    old = lines[last - 1]
    return (last, old, f"{old}\n    - {key}: ") if old else None


def write_answer(folder: Path, path: str, edit: Edit) -> Refused | None:
    """Writes one answer into its file, and no other byte of it."""
    text = (folder / path).read_bytes().decode("utf-8")
    changed, made = with_edits(text, [edit])
    if not made:
        return Refused(f"{path} was changed meanwhile, so it stays as it is.", "Try again.")
    return write_over(folder, path, changed)
