"""The packet: a worksheet on which children set a dish beside its packaged cousin, and its key."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.amounts import amount_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import NUTRIENTS, FoodRow, PackagedFood
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.amounts.weights import Weighed, weights_of
from spoonfold.quantity.show import show_number
from spoonfold.read.nutrients import food_rows, packaged_foods
from spoonfold.sheets.shared.head import Head, dishes_of, head_of
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, SessionFile, Sheet
from spoonfold.teach.packet import Dishful, Packet, Race, Sum, race_of

_SALTY = 35
"""Milligrams of sodium a portion below which a US label may say “very low sodium” (21 CFR 101.61,
from memory)."""
_WATER = FoodRow("", "water", dict.fromkeys(NUTRIENTS, Fraction(0)))
"""Tap water brings none of the three that is worth counting (common practice)."""


@dataclass(frozen=True, slots=True)
class LineView:
    """One food to work out."""

    name: str
    grams: str
    per: str
    """In 100 g."""
    answer: str


@dataclass(frozen=True, slots=True)
class SumView:
    """One nutrient of the dish."""

    title: str
    unit: str
    lines: tuple[LineView, ...]
    rest: str
    """What all the others bring; empty where that is nothing."""
    total: str
    portion: str
    exact: str
    """For the key: a portion, without rounding on the way."""
    unknown: str
    """Foods of which the table doesn't say it."""


@dataclass(frozen=True, slots=True)
class PacketView:
    """One nutrient of the packaged food, and who has more."""

    title: str
    unit: str
    per: str
    answer: str
    same_weight: str
    ours: str
    more: str


@dataclass(frozen=True, slots=True)
class PacketDish:
    """One dish and its cousin."""

    title: str
    cousin: str
    measure: str
    """One portion of the packaged food by a household measure."""
    serves: str
    our_grams: str
    packet_grams: str
    times: str
    """How many packet portions weigh as much as one of ours; empty for one."""
    sums: tuple[SumView, ...]
    packets: tuple[PacketView, ...]
    is_salty: bool
    """Whether sodium is worth asking about."""
    most: str
    """The food that brings the most of it, or else of the sugars; empty where none does."""
    rows: tuple[str, ...]
    """The rows of the table that were used, with their numbers."""


@dataclass(frozen=True, slots=True)
class PacketSheet:
    """The worksheet of one session."""

    head: Head
    dishes: tuple[PacketDish, ...]


def packet_sheet(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    uses: Mapping[str, Uses],
    table: tuple[Mapping[str, FoodRow], Mapping[str, PackagedFood]],
    texts: Texts,
) -> PacketSheet | None:
    """The worksheet of a session; None where no dish of it names a packaged cousin. `table` is
    the shipped rows by number, and the packaged foods by name."""
    rows, packaged = table
    dishes = []
    for dish in session.dishes:
        recipe = folder.recipes.get(dish.text)
        if recipe is not None and recipe.packaged_cousin is not None:
            weighed = weights_of(recipe, uses[recipe.key], folder.pantry)
            dishes.append(_dish(recipe, weighed, packaged[recipe.packaged_cousin], rows, texts))
    if not dishes:
        return None
    return PacketSheet(head_of(folder, classroom, session, texts), tuple(dishes))


def _dish(
    recipe: Recipe,
    weighed: Sequence[Weighed],
    cousin: PackagedFood,
    rows: Mapping[str, FoodRow],
    texts: Texts,
) -> PacketDish:
    foods = [_dishful(each, rows) for each in weighed if each.grams is not None]
    race = race_of(foods, recipe.serves, cousin)
    unweighed = tuple(each.ingredient.said for each in weighed if each.grams is None)
    sodium, sugars, _ = race.sums
    is_salty = sodium.portion >= _SALTY
    most = (sodium if is_salty else sugars).lines[:1]
    used = {
        row.ndb: row
        for row in (*(food.row for food in foods), cousin.row)
        if row is not None and row.ndb
    }
    return PacketDish(
        title=recipe.title,
        cousin=texts.say(cousin.name),
        measure=amount_text(cousin.portion, texts),
        serves=show_number(recipe.serves),
        our_grams=_number(race.our_grams),
        packet_grams=_number(race.packet_grams),
        times="" if race.times == 1 else show_number(race.times),
        sums=tuple(_sum_view(each, unweighed, texts) for each in race.sums),
        packets=tuple(_packet_view(each, race, texts) for each in race.packets),
        is_salty=is_salty,
        most=most[0].name if most else "",
        rows=tuple(f"{row.ndb} {row.food}" for row in used.values()),
    )


