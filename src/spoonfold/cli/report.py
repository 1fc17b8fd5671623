"""Problems as people read them: by file, the most important first. One formatter for every
command.

A line of a file as a terminal shows it, cut round one spot, with a caret under that spot.

Columns of a terminal aren't characters: a tab is wide, Chinese letters are two columns, accents
that are written as signs of their own are none (Unicode Standard Annex 11, East Asian Width)."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.problem import FileProblems, Level, Place, Problem, by_file

_CUT = "…"
_TAB = "→   "
"""A tab is seen: what is wrong with it is that it can't be."""
_STRANGE = "�"
_LEAST_AFTER = 12
"""So much of the line is seen from the spot on."""
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c")
"""Signs that make a terminal show what follows in another order (Unicode Annex 9)."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A line and what stands under it."""

    line: str
    caret: str | None
    """Spaces and the caret; None where no spot is known."""


def printable(text: str) -> str:
    """The text without signs that would command the terminal or turn the line round."""
    return text if text.isascii() and text.isprintable() else "".join(map(_seen, text))


def columns(text: str) -> int:
    """How many columns a terminal needs for printable text."""
    return len(text) if text.isascii() else sum(map(_columns, text))


def shown_line(line: str, column: int, room: int) -> Shown:
    """The line within `room` columns. `column` is counted in characters from 1; 0 is no spot."""
    at = max(column - 1, 0)
    # Of a line as long as a book only what can be seen is looked at.
    first = max(0, at - 4 * room)
    before = [_seen(sign) for sign in line[first:at]]
    after = [_seen(sign) for sign in line[at : at + 4 * room].rstrip()]
    cut = first > 0
    taken = sum(map(columns, before))
    if taken + sum(map(columns, after)) > room and taken > room - _LEAST_AFTER:
        cut, start = True, 0
        while start < len(before) and (taken > room // 2 - 1 or not columns(before[start])):
            taken -= columns(before[start])
            start += 1
        before = before[start:]
    head = (_CUT if cut else "") + "".join(before)
    width = columns(head)
    left = room - width
    if sum(map(columns, after)) > left:
        tail, left = "", left - 1
        for sign in after:
            left -= columns(sign)
            if left < 0:
                break
            tail += sign
        tail += _CUT
    else:
        tail = "".join(after)
    if not column:
        return Shown(head + tail, None)
    return Shown(head + tail, " " * width + "^" + _said(line, at, first))


def _said(line: str, at: int, first: int) -> str:
    """The word at the spot, where a terminal may show the line from right to left and so the
    caret under another word."""
    if not any(unicodedata.bidirectional(sign) in ("R", "AL") for sign in line[first : at + 40]):
        return ""
    word = re.match(r"\S{1,30}", line[at:])
    return f" “{printable(word[0])}”" if word else ""


def _seen(sign: str) -> str:
    if sign == "\t":
        return _TAB
    if sign in _TURNING or unicodedata.category(sign) in ("Cc", "Cs"):
        return _STRANGE
    return sign


def _columns(sign: str) -> int:
    # Vowels and finals of Hangul in parts share the columns of their first letter.
    if unicodedata.category(sign) in ("Mn", "Me", "Cf") or "\u1160" <= sign <= "\u11ff":
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1


Style = Callable[[str, str], str]
"""A text as its role looks: the name of a level, `file`, `beside` or `mend`."""
LineOf = Callable[[Place], str | None]
"""The source line at a place, where it is known."""

_NARROWEST = 40
_INDENT = "  "


def plain_style(text: str, role: str) -> str:
    """No colour."""
    return text


@dataclass(frozen=True, slots=True)
class Told:
    """Which problems are set out, and what the others are asked for by."""

    least: Level = Level.HINT
    """None that matters less is set out, where anything that matters more is wrong."""
    more: str = ""
    """The command that sets out all of them."""


def listing(
    problems: Sequence[Problem],
    line_of: LineOf,
    width: int = 80,
    style: Style = plain_style,
    folder: str = "",
    told: Told = Told(),
) -> str:
    """Every problem behind where it stands, what matters most last: it is what a terminal shows
    when all has run through. At the end how to learn more. `folder`: the class folder as seen from
    where the command was called, with a slash behind it."""
    width = max(width, _NARROWEST)
    every = [each for file in by_file(problems)[::-1] for each in _worst_last(file)]
    shown = [each for each in every if _rank(each.level) <= _rank(told.least)]
    if not shown and told.least is not Level.ERROR:
        # Nothing is worse than these.
        shown = every
    parts = ["\n".join(_lines(each, line_of(each.place), width, style, folder)) for each in shown]
    left = [each for each in every if each not in shown] if len(shown) < len(every) else []
    if left:
        parts.append("\n".join(wrapped(f"And {summary(left)}: {told.more}", width)))
    codes = dict.fromkeys(each.code for each in reversed(shown))
    if codes:
        worst = next(iter(codes))
        why = (
            f"Why it matters: spoonfold why {worst}"
            if len(codes) == 1
            else f"Why each matters: spoonfold why CODE, such as spoonfold why {worst}"
        )
        parts.append("\n".join(wrapped(why, width)))
    return "\n\n".join(parts)


def told(problem: Problem, line_of: LineOf, width: int = 80, style: Style = plain_style) -> str:
    """One problem by itself."""
    width = max(width, _NARROWEST)
    return "\n".join(_lines(problem, line_of(problem.place), width, style, ""))


def _rank(level: Level) -> int:
    return list(Level).index(level)


def _worst_last(file: FileProblems) -> list[Problem]:
    """By line within a level."""
    return sorted(file.problems, key=lambda each: -_rank(each.level))


def _lines(
    problem: Problem, line: str | None, width: int, style: Style, folder: str
) -> Iterator[str]:
    """Where and what, in the form that editors and terminals open (`path:line:column:`, GNU Coding
    Standards, “Formatting Error Messages”); the line with a caret under the spot; what to write or
    to do."""
    level, place = problem.level.value, problem.place
    spot = f":{place.line}:{place.column or 1}" if place.line else ""
    where = printable(folder + place.path + spot)
    head = f"{style(where, 'file')}: {style(level, level)}:"
    if columns(f"{where}: {level}: {problem.code}") <= width:
        yield f"{head} {problem.code}"
    else:
        # What a terminal opens stays whole.
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
