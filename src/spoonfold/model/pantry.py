"""What is known of an ingredient, and the whole pantry to look it up in.

What is in 100 g of a food, and packaged foods to set a dish beside."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import combinations

from spoonfold.knowledge.names import fold, is_slip, likeness, singulars
from spoonfold.model.recipe import words_in
from spoonfold.problem import Place
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.exactness import Exactness

NUTRIENTS = ("sodium", "sugars", "fibre")
"""Sodium in milligrams, sugars and fibre in grams."""

COLOURS = ("red", "yellow-orange", "green", "blue-purple", "white-brown")
"""Of vegetables, fruit and herbs."""


@dataclass(frozen=True, slots=True)
class FoodRow:
    """One row of the USDA table."""

    ndb: str
    """Its number in the USDA National Nutrient Database, release 26."""
    food: str
    per_100_g: Mapping[str, Fraction]
    """By nutrient, in 100 g of what is edible; without those that weren't measured."""


@dataclass(frozen=True, slots=True)
class PackagedFood:
    """A packaged food without a brand, and one portion of it."""

    name: str
    row: FoodRow
    """Every nutrient of it is known."""
    portion: Amount
    """By a household measure."""
    grams: Fraction
    """What that portion weighs."""


@dataclass(frozen=True, slots=True)
class Weight:
    """What one measure of an ingredient weighs, in grams."""

    measure: Amount
    form: str | None
    """`chopped`, `sliced`, `medium` ...; None: as it comes."""
    grams: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class Piece:
    """A part that is used by itself: a lemon's zest, an egg's yolk."""

    amount: Amount
    """How much of it one whole gives."""
    source: str


@dataclass(frozen=True, slots=True)
class Package:
    """What a shop sells; prices are the author's own."""

    size: Amount
    price: Fraction | None


@dataclass(frozen=True, slots=True)
class Keeping:
    """How many days it keeps, by where."""

    days: Mapping[str, int]
    source: str


@dataclass(frozen=True, slots=True)
class Item:
    """One ingredient."""

    name: str
    plural: str
    also: tuple[str, ...] = ()
    names: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """By language: the name, its plural where it differs, then others."""
    usda: str | None = None
    """NDB number in the USDA National Nutrient Database, release 26."""
    weights: tuple[Weight, ...] = ()
    edible: Fraction = Fraction(1)
    """Edible portion as a share of what is bought."""
    edible_source: str | None = None
    pieces: Mapping[str, Piece] = field(default_factory=dict)
    section: str = "other"
    colour: str | None = None
    group: str | None = None
    allergens: tuple[str, ...] = ()
    check_label: tuple[str, ...] = ()
    tags: frozenset[str] = frozenset()
    raw: str | None = None
    """Which raw hazard it is as bought: `poultry`, `egg`, `flour` ...; None: not one."""
    exactness: Exactness = Exactness.CLOSE
    divides: str | None = None
    """How far a counted one may be divided: `whole`, `half`, `quarter`."""
    processing: int | None = None
    """Degree of processing, 1 to 4, after NOVA (Monteiro et al. 2016)."""
    keeps: Keeping | None = None
    opened: Keeping | None = None
    packages: tuple[Package, ...] = ()
    corner: str | None = None
    """What a small corner shop has instead."""
    is_family: bool = False
    """A word for many foods, taken as the worst of them."""
    taken_away: tuple[str, ...] = ()
    """Allergens, a raw hazard and tags that what ships says of it and the author's own entry
    doesn't."""

    def __hash__(self) -> int:
        """By its name, which no other item of a pantry has."""
        return hash(self.name)

    @property
    def liquid(self) -> bool:
        """Poured, and measured in a jug where there is much of it."""
        return "liquid" in self.tags

    def called(self, language: str, many: bool) -> str | None:
        """The display name in a language, or None where the pantry has none."""
        if language == "en":
            return self.plural if many else self.name
        known = self.names.get(language)
        if not known:
            return None
        return known[1] if many and len(known) > 1 else known[0]


