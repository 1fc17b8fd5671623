"""Tools, appliances, vessels, surfaces and places: one list, asked by every room.

A name is known in any language of the list, in the singular or the plural, with or without
accents, and with words around it: a blue bread knife is a bread knife. Doubt adds a danger and
never takes one away: of a name that says two things, both count.
"""

from __future__ import annotations

import difflib
import itertools
import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import lru_cache

from spoonfold.knowledge.data import data
from spoonfold.knowledge.names import fold, singulars


class Kind(StrEnum):
    """What a tool is, for whoever plans, packs, washes or warns."""

    BLADE = "blade"
    KNIFE = "knife"
    MOVING_BLADE = "moving blade"
    OPENER = "opener"
    HOT = "hot"
    HEAT_SOURCE = "heat source"
    STOVE = "stove"
    OVEN = "oven"
    GRIDDLE = "griddle"
    HEATED_POT = "heated pot"
    CORD = "cord"
    VESSEL = "vessel"
    POT = "pot"
    PAN = "pan"
    BIG_POT = "big pot"
    BOWL = "bowl"
    HOLDER = "holder"
    SURFACE = "surface"
    BOARD = "board"
    STIRRER = "stirrer"
    TURNER = "turner"
    COLD_PLACE = "cold place"
    COOLER = "cooler"
    THERMOMETER = "thermometer"
    SINK = "sink"
    SCALE = "scale"
    TOWEL = "towel"
    OTHER = "other"


DANGERS = frozenset(
    {
        Kind.BLADE,
        Kind.MOVING_BLADE,
        Kind.OPENER,
        Kind.HOT,
        Kind.GRIDDLE,
        Kind.OVEN,
        Kind.STOVE,
        Kind.CORD,
        Kind.POT,
        Kind.BIG_POT,
    }
)
"""Kinds that can hurt."""


class Washed(StrEnum):
    """Who washes it up, and when."""

    CHILDREN = "by children"
    END = "at the end"
    """Hot, heavy or sharp inside: left for the clean-up."""
    WIPED = "wiped"
    NEVER = "never"


@dataclass(frozen=True, slots=True)
class Tool:
    """What is known of one thing."""

    name: str
    kinds: frozenset[Kind]
    """With all that they imply: an oven is a heat source."""
    names: Mapping[str, tuple[str, ...]] = field(default_factory=dict, compare=False, repr=False)
    """Its other names, by language."""
    cautions: tuple[str, ...] = ()
    """What calls for attention wherever it is used; what depends on the step is left to rules."""
    wash: str | None = None
    """What the note `wash` calls it; None: no note names it."""
    washed: Washed = Washed.NEVER
    raw: str = ""
    """Whether it may touch raw food, and what then."""
    source: str = ""
    whole: bool = False
    """Its names say little, and stand in those of other things too: a steam box is no box."""

    @property
    def is_sharp(self) -> bool:
        """Whether it is a blade, or counted like one."""
        return not self.kinds.isdisjoint((Kind.BLADE, Kind.KNIFE))

    @property
    def dangers(self) -> frozenset[str]:
        """All about it that can hurt: two things without the same must not be confused."""
        return frozenset(self.cautions) | (self.kinds & DANGERS)


@dataclass(frozen=True, slots=True)
class _Known:
    tools: tuple[Tool, ...]
    about: Mapping[Kind, str]
    implied: Mapping[Kind, frozenset[Kind]]
    english: Mapping[str, int]
    other: Mapping[str, int]
    """Names in other languages; a word that describes stands behind the thing there."""


@lru_cache(maxsize=1)
def _known() -> _Known:
    rows = data("equipment.json")
    parents = {Kind(name): [Kind(each) for each in row.get("is", ())]
               for name, row in rows["kinds"].items()}  # fmt: skip
    implied = {kind: frozenset(_and_above(kind, parents)) for kind in parents}
    tools: list[Tool] = []
    english: dict[str, int] = {}
    other: dict[str, int] = {}
    for number, row in enumerate(rows["tools"]):
        tools.append(
            Tool(
                name=row["name"],
                kinds=frozenset[Kind]().union(*(implied[Kind(k)] for k in row.get("kinds", ()))),
                names={language: tuple(names) for language, names in row["names"].items()},
                cautions=tuple(row.get("cautions", ())),
                wash=row.get("wash"),
                washed=Washed(row["washed"]),
                raw=row["raw"],
                source=row["source"],
                whole=row.get("whole", False),
            )
        )
        english[_plain(row["name"])] = number
        for language, names in row["names"].items():
            index = english if language == "en" else other
            index.update((_plain(name), number) for name in names)
    about = {Kind(name): row["about"] for name, row in rows["kinds"].items()}
    return _Known(tuple(tools), about, implied, english, other)


