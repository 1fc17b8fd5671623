"""The class: when, where, who (never by name), with what, and what it cooks."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from spoonfold.knowledge.equipment import Kind, Tool, tool_named
from spoonfold.knowledge.names import fold
from spoonfold.model.changes import DayChanges
from spoonfold.model.recipe import Acceptance, Term
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import unit_named


@dataclass(frozen=True, slots=True)
class Measuring:
    """The measures on hand, each by what it holds, as it is engraved: `½ cup`, `250 ml`."""

    cups: tuple[Amount, ...]
    tablespoons: tuple[Amount, ...]
    teaspoons: tuple[Amount, ...]
    jug: Amount | None = None
    ladles: tuple[Amount, ...] = ()
    dishers: tuple[int, ...] = ()
    """Their numbers: so many level ones make a quart."""
    sets: int = 1


def _sizes(unit: str, *sizes: Fraction) -> tuple[Amount, ...]:
    known = unit_named(unit)
    assert known is not None
    return tuple(Amount(size, known) for size in sizes)


# What a family's drawer usually holds: common practice in the United States.
HOME_MEASURING = Measuring(
    cups=_sizes("cup", Fraction(1), Fraction(1, 2), Fraction(1, 3), Fraction(1, 4)),
    tablespoons=_sizes("tbsp", Fraction(1)),
    teaspoons=_sizes("tsp", Fraction(1), Fraction(1, 2), Fraction(1, 4)),
)


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it lies in the printer. All pages have its size or a part of it: a
    booklet's are half of it, a mini-book's an eighth, and a slip that lies across is it turned."""

    name: str
    """As `class.yaml` has it."""
    width: str
    height: str
    """Lengths as a stylesheet writes them; it stands upright."""

    @property
    def style(self) -> str:
        """Both lengths by the names that `layouts/look/paper.css` knows them by."""
        return f"--wide: {self.width}; --high: {self.height}"


LETTER = Paper("letter", "8.5in", "11in")

PAPERS = {
    each.name: each
    for each in (
        LETTER,  # ANSI/ASME Y14.1, size A.
        Paper("a4", "210mm", "297mm"),  # ISO 216.
    )
}
"""What a class may print on, by name."""


FROM_HOME = Fraction(30)
"""Minutes from the refrigerator at home to the door of the class, where class.yaml doesn't say:
common practice for a class in one's own town."""


@dataclass(frozen=True, slots=True)
class DietNeed:
    """One child's need or one rule of the place; never a name."""

    avoid: tuple[Term, ...]
    table: int | None
    keep_out: bool
    place: Place
    is_taste: bool = False
    """Only not liked: nobody is harmed by a crumb of it. Never so unless the author wrote it."""
    is_missing: bool = False
    """Not a need at all: the food isn't there on that day. Harms nobody either."""


@dataclass(frozen=True, slots=True)
class Setting:
    """What holds for a session; `class.yaml` gives it once and a session may override any of it."""

    starts: datetime.time
    minutes: int
    fixed: Mapping[str, int]
    ages: tuple[int, int]
    pace: Fraction
    tables: tuple[int, ...]
    """Children at each table."""
    helpers: int
    helpers_eat: bool
    portion: Fraction
    measuring: Measuring
    equipment: Mapping[str, int]
    watts: Mapping[str, int]
    budget: Fraction | None
    needs: tuple[DietNeed, ...]
    guests: int = 0
    """Who eats with the class and doesn't cook."""
    from_home: Fraction = FROM_HOME
    """Minutes that cold food has been out before the session starts."""
    hot_days: bool = False
    """Sessions may be hotter than 90 °F, where the two hours become one."""
    circuits: int | None = None
    """Separate household circuits to plug cookers into; None: nobody said."""
    kept: Mapping[str, tuple[Term, ...]] = field(default_factory=dict)
    """Equipment by where it is kept: `site`, `home`, `helpers`; anything else is in the class's
    boxes. Empty: nobody said."""
    tools: Mapping[str, Tool] = field(default_factory=dict)
    """What the class itself says of a tool, by its folded name."""
    places: Mapping[str, Place] = field(default_factory=dict)
    """Where each key stands."""

    def tool(self, name: str) -> Tool | None:
        """What is known of a thing; None: nothing."""
        return self.tools.get(fold(name)) or tool_named(name)

    def listed(self, kind: Kind) -> tuple[str, ...]:
        """The equipment of a kind that there is, by its names, in the order of the list."""
        return tuple(
            name
            for name, count in self.equipment.items()
            if count and (known := self.tool(name)) is not None and kind in known.kinds
        )

    @property
    def sink(self) -> str:
        """What the class calls its sink."""
        return next(iter(self.listed(Kind.SINK)), Kind.SINK.value)


@dataclass(frozen=True, slots=True)
class Session:
    """One meeting."""

    number: int
    date: datetime.date
    dishes: tuple[Term, ...]
    lesson: Term | None
    note: str | None
    setting: Setting
    place: Place
    changed: DayChanges | None = None
    """What is different on this day; it is in the setting already."""
    room: str | None = None
    """Where it meets, if elsewhere than usual."""


ALWAYS_PACKED = "notice"
"""The sheet that every print pack has, whatever else is chosen: what is in the dishes."""
CARRIED = ("brief", "shopping", "prep", "lesson-card", "table-cards", "home-labels", "safety")
"""What a lead cook takes along on every day (common practice)."""
PACKED = (
    *CARRIED,
    *("jobs", "story-card", "word-cards", "worksheet", "packet", "card"),
    ALWAYS_PACKED,
)
"""Sheets of which a print pack can have copies, by the names of their parts."""


@dataclass(frozen=True, slots=True)
class Classroom:
    """The class as `class.yaml` describes it."""

    name: str
    location: str
    site: str | None
    first_day: datetime.date
    households: tuple[int, ...]
    languages: tuple[str, ...]
    """The first is the one that the recipes are written in."""
    paper: Paper
    setting: Setting
    sessions: tuple[Session, ...]
    place: Place
    accept: tuple[Acceptance, ...] = ()
    table_cards: tuple[str, ...] = ()
    """Languages of the table cards."""
    currency: str = ""
    """By its ISO 4217 code; empty: what is usual where the first language is spoken."""
    as_of: datetime.date | None = None
    """The day that what is written is from, as its author says: nothing here asks a clock."""
    sheets: tuple[str, ...] = CARRIED
    """What the print packs have, besides the notice of allergens."""
    called_off: tuple[Session, ...] = ()
    """Sessions that were planned and don't take place."""
