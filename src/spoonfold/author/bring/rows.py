"""The lines of a list of ingredients, one food on each: out of tables, columns, lists with commas,
lines that were broken, lines with the amount behind."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from spoonfold.author.bring.found import Heading
from spoonfold.author.bring.looks import (
    BULLET,
    NUMBERED,
    foods_in,
    is_food,
    is_measured,
    is_step,
    without,
)
from spoonfold.author.bring.makes import how_many, is_yield
from spoonfold.knowledge.brought import any_of
from spoonfold.knowledge.line_words import DESCRIBING
from spoonfold.quantity.number import skip_spaces, starts_number
from spoonfold.quantity.phrase import scan_amount
from spoonfold.quantity.plain import read_lines
from spoonfold.quantity.refusal import Refusal, fold
from spoonfold.quantity.slips import AS_NEEDED
from spoonfold.quantity.unit import unit_named

_CELLS = re.compile(r"\t+| {3,}")
_BEHIND = re.compile(
    r"(?P<food>[^\W\d_][^:\t…]*?)\s*(?:\s[-–—]\s+|:\s+|\s*\.{3,}\s*|\s*…+\s*|\s+)"
    r"(?P<amount>(?:[0-9½⅓⅔¼¾⅛]|a\s).*)",
    re.IGNORECASE,
)
_PHRASE_BEHIND = re.compile(
    r"(?P<food>[^\W\d_][^:\t…]*?)\s*(?:\s[-–—]\s+|:\s+|\s*\.{3,}\s*|\s*…+\s*)(?P<amount>\S.*)"
)
_IN_BRACKETS = re.compile(r"(?P<food>[^\W\d_][^()]*?)\s*\((?P<amount>[^()]+)\)")
_SIZES = frozenset({"small", "medium", "large", "extra large"})
_UNFINISHED = re.compile(
    r"(?:,|\b(?:and|or|of|with|into|in|cut|for|the|a|y|de|et|und))$", re.IGNORECASE
)
_LEAD = re.compile(r"[^:,;]{1,60}:\s*")
_JOINT = re.compile(r"\s*;\s*|\s+[/|]\s+|,\s+(?:(?i:and)\s+)?")
_MARKED_APART = re.compile(r";|\s[/|]\s")
_MOST_IN_HEADING = 4
"""Words of a heading without a colon."""
_LEAST_LISTED = 3
"""Foods on one line that make a list of it."""


def rows(lines: Sequence[str]) -> Iterator[str | Heading]:
    """One ingredient each, as its source has it but for the order within; headings between."""
    counted = _counted(lines)
    cells = [(_CELLS.split(line.strip()) if line.strip() else []) for line in lines]
    columns = sum(len(each) == 2 and all(map(is_measured, each)) for each in cells) > 1
    for number, (line, parts) in enumerate(zip(_joined(lines, cells), cells, strict=True)):
        if line is None or not any(map(str.isalnum, line)):
            continue
        if columns and len(parts) == 2:
            yield from (without(BULLET, each.strip()) for each in parts if each.strip())
            continue
        words = without(BULLET, line.strip())
        words = without(NUMBERED, words) if counted else words
        if len(parts) > 1:
            row = _row([without(BULLET, each.strip()) for each in parts])
            if row:
                yield row
        elif _is_heading(words, _is_apart(lines, number)):
            yield Heading(words.rstrip(": "))
        else:
            foods = several(words)
            lead = words.partition(":")[0]
            if (
                foods
                and lead != words
                and not starts_number(words, 0)
                and not how_many(f"{lead}:")[0]
            ):
                yield Heading(lead)
            for each in foods or [words]:
                yield turned(each)


def _counted(lines: Sequence[str]) -> bool:
    """Whether the list is numbered: 1, 2, 3."""
    numbers = [
        int(re.sub(r"\D", "", found[0]))
        for line in lines
        if (found := NUMBERED.match(line.strip())) is not None
    ]
    return len(numbers) > 1 and numbers == list(range(1, len(numbers) + 1))


def _joined(lines: Sequence[str], cells: Sequence[Sequence[str]]) -> list[str | None]:
    """Each line with what was broken off it; None in the place of that."""
    whole: list[str | None] = list(lines)
    bulleted = sum(BULLET.match(line.lstrip()) is not None for line in lines)
    is_list = bulleted * 2 > sum(map(bool, map(str.strip, lines)))
    last: int | None = None
    for number, line in enumerate(lines):
        words = line.strip()
        begun = whole[last] if last is not None else None
        goes_on = (
            begun is not None
            and any(map(str.isalnum, words))
            and len(cells[number]) == 1
            and not BULLET.match(words)
            and not NUMBERED.match(words)
            and not words.endswith(":")
            and not is_measured(words)
            and ((is_list and not words[0].isupper()) or _UNFINISHED.search(begun) is not None)
        )
        if goes_on and begun is not None and last is not None:
            whole[last] = f"{begun.rstrip()} {words}"
            whole[number] = None
        else:
            last = number if words else None
    return whole


def _is_apart(lines: Sequence[str], number: int) -> bool:
    """Whether a line has nothing right above it and something right below."""
    above = lines[number - 1].strip() if number else ""
    below = lines[number + 1].strip() if number + 1 < len(lines) else ""
    return not above and bool(below)


def _is_heading(words: str, is_apart: bool) -> bool:
    if starts_number(words, 0):
        return False
    return words.endswith(":") or (
        is_apart
        and words[:1].isupper()
        and len(words.split()) <= _MOST_IN_HEADING
        and "," not in words
        and not foods_in(words)
        and not is_measured(words)
        and AS_NEEDED.search(words) is None
    )


def _row(cells: Sequence[str]) -> str:
    """A table's row with its amount first; nothing for the row that names the columns."""
    said = [each for each in cells if each]
    if not said or not (any(map(foods_in, said)) or any(starts_number(each, 0) for each in said)):
        return ""
    first = next((n for n, each in enumerate(said) if _is_amount(each)), None)
    if first is None:
        food, *rest = said
        return ", ".join((food, *rest))
    amount = said.pop(first)
    if not said:
        return amount
    if len(said) > 1 and first == 0 and unit_named(said[0]) is not None:
        amount += f" {said.pop(0)}"
    elif first == 1 and len(said) > 1 and unit_named(said[1]) is not None:
        amount += f" {said.pop(1)}"
    food, *rest = said
    return _put(amount, ", ".join((food, *rest)))


