"""A recipe in plain text, as people keep it: by its headings, or by what its lines look like.
Everything here is a guess, and says so."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from spoonfold.author.bring.around import Unpacked, unpacked
from spoonfold.author.bring.found import FoundRecipe, Heading
from spoonfold.author.bring.looks import (
    BULLET,
    NUMBERED,
    is_bare_food,
    is_food,
    is_measured,
    is_step,
    without,
)
from spoonfold.author.bring.makes import how_many, is_yield, serves
from spoonfold.author.bring.prose import ingredients_in
from spoonfold.author.bring.rows import is_list_line, rows, several
from spoonfold.author.words import unwrapped
from spoonfold.knowledge.brought import any_of
from spoonfold.quantity.number import starts_number
from spoonfold.quantity.plain import read_lines
from spoonfold.quantity.refusal import Refusal
from spoonfold.read.yaml_text import clean

_LISTED = re.compile(rf"(?i:the )?{any_of('listed')}(?i: \(.*\)| for .*)?")
_STEPPED = re.compile(rf"(?i:the )?{any_of('stepped')}")
_REST = re.compile(any_of("rest"))
# “Ingredients: 2 cups flour; 2 eggs. Directions: …” on one line; a time behind it is no list.
_HEADED_INLINE = re.compile(
    rf"(?m)(?:^[^\S\n]*|(?<=[.!?)])[^\S\n]+)((?:{any_of('listed')}|{any_of('stepped')})[^\S\n]*:)"
    r"[^\S\n]+(?=\S)(?![^\n]{0,12}(?i:\bmin|\bhour|\bhr))"
)
_TIME = re.compile(
    r"(?P<what>prep(?:aration)?|cook(?:ing)?|total|bak(?:e|ing)|rest(?:ing)?|ready in)"
    r"(?:\s+time)?\s*:\s*(?P<time>.*[0-9].*)",
    re.IGNORECASE,
)
_AUTHOR = re.compile(r"(?:recipe )?by\b:?\s+(?P<who>\S.{1,80})", re.IGNORECASE)
# A place, a book or a person; a sentence that only begins like that is about the dish.
_ORIGIN = re.compile(
    r"(?:(?:recipe )?from|source)\b:?\s+(?P<what>\S.{0,80})(?<![.!?])", re.IGNORECASE
)
_ADDRESS = re.compile(r"https?://[^\s<>\"]{3,300}")
_OPENING = re.compile(rf"(?:{any_of('opening')}\s+|{any_of('opening')}\s*[:,]\s*)+")
_SENTENCE = re.compile(r"(?<=[a-z)][.!?])\s+(?=[^\W\d_]|[0-9])")
_LEADERS = re.compile(r"\s*(?:\.{3,}|…+|\t+| {3,})\s*")
_MOST_IN_TITLE = 10
"""Words."""


@dataclass(slots=True)
class _Parts:
    """The lines of a text by what they are for."""

    top: list[str] = field(default_factory=list)
    listed: list[str] = field(default_factory=list)
    stepped: list[str] = field(default_factory=list)
    rest: list[str] = field(default_factory=list)


def from_text(text: str) -> FoundRecipe:
    """What can be told of a text: never nothing but its left-out lines."""
    around = unpacked(_HEADED_INLINE.sub(r"\n\1\n", text), is_measured)
    lines = around.lines
    kinds = [_kind(line) for line in lines]
    parts, guess = _parts(lines, kinds)
    top = _Top(around)
    top.read(parts)
    ingredients = list(_without_yields(rows(parts.listed), top))
    guesses = [guess, *around.guesses]
    steps = list(_steps([clean(line) for line in parts.stepped]))
    if not any(isinstance(each, str) for each in ingredients):
        words = " ".join(each for each in steps if isinstance(each, str))
        ingredients = list(ingredients_in(words))
        if ingredients:
            guesses.append("there is no list; the ingredients are those that the sentences name")
    for line in (*parts.rest, *parts.stepped):
        top.makes.extend(filter(None, [how_many(clean(line))[0]]) if not top.makes else ())
    left_out = (*around.left_out, *parts.rest)
    return FoundRecipe(
        title=top.title,
        description=" ".join(top.about),
        ingredients=tuple(ingredients),
        steps=tuple(steps),
        makes=tuple(dict.fromkeys(top.makes)),
        times=tuple(top.times),
        author=top.author,
        origin=tuple(top.origin),
        address=_address(text),
        left_out=tuple(filter(None, map(clean, (x for x in left_out if any(map(str.isalnum, x)))))),
        guesses=tuple(guesses),
    )


def _address(text: str) -> str:
    found = _ADDRESS.search(text)
    return found[0].rstrip(".,;)") if found else ""


def _kind(line: str) -> str:
    words = clean(line).strip("#*_ ").rstrip(":= ").strip()
    # A table whose first row says what its columns are.
    words = re.split(r"\t| {3,}", line.strip())[0] if "\t" in line.strip() else words
    if _LISTED.fullmatch(words):
        return "listed"
    if _STEPPED.fullmatch(words):
        return "stepped"
    return "rest" if _REST.fullmatch(words) else ""


def _parts(lines: Sequence[str], kinds: Sequence[str]) -> tuple[_Parts, str]:
    if "listed" not in kinds and "stepped" not in kinds:
        guess = "read as plain text without headings, by what each line looks like"
        return _by_looks(lines, has_title=True), guess
    parts = _by_headings(lines, kinds)
    if "listed" not in kinds:
        above = _by_looks(parts.top, has_title=True)
        parts.top, parts.listed = above.top, above.listed
        parts.stepped = [*above.stepped, *parts.stepped]
    elif "stepped" not in kinds:
        parts.listed, stepped = _parted(parts.listed)
        parts.stepped = [*stepped, *parts.stepped]
    return parts, "read as plain text, by its headings"


def _by_headings(lines: Sequence[str], kinds: Sequence[str]) -> _Parts:
    """Each from its heading to the next."""
    parts = _Parts()
    now, aside = parts.top, False
    places = {"listed": parts.listed, "stepped": parts.stepped, "rest": parts.rest}
    for line, kind in zip(lines, kinds, strict=True):
        # Above the ingredients a note ends with its paragraph.
        aside = (aside and bool(line.strip())) or (kind == "rest" and now is parts.top)
        if kind in ("listed", "stepped") or (kind and not aside):
            now, aside = places[kind], False
        if aside or kind == "rest":
            parts.rest.append(line)
        elif not kind:
            now.append(line)
    return parts


def _by_looks(lines: Sequence[str], has_title: bool) -> _Parts:
    """The first line is the title; what begins with an amount is an ingredient, with the bare foods
    around it; the rest below the first of them are steps."""
    title = next((n for n, line in enumerate(lines) if line.strip()), 0) if has_title else -1
    looks = [n for n, line in enumerate(lines) if _looks_listed(line) and n != title]
    if not looks and has_title and lines and several(lines[title].strip()):
        lead, colon, body = lines[title].partition(":")
        rest = list(lines[title + 1 :])
        return _Parts([lead] if colon else [], [body if colon else lead], rest)
    opening = lines[title].strip() if 0 <= title < len(lines) else ""
    if not looks and (_SENTENCE.search(opening) or len(opening.split()) > 2 * _MOST_IN_TITLE):
        return _Parts(stepped=list(lines[title:]))
    if not looks:
        return _Parts(top=list(lines[: title + 1]), stepped=list(lines[title + 1 :]))
    listed: set[int] = set()
    for run in _runs(lines, looks):
        begin, end = run[0], run[-1] + 1
        headed = _headed(lines, begin, title)
        if listed and len(run) == 1 and headed == begin and not _is_plain(lines[begin].strip()):
            # An amount far below the list is a short step that begins with a number.
            continue
        bulleted = BULLET.match(lines[begin].strip()) is not None
        while end < len(lines) and (
            is_bare_food(lines[end].strip())
            or (bulleted and BULLET.match(lines[end].strip()) and not is_step(lines[end].strip()))
        ):
            end += 1
        while begin > title + 1 and headed == begin and _is_food_above(lines[begin - 1].strip()):
            begin -= 1
            headed = begin
        listed.update(range(headed, end))
    first = min(listed)
    return _Parts(
        top=list(lines[:first]),
        listed=[
            each
            for n, line in enumerate(lines)
            if n in listed
            for each in ([line] if n - 1 in listed else ["", line])
        ],
        stepped=[line for n, line in enumerate(lines) if n > first and n not in listed],
    )


def _is_plain(words: str) -> bool:
    """Whether a line is an amount and a food, and nothing else."""
    read = read_lines(words)
    return not isinstance(read, Refusal) and is_food(read[0].name)


def _is_food_above(words: str) -> bool:
    return is_bare_food(words) and not how_many(words)[0]


def _runs(lines: Sequence[str], looks: Sequence[int]) -> Iterator[list[int]]:
    """Lines that look like ingredients, parted by what looks like a step."""
    run = [looks[0]]
    for before, after in pairwise(looks):
        if any(is_step(line.strip()) for line in lines[before + 1 : after]):
            yield run
            run = []
        run.append(after)
    yield run


def _headed(lines: Sequence[str], begin: int, title: int) -> int:
    """Where a run begins with the heading right above it."""
    above = begin - 1
    if above <= title or not lines[above].strip():
        return begin
    words = lines[above].strip()
    is_apart = above == 0 or not lines[above - 1].strip()
    is_short = len(words.split()) <= _MOST_IN_TITLE // 2 and not words.endswith((".", "!", "?"))
    if is_step(words):
        return begin
    is_head = words.endswith(":") or (is_apart and is_short and not is_bare_food(words))
    return above if is_head and not how_many(words)[0] else begin


def _looks_listed(line: str) -> bool:
    words = line.strip()
    return bool(words) and (is_measured(words) or is_list_line(words))


def _parted(lines: list[str]) -> tuple[list[str], list[str]]:
    """A list of ingredients that runs on into steps without a heading."""
    is_bulleted = bool(lines) and any(BULLET.match(line.strip()) for line in lines)
    first = len(lines)
    for number, line in enumerate(lines):
        words = line.strip()
        if is_bulleted and BULLET.match(words):
            continue
        goes_on = number and lines[number - 1].strip() and line[:1].isspace()
        if is_step(words) and not _looks_listed(line) and not goes_on:
            first = number
            break
    return lines[:first], lines[first:]


@dataclass(slots=True)
class _Top:
    """What stands above the ingredients."""

    around: Unpacked
    title: str = ""
    about: list[str] = field(default_factory=list)
    makes: list[str] = field(default_factory=list)
    times: list[str] = field(default_factory=list)
    origin: list[str] = field(default_factory=list)
    author: str = ""

    def read(self, parts: _Parts) -> None:
        """Takes a title, who wrote it, for how many, and what else is said."""
        lines = [clean(_LEADERS.sub(" ", line)) for line in parts.top]
        if not any(lines) and parts.stepped:
            lines = self._first_words(parts)
        first = self._title_at(lines)
        if self.around.subject:
            self.title = _sentence(self.around.subject)
        elif first is not None:
            self._titled(lines[first])
        address = _address("\n".join(lines))
        for number, line in enumerate(lines):
            if number != first or self.around.subject:
                self._said(line, address)
        for line in parts.listed[:1]:
            # “For 4: 1 loaf of bread; 4 tomatoes.”
            lead = line.partition(":")[0]
            self.makes.extend(filter(None, [how_many(f"{lead}:")[0]]) if ":" in line else ())

    def _first_words(self, parts: _Parts) -> list[str]:
        """The title of a text that is one paragraph: its first sentence, where that is short."""
        first, *others = _SENTENCE.split(parts.stepped[0].strip(), maxsplit=1)
        if len(first.split()) > _MOST_IN_TITLE or not others:
            return []
        parts.stepped[0] = others[0]
        return [first]

    def _title_at(self, lines: Sequence[str]) -> int | None:
        said = [n for n, line in enumerate(lines) if line]
        if not said:
            return None
        if self.around.is_talk:
            # Talk stands before it: the first line of the last message is the title.
            empty = [n for n in range(said[-1]) if not lines[n]]
            return next(n for n in said if n > (empty[-1] if empty else -1))
        return said[0]

    def _titled(self, line: str) -> None:
        line = without(NUMBERED, line).strip("#* ")
        first, *others = _SENTENCE.split(line, maxsplit=1)
        if others and len(first.split()) <= _MOST_IN_TITLE:
            line = first
            self.about.extend(others)
        many, rest = how_many(line)
        if many and rest:
            self.makes.append(many)
            line = rest
        bare = _OPENING.sub("", line) if _OPENING.match(line) else line
        self.title = _sentence(bare or line)

    def _said(self, line: str, address: str) -> None:
        bare = line.strip("#* ")
        many, rest = how_many(bare)
        if match := _TIME.fullmatch(bare):
            self.times.append(f"{match['what'].lower()}: {match['time']}")
        elif (many and not rest) or is_yield(bare):
            # “Makes 20, serves 10”: what says how many it feeds is told by itself.
            self.makes.extend((many, bare) if rest and serves((bare,))[1] else (bare,))
        elif not self.author and (author := _AUTHOR.fullmatch(bare)):
            self.author = author["who"]
        elif origin := _ORIGIN.fullmatch(bare):
            self.origin.extend([bare] if origin["what"] != address else [])
        elif bare and bare != address:
            self.makes.extend(filter(None, (many,)))
            self.about.append(bare)


def _sentence(words: str) -> str:
    """A title as it begins: with a capital letter, without the full stop of a sentence."""
    words = words.strip(" ,;:-–—")
    words = words[:-1] if words.endswith(".") and not words.endswith("..") else words
    words = words.capitalize() if words.isupper() and " " in words else words
    return words[:1].upper() + words[1:]


def _without_yields(listed: Iterator[str | Heading], top: _Top) -> Iterator[str | Heading]:
    for each in listed:
        words = clean(each.text if isinstance(each, Heading) else each)
        many, rest = how_many(words)
        if (many and not rest) or is_yield(words):
            top.makes.append(words)
        else:
            yield replace(each, text=words) if isinstance(each, Heading) else words


def _steps(lines: Sequence[str]) -> Iterator[str | Heading]:
    """Numbered lines, or those with bullets, with what runs on below them; else paragraphs; else
    sentences by line."""
    starts = NUMBERED if any(map(NUMBERED.match, lines)) else BULLET
    listed = starts is NUMBERED or sum(map(bool, map(BULLET.match, lines))) > 1
    # Text that is wrapped has its paragraphs parted by empty lines.
    parted = "" in "\n".join(lines).strip().split("\n")
    run: list[str] = []
    for line in [*lines, ""]:
        words = without(starts, line)
        heading = words.endswith(":") and len(words) <= 60 and not starts_number(words, 0)
        # In a list an empty line ends nothing: it may stand inside a step.
        ends = bool(starts.match(line)) if listed else not line
        if heading or ends:
            yield from _closed(run, listed or parted)
            run = []
        if heading:
            yield Heading(words.rstrip(": "))
        elif words:
            run.append(words)
    yield from _closed(run, listed or parted)


def _closed(run: Sequence[str], one: bool) -> Iterator[str]:
    """The steps of a run of lines."""
    steps = [" ".join(run)] if one else unwrapped(run)
    yield from (step for step in steps if any(map(str.isalnum, step)))