def _and_above(kind: Kind, parents: Mapping[Kind, Iterable[Kind]]) -> Iterator[Kind]:
    yield kind
    for each in parents[kind]:
        yield from _and_above(each, parents)


def _plain(name: str) -> str:
    """A name as it is compared, without accents."""
    folded = fold(name)
    if folded.isascii():
        return folded
    apart = unicodedata.normalize("NFD", folded)
    return "".join(sign for sign in apart if not unicodedata.combining(sign))


_BRACKETS = re.compile(r"\([^)]*\)|\[[^\]]*\]")
_SEVERAL = re.compile(r"\s*[/&+;]\s*|\s+(?:and|or|y|o|u)\s+")
_MORE = re.compile(r"\b(?:with|without|of|for|from|in|on|con|sin)\b")
_NUMBER = re.compile(r"#?(?:\d+|[a-z])$|^$")
_PLUGGED = re.compile(r"\b(?:electric|electrical|corded|plug in|electric[oa]s?)\b")
_MOST_WORDS = 8
"""In the longest name that is looked through part by part."""


@lru_cache(maxsize=1 << 12)
def tool_named(name: str) -> Tool | None:
    """What is known of a thing, by what an author calls it; None: nothing."""
    plain = _plain(_BRACKETS.sub(" ", name))
    exact = _exact(plain)
    if exact is not None:
        return exact
    parts = [part for part in _SEVERAL.split(plain) if part]
    if len(parts) > 1 and not _ends_in_one(plain):
        found = [_one(part) for part in parts]
        return None if None in found else together(each for each in found if each is not None)
    return _one(plain)


def _ends_in_one(plain: str) -> bool:
    """Whether what parts a list is a part of one thing's name here: a red Y peeler."""
    words = plain.split()
    for at in range(1, len(words)):
        end = " ".join(words[at:])
        # Spanish “y” begins a Y peeler's name too.
        parts = _SEVERAL.search(end) or _SEVERAL.fullmatch(f" {words[at]} ")
        if parts and _exact(end) is not None:
            return True
    return False


def _exact(plain: str) -> Tool | None:
    known = _known()
    rows = [names[form] for names in (known.english, known.other) for form in _forms(plain)
            if form in names]  # fmt: skip
    return together(known.tools[row] for row in dict.fromkeys(rows)) if rows else None


def _forms(plain: str) -> Iterator[str]:
    """The name, then with every word in the singular that it may be the plural of."""
    words = plain.split()
    if len(words) > _MOST_WORDS:
        return
    yield from (" ".join(each) for each in itertools.product(*map(_singulars, words)))


def _singulars(word: str) -> list[str]:
    return [*singulars(word), *([word[:-3] + "fe"] if word.endswith("ves") else ())]


def _one(plain: str) -> Tool | None:
    """By the thing itself: what stands last in English, and first in other languages."""
    exact = _exact(plain)
    if exact is not None:
        return exact
    head, *_ = _MORE.split(plain, maxsplit=1)
    words = head.split()
    while words and _NUMBER.match(words[-1]):
        words.pop()
    known = _known()
    last = _longest((words[at:] for at in range(len(words))), known.english)
    first = _longest((words[:at] for at in range(len(words), 0, -1)), known.other)
    main = last if last is not None else first
    if main is None or len(words) > _MOST_WORDS:
        return None
    found = [main, *([first] if first is not None else ())]
    tool = together(known.tools[row] for row in dict.fromkeys(found))
    return _with_dangers(tool, plain)


def _longest(runs: Iterable[list[str]], names: Mapping[str, int]) -> int | None:
    """The row of the first run of words that is a name, and says enough by itself."""
    tools = _known().tools
    for run in runs:
        for form in _forms(" ".join(run)):
            if form in names and not tools[names[form]].whole:
                return names[form]
    return None


