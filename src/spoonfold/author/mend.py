"""Writing into the class folder what `check` says to write, where nothing is chosen by it.

Every byte that isn't mended stays: line ends, a byte order mark, spaces at the end of a line,
comments. What is mended may show what else can be, so it is done in a copy, over and over, until
nothing more is; the folder itself is only written to by `write_mended`.
"""

from __future__ import annotations

import re
import shutil
import tempfile
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from pathlib import Path

from spoonfold.author.written import Refused, move_text, write_over
from spoonfold.check import examine
from spoonfold.problem import Edit, Problem

_MOST_ROUNDS = 20
"""More mistakes than that don't hide behind each other."""
_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)?")
_END = re.compile(r"[\r\n]*\Z")
_TEXTS = (".md", ".yaml", ".yml")
_MARK = "\ufeff"


@dataclass(frozen=True, slots=True)
class Mended:
    """One file with all that could be mended in it."""

    path: str
    """Relative to the class folder, with forward slashes."""
    before: str
    after: str
    """Both with their own line ends and byte order mark."""
    problems: int
    """How many were mended."""
    move: str = ""
    """Where the whole file goes; empty: it stays."""


def with_edits(text: str, edits: Iterable[Edit]) -> tuple[str, int]:
    """A file's text with some of its edits made, and how many: of two that meet only the first
    is, and none whose old text isn't where it says."""
    lines = _LINE.findall(text)
    by_line: dict[int, list[tuple[int, int, str]]] = defaultdict(list)
    made = 0
    for edit in edits:
        number = edit.place.line
        if not 1 <= number <= len(lines):
            continue
        found = _span(lines[number - 1], edit, number == 1)
        taken = by_line[number]
        if found is None or any(
            (found[0] < end and start < found[1]) or found[0] == start for start, end, _ in taken
        ):
            continue
        taken.append((*found, edit.new))
        made += 1
    for number, changes in by_line.items():
        line = lines[number - 1]
        for start, end, new in sorted(changes, reverse=True):
            line = line[:start] + new.replace("\n", _end_of(lines, number)) + line[end:]
        lines[number - 1] = line
    return "".join(lines), made


def _span(line: str, edit: Edit, is_first: bool) -> tuple[int, int] | None:
    """Where in a raw line the old text of an edit stands."""
    shift = len(_MARK) if is_first and line.startswith(_MARK) else 0
    bare = _END.sub("", line)[shift:]
    columns = edit.columns(bare)
    if columns is None:
        return None
    start, end = columns[0] - 1, columns[1] - 1
    is_whole = (start, end) == (0, len(bare))
    if "\n" in edit.new and not is_whole and bare[:start].strip() != "-":
        # Of what is part of a line only an item of a list, by itself on it, can become several.
        return None
    return start + shift, end + shift


def _end_of(lines: list[str], number: int) -> str:
    """How lines end where this one stands."""
    for line in (lines[number - 1], *lines):
        end = _END.search(line)
        if end is not None and end[0]:
            return end[0]
    return "\n"


def mend(
    folder: Path, is_wanted: Callable[[str], bool] = lambda path: True
) -> tuple[tuple[Mended, ...], tuple[Problem, ...]]:
    """Every wanted file of the folder that can be mended, and what is left of its problems then.
    Nothing is written."""
    with tempfile.TemporaryDirectory() as name:
        copy = Path(name)
        _copy_texts(folder, copy)
        before: dict[str, str] = {}
        texts: dict[str, str] = {}
        counts: dict[str, int] = defaultdict(int)
        tried: set[tuple[str, str, str, str]] = set()
        for _ in range(_MOST_ROUNDS):
            problems = examine(copy).problems
            wanted: dict[str, list[Edit]] = defaultdict(list)
            for each in problems:
                edit = each.certain_edit
                path = each.place.path
                if edit is None or not is_wanted(path):
                    continue
                # What was written once and is still complained of would be written for ever.
                key = (path, each.code, edit.old, edit.new)
                if key not in tried or edit.old not in edit.new:
                    wanted[path].append(edit)
                tried.add(key)
            changed = False
            for path, edits in wanted.items():
                text = texts.get(path)
                if text is None:
                    text = before[path] = _text_of(copy / path)
                new, made = with_edits(text, edits)
                if new != text:
                    changed = True
                    texts[path] = new
                    counts[path] += made
                    (copy / path).write_text(new, encoding="utf-8", newline="")
            if not changed:
                break
        moves = {
            each.place.path: each.move
            for each in problems
            if each.move and is_wanted(each.place.path)
        }
        for path in moves:
            if path not in texts:
                texts[path] = before[path] = _text_of(copy / path)
        mended = tuple(
            Mended(path, before[path], text, counts[path] + (path in moves), moves.get(path, ""))
            for path, text in sorted(texts.items())
            if text != before[path] or path in moves
        )
        return mended, tuple(each for each in problems if moves.get(each.place.path) != each.move)


def _text_of(path: Path) -> str:
    return path.read_bytes().decode("utf-8")


def _copy_texts(folder: Path, copy: Path) -> None:
    """What is read of a class, but no links and no pictures: those are never mended."""
    for path in sorted((folder / "content").rglob("*")):
        if path.suffix in _TEXTS and path.is_file() and not path.is_symlink():
            target = copy / path.relative_to(folder)
            target.parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, target)
    (copy / "content").mkdir(exist_ok=True)


def write_mended(folder: Path, mended: Collection[Mended]) -> tuple[Mended, ...] | Refused:
    """Writes files that were mended, each whole or not at all; a file that was changed meanwhile
    stays as it is."""
    for each in mended:
        try:
            is_same = _text_of(folder / each.path) == each.before
        except (OSError, UnicodeDecodeError):
            is_same = False
        if not is_same:
            return Refused(
                f"{each.path} was changed meanwhile, so it stays as it is.", "Try again."
            )
        refusal = (
            move_text(folder, each.path, each.move, each.after)
            if each.move
            else write_over(folder, each.path, each.after)
        )
        if refusal is not None:
            return refusal
    return tuple(mended)