# Words that say how a food is, not which food it is: dropping them never
# changes an allergen, a weight or a safety rule.
_NEUTRAL = frozenset(
    (
        *(
            "fresh",
            "stale",
            "ripe",
            "firm",
            "cold",
            "warm",
            "hot",
            "boiling",
            "lukewarm",
            "tepid",
            "iced",
        ),
        *("chilled", "clean", "ready", "good", "nice", "whole", "big", "fat", "thin", "thick"),
        *("crisp", "tender", "young", "raw", "plain", "boneless", "skinless", "lean", "organic"),
        *("unsalted", "washed", "packed", "firmly"),
    )
)


_NO_MEAT = frozenset(
    (
        *("free", "vegan", "vegetarian", "meatless", "mock", "imitation", "plant", "no", "without"),
        *("style", "flavor", "flavour", "flavored", "flavoured", "substitute", "alternative"),
        *("powder", "seasoning", "spice", "rub", "base", "stock", "soup", "gravy", "crisps"),
    )
)
"""Beside an animal's name: what isn't its meat."""
_NOT_OF_ANIMALS = frozenset((None, "egg", "flour", "sprouts"))


class Pantry:
    """Every known ingredient, found by any of its names.

    `build` makes an item when it is first asked for: a command that needs forty
    ingredients doesn't pay for hundreds. `families` are the words for many foods: they are found
    where no food has the name, and are in no list of names. `retold` are the foods that ship and of
    which the author says otherwise what is in them.
    """

    __slots__ = (
        "_build",
        "_built",
        "_families",
        "_found",
        "_in_language",
        "_index",
        "_names",
        "_places",
        "_retold",
        "_words",
    )

    def __init__(
        self,
        index: Mapping[str, str],
        build: Callable[[str], Item | None],
        places: Mapping[str, Place] | None = None,
        families: Container[str] = (),
        retold: Sequence[str] = (),
        in_language: Callable[[str], Mapping[str, str]] = lambda language: {},
    ) -> None:
        self._index = index
        self._in_language = in_language
        self._retold = retold
        self._families = families
        self._build = build
        self._built: dict[str, Item | None] = {}
        # Many rules ask for the same few names, over and over.
        self._found: dict[str, Item | None] = {}
        self._places = places or {}
        self._names: tuple[str, ...] = ()
        self._words: frozenset[str] = frozenset()

    @property
    def names(self) -> tuple[str, ...]:
        """The canonical name of every ingredient, in order."""
        if not self._names:
            self._names = tuple(sorted(set(self._index.values())))
        return self._names

    @property
    def called(self) -> Mapping[str, str]:
        """Each name that an ingredient goes by, folded, and its canonical name."""
        return self._index

    @property
    def words(self) -> frozenset[str]:
        """Every word of these names."""
        if not self._words:
            names = "\n".join(self._index).casefold().replace("-", " ")
            self._words = words_in(names)
        return self._words

    def called_in(self, language: str) -> Mapping[str, str]:
        """Each name in another language, without accents, and the canonical name or the family
        that it means."""
        return self._in_language(language)

    def place(self, item: Item) -> Place | None:
        """Where the author's own entry stands; None for what ships with Spoonfold."""
        return self._places.get(item.name)

    @property
    def retold(self) -> Iterator[tuple[Item, Place]]:
        """Each food that ships and of which the author says otherwise what is in it or how it is
        handled, and where."""
        for name in self._retold:
            item = self.find(name)
            if item is not None:
                yield item, self._places[name]

    def find(self, name: str) -> Item | None:
        """The ingredient of that name, or None: never the nearest by guess."""
        if name not in self._found:
            known = self._known(fold(name))
            if known is not None and known not in self._built:
                self._built[known] = self._build(known)
            self._found[name] = (
                self._mixed(name) or self._frozen(name) or self._cut_of(name)
                if known is None
                else self._built[known]
            )
        return self._found[name]

    def _cut_of(self, name: str) -> Item | None:
        """Meat or fish by its animal, under a name that nobody knows: a beef sirloin is beef. None
        where any other word is a food, or says that it is made without or only tastes of it."""
        words = fold(name).split(" ")
        kinds = [each for each in words if any(form in self._families for form in singulars(each))]
        if len(kinds) != 1 or len(words) < 2 or not _NO_MEAT.isdisjoint(words):
            return None
        at = words.index(kinds[0])
        for part in (words[:at], words[at + 1 :]):
            for begin, end in combinations(range(len(part) + 1), 2):
                other = self._known(" ".join(part[begin:end]))
                known = None if other is None else self.find(other)
                if known is not None and known.raw in _NOT_OF_ANIMALS:
                    return None
        item = self.find(kinds[0])
        is_meat = item is not None and item.is_family and item.raw not in _NOT_OF_ANIMALS
        return item if is_meat else None

    def _frozen(self, name: str) -> Item | None:
        """Raw meat and fish from the freezer, and what stands for many foods: cold changes neither
        what is in them nor the heat that they need. Of a vegetable it may, so None."""
        first, _, rest = fold(name).partition(" ")
        item = self.find(rest) if rest and first in ("frozen", "thawed", "defrosted") else None
        if item is None or not (item.is_family or ("animal" in item.tags and item.raw)):
            return None
        return item

    def _mixed(self, name: str) -> Item | None:
        """What “granola with almonds” is, where each of its foods is known: all that they have
        together, and no weight. None: one of them isn't known, or there is but one."""
        first, *others = _MIXED_WITH.split(fold(name))
        found = [self.find(each) for each in (first, *others)] if others else []
        items = [each for each in found if each is not None]
        if not items or len(items) < len(found):
            return None
        sure = tuple(dict.fromkeys(name for each in items for name in each.allergens))
        labels = dict.fromkeys(name for each in items for name in each.check_label)
        raw = {each.raw for each in items} - {None}
        return replace(
            items[0],
            name=fold(name),
            plural=fold(name),
            also=(),
            names={},
            usda=None,
            weights=(),
            pieces={},
            allergens=sure,
            check_label=tuple(each for each in labels if each not in sure),
            tags=frozenset().union(*(each.tags for each in items)),
            raw=next((each for each in _WORST_FIRST if each in raw), None),
            processing=max((each.processing or 1 for each in items), default=None),
            packages=(),
            corner=None,
            is_family=any(each.is_family for each in items),
            taken_away=tuple(dict.fromkeys(gone for each in items for gone in each.taken_away)),
        )

    def _known(self, folded: str) -> str | None:
        words = folded.split(" ")
        while words:
            for candidate in singulars(" ".join(words)):
                if candidate in self._index:
                    return self._index[candidate]
                if candidate in self._families:
                    return candidate
            if words[0] not in _NEUTRAL:
                return None
            words = words[1:]
        return None

    def nearest(self, name: str, count: int = 3) -> tuple[str, ...]:
        """Canonical names that it may be a slip for, best first; where there is none, the food
        that its last words name (of “chopped walnuts”, the walnut). A food of another kind whose
        name only looks like it is none: beef is no beet, and a vegan cheese is no cheese."""
        folded = _SIGNS.sub("", fold(name)).strip()
        if folded in self._index:
            return (self._index[folded],)
        close = difflib.get_close_matches(folded, self._index, n=count * 3, cutoff=0.7)
        close = [each for each in close if is_slip(folded, each)]
        close = [
            each for each in close if likeness(folded, each) > likeness(folded, close[0]) - _AS_NEAR
        ]
        if not close:
            close = self._named_last(folded.split(" "))
        return tuple(dict.fromkeys(self._index[each] for each in close))[:count]

    def _named_last(self, words: Sequence[str]) -> list[str]:
        """Names that the last words are, where those in front say only how it is."""
        found = []
        for first in range(1, len(words)):
            if words[first - 1] in _OTHER_KIND or self._known(words[first - 1]) is not None:
                return []
            end = " ".join(words[first:])
            found += [one for one in singulars(end) if one in self._index]
        return found


_MIXED_WITH = re.compile(r",? (?:and|plus|with) |, ")
_WORST_FIRST = (
    *("ground poultry", "poultry", "ground meat", "pork", "whole meat", "fish", "shellfish"),
    *("egg", "sprouts", "flour"),
)
"""Raw hazards, by how hot the middle must get (Safe Minimum Internal Temperature chart)."""
_SIGNS = re.compile(r"[^\w' ]+")
_OTHER_KIND = frozenset(
    (
        *("based", "dairy", "faux", "free", "imitation", "meatless", "mock", "plant"),
        *("substitute", "vegan", "vegetarian"),
    )
)
"""Words in front of a food that make it another one."""
_AS_NEAR = 0.05
"""By how much less a second name may be alike, so that it could as well be meant."""
