"""What YAML refuses, said so that a cook can mend it: the slip that was likely made, and the line
as it should be."""

from __future__ import annotations

import re

import yaml

from spoonfold.problem import Level, Place, Problem

_GLUED_KEY = re.compile(r"\s*([a-z][a-z ]*):([^\s:/][^:]*)")
"""`serves:4`"""
_BULLETS = ("–", "—", "•", "●", "▪", "‣", "·", "*", "+")
_BOX = re.compile(r"\s*- (\[[ xX]?\]) ")
_HARD_SPACE = re.compile("[\u00a0\u2007\u202f]")
_MARKED_VALUE = re.compile(r"\s*([a-z][a-z ]*): +([*&!].*\S)\s*")
"""`title: *Plain* rice`"""


def _last_item(lines: list[str]) -> int | None:
    """How far to the right the hyphen of the item above stands; None where the last line is
    none."""
    last = lines[-1] if lines else ""
    return len(last) - len(last.lstrip()) if last.lstrip().startswith("- ") else None


def _lone_words(line: str, place: Place) -> Problem:
    """Words on a line of their own where a key with its colon was to be."""
    words = line.strip()
    if words.startswith("-"):
        message, hint = "A space is missing behind the hyphen.", f"- {words.lstrip('-').strip()}"
    elif words.startswith(_BULLETS):
        message = "A list has plain hyphens; a word processor makes dashes and dots of them."
        hint = f"- {words.lstrip(''.join(_BULLETS)).strip()}"
    else:
        key, _, value = words.partition(" ")
        message = "A key is followed by a colon and a space, and here is none."
        plain = value and ":" not in words and " " not in value
        hint = (
            words.replace(":", ": ", 1)
            if re.match(r"[\w ]+:\S", words)
            else words.replace("：", ": ", 1)
            if "：" in words
            else f"{key}: {value}"
            if plain
            else "Write the key, a colon, a space, the value."
        )
    return Problem("unreadable-yaml", Level.ERROR, place, message, hint)


def yaml_problem(error: yaml.YAMLError, text: str, path: str, offset: int) -> Problem:
    """A YAML syntax error in a cook's words."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    what = str(getattr(error, "problem", None) or getattr(error, "reason", "") or "")
    lines = text.split("\n")
    line = min(mark.line, len(lines) - 1) if mark else 0
    column = mark.column if mark else 0
    here = lines[line] if lines else ""
    place = Place(path, line + offset, column + 1)

    begin = getattr(error, "context_mark", None)
    opening = Place(path, begin.line + offset, begin.column + 1) if begin else place

    def problem(code: str, message: str, hint: str, where: Place = place) -> Problem:
        return Problem(code, Level.ERROR, where, message, hint)

    tab = here.find("\t", 0, len(here) - len(here.lstrip()) or 1)
    if tab < 0 and "\\t" in what and "\t" in here:
        tab = here.index("\t")
    if tab >= 0:
        return problem(
            "tab",
            "There is a tab here; the indentation must be spaces.",
            here.replace("\t", "  ").rstrip() or "Delete the tab.",
            Place(path, line + offset, tab + 1),
        )
    for number in dict.fromkeys((begin.line if begin else line, line)):
        hard = _HARD_SPACE.search(lines[number]) if number < len(lines) else None
        if hard is not None:
            return problem(
                "unreadable-yaml",
                "This is a hard space, which looks like a space and isn't one; web pages and word "
                "processors leave it.",
                _HARD_SPACE.sub(" ", lines[number]).strip(),
                Place(path, number + offset, hard.start() + 1),
            )
    if "quoted scalar" in str(getattr(error, "context", "")):
        return problem(
            "unclosed-quote",
            "A quotation mark opens here and never closes.",
            "Close it, or remove it.",
            opening,
        )
    if "expected ','" in what and mark and begin and mark.line == begin.line:
        return problem(
            "unclosed-bracket",
            "Before this a comma is missing, or a bracket that closes.",
            "Put a comma between any two, and check that every [ has its ] and every { its }.",
        )
    if "flow" in str(getattr(error, "context", "")):
        return problem(
            "unclosed-bracket",
            "A bracket opens here and doesn't close as it should.",
            "Check that every [ has its ] and every { its }, with commas between.",
            opening,
        )
    if "mapping values are not allowed" in what and not (
        line and _GLUED_KEY.fullmatch(lines[line - 1])
    ):
        key, _, value = here.strip().partition(": ")
        return problem(
            "second-colon",
            "There is a second colon on this line, so it can't be read as one value.",
            f'{key}: "{value}"' if value else "Put quotes around the value.",
        )
    if "simple key" in str(getattr(error, "context", "")) and begin:
        return _lone_words(lines[min(begin.line, len(lines) - 1)], opening)
    glued = _GLUED_KEY.fullmatch(lines[line - 1]) if line else None
    if glued is not None and "mapping values" in what:
        return problem(
            "unreadable-yaml",
            "A space is missing behind the colon.",
            f"{glued[1]}: {glued[2]}",
            Place(path, line - 1 + offset, glued.end(1) + 1),
        )
    if (
        here.strip().startswith(("*", "&", "!", "%", "@", "`", "- *", "- &", "- @", "- `", "- %"))
        or "cannot start any token" in what
    ):
        return problem(
            "strange-start",
            f"A value can't begin with “{here[column : column + 1] or here.strip()[:1]}”.",
            "Put quotes around the whole value.",
        )
    marked = _MARKED_VALUE.fullmatch(here)
    if marked is not None and begin and begin.line == line:
        return problem(
            "strange-start",
            f"A value can't begin with “{marked[2][0]}”.",
            f'{marked[1]}: "{marked[2]}"',
            opening,
        )
    box = _BOX.match(here)
    if box is not None:
        return problem(
            "unreadable-yaml",
            "The box to tick isn't written here: the sheets draw it.",
            f"- {here[box.end() :].strip()}",
            Place(path, line + offset, box.start(1) + 1),
        )
    above = _last_item(lines[:line])
    if here.lstrip().startswith("- ") and above not in (None, len(here) - len(here.lstrip())):
        return problem(
            "unreadable-yaml",
            "This doesn't stand exactly below the item above it.",
            " " * (above or 0) + here.strip(),
        )
    return problem(
        "unreadable-yaml",
        "The layout of this line, or of the one before it, can't be read.",
        "Compare its indentation with the lines above: items of one list stand exactly below "
        "each other, and every key has a colon and a space.",
    )
