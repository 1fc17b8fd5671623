"""A recipe as it was written, every part with its place."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from spoonfold.knowledge.equipment import Kind, Tool, tool_named
from spoonfold.model.prose import Inline, Prose, plain
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.temperature import Temperature

_NOT_IN_SLUG = re.compile(r"[^\w]+")
_WORD = re.compile(r"[^\W_]+")


@lru_cache(maxsize=1 << 14)
def slug(words: str) -> str:
    """Words as an address: lower case, hyphens for everything that isn't a letter or digit."""
    plain = unicodedata.normalize("NFC", words).casefold()
    return _NOT_IN_SLUG.sub("-", plain).strip("-_")


@dataclass(frozen=True, slots=True)
class Term:
    """A name that points at something else, and where it was written."""

    text: str
    place: Place


@dataclass(frozen=True, slots=True)
class Wording:
    """How a reader of another language calls an ingredient."""

    name: str
    preparation: str
    """How it is prepared, or when it is enough; mostly empty."""
    language: str
    """A BCP 47 tag."""


@dataclass(frozen=True, slots=True)
class Ingredient:
    """One line of the ingredient list."""

    name: str
    """As listed, without size and preparation. The pantry and every rule go by it, whatever
    language a sheet is in."""
    amount: Amount | None
    """None: as needed, never multiplied."""
    preparation: str | None
    place: Place
    second: Amount | None = None
    """The amount in brackets (`250 g (2 cups) flour`): checked, not counted."""
    optional: bool = False
    as_needed: str | None = None
    """`to taste`, `for dusting`, where there is no amount."""
    part: str | None = None
    """The heading that it stands under in the list."""
    key: str = ""
    """What a link in the steps calls it."""
    wording: Wording | None = None
    """What to print in its place; None: the line as it was written."""

    @property
    def said(self) -> str:
        """The name as a reader sees it."""
        return self.wording.name if self.wording else self.name

    @property
    def said_preparation(self) -> str:
        """What stands after the name as a reader sees it; mostly empty."""
        if self.wording:
            return self.wording.preparation
        return ", ".join(each for each in (self.preparation, self.as_needed) if each)


@dataclass(frozen=True, slots=True)
class SwapStep:
    """What a step says where a swap is cooked, and changing the food's name alone won't do."""

    number: int
    text: tuple[Inline, ...]
    place: Place
    wording: tuple[Inline, ...] | None = None
    """The words to print in another language; None: the text itself."""


@dataclass(frozen=True, slots=True)
class Swap:
    """What to use in place of an ingredient, and for what reason."""

    instead_of: Term
    use: Ingredient
    because: Term
    place: Place
    shown: str = ""
    """What it replaces as a reader of another language calls it; empty: as listed."""
    steps: tuple[SwapStep, ...] = ()
    """The steps that have words of their own with it."""

    @property
    def said_instead_of(self) -> str:
        """What it replaces as a reader sees it."""
        return self.shown or self.instead_of.text


@dataclass(frozen=True, slots=True)
class Acceptance:
    """A warning or hint that the author has weighed and lives with."""

    warning: Term
    """The code."""
    because: str
    place: Place
    food: Term | None = None
    """The one food of which it is accepted; None: whichever it is about."""


@dataclass(frozen=True, slots=True)
class Position:
    """A point on the earth in degrees, latitude first (ISO 6709)."""

    latitude: Fraction
    """North of the equator; below zero in the south."""
    longitude: Fraction
    """East of Greenwich; below zero in the west."""


@dataclass(frozen=True, slots=True)
class Pan:
    """A pan by its two sides or its diameter, in inches."""

    sides: tuple[Fraction, ...]
    """Two sides, or one diameter."""
    text: str


@dataclass(frozen=True, slots=True)
class Need:
    """A piece of equipment and how many of it."""

    name: str
    count: int
    place: Place
    tool: Tool | None = None
    """What is known of it; None: nothing, and the class doesn't describe it."""

    def __post_init__(self) -> None:
        if self.tool is None:
            object.__setattr__(self, "tool", tool_named(self.name))


@dataclass(frozen=True, slots=True)
class Holding:
    """How much a pan, pot or griddle takes at once."""

    count: Fraction
    of_what: str


def words_in(text: str) -> frozenset[str]:
    """Every word of a text alone."""
    return frozenset(_WORD.findall(text))


@dataclass(frozen=True, slots=True)
class WorkedOut:
    """A note, or one name of it, that follows from what was written and wasn't written itself."""

    note: str
    """The note's key: `watch`, `needs`, `heat` ..."""
    value: str
    """As an author would write it."""
    why: str
    """What it follows from, in a few words that a lead understands."""
    is_said: bool = True
    """False: it is only usual, and whoever knows the dish has to look at it."""


