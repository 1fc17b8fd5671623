"""Cases as readable text: a sentence, what is changed in the class of `base/`, what is found.

    # A step may wait only for steps that are there.
    @ recipes/broth.md
    <     - after: 1, 2
    >     - after: 1, 9
    = recipes/broth.md:33:5 error after-unknown

`<` lines stand in the file exactly once and become the `>` lines; `>` lines alone make a new
file; a blank line parts two changes of one file; `@ PATH gone` takes a file away. `=` lines
are the problems, in order, paths counted from `content/`; none at all: the class is right. What
the class of `base/` is told itself isn't listed.

Below a wrong case may stand the nearest that is right, by what is changed besides:

    ~ recipes/broth.md
    <     - after: 1, 9
    >     - after: 1, 2

`=` lines below that are what is still found.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

HERE = Path(__file__).parent
BASE = HERE / "base"


@dataclass(slots=True)
class Change:
    """One change of one file."""

    path: str
    old: list[str] = field(default_factory=list)
    new: list[str] = field(default_factory=list)
    gone: bool = False


@dataclass(slots=True)
class Case:
    """One written case."""

    title: str
    where: str
    changes: list[Change] = field(default_factory=list)
    expected: list[str] = field(default_factory=list)
    mended: Case | None = None
    """The nearest that is right: the same and a little more."""


def all_cases() -> Iterator[Case]:
    """Every case of every file, in order; what is right beside a wrong one comes behind it."""
    for path in sorted((HERE / "cases").glob("*.txt")):
        for case in cases_in(path):
            yield case
            if case.mended is not None:
                yield case.mended


def cases_in(path: Path) -> Iterator[Case]:
    """The cases of one file."""
    case: Case | None = None
    fresh = True
    for number, line in enumerate(path.read_text("utf-8").split("\n"), 1):
        mark, rest = line[:1], line[2:]
        if mark == "#":
            if case is not None:
                yield case
            told = case = Case(rest, f"{path.stem}:{number}")
        elif not line.strip():
            fresh = True
        elif case is None:
            raise AssertionError(f"{path.name}:{number} stands before the first case")
        elif mark in "@~":
            if mark == "~" and told is case:
                told = Case(f"{case.title} Mended.", f"{case.where} mended", [*case.changes])
                case.mended = told
            told.changes.append(Change(rest.removesuffix(" gone"), gone=rest.endswith(" gone")))
            fresh = False
        elif mark == "=":
            told.expected.append(rest)
        elif mark in "<>" and told.changes:
            if fresh:
                told.changes.append(Change(told.changes[-1].path))
                fresh = False
            (told.changes[-1].old if mark == "<" else told.changes[-1].new).append(rest)
        else:
            raise AssertionError(f"{path.name}:{number} can't be read: {line}")
    if case is not None:
        yield case


def write(case: Case, folder: Path) -> None:
    """Writes the class of `base/` with the changes of a case."""
    files = {
        path.relative_to(BASE / "content").as_posix(): path.read_text("utf-8")
        for path in sorted((BASE / "content").rglob("*"))
        if path.is_file()
    }
    for change in case.changes:
        old, new = ("".join(f"{line}\n" for line in lines) for lines in (change.old, change.new))
        if change.gone:
            del files[change.path]
        elif not change.old:
            assert change.path not in files, f"{change.path} is there already"
            files[change.path] = new
        else:
            before = files[change.path]
            assert before.count(old) == 1, f"{case.where}: {before.count(old)} times {old!r}"
            files[change.path] = before.replace(old, new)
    for name, text in files.items():
        path = folder / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
