"""The pantry: what ships with Spoonfold, and the author's own additions over it.

Both have the same keys. The shipped one is JSON because it must be read by every
command in a few milliseconds; an item becomes a value only when it is asked for.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, lru_cache
from importlib.resources import files
from typing import Any

from spoonfold.knowledge.families import families, family_names
from spoonfold.knowledge.names import bare, fold, singulars
from spoonfold.model.pantry import COLOURS, Item, Keeping, Package, Pantry, Piece, Weight
from spoonfold.problem import Place
from spoonfold.quantity.exactness import Exactness
from spoonfold.quantity.grammar import Refusal, read_amount, read_number, read_share
from spoonfold.read.files import Source
from spoonfold.read.grammar import read_price
from spoonfold.read.nodes import Mapping, Node, Scalar, Sequence, node_from_plain, node_from_yaml
from spoonfold.read.record import Key, ListOf, MapOf, Record, entries_of
from spoonfold.read.shape import Choice, Found, Line, Parsed, Shape, Whole
from spoonfold.read.yaml_text import yaml_text

SECTIONS = (
    "vegetables",
    "fruit",
    "herbs",
    "dairy and eggs",
    "meat and fish",
    "cans and jars",
    "dry goods",
    "baking",
    "spices",
    "oils and sauces",
    "bread",
    "frozen",
    "nuts and seeds",
    "other",
)
GROUPS = (
    "dark green",
    "red and orange",
    "beans peas lentils",
    "starchy",
    "other vegetable",
    "fruit",
    "grain",
    "whole grain",
    "dairy",
    "protein",
    "fat",
)
# The US nine (FD&C Act 201(qq)) and what the EU fourteen (Regulation (EU) No 1169/2011,
# Annex II) add to them.
ALLERGENS = (
    "milk",
    "egg",
    "fish",
    "crustacean",
    "tree nut",
    "peanut",
    "wheat",
    "soy",
    "sesame",
    "gluten",
    "celery",
    "mustard",
    "sulphite",
    "lupin",
    "mollusc",
)
TAGS = (
    "plant",
    "animal",
    "meat",
    "poultry",
    "beef",
    "pork",
    "lamb",
    "seafood",
    "gelatin",
    "alcohol",
    "honey",
    "liquid",
    "salty",
    "hot spice",
    "leavening",
    "sweetener",
    "oil",
    "perishable",
    "cut tcs",
    "cooked tcs",
    "choking",
    "round bite",
    "burns skin",
    "cook frozen",
    "cut cold",
    "cools like rice",
    "solid fat",
    "coconut",
)
# Tags that a caution, a temperature, a time or somebody's need rests on.
SAFETY_TAGS = (
    "animal",
    "meat",
    "poultry",
    "beef",
    "pork",
    "lamb",
    "seafood",
    "gelatin",
    "alcohol",
    "honey",
    "oil",
    "perishable",
    "cut tcs",
    "cooked tcs",
    "choking",
    "round bite",
    "burns skin",
    "cook frozen",
    "coconut",
)
RAW = (
    "poultry",
    "ground poultry",
    "ground meat",
    "whole meat",
    "pork",
    "fish",
    "shellfish",
    "egg",
    "flour",
    "sprouts",
)
PLACES = ("cupboard", "fridge", "freezer")
UNSOURCED = "the author's own"


def _grams(text: str) -> Fraction | Refusal:
    return read_number(text.removesuffix("g").rstrip())


def _days(text: str) -> int | Refusal:
    number = read_number(text.removesuffix("s").removesuffix("day").rstrip())
    if isinstance(number, Refusal) or number.denominator != 1:
        return Refusal("not-days", f"“{text}” should be a number of days.", 0, "5 days")
    return int(number)


@dataclass(frozen=True, slots=True)
class _Made:
    """A record that becomes one value; None where a needed key is missing."""

    record: Record
    make: Callable[[dict[str, Any]], Any]

    @property
    def written(self) -> tuple[Shape, ...]:
        return (self.record,)

    def read(self, node: Node, found: Found) -> Any:
        values = self.record.read(node, found)
        needed = {key.name for key in self.record.keys if key.required}
        return None if values is None or not needed <= values.keys() else self.make(values)


class _KeepsOrDays:
    """`{fridge: 5 days, source: …}`."""

    @property
    def written(self) -> tuple[Shape, ...]:
        return (_KEEPING,)

    def read(self, node: Node, found: Found) -> Keeping | None:
        values = _KEEPING.read(node, found)
        if values is None:
            return None
        days = {place: values[place] for place in PLACES if place in values}
        return Keeping(days, values.get("source", UNSOURCED))


_KEEPING = Record(
    (
        *(
            Key(place, Parsed(_days, "a number of days"), f"days in the {place}")
            for place in PLACES
        ),
        Key("source", Line("a source"), "where that is from"),
    ),
    "how long it keeps",
)
_AMOUNT = Parsed(read_amount, "an amount, such as 1 cup")
_WEIGHT = _Made(
    Record(
        (
            Key("measure", _AMOUNT, "the measure", True, "1 cup"),
            Key("form", Line("a form"), "chopped, sliced, medium ..."),
            Key("grams", Parsed(_grams, "grams"), "what it weighs", True, "160"),
            Key("source", Line("a source"), "where that is from", True, "weighed by me"),
        ),
        "a weight",
    ),
    lambda v: Weight(v["measure"], v.get("form"), v["grams"], v["source"]),
)
_PIECE = _Made(
    Record(
        (
            Key("amount", _AMOUNT, "how much one gives", True, "1 tbsp"),
            Key("source", Line("a source"), "where that is from", True, "from memory"),
        ),
        "a piece",
    ),
    lambda v: Piece(v["amount"], v["source"]),
)
_EDIBLE = _Made(
    Record(
        (
            Key("share", Parsed(read_share, "a share"), "edible share", True, "0.9"),
            Key("source", Line("a source"), "where that is from", True, "from memory"),
        ),
        "the edible share",
    ),
    lambda v: v,
)
_PACKAGE = _Made(
    Record(
        (
            Key("size", _AMOUNT, "how much is in it", True, "1 lb"),
            Key("price", Parsed(read_price, "a price"), "what it costs"),
        ),
        "a package",
    ),
    lambda v: Package(v["size"], v.get("price")),
)
_TEXTS = ListOf(Line("a name"), or_one=True)

ITEM = Record(
    (
        Key("plural", Line("the plural"), "the plural"),
        Key("also", _TEXTS, "other names"),
        Key("names", MapOf(_TEXTS), "names by language"),
        Key("usda", Line("a number"), "NDB number in the USDA release 26"),
        Key("weights", ListOf(_WEIGHT), "grams per measure"),
        Key("edible", _EDIBLE, "edible share of what is bought"),
        Key("pieces", MapOf(_PIECE), "parts used by themselves"),
        Key("section", Choice(SECTIONS), "where the shop has it"),
        Key("colour", Choice(COLOURS), "its colour"),
        Key("group", Choice(GROUPS), "its food group"),
        Key(
            "allergens",
            ListOf(Choice(ALLERGENS, safe=False), or_one=True),
            "what it surely contains",
        ),
        Key(
            "check label",
            ListOf(Choice(ALLERGENS, safe=False), or_one=True),
            "what some brands contain",
        ),
        Key("tags", ListOf(Choice(TAGS, safe=False), or_one=True), "what kind of food it is"),
        Key("raw", Choice(RAW, safe=False), "which raw hazard it is"),
        Key("exactness", Choice(tuple(each.value for each in Exactness)), "how exact"),
        Key("divides", Choice(("whole", "half", "quarter")), "how far one may be divided"),
        Key("processing", Whole(1, 4, "1 to 4"), "degree of processing (NOVA)"),
        Key("keeps", _KeepsOrDays(), "how long it keeps"),
        Key("opened", _KeepsOrDays(), "how long it keeps once opened"),
        Key("packages", ListOf(_PACKAGE), "what shops sell"),
        Key("corner", Line("what to get there"), "what a small corner shop has instead"),
    ),
    "a pantry entry",
)


# What authors wrote before there were tags for it. A section or a group adds such a tag and
# takes none away: frozen peas that stand in another part of her shop are frozen peas.
_IMPLIED: tuple[tuple[str, frozenset[str], str, str], ...] = (
    ("section", frozenset({"frozen"}), "cooked tcs", "cook frozen"),
    ("section", frozenset({"spices", "vegetables"}), "hot spice", "burns skin"),
    ("section", frozenset({"fruit"}), "", "cut cold"),
    ("group", frozenset({"grain", "whole grain"}), "cooked tcs", "cools like rice"),
)


def _tags(values: dict[str, Any]) -> frozenset[str]:
    """The tags as written, and what other keys have always implied."""
    tags = frozenset(values.get("tags", ()))
    return tags | {
        tag
        for key, words, with_tag, tag in _IMPLIED
        if values.get(key) in words and (not with_tag or with_tag in tags)
    }


@lru_cache(maxsize=1)
def _shipped() -> dict[str, dict[str, Any]]:
    """Every entry that ships with the package, as plain JSON values."""
    entries: dict[str, dict[str, Any]] = {}
    folder = files("spoonfold") / "knowledge" / "foods"
    for file in sorted(folder.iterdir(), key=lambda each: each.name):
        if file.name.endswith(".json"):
            entries.update(json.loads(file.read_text(encoding="utf-8")))
    return entries


def read_pantry(source: Source | None, found: Found) -> Pantry:
    """The shipped pantry with the author's entries over it, key by key."""
    if source is None:
        return _shipped_pantry()
    own = _own_entries(source, found)
    shipped = _shipped()
    index = dict(_shipped_index())
    entries: dict[str, Mapping] = {}
    retold: list[str] = []
    for written, node in own.entries.items():
        if not isinstance(node, Mapping):
            if entries_of(node, found) is None:
                continue
            node = Mapping(node.place)
        name = next((index[form] for form in singulars(fold(written)) if form in index), written)
        if name not in shipped:
            name = next((form for form in singulars(fold(name)) if form in families()), name)
        base = node_from_plain(shipped.get(name) or _family(name), node.place)
        assert isinstance(base, Mapping)
        # The author's keys alone are checked: what ships was checked by our own tests.
        ITEM.read(node, found)
        entries[name] = Mapping(
            node.place, {**base.entries, **node.entries}, {**base.keys, **node.keys}
        )
        _name_all(index, name, _text(node, "plural"), _texts(node, "also"))
        if not _MAY_TAKE_AWAY.isdisjoint(node.entries) and (name in shipped or name in families()):
            retold.append(name)

    def build(name: str) -> Item | None:
        own = entries.get(name)
        if own is None:
            return _shipped_item(name)
        item = _item(name, own)
        if name not in retold:
            return item
        return replace(item, taken_away=_taken_away(_shipped_item(name), item))

    def in_language(language: str) -> dict[str, str]:
        names = dict(_shipped_names(language))
        for name in entries:
            item = build(name)
            names.update(
                (bare(one), name) for one in (item.names.get(language, ()) if item else ())
            )
        return names

    places = {name: node.place for name, node in entries.items()}
    return Pantry(index, build, places, families(), retold, in_language)


