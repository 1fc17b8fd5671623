"""What `class.yaml` says of a session's room: its times, tables, kitchen and needs.

It holds for the whole class, and any session may say another.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Mapping as Map
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.knowledge.equipment import Kind, Tool, Washed, described, nearest_tools, tool_named
from spoonfold.knowledge.names import fold, singulars
from spoonfold.model.classroom import FROM_HOME, DietNeed, Measuring, Setting
from spoonfold.model.recipe import Term
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.duration import read_minutes
from spoonfold.quantity.grammar import Refusal, read_amount, read_number, read_share
from spoonfold.quantity.unit import PIECE, Dimension, unit_named
from spoonfold.read.grammar import read_price
from spoonfold.read.nodes import Node, shorten
from spoonfold.read.record import Key, ListOf, MapOf, Record
from spoonfold.read.shape import Choice, Found, Named, Parsed, Shape, Whole, YesNo, add

_CLOCK = re.compile(r"([01]?[0-9]|2[0-3]):([0-5][0-9])")
_AGES = re.compile(r"([0-9]{1,2})\s*(?:-|–|to)\s*([0-9]{1,2})")
FIXED = ("arrive", "talk", "eat", "clean up")
MOST_CHILDREN = 60
"""At one table; common practice is four to six."""
MOST_TABLES = 30
MOST_GUESTS = 200
MOST_SIZES = 12
"""Of one kind of tool."""
MOST_NEEDS = 100


def _clock(text: str) -> datetime.time | Refusal:
    match = _CLOCK.fullmatch(text)
    if match is None:
        meant = _HALF_DAY.fullmatch(text)
        instead = "10:00" if meant is None else _on_the_clock(meant)
        why = f"“{text}” isn't a time of day."
        return Refusal("not-a-time", why, 0, f'"{instead}"', certain=meant is not None)
    return datetime.time(int(match[1]), int(match[2]))


_HALF_DAY = re.compile(
    r"(?P<hour>0?[1-9]|1[0-2])(?:[:.](?P<minute>[0-5][0-9]))?\s*(?P<half>[ap])\.?m\.?",
    re.IGNORECASE,
)


def _on_the_clock(time: re.Match[str]) -> str:
    """`3:30 pm` as 15:30."""
    hour = int(time["hour"]) % 12 + 12 * (time["half"].lower() == "p")
    return f"{hour}:{time['minute'] or '00'}"


def _ages(text: str) -> tuple[int, int] | Refusal:
    match = _AGES.fullmatch(text)
    if match is None or int(match[1]) > int(match[2]):
        return Refusal(
            "not-ages", f"“{text}” should be the youngest and the oldest age.", 0, "9-12"
        )
    return int(match[1]), int(match[2])


@dataclass(frozen=True, slots=True)
class _Holds:
    """What a measure holds: a volume, or a bare number of the unit that is usual for it."""

    what: str
    unit: str | None
    example: str

    def __call__(self, text: str) -> Amount | Refusal:
        amount = read_amount(text)
        if isinstance(amount, Refusal):
            return amount
        usual = None if self.unit is None else unit_named(self.unit)
        if amount.unit == PIECE and usual is not None:
            amount = replace(amount, unit=usual)
        if (
            amount.unit.dimension is not Dimension.VOLUME
            or amount.high is not None
            or amount.each is not None
        ):
            return Refusal(
                "not-a-volume", f"“{text}” doesn't say how much {self.what} holds.", 0, self.example
            )
        return amount


# Everyday words that take in more than one allergen. Who means the one alone writes its own
# word: from such a word nobody can tell.
_WIDER: Map[str, tuple[str, ...]] = {
    "shellfish": ("crustacean", "mollusc"),
    "nut": ("tree nut", "peanut"),
}


def meant(term: Term) -> tuple[Term, ...]:
    """The allergens that an everyday word takes in; any other word itself."""
    forms = singulars(fold(term.text))
    words = next((_WIDER[form] for form in forms if form in _WIDER), (term.text,))
    return tuple(replace(term, text=word) for word in words)


@dataclass(frozen=True, slots=True)
class NeedLine:
    """One line for one child or one rule."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (_NEED,)

    def read(self, node: Node, found: Found) -> DietNeed | None:
        values = _NEED.read(node, found)
        if not values or not values.get("avoid"):
            return None
        avoid = (each for term in values["avoid"] for each in meant(term))
        out, taste = values.get("keep out of the room", False), "because" in values
        if out and taste:
            add(
                found,
                "taste-kept-out",
                node.place,
                "What is only not liked needn't be kept out of the room.",
                "Leave out one of the two: `because` where it is a need, `keep out of the room` "
                "where it is a matter of taste.",
            )
        return DietNeed(
            tuple({each.text: each for each in avoid}.values()),
            values.get("table"),
            out,
            node.place,
            taste and not out,
        )


