"""A cook's mistakes as readable text: a title, what is changed in the tiny class, the answer.

    # A bare letter for a unit
    @ recipes/rice.md
    <   - 2 cups water
    >   - 2 c water
    $ spoonfold check
    content/recipes/rice.md: 1 error
    ...

`<` lines stand in the file exactly once and become the `>` lines; a blank line parts two changes
of one file; `>` lines alone, or none at all, make a file whole. Behind the path may stand `gone`,
`copy of PATH`, `in ENCODING`, or `bytes`: then its lines are written with escapes. Below `$`
stands all that is printed, until the next title.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from tiny_class import FILES

CASES = Path(__file__).parent / "cases"
ASKED = "$ spoonfold check"


@dataclass(slots=True)
class Change:
    """One change of one file."""

    path: str
    how: str = ""
    old: list[str] = field(default_factory=list)
    new: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Mistake:
    """One case."""

    title: str
    where: str
    changes: list[Change]
    answer: str
    """All that is printed."""


def all_mistakes() -> Iterator[Mistake]:
    """Every case of every file, in order."""
    for path in sorted(CASES.glob("*.txt")):
        for text in parted(path.read_text("utf-8")):
            yield read(text, path.stem)


def parted(text: str) -> list[str]:
    """The cases of one file, each from its title on."""
    return re.split(r"^(?=# )", text, flags=re.MULTILINE)[1:]


def read(text: str, stem: str) -> Mistake:
    """One case from its text."""
    head, _, rest = text.partition("\n")
    asked, _, answer = rest.partition(f"{ASKED}\n")
    mistake = Mistake(head[2:], stem, [], answer.rstrip("\n") + "\n")
    fresh = True
    for line in asked.split("\n"):
        mark, words = line[:1], line[2:]
        if not mark:
            fresh = True
        elif mark == "@":
            path, _, how = words.partition(" ")
            mistake.changes.append(Change(path, how))
            fresh = False
        elif mark in "<>" and mistake.changes:
            if fresh:
                mistake.changes.append(Change(mistake.changes[-1].path))
                fresh = False
            (mistake.changes[-1].old if mark == "<" else mistake.changes[-1].new).append(words)
        else:
            raise AssertionError(f"{stem}: {mistake.title}: can't be read: {line}")
    return mistake


def files_of(mistake: Mistake) -> dict[str, bytes | None]:
    """What is to be written over the tiny class; None leaves a file out."""
    texts: dict[str, str] = dict(FILES)
    files: dict[str, bytes | None] = {}
    for change in mistake.changes:
        old, new = ("".join(f"{line}\n" for line in lines) for lines in (change.old, change.new))
        if change.how == "gone":
            files[change.path] = None
            continue
        if change.how == "bytes":
            # Escapes stand for bytes, one each.
            files[change.path] = (
                "".join(change.new).encode().decode("unicode_escape").encode("latin-1")
            )
            continue
        if change.how.startswith("copy of "):
            new = texts[change.how.removeprefix("copy of ")]
        elif change.old:
            before = texts[change.path]
            assert before.count(old) == 1, f"{mistake.title}: {before.count(old)} times {old!r}"
            new = before.replace(old, new)
        texts[change.path] = new
        files[change.path] = new.encode(
            change.how.removeprefix("in ") if change.how.startswith("in ") else "utf-8"
        )
    return files
