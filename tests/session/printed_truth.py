"""What a session's finished sheets say, read back from their PDFs as text, and compared.

Nothing here asks how a sheet was made: amounts, letters, times and allergens are read by patterns
of their own, as a person reads them who lays the sheets side by side.
"""

from __future__ import annotations

import csv
import io
import re
from collections import defaultdict
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from pathlib import Path

import pypdfium2

SHEETS = ("table-cards", "home-labels", "brief", "lesson-card", "jobs", "prep", "shopping")
"""The parts of a session that are compared, as `--only` names them."""

_STEMS = {"brief": "helper-brief"}
"""Files that aren't called as their part is."""

_VULGAR = {
    "¼": Fraction(1, 4),
    "½": Fraction(1, 2),
    "¾": Fraction(3, 4),
    "⅓": Fraction(1, 3),
    "⅔": Fraction(2, 3),
    "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8),
    "⅝": Fraction(5, 8),
    "⅞": Fraction(7, 8),
    "⅕": Fraction(1, 5),
    "⅖": Fraction(2, 5),
    "⅗": Fraction(3, 5),
    "⅘": Fraction(4, 5),
    "⅙": Fraction(1, 6),
    "⅚": Fraction(5, 6),
}
_MARKS = "".join(_VULGAR)
NUMBER = rf"(?:\d+ \d+/\d+|\d+/\d+|\d+\.\d+|\d+[{_MARKS}]?|[{_MARKS}])"
# In teaspoons: NIST Handbook 44, appendix C, and the cup of 16 tablespoons; pinch and drop by
# common practice.
_VOLUMES: Mapping[str, Fraction | int] = {
    "pinch": Fraction(1, 16),
    "drop": Fraction(1, 60),
    "tsp": 1,
    "tbsp": 3,
    "fl oz": 6,
    "cup": 48,
    "pint": 96,
    "quart": 192,
    "gallon": 768,
}
_UNITS = (
    *(name for unit in _VOLUMES for name in (f"{unit}s", unit)),
    *("pinches", "ml", "litres", "litre", "l", "g", "kg", "oz", "lb"),
    *("cloves", "clove", "leaves", "leaf", "sheets", "sheet", "bunches", "bunch"),
    *("slices", "slice", "stalks", "stalk", "sprigs", "sprig", "heads", "head"),
    *("cans", "can", "packages", "package", "jars", "jar", "packs", "pack"),
)
_UNIT = rf"(?:(?:{'|'.join(_UNITS)})\b(?: \([^)]*?(?: each)?\))?)"
_SIZES = r"(?:large|medium|small)"
_ONE = rf"{NUMBER}(?: {_UNIT})?(?: {_SIZES})?"
AMOUNT = rf"{_ONE}(?: \+ {_ONE})*"

Sum = Mapping[str, Fraction]
"""How much there is, by what it is counted in: teaspoons, grams, ounces (sixteen a pound, NIST
Handbook 44), pieces, cans."""


def number_of(text: str) -> Fraction:
    """`1 1/2`, `1½`, `½`, `0.5`."""
    whole, _, rest = text.partition(" ")
    if rest:
        return Fraction(whole) + Fraction(rest)
    if text[-1] in _VULGAR:
        return Fraction(text[:-1] or 0) + _VULGAR[text[-1]]
    return Fraction(text)


def sum_of(text: str) -> Sum:
    """`½ cup + 2 tbsp` in teaspoons, `1¼ cans (15 oz each)` in cans."""
    found: dict[str, Fraction] = defaultdict(Fraction)
    for part in text.split(" + "):
        match = re.match(rf"({NUMBER})(?: ({_UNIT}))?", part)
        assert match is not None, text
        unit = re.sub(r" \(.*", "", match[2] or "piece")
        unit = {"leaves": "leaf", "bunches": "bunch", "pinches": "pinch"}.get(
            unit, unit.removesuffix("s")
        )
        size = number_of(match[1])
        if unit in _VOLUMES:
            size, unit = size * Fraction(_VOLUMES[unit]), "tsp"
        elif unit in ("litre", "l"):
            size, unit = size * 1000, "ml"
        elif unit == "kg":
            size, unit = size * 1000, "g"
        elif unit == "lb":
            size, unit = size * 16, "oz"
        found[unit] += size
    return dict(found)


def added(sums: list[Sum]) -> Sum:
    found: dict[str, Fraction] = defaultdict(Fraction)
    for one in sums:
        for unit, size in one.items():
            found[unit] += size
    return dict(found)


def flat(text: str) -> str:
    """Text on one line. Nothing is hyphenated on a sheet of the day: a hyphen at the end of a line,
    which PDFium reads as U+FFFE, is the word's own."""
    return re.sub(r"\s+", " ", re.sub(r"\ufffe\s*", "-", text)).strip()


@dataclass(frozen=True, slots=True)
class Page:
    """One page, line by line."""

    lines: tuple[str, ...]

    @property
    def text(self) -> str:
        return flat("\n".join(self.lines))


def pages_of(pdf: Path) -> tuple[Page, ...]:
    document = pypdfium2.PdfDocument(pdf.read_bytes())
    return tuple(
        Page(tuple(page.get_textpage().get_text_range().replace("\r", "").split("\n")))
        for page in document
    )


