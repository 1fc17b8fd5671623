"""For how many a recipe is, as its words say it."""

from __future__ import annotations

import re

from spoonfold.knowledge.brought import any_of
from spoonfold.knowledge.line_words import NUMBER_WORDS
from spoonfold.read.recipe import MOST_SERVINGS

_WORDS = {words: figures for words, figures in NUMBER_WORDS.items() if figures.isdigit()}
_NUMBER = rf"(?:(?<![0-9.,])[0-9]{{1,4}}|(?i:{'|'.join(_WORDS)}))(?![^\W_]|[.,][0-9])"
_RANGE = rf"{_NUMBER}(?:\s*(?:-|–|/|to|or|bis|à|a)\s*{_NUMBER})?"
_PEOPLE_WORD = rf"{any_of('people')}(?![^\W_])"
_PEOPLE = re.compile(rf"\b{_PEOPLE_WORD}")
_SAID = (
    re.compile(
        r"\b(?i:serves?|servings?|feeds?|portions?)\b\s*:?\s*(?:(?i:about|up to|roughly)\s+)?"
        rf"(?P<many>{_RANGE})"
    ),
    re.compile(rf"(?P<many>{_RANGE})\s+(?:[a-z]+\s+)?{_PEOPLE_WORD}"),
    # The end of a title, or what a list stands behind; “for 10 minutes” is neither.
    re.compile(rf"\b(?i:for|pour|für|para|per|voor)\s+(?P<many>{_RANGE})\s*(?=[,;:.)\]]|$)"),
)
_ANY_YIELD = re.compile(rf"^{any_of('feeds')}\b\W*(?:(?i:about|up to)\s+)?[0-9].*")
_FIGURES = re.compile(r"[0-9]+(?:\s*[./,⁄½⅓⅔¼¾]\s*[0-9]*)?")
_AROUND = re.compile(
    r"[\s,;:.(\[–—-]*(?:(?i:\b(?:it(?:'?s)?(?: will)?|this|(?:is )?enough|makes|recipe|is"
    r"|for|pour|für|para|per|voor)\b)\s*)*$"
)
_BEHIND = re.compile(rf"^\s*(?:[a-z]+\s+)?(?:{_PEOPLE_WORD})?[\s,;:.)\]!–—-]*")


def how_many(line: str) -> tuple[str, str]:
    """What a line says of how many it feeds, in figures, and the line without that; two empty
    texts where it says nothing, and an empty rest where it says nothing else."""
    for said in _SAID:
        found = said.search(line)
        if found is None:
            continue
        behind = _BEHIND.match(line[found.end("many") :])
        end = max(found.end(), found.end("many") + (behind.end() if behind else 0))
        before = _AROUND.sub("", line[: found.start()])
        rest = " ".join(filter(None, (before, line[end:].strip())))
        many = _in_figures(found["many"])
        return (f"serves {many}", rest if any(map(str.isalnum, rest)) else "")
    return "", ""


def is_yield(line: str) -> bool:
    """Whether a line says of how much there is, and nothing else: `Makes 2 loaves`."""
    return _ANY_YIELD.fullmatch(line) is not None and len(line.split()) <= 8


def serves(makes: tuple[str, ...]) -> tuple[str, list[str]]:
    """How many it feeds by what the source says of it, and the guess that this is, if it is one."""
    likely = ""
    for each in (_in_figures(said).rstrip(" .!,;") for said in makes):
        numbers = _FIGURES.findall(each)
        if not numbers or not numbers[0].isdigit() or not 1 <= int(numbers[0]) <= MOST_SERVINGS:
            continue
        people = bool(how_many(each)[0]) or _PEOPLE.search(each) is not None
        if people and len(numbers) == 1:
            return str(int(numbers[0])), []
        if not likely and (people or each == numbers[0]):
            likely = each
    if likely:
        number = str(int(_FIGURES.findall(likely)[0]))
        return number, [f"serves {number}, from “{likely}”"]
    return "4", ["serves 4: the source doesn't say how many it feeds"]


_IN_WORDS = re.compile(rf"\b(?i:{'|'.join(_WORDS)})\b")


def _in_figures(text: str) -> str:
    return _IN_WORDS.sub(lambda found: _WORDS[found[0].lower()], text)
