"""Cases as readable text: a sentence behind `#`, and the lines below it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path


@dataclass(slots=True)
class Case:
    """One written case."""

    title: str
    where: str
    lines: list[str] = field(default_factory=list)


def cases_in(path: Path) -> Iterator[Case]:
    """The cases of one file."""
    case: Case | None = None
    for number, line in enumerate(path.read_text("utf-8").split("\n"), 1):
        if line.startswith("# "):
            if case is not None:
                yield case
            case = Case(line[2:], f"{path.stem}:{number}")
        elif line.strip():
            assert case is not None, f"{path.name}:{number} stands before the first case"
            case.lines.append(line.rstrip())
    if case is not None:
        yield case
