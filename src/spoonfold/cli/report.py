"""Problems as people read them, and as programs do. One formatter for every command."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Callable, Iterable, Mapping, Sequence

from spoonfold.problem import Level, Place, Problem

Style = Callable[[str, Level], str]
LineOf = Callable[[Place], str | None]
"""The source line at a place, where it is known."""

_NARROWEST = 40
_LEAST_CONTEXT = 12


def plain_style(text: str, level: Level) -> str:
    """No colour."""
    return text


def shown(
    problem: Problem, line: str | None, width: int = 80, style: Style = plain_style
) -> str:
    """One problem: where, what, the line with a caret under the spot, what to write instead."""
    width = max(width, _NARROWEST)
    where = problem.place.path
    if problem.place.line:
        where += f":{problem.place.line}"
        if problem.place.column:
            where += f":{problem.place.column}"
    head = f"{where}  {style(problem.level.value, problem.level)}  {problem.code}"
    parts = [head, *_wrapped(problem.message, width)]
    if line is not None and line.strip():
        parts.extend(_with_caret(line, problem.place.column, width))
    if problem.hint:
        for number, part in enumerate(problem.hint.split("\n")):
            lead = "  instead: " if number == 0 else "           "
            parts.extend(textwrap.wrap(
                part, width, initial_indent=lead, subsequent_indent=" " * len(lead),
                break_long_words=False, break_on_hyphens=False) or [lead.rstrip()])
    return "\n".join(parts)


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, initial_indent="  ", subsequent_indent="  ",
                         break_long_words=False, break_on_hyphens=False)


def _with_caret(line: str, column: int, width: int) -> list[str]:
    """The source line, cut round the spot where it is too long, and a caret."""
    # A tab is one column to the author and several on the screen.
    line = line.replace("\t", " ")
    room = width - 4
    start = 0
    if column and column - 1 >= room - _LEAST_CONTEXT:
        start = max(0, column - 1 - room // 2)
    cut = line[start : start + room].rstrip()
    lines = [f"  | {cut}"]
    if column and column - 1 - start <= len(cut):
        lines.append(f"  | {' ' * (column - 1 - start)}^")
    return lines


def summary(problems: Iterable[Problem]) -> str:
    """How many of each level: `2 errors, 1 warning`."""
    counted = [(level, sum(each.level is level for each in problems)) for level in Level]
    words = [
        f"{count} {level.value}{'' if count == 1 else 's'}" for level, count in counted if count
    ]
    return ", ".join(words) or "no problems"


def as_json(problems: Sequence[Problem]) -> str:
    """The same values for programs: a list of objects with fixed keys."""
    return json.dumps(
        [
            {
                "code": each.code,
                "level": each.level.value,
                "path": each.place.path,
                "line": each.place.line,
                "column": each.place.column,
                "message": each.message,
                "hint": each.hint,
            }
            for each in problems
        ],
        ensure_ascii=False,
        indent=2,
    )


def lines_of(texts: Mapping[str, str]) -> LineOf:
    """Looks source lines up in texts by path; each text is split once."""
    split: dict[str, list[str]] = {}

    def line(place: Place) -> str | None:
        if place.path not in texts or not place.line:
            return None
        lines = split.setdefault(place.path, texts[place.path].split("\n"))
        return lines[place.line - 1] if place.line <= len(lines) else None

    return line


def explained(parts: Iterable[tuple[str, str]], width: int = 80) -> str:
    """Paragraphs, each behind what it answers."""
    width = max(width, _NARROWEST)
    return "\n\n".join("\n".join([head, *_wrapped(text, width)]) for head, text in parts)
