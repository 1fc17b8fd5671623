"""What is known of an ingredient, and from where; and the lines that say it in pantry.yaml."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.model.pantry import Item, Keeping, Pantry, Weight
from spoonfold.problem import Place
from spoonfold.quantity.show import show_amount, show_number
from spoonfold.quantity.unit import PIECE
from spoonfold.read.files import Source
from spoonfold.read.nodes import Mapping, node_from_yaml
from spoonfold.read.yaml_text import yaml_text

BY_KIND = "by what the food is; brands differ, so read every label"
NOT_SAID = "none that Spoonfold knows of"
OWN = "your own"


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing that is known."""

    about: str
    """What it is about, in a word or two."""
    says: str
    source: str = ""
    """Where that is from; empty: it is a name, or how Spoonfold sorts things."""


@dataclass(frozen=True, slots=True)
class Known:
    """An ingredient with everything that is known of it."""

    item: Item
    facts: tuple[Fact, ...]
    own: Place | None
    """Where the author's own entry begins; None: all of it ships with Spoonfold."""


@dataclass(frozen=True, slots=True)
class Unknown:
    """A name that no ingredient has."""

    name: str
    nearest: tuple[str, ...]


def known(pantry: Pantry, name: str, source: Source | None = None) -> Known | Unknown:
    """What the pantry knows under a name: any of its names. `source` is the author's own
    pantry.yaml, so that what is from there can be told apart."""
    item = pantry.find(name)
    if item is None:
        return Unknown(name, pantry.nearest(name))
    root = None if source is None else node_from_yaml(source.text, source.path, [])
    for written, entry in root.entries.items() if isinstance(root, Mapping) else ():
        if isinstance(root, Mapping) and pantry.find(written) is item:
            keys = entry.entries if isinstance(entry, Mapping) else {}
            return Known(item, tuple(_facts(item, frozenset(keys))), root.keys[written])
    return Known(item, tuple(_facts(item, frozenset())), None)


def _facts(item: Item, own: frozenset[str]) -> Iterator[Fact]:
    """`own` are the keys that the author's entry gives."""
    if item.plural != item.name:
        yield Fact("several", item.plural)
    if item.also:
        yield Fact("also called", ", ".join(item.also))
    for language, names in item.names.items():
        yield Fact(f"in {language}", ", ".join(dict.fromkeys(names)))
    yield Fact(
        "contains", ", ".join(item.allergens) or NOT_SAID, OWN if "allergens" in own else BY_KIND
    )
    if item.check_label:
        yield Fact("may contain", ", ".join(item.check_label), "in some brands: read the label")
    if item.raw:
        yield Fact("raw hazard", item.raw)
    if item.tags:
        yield Fact("is", ", ".join(sorted(item.tags)))
    for weight in item.weights:
        yield Fact("weighs", f"{_measure(weight)}: {show_number(weight.grams)} g", weight.source)
    if item.edible_source:
        share = show_number(item.edible * 100)
        yield Fact("edible", f"{share} % of what is bought", item.edible_source)
    for name, piece in item.pieces.items():
        yield Fact("gives", f"{show_amount(piece.amount)} {name}", piece.source)
    for about, keeping in (("keeps", item.keeps), ("opened, keeps", item.opened)):
        if keeping:
            yield Fact(about, ", ".join(_days(keeping)), keeping.source)
    for package in item.packages:
        price = "" if package.price is None else f" for {_money(package.price)}"
        yield Fact(
            "is sold as", show_amount(package.size) + price, OWN if "packages" in own else ""
        )
    yield from _sorted(item, own)


def _sorted(item: Item, own: frozenset[str]) -> Iterator[Fact]:
    """How Spoonfold sorts it, and what else it is needed for."""
    values = {
        "corner shop": (item.corner, "corner"),
        "in the shop": (item.section, "section"),
        "food group": (item.group, "group"),
        "colour": (item.colour, "colour"),
        "measured": (item.exactness.value, "exactness"),
        "divided into": (item.divides, "divides"),
    }
    for about, (says, key) in values.items():
        if says:
            yield Fact(about, says, OWN if key in own else "")
    if item.processing:
        yield Fact(
            "processing",
            f"{item.processing} of 4",
            OWN if "processing" in own else "after NOVA, Monteiro et al. 2016",
        )


def _money(price: Fraction) -> str:
    """In decimals where they say it exactly."""
    cents = price * 100
    if cents.denominator != 1:
        return show_number(price)
    return f"{cents.numerator // 100}.{cents.numerator % 100:02}"


def _measure(weight: Weight) -> str:
    measure = show_amount(weight.measure)
    if weight.measure.unit == PIECE:
        return f"{measure} {weight.form or 'of it'}"
    return f"{measure}, {weight.form}" if weight.form else measure


def _days(keeping: Keeping) -> Iterator[str]:
    for place, days in keeping.days.items():
        yield f"{days} day{'' if days == 1 else 's'} in the {place}"


def lines_of(item: Item) -> tuple[str, ...]:
    """The whole entry as lines of pantry.yaml; read back, they say just what is known."""
    return (f"{yaml_text(item.name)}:", *(f"  {line}" for line in _lines(item)))


def _lines(item: Item) -> Iterator[str]:
    yield f"plural: {yaml_text(item.plural)}"
    yield from _list("also", item.also)
    if item.names:
        yield "names:"
        for language, names in item.names.items():
            yield f"  {yaml_text(language)}:"
            yield from (f"    - {yaml_text(name)}" for name in names)
    if item.usda:
        yield f"usda: {yaml_text(item.usda)}"
    if item.weights:
        yield "weights:"
    for weight in item.weights:
        yield f"  - measure: {yaml_text(show_amount(weight.measure))}"
        if weight.form:
            yield f"    form: {yaml_text(weight.form)}"
        yield f"    grams: {yaml_text(show_number(weight.grams))}"
        yield f"    source: {yaml_text(weight.source)}"
    if item.edible_source:
        yield "edible:"
        yield f"  share: {yaml_text(show_number(item.edible))}"
        yield f"  source: {yaml_text(item.edible_source)}"
    if item.pieces:
        yield "pieces:"
    for name, piece in item.pieces.items():
        yield f"  {yaml_text(name)}:"
        yield f"    amount: {yaml_text(show_amount(piece.amount))}"
        yield f"    source: {yaml_text(piece.source)}"
    yield f"section: {item.section}"
    plain: dict[str, str | None] = {
        "colour": item.colour,
        "group": item.group,
        "raw": item.raw,
        "exactness": item.exactness.value,
        "divides": item.divides,
        "corner": item.corner,
        "processing": str(item.processing) if item.processing else None,
    }
    for key, value in plain.items():
        if value:
            yield f"{key}: {yaml_text(value)}"
    yield from _list("allergens", item.allergens)
    yield from _list("check label", item.check_label)
    yield from _list("tags", sorted(item.tags))
    for key, keeping in (("keeps", item.keeps), ("opened", item.opened)):
        if keeping:
            yield f"{key}:"
            yield from (f"  {place}: {days} days" for place, days in keeping.days.items())
            yield f"  source: {yaml_text(keeping.source)}"
    if item.packages:
        yield "packages:"
    for package in item.packages:
        yield f"  - size: {yaml_text(show_amount(package.size))}"
        if package.price is not None:
            yield f"    price: {_money(package.price)}"


def _list(key: str, values: tuple[str, ...] | list[str]) -> Iterator[str]:
    if not values:
        yield f"{key}: []"
        return
    yield f"{key}:"
    yield from (f"  - {yaml_text(value)}" for value in values)