_NEED = Record(
    (
        Key(
            "avoid",
            ListOf(Named("an allergen or a food"), or_one=True, least=1),
            "what must be avoided",
            True,
            "[milk]",
        ),
        Key("table", Whole(1, MOST_CHILDREN, "a table's number"), "the table, where only one"),
        Key("keep out of the room", YesNo(), "not even in the room"),
        Key(
            "because",
            Choice(("taste",), safe=False),
            "`taste`, where it is only not liked: without it, it is handled as an allergy",
        ),
    ),
    "a need",
)


def _sizes(what: str, unit: str | None, example: str) -> ListOf:
    holds = Parsed(_Holds(what, unit, example), f"a size, such as {example}")
    return ListOf(holds, or_one=True, least=1, most=MOST_SIZES)


_MEASURING = Record(
    (
        Key("cups", _sizes("a cup", "cup", "1/2"), "cup sizes", True, "[1, 1/2, 1/3, 1/4]"),
        Key("tablespoon", _sizes("a spoon", "tbsp", "15 ml"), "tablespoon sizes", True, "1"),
        Key("teaspoons", _sizes("a spoon", "tsp", "1/2"), "teaspoon sizes", True, "[1, 1/2, 1/4]"),
        Key(
            "jug",
            Parsed(_Holds("the jug", None, "2 cups"), "a jug's size, such as 2 cups"),
            "the measuring jug",
        ),
        Key("ladle", _sizes("the ladle", None, "1/2 cup"), "ladle sizes"),
        Key(
            "disher",
            ListOf(Whole(4, 100, "a disher's number"), or_one=True, least=1, most=MOST_SIZES),
            "numbers of spring scoops",
            example="16",
        ),
        Key("sets", Whole(1, 60, "how many sets"), "how many sets"),
    ),
    "the measuring tools",
)

_EQUIPMENT = ListOf(Named("a piece of equipment"), or_one=True)

_KEPT = Record(
    (
        Key("site", _EQUIPMENT, "what is where the class meets"),
        Key("home", _EQUIPMENT, "what the lead cook brings from home"),
        Key("helpers", _EQUIPMENT, "what helpers bring"),
    ),
    "where equipment is kept",
)


def _known_tool(name: str) -> str | Refusal:
    if tool_named(name) is not None:
        return name
    close = nearest_tools(name)
    return Refusal(
        "unknown-tool",
        f"Nothing is known of “{shorten(name)}” either.",
        0,
        close[0] if close else "knife",
    )


_TOOL = Record(
    (
        Key("like", Parsed(_known_tool, "a tool that is known"), "what it is used like"),
        Key(
            "kind",
            ListOf(Choice(tuple(map(str, Kind)), safe=False), or_one=True, least=1),
            "what it is",
        ),
        Key(
            "watch",
            ListOf(Choice(tuple(CAUTIONS), safe=False), or_one=True),
            "cautions wherever it is used",
        ),
        Key("washed", Choice(tuple(map(str, Washed)), safe=False), "who washes it up, and when"),
    ),
    "a tool",
)


