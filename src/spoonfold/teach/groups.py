"""Colours, kinds of vegetables, plants and degree of processing, as shares of a weight.

A teaching device: it says what is on the plate, and nothing about health. Kinds of vegetables
are those of the US school meal pattern (7 CFR 210.10) and of USDA MyPlate; the five colours are
those of public fruit and vegetable campaigns (from memory); the degree of processing is NOVA
(Monteiro and others, World Nutrition 7, 2016).
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.knowledge.produce import everyday_produce
from spoonfold.model.pantry import COLOURS, Item, Pantry

VEGETABLES = ("dark green", "red and orange", "beans peas lentils", "starchy", "other vegetable")
PROCESSING = (1, 2, 3, 4)
ORIGINS = ("plants", "animals")

Eaten = tuple[Item, Fraction]
"""A food and how many grams of it."""
Part = str | int
"""A colour, a kind, an origin or a degree of processing."""

_WATER = "water"


@dataclass(frozen=True, slots=True)
class Shares:
    """What each part of a whole weighs, and the whole; exact."""

    grams: Mapping[Part, Fraction]
    """Every part there could be, in order; nothing of it is zero."""

    @property
    def total(self) -> Fraction:
        """Grams altogether."""
        return sum(self.grams.values(), Fraction(0))

    @property
    def parts(self) -> Mapping[Part, Fraction]:
        """Each part's share: they sum to one, or are all zero where there is nothing."""
        total = self.total
        return {part: grams / total if total else Fraction(0) for part, grams in self.grams.items()}

    @property
    def percents(self) -> Mapping[Part, int]:
        """The same in whole per cent."""
        return percents(self.parts)

    @property
    def missing(self) -> tuple[Part, ...]:
        """The parts of which there is nothing."""
        return tuple(part for part, grams in self.grams.items() if not grams)


def colours_of(eaten: Iterable[Eaten]) -> Shares:
    """Grams of vegetables, fruit and herbs by colour; what has none isn't counted."""
    return _by(COLOURS, ((item.colour, grams) for item, grams in eaten))


def vegetables_of(eaten: Iterable[Eaten]) -> Shares:
    """Grams of vegetables by kind."""
    return _by(VEGETABLES, ((item.group, grams) for item, grams in eaten))


def origins_of(eaten: Iterable[Eaten]) -> Shares:
    """Grams from plants and from animals; water, salt and leavening are of neither."""
    return _by(ORIGINS, ((_origin(item), grams) for item, grams in eaten))


def processing_of(eaten: Iterable[Eaten]) -> Shares:
    """Grams by degree of processing as bought; water isn't counted."""
    return _by(
        PROCESSING,
        ((None if item.name == _WATER else item.processing, grams) for item, grams in eaten),
    )


def percents(shares: Mapping[Part, Fraction]) -> dict[Part, int]:
    """Shares in whole per cent that sum to 100 where the shares sum to one.

    Each is rounded down, and what is left goes to the largest remainders (the method of Hamilton).
    """
    hundredths = {part: share * 100 for part, share in shares.items()}
    whole = {part: math.floor(share) for part, share in hundredths.items()}
    left = math.floor(sum(hundredths.values())) - sum(whole.values())
    # Of equal remainders the first: sorting keeps their order.
    for part in sorted(shares, key=lambda part: whole[part] - hundredths[part])[:left]:
        whole[part] += 1
    return whole


def fillers(
    colours: Collection[Part],
    kinds: Collection[Part],
    pantry: Pantry,
    avoided: Collection[str] = (),
    fruit: bool = False,
) -> tuple[Item, ...]:
    """Everyday produce of the pantry, each of which brings a colour or a kind that is still
    missing; what brings two, then what the class's own shop list has, comes first.

    Nothing that is named in `avoided`, by an allergen or its name; fruit alone for a dish of
    fruit.
    """
    unwanted = frozenset(avoided)
    candidates = [
        item
        for item in _everyday(pantry, fruit)
        if unwanted.isdisjoint((item.name, *item.allergens, *item.check_label))
    ]
    left_colours, left_kinds = set(colours), set() if fruit else set(kinds)
    chosen: list[Item] = []
    while candidates:
        best = max(
            candidates,
            key=lambda item: (
                (item.colour in left_colours) + (item.group in left_kinds),
                bool(item.packages),
            ),
        )
        if not (best.colour in left_colours or best.group in left_kinds):
            break
        chosen.append(best)
        left_colours.discard(best.colour or "")
        left_kinds.discard(best.group or "")
        candidates.remove(best)
    return tuple(chosen)


def _everyday(pantry: Pantry, fruit: bool) -> Iterator[Item]:
    for name in everyday_produce(fruit):
        item = pantry.find(name)
        if item is not None and item.raw is None:
            yield item


def _origin(item: Item) -> str | None:
    if "animal" in item.tags:
        return "animals"
    return "plants" if "plant" in item.tags else None


def _by(parts: Sequence[Part], found: Iterable[tuple[Part | None, Fraction]]) -> Shares:
    grams: dict[Part, Fraction] = dict.fromkeys(parts, Fraction(0))
    for part, weight in found:
        if part is not None and part in grams:
            grams[part] += weight
    return Shares(grams)