_CARD = re.compile(r"(.*?) (Table \d+|For all)(?: · \d+/\d+)? (.*?) ?Read every label\. ")
_SEAT = r"(?<!\S)[A-Z]{1,2}(?!\S)"
_WHO = rf"(?:{_SEAT} )+|everyone "
STEP = re.compile(rf"(?<!\S)(\d+) ({_WHO})?(\d+:\d\d) ")
_NAMED = re.compile(rf"(?<!\S)(\d+) ({_WHO})(?=\d+:\d\d |RAW |READY |[A-Z][a-z])")
_ELSEWHERE = re.compile("Done for you, before class|From the big pot, once|At the tables")
_LANES = re.compile(rf"(?:{_SEAT}(?: [a-z][^A-Z.:]*)? )+$")


@dataclass(frozen=True, slots=True)
class Card:
    """A table's card, or that of what is made once for all.

    It no longer says how many helpers and guests eat at the table, nor what it cooks with
    instead: a swap is told at the step that takes it.
    """

    where: str
    title: str
    allergens: str
    """What is in it and on which label to look, in the words of the card."""
    head: str
    """Between that and the first step: tools and, child by child, who has which job."""
    steps: str
    """What is done here, before class and elsewhere, and the strip of dangers."""

    @property
    def seats(self) -> tuple[str, ...]:
        match = _LANES.search(self.head)
        return tuple(re.findall(_SEAT, match[0])) if match else ()

    @property
    def who(self) -> Mapping[str, frozenset[str]]:
        """Letters by the number of a step, here or elsewhere; all seats where everyone does it."""
        return {
            number: frozenset(self.seats if who == "everyone " else who.split())
            for number, who in _NAMED.findall(self.steps)
        }

    @property
    def starts(self) -> Mapping[str, int]:
        """The minute on the clock face at which a step of this place begins, by its number."""
        return {number: minute_of(time) for number, _, time in STEP.findall(self.steps)}


def minute_of(time: str) -> int:
    """`1:05` in minutes since twelve."""
    hour, minute = map(int, time.split(":"))
    return hour % 12 * 60 + minute


@dataclass(frozen=True, slots=True)
class Label:
    """One label to take home."""

    table: str
    title: str
    allergens: str
    cold_by: str
    text: str


class SessionSheets:
    """The finished sheets of one session: `output` says where the build lies that has a part."""

    def __init__(self, output: Callable[[str], Path], number: int) -> None:
        self._output = output
        self.name = f"session-{number:02}"

    def __str__(self) -> str:
        return self.name

    def file(self, part: str, name: str) -> Path:
        return self._output(part) / "class" / self.name / name

    def pages(self, part: str) -> tuple[Page, ...]:
        """Of a part's sheet in English."""
        if part not in self._pages:
            self._pages[part] = pages_of(self.file(part, f"{_STEMS.get(part, part)}-en.pdf"))
        return self._pages[part]

    @cached_property
    def _pages(self) -> dict[str, tuple[Page, ...]]:
        return {}

    @cached_property
    def cards(self) -> tuple[Card, ...]:
        found: dict[tuple[str, str], Card] = {}
        for page in self.pages("table-cards"):
            # The back of a sheet with one side is blank.
            if not page.text:
                continue
            top = _CARD.match(page.text)
            assert top is not None, page.text
            title, where, allergens = top.groups()
            rest = page.text[top.end() :]
            begins = [match for each in (STEP, _ELSEWHERE) if (match := each.search(rest))]
            assert begins, page.text
            at = min(match.start() for match in begins)
            before = found.get((where, title))
            steps = f"{before.steps} {rest[at:]}" if before else rest[at:]
            found[where, title] = Card(where, title, allergens, rest[:at], steps)
        return tuple(found.values())

    @cached_property
    def labels(self) -> tuple[Label, ...]:
        found = []
        for page in self.pages("home-labels"):
            parts = re.split(r"(?=Table \d+ · )", page.text)[1:]
            for part in parts:
                head = re.match(
                    r"(Table \d+) · .*? · \w+, \w+ \d+, \d{4} (.*?) "
                    r"(?=Contains:|Check the label:|No listed ingredient)",
                    part,
                )
                assert head is not None, part
                rest = part[head.end() :]
                allergens = re.split(
                    r" (?:In it:|Not for a baby|Cold by|Eat it|On ice|Into the cold|Usual,)", rest
                )[0]
                cold = re.search(r"(?:Cold by|by) (\d+:\d\d [AP]M)", rest)
                found.append(
                    Label(head[1], head[2], allergens.strip(), cold[1] if cold else "", part)
                )
        return tuple(found)

    @cached_property
    def brief(self) -> str:
        return " ".join(page.text for page in self.pages("brief"))

    @cached_property
    def lesson(self) -> str:
        return " ".join(page.text for page in self.pages("lesson-card"))

    @property
    def wall(self) -> str:
        """What hangs on the wall of the lesson card, line by line."""
        lines = [line for page in self.pages("lesson-card") for line in page.lines]
        return "\n".join(lines).partition("Ten minutes late?")[0]

    @cached_property
    def prep(self) -> tuple[Page, ...]:
        return self.pages("prep")

    @cached_property
    def jobs(self) -> tuple[Page, ...]:
        return self.pages("jobs")

    @cached_property
    def shopping(self) -> tuple[Mapping[str, str], ...]:
        text = self.file("shopping", "shopping.csv").read_text(encoding="utf-8-sig")
        return tuple(csv.DictReader(io.StringIO(text)))

    @cached_property
    def shopping_text(self) -> str:
        return " ".join(page.text for page in self.pages("shopping"))