@cache
def _shipped_pantry() -> Pantry:
    """One for every class without entries of its own, with all that is worked out of it."""
    return Pantry(_shipped_index(), _shipped_item, {}, families(), in_language=_shipped_names)


_MAY_TAKE_AWAY = frozenset({"allergens", "check label", "tags", "raw"})
"""Keys of an entry that stand over what is known of its food."""


def _taken_away(ships: Item, own: Item) -> tuple[str, ...]:
    """What the author's entry no longer says of a food. An allergen that was sure and is now for
    its label to tell is one."""
    listed = {*own.allergens, *own.check_label}
    return (
        *(each for each in ships.allergens if each not in own.allergens),
        *(each for each in ships.check_label if each not in listed),
        *((f"raw {ships.raw}",) if ships.raw and ships.raw != own.raw else ()),
        *(each for each in SAFETY_TAGS if each in ships.tags - own.tags),
    )


def _family(name: str) -> dict[str, Any]:
    """What a word for many foods says of them, as an entry of the pantry; empty for any other
    word. Whoever describes such a food as her own says the rest: nothing is taken away unsaid."""
    family = families().get(name)
    if family is None:
        return {}
    spoils = (
        family.raw not in (None, "flour") or "milk" in family.allergens or "meat" in family.tags
    )
    return {
        "allergens": list(family.allergens),
        "check label": list(family.check_label),
        "tags": [*family.tags, *(("perishable",) if spoils else ())],
    } | ({"raw": family.raw} if family.raw else {})