_SPREAD = frozenset({Kind.BLADE, Kind.MOVING_BLADE, Kind.CORD, Kind.OPENER})
"""Dangers of a thing that the parts named after it have too: a blender's jug has its blade."""


def _with_dangers(tool: Tool, plain: str) -> Tool:
    """The tool with what cuts or is plugged in among the other words of its name."""
    known = _known()
    words = plain.split()
    kinds, cautions, washed = set(tool.kinds), dict.fromkeys(tool.cautions), tool.washed
    if _PLUGGED.search(plain):
        kinds.add(Kind.CORD)
    for begin, end in itertools.combinations(range(len(words) + 1), 2):
        for form in _forms(" ".join(words[begin:end])):
            for names in (known.english, known.other):
                other = known.tools[names[form]] if form in names else None
                if other is not None and not _SPREAD.isdisjoint(other.kinds):
                    kinds |= other.kinds & _SPREAD
                    cautions |= dict.fromkeys(other.cautions)
                    washed = max(washed, other.washed, key=_CARE.index)
    return replace(tool, kinds=frozenset(kinds), cautions=tuple(cautions), washed=washed)


_CARE = (Washed.NEVER, Washed.WIPED, Washed.CHILDREN, Washed.END)
"""How much care it takes, the least first."""


def together(tools: Iterable[Tool]) -> Tool:
    """One value for what may be any of several things: all that each of them can do."""
    first, *more = tools
    if not more:
        return first
    every = (first, *more)
    return replace(
        first,
        kinds=frozenset[Kind]().union(*(each.kinds for each in every)),
        cautions=tuple(dict.fromkeys(name for each in every for name in each.cautions)),
        wash=next((each.wash for each in every if each.wash), None),
        washed=max((each.washed for each in every), key=_CARE.index),
    )


def described(
    name: str, kinds: Iterable[str], cautions: Iterable[str], washed: str | None, like: str | None
) -> Tool:
    """A tool of an author's own. What is known of its name, or of what it is like, stays: a
    description adds to it."""
    implied = _known().implied
    own = Tool(
        name,
        frozenset[Kind]().union(*(implied[Kind(each)] for each in kinds)),
        cautions=tuple(cautions),
        washed=Washed(washed) if washed else Washed.END,
        source="the author's own",
    )
    kin = [each for each in (tool_named(name), like and tool_named(like)) if each]
    if not kin:
        return own
    whole = together([*kin, own])
    return replace(whole, name=name, washed=own.washed if washed else kin[-1].washed)


def all_tools() -> tuple[Tool, ...]:
    """Every thing of the list, in its order."""
    return _known().tools


def about_kinds() -> Mapping[Kind, str]:
    """What each kind means, in the order of the list."""
    return _known().about


def wash_words() -> tuple[str, ...]:
    """What a step's `wash` may name of tools and places."""
    return tuple(dict.fromkeys(each.wash for each in _known().tools if each.wash))


_NEAR, _AS_NEAR = 0.75, 0.05
"""How much of two names must be alike, as difflib counts it, and by how much less a second one
may be so that it could as well be meant."""


def nearest_tools(name: str, names: Iterable[str] | None = None) -> tuple[str, ...]:
    """Known names that are spelt most like one that isn't known, nearest first, at most three.

    None where they differ in what can hurt: whoever takes the wrong one of a blade and a bowl
    loses a caution. `names`: what to choose from; None: the whole list.
    """
    plain = _plain(name)
    choice = {_plain(each): each for each in (_all_names() if names is None else names)}
    near = difflib.get_close_matches(plain, list(choice), n=3, cutoff=_NEAR)
    alike = [difflib.SequenceMatcher(None, plain, each).ratio() for each in near]
    near = [each for each, ratio in zip(near, alike, strict=True) if ratio > alike[0] - _AS_NEAR]
    tools = [tool_named(choice[each]) for each in near]
    if len({each.dangers if each else None for each in tools}) > 1:
        return ()
    return tuple(choice[each] for each in near)


def _all_names() -> Iterator[str]:
    for tool in _known().tools:
        yield tool.name
        for names in tool.names.values():
            yield from names