def _dishful(weighed: Weighed, rows: Mapping[str, FoodRow]) -> Dishful:
    """What is eaten of it, in the table: a lime's juice is another row than the lime."""
    assert weighed.grams is not None
    name = weighed.ingredient.said
    if weighed.item is not None and weighed.item.name == "water":
        return Dishful(name, weighed.grams, _WATER)
    row = None
    if len(weighed.eaten) == 1 and weighed.eaten[0].usda is not None:
        row = rows.get(weighed.eaten[0].usda)
    return Dishful(name, weighed.grams, row)


def _sum_view(each: Sum, unweighed: Sequence[str], texts: Texts) -> SumView:
    return SumView(
        title=_title(each.nutrient, texts),
        unit=_unit(each.nutrient, texts),
        lines=tuple(
            LineView(line.name, _number(line.grams), _number(line.per_100_g), _number(line.answer))
            for line in each.lines
        ),
        rest=_number(each.rest) if each.rest else "",
        total=_number(each.total),
        portion=_number(each.portion),
        exact=_number(each.exact, places=1),
        unknown=", ".join(dict.fromkeys((*each.unknown, *unweighed))),
    )


def _packet_view(each: Packet, race: Race, texts: Texts) -> PacketView:
    ours = next(one.portion for one in race.sums if one.nutrient == each.nutrient)
    more = (
        texts.say("the packet")
        if each.same_weight > ours
        else (texts.say("our dish") if ours > each.same_weight else texts.say("both the same"))
    )
    return PacketView(
        title=_title(each.nutrient, texts),
        unit=_unit(each.nutrient, texts),
        per=_number(each.per_100_g),
        answer=_number(each.answer),
        same_weight=_number(each.same_weight),
        ours=_number(ours),
        more=more,
    )


def _title(nutrient: str, texts: Texts) -> str:
    return {
        "sodium": texts.say("Sodium"),
        "sugars": texts.say("Sugars"),
        "fibre": texts.say("Fibre"),
    }[nutrient]


def _unit(nutrient: str, texts: Texts) -> str:
    return texts.say("mg") if nutrient == "sodium" else texts.say("g")


def _number(value: Fraction, places: int = 4) -> str:
    """A decimal without idle zeros: 39,000, 4.7."""
    text = f"{float(value):,.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def made(context: BuildContext) -> Iterator[Sheet]:
    """A dish beside its packaged cousin, and the key, for the sessions that have such a dish."""
    language = context.texts.language
    for session in context.sessions:
        sheet = packet_sheet(
            context.folder,
            context.classroom,
            session,
            context.uses,
            (food_rows(), packaged_foods()),
            context.texts,
        )
        if sheet is None:
            continue
        for file, is_key in ((FILE, False), (KEY, True)):
            yield Sheet(
                (file.path(session, language),),
                f"Opening the packet of session {session.number}",
                LAYOUT,
                {"sheet": sheet, "key": is_key},
                language,
                SIDES * len(sheet.dishes),
            )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    """For each child while the pot simmers, with the answers for the lead cook."""
    say, language = context.texts.say, context.texts.language
    if all(each.packaged_cousin is None for each in dishes_of(context.folder, session)):
        return
    yield PackEntry(
        Moment.LEAD,
        KEY.path(session, language),
        say("What is in the packet? The key"),
        say("on the day, lead cook"),
    )
    yield PackEntry(
        Moment.DAY,
        FILE.path(session, language),
        say("What is in the packet?"),
        say("on the day: one for each child"),
        sum(session.setting.tables),
    )


FILE, KEY = SessionFile("packet"), SessionFile("packet-key")

SIDES = 2
"""The dish in front, the packet behind."""

LAYOUT = Layout("packet.html", ("large", "middle", "small"))

PART = Part(made, FILE.owns, in_pack)
