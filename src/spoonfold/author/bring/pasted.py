"""A recipe in plain text, as it is pasted from a letter or a document: by its headings, or by
what its lines look like. Everything here is a guess, and says so."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from spoonfold.author.bring.found import FoundRecipe, Heading
from spoonfold.author.words import unwrapped
from spoonfold.quantity.number import starts_number
from spoonfold.read.yaml_text import clean

_LISTED = re.compile(
    r"(?:the )?(?:ingredients?|(?:what )?you(?:(?: wi|')ll)? need|shopping list)"
    r"(?: \(.*\)| for .*)?",
    re.IGNORECASE,
)
_STEPPED = re.compile(
    r"(?:the )?(?:instructions?|directions?|methods?|steps?|preparation|procedure|to make"
    r"|to prepare|how to (?:make|prepare|cook)(?: it| this| them)?|what (?:you|to) do)",
    re.IGNORECASE,
)
_REST = re.compile(
    r"(?:[a-z]+'s )?(?:notes?|tips?|nutrition(?: facts| information)?|comments?|reviews?"
    r"|variations?|storage|equipment|tags?|related.*)|[0-9]+ (?:comments?|reviews?)",
    re.IGNORECASE,
)
_MAKES = re.compile(
    r"(?:serves|servings?|makes|yields?|portions?)\b\s*:?\s*(?:about\s+|up to\s+)?[0-9].*"
    r"|(?:for\s+)?[0-9]+(?:\s*(?:-|–|to)\s*[0-9]+)?\s+"
    r"(?:servings?|portions?|people|persons?|children)",
    re.IGNORECASE,
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
_NUMBERED = re.compile(r"(?:step\s*)?[0-9]{1,2}\s*[.):](?![0-9])\s*", re.IGNORECASE)
_BULLET = re.compile(r"[-*•·–—▢□☐◦‣+]\s+|[•▢□☐]")
_LONGEST_INGREDIENT = 120


def from_text(text: str) -> FoundRecipe:
    """What can be told of a text: never nothing but its left-out lines."""
    lines = [clean(line) for line in text.split("\n")]
    kinds = [_kind(line) for line in lines]
    guesses = ["read as plain text, by its headings"]
    if "listed" in kinds or "stepped" in kinds:
        top, listed, stepped, rest = _by_headings(lines, kinds)
    else:
        top, listed, stepped, rest = _by_looks(lines)
        guesses = ["read as plain text without headings, by what each line looks like"]
    if "listed" in kinds and "stepped" not in kinds:
        listed, stepped = _parted(listed)
    title = next((line for line in top if line), "")
    found = _ADDRESS.search(text)
    address = found[0].rstrip(".,;)") if found else ""
    about: list[str] = []
    makes, times, origin, author = [], [], [], ""
    for line in top[top.index(title) + 1 :] if title else []:
        if match := _TIME.fullmatch(line):
            times.append(f"{match['what'].lower()}: {match['time']}")
        elif _MAKES.fullmatch(line):
            makes.append(line)
        elif not author and (match := _AUTHOR.fullmatch(line)):
            author = match["who"]
        elif match := _ORIGIN.fullmatch(line):
            origin.extend([line] if match["what"] != address else [])
        elif line and line != address:
            about.append(line)
    return FoundRecipe(
        title=_without(_NUMBERED, title).strip("#* ") if title else "",
        description=" ".join(about),
        ingredients=tuple(_ingredients(listed, makes)),
        steps=tuple(_steps(stepped)),
        makes=tuple(makes),
        times=tuple(times),
        author=author,
        origin=tuple(origin),
        address=address,
        left_out=tuple(line for line in rest if any(map(str.isalnum, line))),
        guesses=tuple(guesses),
    )


def _without(lead: re.Pattern[str], line: str) -> str:
    """A line without what stands at its very beginning."""
    found = lead.match(line)
    return line if found is None else line[found.end() :]


def _kind(line: str) -> str:
    words = line.strip("#*_ ").rstrip(":").strip()
    if _LISTED.fullmatch(words):
        return "listed"
    if _STEPPED.fullmatch(words):
        return "stepped"
    return "rest" if _REST.fullmatch(words) else ""


Parts = tuple[list[str], list[str], list[str], list[str]]


def _by_headings(lines: Sequence[str], kinds: Sequence[str]) -> Parts:
    """The top, the ingredients, the steps and the rest, each from its heading to the next."""
    parts: dict[str, list[str]] = {"": [], "listed": [], "stepped": [], "rest": []}
    now, aside = "", False
    for line, kind in zip(lines, kinds, strict=True):
        # Above the ingredients a note ends with its paragraph.
        aside = (aside and bool(line)) or (kind == "rest" and now == "")
        if kind in ("listed", "stepped") or (kind and not aside):
            now, aside = kind, False
        if aside or kind == "rest":
            parts["rest"].append(line)
        elif not kind:
            parts[now].append(line)
    return parts[""], parts["listed"], parts["stepped"], parts["rest"]


def _by_looks(lines: Sequence[str]) -> Parts:
    """The first line is the title; what begins with an amount is an ingredient; what follows the
    last of these is a step."""
    looks = [number for number, line in enumerate(lines) if _looks_listed(line)]
    if not looks:
        first = next((n for n, line in enumerate(lines) if line), 0)
        return list(lines[: first + 1]), [], list(lines[first + 1 :]), []
    last = looks[-1]
    # An amount far below the list is a short step that begins with a number.
    for before, after in pairwise(looks):
        if any(
            _NUMBERED.match(line) or len(line) > _LONGEST_INGREDIENT
            for line in lines[before + 1 : after]
        ):
            last = before
            break
    return (list(lines[: looks[0]]), list(lines[looks[0] : last + 1]), list(lines[last + 1 :]), [])


def _looks_listed(line: str) -> bool:
    if _NUMBERED.match(line):
        return False
    words = _without(_BULLET, line)
    return bool(words) and starts_number(words, 0) and len(words) <= _LONGEST_INGREDIENT


def _parted(lines: list[str]) -> tuple[list[str], list[str]]:
    """A list of ingredients that runs on into steps without a heading."""
    first = next(
        (
            number
            for number, line in enumerate(lines)
            if _NUMBERED.match(line) or len(line) > _LONGEST_INGREDIENT
        ),
        len(lines),
    )
    return lines[:first], lines[first:]


def _ingredients(lines: Sequence[str], makes: list[str]) -> Iterator[str | Heading]:
    for line in lines:
        words = _without(_BULLET, line)
        if not any(map(str.isalnum, words)):
            continue
        if _MAKES.fullmatch(words):
            makes.append(words)
        elif words.endswith(":") and not starts_number(words, 0):
            yield Heading(words.rstrip(": "))
        else:
            yield words


def _steps(lines: Sequence[str]) -> Iterator[str | Heading]:
    """Numbered lines with what runs on below them; else paragraphs; else sentences by line."""
    numbered = any(_NUMBERED.match(line) for line in lines)
    bare = lines if numbered else [_without(_BULLET, line) for line in lines]
    # Text that is wrapped has its paragraphs parted by empty lines.
    parted = "" in "\n".join(bare).strip().split("\n")
    run: list[str] = []
    for line in [*bare, ""]:
        heading = line.endswith(":") and len(line) <= 60 and not starts_number(line, 0)
        # In a numbered list an empty line ends nothing: it may stand inside a step.
        ends = bool(_NUMBERED.match(line)) if numbered else not line
        if heading or ends:
            yield from _closed(run, numbered or parted)
            run = []
        if heading:
            yield Heading(line.rstrip(": "))
        elif line:
            run.append(_without(_NUMBERED, line) if numbered else line)
    yield from _closed(run, numbered or parted)


def _closed(run: Sequence[str], one: bool) -> Iterator[str]:
    """The steps of a run of lines."""
    steps = [" ".join(run)] if one else unwrapped(run)
    yield from (step for step in steps if any(map(str.isalnum, step)))