@lru_cache(maxsize=1)
def shipped_names() -> frozenset[str]:
    """Every name of the foods that ship, as `fold` writes them."""
    return frozenset(_shipped_index())


@lru_cache(maxsize=1)
def _shipped_index() -> dict[str, str]:
    """The canonical name of each of these names."""
    index: dict[str, str] = {}
    for name, entry in _shipped().items():
        _name_all(index, name, entry.get("plural"), entry.get("also", ()))
    return index


@cache
def _shipped_names(language: str) -> dict[str, str]:
    """What every food that ships and every family is called in a language, without accents."""
    found: dict[str, str] = {}
    for name, entry in _shipped().items():
        for one in entry.get("names", {}).get(language, ()):
            found.setdefault(bare(one), name)
    for word, family in family_names(language).items():
        found.setdefault(word, family)
    return found


@cache
def _shipped_item(name: str) -> Item:
    """A food that ships, or what a family says, made once for every class of a program that
    reads many."""
    plain = _shipped().get(name) or _family(name)
    node = node_from_plain(plain, Place(f"pantry: {name}"))
    return _item(name, node, is_family=name not in _shipped())


def _own_entries(source: Source, found: Found) -> Mapping:
    node = node_from_yaml(source.text, source.path, found)
    empty = Mapping(Place(source.path))
    return empty if node is None else entries_of(node, found) or empty


