"""How much of a recipe came over: each ingredient line of a text beside the line that a careful
reader would have written."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path

import yaml

from spoonfold.author.bring.bring import found_in
from spoonfold.author.bring.file import Origin, recipe_text
from spoonfold.author.written import Refused
from spoonfold.quantity.plain import read_lines
from spoonfold.quantity.refusal import Refusal
from spoonfold.read.pantry import read_pantry

PANTRY = read_pantry(None, [])
_WANTED = "\n==== wanted\n"

Meaning = tuple[object, ...]
"""Of a line: its name, how much of it, in what, and what one holds."""


@dataclass(slots=True)
class Judged:
    """What became of the lines of one text."""

    lines: Counter[str] = field(default_factory=Counter)
    """How many came out `right`; `marked`, where a comment says what isn't; `wrong`, unmarked;
    `lost`; and how many were `made up`."""
    faults: list[str] = field(default_factory=list)
    text: str = ""


def judge(path: Path) -> Judged:
    """Brings a text in and compares. Behind `?` stand foods of which the text doesn't say how
    much, or which of two: right is a line for each with a mark above it."""
    given, _, wanted = path.read_text("utf-8").partition(_WANTED)
    judged = Judged()
    found = found_in(given.encode(), path.name)
    if isinstance(found, Refused):
        made: list[tuple[Meaning, bool]] = []
        judged.text = found.why
    else:
        judged.text = recipe_text(found[0], PANTRY, found[1], Origin()).text
        made = list(_made(judged.text))
    comments = " ".join(
        line for line in judged.text.split("\n") if line.lstrip().startswith("#")
    ).casefold()
    for line in filter(None, wanted.split("\n")):
        key, colon, value = line.partition(": ")
        if colon and key in ("title", "serves"):
            said = f"\n{key}: {value}\n"
            _tell(judged, "head right" if said in judged.text else "head wrong", line)
        else:
            _tell(judged, _became(line, made, comments), line)
    for meaning, is_marked in made:
        _tell(judged, "made up, marked" if is_marked else "made up", str(meaning[0]))
    return judged


def _tell(judged: Judged, kind: str, line: str) -> None:
    judged.lines[kind] += 1
    if kind not in ("right", "head right"):
        judged.faults.append(f"{kind}: {line}")


def _became(line: str, made: list[tuple[Meaning, bool]], comments: str) -> str:
    if line.startswith("? "):
        for each in made:
            if each[0][0] == line[2:].casefold() and each[1]:
                made.remove(each)
                return "right"
        name = line[2:].casefold()
    else:
        meaning = _meaning(line)
        for each in made:
            if each[0] == meaning:
                made.remove(each)
                return "right"
        name = str(meaning[0])
    last = name.split()[-1]
    for each in made:
        if last in str(each[0][0]):
            made.remove(each)
            return "marked" if each[1] else "wrong"
    return "marked" if last in comments else "lost"


def _made(text: str) -> list[tuple[Meaning, bool]]:
    """Each line of the list, and whether a comment stands right above it."""
    lines: list[tuple[Meaning, bool]] = []
    is_marked, is_list = False, False
    for line in text.split("\n---\n")[0].split("\n"):
        is_list = is_list or line == "ingredients:"
        if line.startswith("  - ") and not line.startswith("  - part:") and is_list:
            lines.append((_meaning(yaml.load(line[4:], yaml.BaseLoader)), is_marked))
        is_marked = line.startswith("  #")
    return lines


def _meaning(line: str) -> Meaning:
    read = read_lines(line)
    assert not isinstance(read, Refusal) and len(read) == 1, (line, read)
    said = read[0]
    if said.amount is None:
        return (said.name.casefold(), None)
    amount = said.amount
    each = amount.each
    held = None if each is None else (Fraction(each.low), each.unit.name)
    return (said.name.casefold(), amount.low, amount.high, amount.unit.name, amount.size, held)
