"""What happens in a step: its words understood once, for every rule and sheet that asks.

An action is one verb with what it is done to, with what, where, on what heat, how long and how
far. What was said and what only goes with the verb are told apart; what wasn't understood is kept.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

from spoonfold.kitchen.lexicon import Verb
from spoonfold.problem import Place
from spoonfold.quantity.temperature import Temperature


class Portion(NamedTuple):
    """Some of a listed food, from the step on in which it goes in."""

    key: str
    """Of the line in the list."""
    step: int
    piece: str = ""
    """`yolk`, `zest`: only that of it."""


class Called(StrEnum):
    """How surely an action is done to its foods."""

    BY_NAME = "by name"
    AS_THING = "as what was made of them"
    """The dough, the slices, everything."""
    BY_PRONOUN = "by a pronoun"
    UNSAID = "unsaid"


class Tidy(StrEnum):
    """What words tell of a tool before it is used."""

    UNKNOWN = ""
    SAME = "same"
    """The one that was used before."""
    KNOWN = "the"
    """One that was spoken of before: the plate."""
    CLEAN = "clean"
    """Washed, or another one."""


@dataclass(frozen=True, slots=True)
class ToolUse:
    """A tool or vessel in somebody's hands."""

    name: str
    """As the list of equipment calls it."""
    tidy: Tidy
    implied: bool
    """Nobody names it: it goes with the verb."""


@dataclass(frozen=True, slots=True)
class Unread:
    """What wasn't understood."""

    word: str
    place: Place
    sort: str
    """`verb`, `thing`, `place` or `degrees` without their unit."""


@dataclass(frozen=True, slots=True)
class Action:
    """One thing that somebody does."""

    step: int
    verb: Verb
    place: Place
    """Where its verb was written."""
    foods: frozenset[Portion] = frozenset()
    """What it is done to, with all that was made of it by mixing."""
    called: Called = Called.UNSAID
    joined: frozenset[Portion] = frozenset()
    """What they come together with: what they are put in or on, what is in the pot."""
    thing: str = ""
    """What the words call what it is done to: `dough`, `slices`."""
    tools: tuple[ToolUse, ...] = ()
    vessel: str = ""
    """Where the food is afterwards, as the list of equipment calls it: named, or where it was, or
    what goes with the verb."""
    where: str = ""
    """`cold`, `warm` (neither cold nor hot) or `hot`, where the words say a place."""
    spot: str = ""
    """That place, as the words call it."""
    out_of_cold: bool = False
    """Taken out of the refrigerator."""
    heat: str = ""
    """`stove`, `oven`, `griddle`, `grill`, or the appliance by its name; empty: nothing heats."""
    heat_said: bool = False
    """By a word of its own, and not only by the verb."""
    level: str = ""
    """`medium`, `low`, as it is said."""
    minutes: Fraction | None = None
    degrees: Temperature | None = None
    """In the middle of the food."""
    appliance: Temperature | None = None
    """Of the oven, the oil, the water."""
    until: str = ""
    """The sign by which it is done, in the words of the step."""
    denied: bool = False
    """It is said that nobody does it."""
    person: str = ""
    """`adult`, `everyone`, where that is said."""
    words: frozenset[str] = frozenset()
    """All that stand in the clause."""

    @property
    def kind(self) -> str:
        """What the verb does to food."""
        return self.verb.kind

    @property
    def washed(self) -> frozenset[str]:
        """The tools that it washes, by their names in the list of equipment, and `hands`."""
        if self.kind != "wash" or self.denied:
            return frozenset()
        named = {each.name for each in self.tools if not each.implied}
        return frozenset(named | ({"hands"} & self.words))

    def tool(self, name: str) -> ToolUse | None:
        """The use of one tool."""
        return next((each for each in self.tools if each.name == name), None)


@dataclass(frozen=True, slots=True)
class ReadStep:
    """All that one step tells to do, in order."""

    number: int
    actions: tuple[Action, ...]
    unread: tuple[Unread, ...]


ReadSteps = Mapping[int, ReadStep]
"""By the number of the step."""