class OwnTool:
    """What the class says of a thing that isn't known; its name is added later."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (_TOOL,)

    def read(self, node: Node, found: Found) -> dict[str, Any] | None:
        before = len(found)
        values = _TOOL.read(node, found)
        if values is not None and len(found) == before and not {"like", "kind"} & values.keys():
            add(
                found,
                "missing-key",
                node.place,
                "A tool needs `like` or `kind`: what it is used like, or what it is.",
                "For example:\nlike: knife",
            )
            return None
        return values


def _tools(values: Map[str, dict[str, Any]]) -> dict[str, Tool]:
    return {
        fold(name): described(
            name, said.get("kind", ()), said.get("watch", ()), said.get("washed"), said.get("like")
        )
        for name, said in values.items()
    }


class AtTables(ListOf):
    """Children at each table: one may stay empty on a day, but not all of them."""

    def read(self, node: Node, found: Found) -> tuple[Any, ...] | None:
        read = ListOf.read(self, node, found)
        if read and not any(read):
            add(
                found,
                "empty-list",
                node.place,
                "No child sits at any table.",
                "Write how many sit at each: `[4, 4, 4]`.",
            )
            return None
        return read


SETTING_KEYS = (
    Key("starts", Parsed(_clock, "a time of day"), "when a session starts", True, '"10:00"'),
    Key("minutes", Whole(15, 600, "minutes"), "how long a session is", True, "100"),
    Key(
        "fixed",
        Record(
            tuple(Key(name, Whole(0, 300, "minutes"), f"minutes to {name}") for name in FIXED),
            "the fixed parts",
        ),
        "minutes of every session that aren't cooking",
        True,
        "{arrive: 10, talk: 10, eat: 15, clean up: 10}",
    ),
    Key("ages", Parsed(_ages, "ages"), "the youngest and the oldest", True, "9-12"),
    Key("pace", Parsed(read_number, "a number"), "a child's minutes for one of a cook's"),
    Key(
        "tables",
        AtTables(
            Whole(0, MOST_CHILDREN, "children at a table"), or_one=True, least=1, most=MOST_TABLES
        ),
        "children at each table",
        True,
        "[4, 4, 4]",
    ),
    Key("helpers", Whole(0, 60, "how many come"), "adults besides the lead cook", True, "3"),
    Key("helpers eat", YesNo(), "whether helpers eat too"),
    Key("guests", Whole(0, MOST_GUESTS, "how many come"), "who eats with us and doesn't cook"),
    Key("portion", Parsed(read_share, "a portion's size"), "1, or 1/2 for a tasting"),
    Key(
        "measuring",
        _MEASURING,
        "the cups and spoons on hand",
        True,
        "{cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]}",
    ),
    Key(
        "equipment",
        MapOf(Whole(0, 500, "how many")),
        "what the kitchen has",
        True,
        "{burner: 2, pot: 4, knife: 12}",
    ),
    Key("kept", _KEPT, "where equipment is kept; what isn't named is in the class's boxes"),
    Key("watts", MapOf(Whole(1, 20000, "watts")), "the power of a burner"),
    Key("circuits", Whole(1, 60, "circuits"), "separate circuits that burners are plugged into"),
    Key("budget", Parsed(read_price, "money"), "money for one child and session"),
    Key("needs", ListOf(NeedLine(), most=MOST_NEEDS), "what must be avoided, and where"),
    Key(
        "from home",
        Parsed(read_minutes, "minutes, such as 30 min"),
        "how long cold food travels from the refrigerator at home",
    ),
    Key("hot days", YesNo(), "whether it may be hotter than 90 °F"),
)


def setting_of(values: Map[str, Any], places: Map[str, Place]) -> Setting | None:
    """The setting of merged values, with the place of each; None without the tools to measure."""
    measuring = values["measuring"]
    if not {"cups", "tablespoon", "teaspoons"} <= measuring.keys():
        return None
    return Setting(
        starts=values["starts"],
        minutes=values["minutes"],
        fixed=values["fixed"],
        ages=values["ages"],
        pace=values.get("pace", Fraction(2)),
        tables=values["tables"],
        helpers=values["helpers"],
        helpers_eat=values.get("helpers eat", False),
        guests=values.get("guests", 0),
        portion=values.get("portion", Fraction(1)),
        measuring=Measuring(
            measuring["cups"],
            measuring["tablespoon"],
            measuring["teaspoons"],
            measuring.get("jug"),
            measuring.get("ladle", ()),
            measuring.get("disher", ()),
            measuring.get("sets", 1),
        ),
        equipment=values["equipment"],
        watts=values.get("watts", {}),
        kept=values.get("kept", {}),
        budget=values.get("budget"),
        needs=values.get("needs", ()),
        from_home=values.get("from home", FROM_HOME),
        hot_days=values.get("hot days", False),
        circuits=values.get("circuits"),
        tools=_tools(values.get("tools", {})),
        places={name: places[name] for name in values if name in places},
    )