def _name_all(index: dict[str, str], name: str, plural: str | None, also: Any) -> None:
    index[fold(name)] = name
    for other in (plural, *also):
        if other:
            index.setdefault(fold(other), name)


def _text(node: Mapping, key: str) -> str | None:
    value = node.entries.get(key)
    return value.text if isinstance(value, Scalar) and value.text else None


def _texts(node: Mapping, key: str) -> tuple[str, ...]:
    value = node.entries.get(key)
    items = value.items if isinstance(value, Sequence) else [value]
    return tuple(each.text for each in items if isinstance(each, Scalar) and each.text)


def _item(name: str, node: Node, is_family: bool = False) -> Item:
    values = ITEM.read(node, []) or {}
    edible = values.get("edible")
    return Item(
        name=name,
        plural=values.get("plural", name),
        also=values.get("also", ()),
        names=values.get("names", {}),
        usda=values.get("usda"),
        weights=values.get("weights", ()),
        edible=edible["share"] if edible else Fraction(1),
        edible_source=edible["source"] if edible else None,
        pieces=values.get("pieces", {}),
        section=values.get("section", "other"),
        colour=values.get("colour"),
        group=values.get("group"),
        allergens=values.get("allergens", ()),
        check_label=values.get("check label", ()),
        tags=_tags(values),
        raw=values.get("raw"),
        exactness=Exactness(values.get("exactness", Exactness.CLOSE.value)),
        divides=values.get("divides"),
        processing=values.get("processing"),
        keeps=values.get("keeps"),
        opened=values.get("opened"),
        packages=values.get("packages", ()),
        corner=values.get("corner"),
        is_family=is_family,
    )


def lines_to_add(name: str) -> tuple[str, ...]:
    """The entry that a name needs. Unchanged it is refused: of allergens nothing is assumed."""
    return (
        f"{yaml_text(name)}:",
        "  allergens: read the label   # then what it contains: [milk, wheat], or []",
        "  check label: []             # what only some brands contain",
        "  section: dry goods          # where the shop has it",
        "  tags: [plant]               # or animal, meat, perishable, choking ...",
        "  # So that cups can be weighed: how many grams one cup of it has.",
        "  # weights: [{measure: 1 cup, grams: 90, source: weighed by me}]",
        "  # packages: [{size: 1 lb, price: 2.40}]",
    )