@dataclass(frozen=True, slots=True)
class Step:
    """One numbered step with its notes, those that were worked out among them."""

    number: int
    text: tuple[Inline, ...]
    place: Place
    group: str | None = None
    """The `###` heading that it stands under."""
    time: Fraction | None = None
    """Minutes of work for a practised cook at the household size."""
    wait: Fraction | None = None
    """Minutes without hands."""
    wait_aside: bool = False
    """True: the equipment is free while waiting."""
    class_time: Fraction | None = None
    when: str | None = None
    """`day before` or `before class`: done beforehand by an adult."""
    for_class: bool = False
    """Done once for everyone."""
    holds: Holding | None = None
    skills: tuple[Term, ...] = ()
    needs: tuple[Need, ...] = ()
    hands: int | None = None
    watch: tuple[Term, ...] = ()
    adult: tuple[Term, ...] = ()
    wash: tuple[Term, ...] = ()
    heat: Temperature | None = None
    after: tuple[int, ...] | None = None
    """Step numbers; None: the step before; empty: nothing."""
    waits_for: tuple[int, ...] | None = None
    """Such numbers for whoever plans the work, by its food, where no step says `after`."""
    easier: str | None = None
    home: str | None = None
    """What a family reads in its place, where the class's words don't fit a kitchen at home."""
    done: str | None = None
    """How to see that it is done."""
    card: str | None = None
    """What children read in its place on the table card, in a few words."""
    notes: Mapping[str, Place] = field(default_factory=dict)
    """Where each written note stands."""
    worked_out: tuple[WorkedOut, ...] = ()
    """What of the notes above nobody wrote."""
    wording: tuple[Inline, ...] | None = None
    """The words to print in another language; rules go by `text`. None: the text itself."""
    words: str = field(init=False, repr=False, compare=False)
    """The text's words in lower case with single spaces, as rules look through them."""
    word_set: frozenset[str] = field(init=False, repr=False, compare=False)
    """Each of them alone, without its punctuation."""
    tools: frozenset[str] = field(init=False, repr=False, compare=False)
    """The names of the equipment in lower case."""
    kinds: frozenset[Kind] = field(init=False, repr=False, compare=False)
    """What its equipment is, all together."""

    @property
    def follows(self) -> tuple[int, ...]:
        """Numbers of the steps that are over before it is begun; 0, which no step has, ahead of
        the first."""
        written = self.waits_for if self.after is None else self.after
        return (self.number - 1,) if written is None else written

    def __post_init__(self) -> None:
        # Some forty rules ask for them, each of every step.
        words = " ".join(plain(self.text).casefold().split())
        object.__setattr__(self, "words", words)
        object.__setattr__(self, "word_set", words_in(words))
        object.__setattr__(self, "tools", frozenset(need.name.casefold() for need in self.needs))
        known = (need.tool.kinds for need in self.needs if need.tool is not None)
        object.__setattr__(self, "kinds", frozenset[Kind]().union(*known))

    def has(self, *kinds: Kind) -> bool:
        """Whether any of its equipment is of one of these kinds."""
        return not self.kinds.isdisjoint(kinds)

    def named(self, *kinds: Kind) -> frozenset[str]:
        """The names, as they are written, of its equipment of these kinds."""
        if not self.has(*kinds):
            return frozenset()
        return frozenset(
            need.name
            for need in self.needs
            if need.tool is not None and not need.tool.kinds.isdisjoint(kinds)
        )

    @property
    def said(self) -> tuple[Inline, ...]:
        """The words as a reader sees them."""
        return self.text if self.wording is None else self.wording

    @property
    def shared(self) -> bool:
        """Measured once for the whole class: one pot for all, or done by an adult beforehand."""
        return self.for_class or self.when is not None


@dataclass(frozen=True, slots=True)
class Recipe:
    """One dish."""

    key: str
    """The file's name without its ending."""
    title: str
    origin: str
    """Town or region and country, as a reader says it; empty: nobody says."""
    countries: tuple[str, ...]
    """ISO 3166-1 alpha-2; none: nobody says."""
    serves: Fraction
    portion: str | None
    ingredients: tuple[Ingredient, ...]
    swaps: tuple[Swap, ...]
    words: tuple[Term, ...]
    oven: Temperature | None
    pan: Pan | None
    headnote: Prose
    steps: tuple[Step, ...]
    sections: Mapping[str, Prose]
    """`culture`, `talk`, `science`, `at home`, where written."""
    place: Place
    accept: tuple[Acceptance, ...] = ()
    language: str = ""
    """The language that its prose is in; empty: the class's first."""
    is_draft: bool = False
    """A translation that no fluent speaker has read."""
    at: Position | None = None
    """Where on the map the dish is from; None: somewhere in its country."""
    sources: tuple[str, ...] = ()
    """Where its culture and science were looked up."""
    packaged_cousin: str | None = None
    """The packaged food that a worksheet sets it beside, by its name in the shipped table."""