def _is_amount(cell: str) -> bool:
    if starts_number(cell, 0):
        return True
    return unit_named(cell.split()[0]) is not None and len(cell.split()) <= 2


def several(words: str) -> list[str]:
    """The foods of a line that holds a whole list; nothing where it holds one."""
    lead = _LEAD.match(words)
    body = words[lead.end() :] if lead and not starts_number(words, 0) else words
    parts = [each.strip(" .") for each in _JOINT.split(body)]
    measured = sum(map(is_measured, parts))
    apart = _MARKED_APART.search(body) is not None
    if not apart and measured < _LEAST_LISTED:
        return []
    if measured < 2 or len(parts) < _LEAST_LISTED:
        return []
    foods: list[str] = []
    for part in filter(None, parts):
        # Rather a line too many than a food that stands behind another as how it is prepared.
        is_new = bool(apart or not foods or is_measured(part) or foods_in(part))
        described = all(word in DESCRIBING for word in fold(part).split())
        if is_new and not (described and foods):
            foods.append(part)
        else:
            foods[-1] += f", {part}"
    return foods


def turned(words: str) -> str:
    """A line with its amount in front: `2 cups couscous` of “Couscous: 2 cups”."""
    if starts_number(words, 0):
        return words
    if is_measured(words) or is_yield(words) or how_many(words)[0]:
        return words
    bracket = _IN_BRACKETS.fullmatch(words)
    if bracket is not None and is_measured(f"{bracket['amount']} {bracket['food']}"):
        return _put(bracket["amount"], bracket["food"])
    found = _BEHIND.fullmatch(words)
    if found is not None and not found["food"].endswith(","):
        amount = found["amount"]
        scanned = scan_amount(amount, 0) if starts_number(amount, 0) else None
        if scanned is not None and not isinstance(scanned, Refusal):
            end = skip_spaces(amount, scanned.end)
            if end >= len(amount) or amount[end] in ",(":
                return _put(amount[: scanned.end], found["food"] + amount[scanned.end :].rstrip())
    phrase = _PHRASE_BEHIND.fullmatch(words)
    if phrase is not None:
        said = phrase["amount"]
        if AS_NEEDED.fullmatch(said) or re.fullmatch(any_of("as needed"), said):
            return f"{phrase['food']}, {said}"
    return words


def _put(amount: str, food: str) -> str:
    """The amount before the food, with the size that stands behind one of them."""
    name, comma, rest = food.partition(",")
    first, _, more = rest.strip().partition(",")
    if first.strip().lower() in _SIZES:
        amount, comma, rest = f"{amount} {first.strip().lower()}", "," if more else "", more
    # A row begins with a capital letter, where it began with the food.
    name = name.strip()
    if name[1:].islower() and is_food(name):
        name = name.lower()
    return f"{amount} {name}{comma}{' ' if comma else ''}{rest.strip()}"


def is_list_line(line: str) -> bool:
    """Whether a line holds a list of foods with their amounts, or one with its amount behind."""
    words = line.strip()
    if several(words):
        return True
    front = turned(without(BULLET, words))
    if front in (words, without(BULLET, words)):
        return False
    name = read_lines(front)
    is_known = not isinstance(name, Refusal) and bool(foods_in(name[0].name))
    return is_known or not is_step(words)
