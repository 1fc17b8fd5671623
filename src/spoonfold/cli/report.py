"""Problems as people read them: by file, the most important first. One formatter for every
command."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from spoonfold.cli.source_line import columns, printable, shown_line
from spoonfold.problem import FileProblems, Level, Place, Problem, by_file

Style = Callable[[str, str], str]
"""A text as its role looks: the name of a level, `file`, `beside` or `mend`."""
LineOf = Callable[[Place], str | None]
"""The source line at a place, where it is known."""

_NARROWEST = 40
_INDENT = "  "


def plain_style(text: str, role: str) -> str:
    """No colour."""
    return text


def listing(
    problems: Sequence[Problem], line_of: LineOf, width: int = 80, style: Style = plain_style
) -> str:
    """Every problem under the heading of its file, and at the end how to learn more."""
    width = max(width, _NARROWEST)
    files = by_file(problems)
    if not files:
        return ""
    parts = [part for each in files for part in _file(each, line_of, width, style)]
    codes = dict.fromkeys(each.code for file in files for each in file.problems)
    first = next(iter(codes))
    parts.append(
        "\n".join(
            wrapped(
                f"Why it matters: spoonfold why {first}"
                if len(codes) == 1
                else f"Why each matters: spoonfold why CODE, such as spoonfold why {first}",
                width,
            )
        )
    )
    return "\n\n".join(parts)


def _file(file: FileProblems, line_of: LineOf, width: int, style: Style) -> Iterator[str]:
    yield f"{style(printable(file.path), 'file')}: {summary(file.problems)}"
    for each in file.problems:
        yield "\n".join(_lines(each, line_of(each.place), width, style))


def _lines(problem: Problem, line: str | None, width: int, style: Style) -> Iterator[str]:
    """What and where, the line with a caret under the spot, what to write or to do."""
    level = problem.level.value
    where = f" on line {problem.place.line}" if problem.place.line else ""
    head = f"{_INDENT}{style(level, level)}{where}:"
    if len(f"{_INDENT}{level}{where}: {problem.code}") <= width:
        yield f"{head} {problem.code}"
    else:
        yield from (head, _INDENT + problem.code)
    yield from wrapped(problem.message, width, _INDENT)
    if line is not None and line.strip():
        number = f"{_INDENT}{problem.place.line} | "
        blank = f"{_INDENT}{' ' * len(str(problem.place.line))} | "
        shown = shown_line(line, problem.place.column, width - len(number))
        yield style(number, "beside") + shown.line
        if shown.caret is not None:
            yield style(blank, "beside") + style(shown.caret, level)
    if problem.hint:
        label = "mend: " if _is_sentence(problem.hint) else "write: "
        for count, part in enumerate(problem.hint.split("\n")):
            lead = _INDENT + (label if not count else " " * len(label))
            first, *rest = wrapped(part, width, lead, " " * len(lead))
            yield (
                first
                if count
                else _INDENT
                + style(label.rstrip(), "mend")
                + first[len(_INDENT) + len(label.rstrip()) :]
            )
            yield from rest


def _is_sentence(hint: str) -> bool:
    """Whether a hint tells what to do; otherwise it is what to write."""
    first = hint.split("\n", 1)[0].rstrip()
    return (first[0].isupper() or first[0] in "“`") and first[-1] in ".?!:`"


def wrapped(text: str, width: int, lead: str = "", below: str | None = None) -> list[str]:
    """The text in lines of at most `width` columns: `lead` stands before the first and `below`
    before the others. What is longer than a line, such as an address, isn't cut."""
    text = printable(text)
    below = lead if below is None else below
    # A line to be written keeps its indentation.
    lines, line = [], lead + text[: len(text) - len(text.lstrip())]
    taken, fresh = columns(line), True
    for word in text.split():
        size = columns(word)
        if not fresh and taken + 1 + size > width:
            lines.append(line)
            line, taken, fresh = below, columns(below), True
        line += word if fresh else f" {word}"
        taken += size + (not fresh)
        fresh = False
    return [*lines, line.rstrip()]


def summary(problems: Iterable[Problem]) -> str:
    """How many of each level: `2 errors, 1 warning`."""
    levels = [each.level for each in problems]
    words = [
        f"{count} {level.value}{'' if count == 1 else 's'}"
        for level in Level
        if (count := levels.count(level))
    ]
    return ", ".join(words) or "no problems"


def lines_of(texts: Mapping[str, str]) -> LineOf:
    """Looks source lines up in texts by path; each text is split once."""
    split: dict[str, list[str]] = {}

    def line(place: Place) -> str | None:
        if place.path not in texts or not place.line:
            return None
        if place.path not in split:
            split[place.path] = texts[place.path].split("\n")
        lines = split[place.path]
        return lines[place.line - 1] if place.line <= len(lines) else None

    return line


def explained(parts: Iterable[tuple[str, str]], width: int = 80) -> str:
    """Paragraphs, each behind what it answers."""
    width = max(width, _NARROWEST)
    return "\n\n".join("\n".join([head, *wrapped(text, width, _INDENT)]) for head, text in parts)
