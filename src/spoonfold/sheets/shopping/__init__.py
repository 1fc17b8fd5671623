"""The shopping sheet of one session: what to take from which shelf, and what to look for first.

For the adults in the room alone: it names what the needs of the class have to do with a food,
by table and never by child.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.knowledge.names import fold
from spoonfold.language.amounts import amounts_text
from spoonfold.language.money import money_text, usual_currency
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.pantry import Pantry
from spoonfold.model.recipe import Recipe
from spoonfold.plan.safety.avoid import Match
from spoonfold.plan.shop.corner import SHOP, Other, State, others_of, stand_ins_of
from spoonfold.plan.shop.left import SeasonLine, Trip, trips_of
from spoonfold.plan.shop.shop import Line
from spoonfold.read.pantry import SECTIONS
from spoonfold.sheets.shared.head import dated
from spoonfold.sheets.sheet import BuildContext, File, Layout, Moment, PackEntry, Part, Sheet
from spoonfold.sheets.shopping.words import (
    at_hand_text,
    avoided_words,
    bought_text,
    brands_text,
    findings_text,
    label_text,
    loosely,
    loosely_one,
    on_label,
    weight_text,
)


@dataclass(frozen=True, slots=True)
class CornerRow:
    """What a small shop has instead."""

    instead_of: str
    name: str
    buy: str
    notes: tuple[str, ...]


def corner_rows(line: Line, pantry: Pantry, setting: Setting, texts: Texts) -> list[CornerRow]:
    """Everything that will do instead of a line, with what to know of it."""
    rows = []
    for other in others_of(line, pantry, avoided_words(setting)):
        notes = []
        if other.state is State.DRIED and other.item.group == "beans peas lentils":
            notes.append(texts.say("soak and boil the day before"))
        if other.cooked_only:
            notes.append(texts.say("only where it is cooked"))
        wrong = tuple(
            each for each in other.findings if each.match in (Match.CERTAIN, Match.UNKNOWN)
        )
        if wrong:
            notes.append(
                texts.say("not for everyone: {what}", what=findings_text(wrong, setting, texts))
            )
        label = label_text(other.item, other.findings, setting, texts)
        if label:
            notes.append(texts.say("its label must not name {what}", what=label))
        brands = brands_text(other.item, other.findings, texts)
        if brands:
            notes.append(texts.say("some brands contain {what}", what=brands))
        rows.append(
            CornerRow(
                line.name,
                other.item.called(texts.language, True) or other.item.plural,
                other_amount(other, texts),
                tuple(notes),
            )
        )
    return rows


def other_amount(other: Other, texts: Texts) -> str:
    """How much of it, as it is sold."""
    if other.amount is None:
        return texts.say("as much as makes the same amount ready to eat")
    if other.amount.unit.name != "g":
        return amounts_text(loosely_one(other.amount), texts)
    weight = weight_text(other.amount.low, texts)
    if other.drained:
        weight = texts.say("{weight} drained", weight=weight)
    if other.purchase is None or not other.purchase.packages:
        return weight
    return f"{bought_text(other.purchase, texts)}: {weight}"


@dataclass(frozen=True, slots=True)
class ShoppingRow:
    """One thing on the list."""

    name: str
    buy: str
    """`2 × 2 lb`; where something should be left: what to buy if it isn't."""
    look: str
    """What should be there already; empty: nothing to look for."""
    if_found: str
    """What to buy where it is."""
    need: str
    """What is measured, and for which dish."""
    price: str
    """Of all the packages, as a number; empty where it isn't known."""
    cost: str
    """The same with the currency's sign."""
    label: str
    """What the label must not name, by table; empty: nothing that anyone here avoids."""
    brands: str
    """What else some brands contain; empty: nothing known."""
    has_label: bool
    """There is a label to read, and a box to tick when it was."""
    notes: tuple[str, ...]
    """What decides at the shelf, and then what else would do."""
    others: int
    """How many of the notes say what else would do."""

    @property
    def deciding(self) -> tuple[str, ...]:
        """The notes to read at the shelf."""
        return self.notes[: len(self.notes) - self.others]

    @property
    def hints(self) -> tuple[str, ...]:
        """The others."""
        return self.notes[len(self.notes) - self.others :]


@dataclass(frozen=True, slots=True)
class ShoppingSection:
    """One part of the shop."""

    title: str
    rows: tuple[ShoppingRow, ...]


@dataclass(frozen=True, slots=True)
class Shopping:
    """The sheet."""

    language: str
    direction: str
    class_name: str
    location: str
    paper: Paper
    number: int
    date: str
    iso_date: str
    dishes: tuple[str, ...]
    for_whom: str
    costs: tuple[str, ...]
    """What it comes to, a child, and how that is beside the budget."""
    over: bool
    sections: tuple[ShoppingSection, ...]
    at_home: tuple[ShoppingRow, ...]
    """What should be left from an earlier session: to be looked for first."""
    aisles: tuple[ShoppingSection, ...]
    """All else in the order in which it is walked, what must stay cold last."""
    is_short: bool
    """Whether the front holds it, so that the back is free for what else would do."""
    corner: tuple[CornerRow, ...]

    @property
    def others(self) -> tuple[ShoppingRow, ...]:
        """Rows of which something else would do."""
        return tuple(row for section in self.sections for row in section.rows if row.hints)


def shopping_of(folder: ClassFolder, classroom: Classroom, trip: Trip, texts: Texts) -> Shopping:
    """The sheet for one trip."""
    setting = trip.session.setting
    currency = classroom.currency or usual_currency(
        classroom.languages[0], classroom.paper.name, classroom.first_day
    )
    rows: dict[str, list[ShoppingRow]] = {}
    for each in sorted(trip.lines, key=lambda each: fold(each.line.name)):
        rows.setdefault(each.line.section, []).append(_row(each, folder, setting, currency, texts))
    at_home = tuple(row for name in SECTIONS for row in rows.get(name, ()) if row.look)
    aisles = tuple(_aisles(rows, texts))
    return Shopping(
        language=texts.language,
        direction=texts.direction,
        class_name=classroom.name,
        location=classroom.location,
        paper=classroom.paper,
        number=trip.session.number,
        date=dated(trip.session, texts),
        iso_date=trip.session.date.isoformat(),
        dishes=tuple(
            folder.recipes[dish.text].title
            for dish in trip.session.dishes
            if dish.text in folder.recipes
        ),
        for_whom=_for_whom(trip, texts),
        costs=_costs(trip, currency, texts),
        over=trip.over > 0,
        sections=tuple(
            ShoppingSection(texts.say(name), tuple(rows[name])) for name in SECTIONS if name in rows
        ),
        at_home=at_home,
        aisles=aisles,
        is_short=_lines([*at_home, *(row for aisle in aisles for row in aisle.rows)]) + len(aisles)
        <= MOST_LINES,
        corner=tuple(
            row
            for each in trip.lines
            for row in corner_rows(each.line, folder.pantry, setting, texts)
        ),
    )


MOST_LINES = 27
"""Lines of a front, headings of aisles among them."""
_LETTERS = 44
"""Of a line beside what to buy."""


def _lines(rows: Iterable[ShoppingRow]) -> int:
    return sum(
        (2 if row.look else -(-len(f"{row.name} {row.need}") // _LETTERS))
        + sum(-(-len(text) // _LETTERS) for text in (row.label, row.brands, *row.deciding))
        for row in rows
    )


def _aisles(rows: Mapping[str, Sequence[ShoppingRow]], texts: Texts) -> Iterator[ShoppingSection]:
    """Through the shop: what must stay cold is taken last, and raw meat after all else."""
    say = texts.say
    for title, sections in (
        (say("Vegetables and fruit"), ("vegetables", "fruit", "herbs")),
        (say("Bread"), ("bread",)),
        (say("Cans and dry goods"), ("cans and jars", "dry goods", "baking", "nuts and seeds")),
        (say("Spices, oils and sauces"), ("spices", "oils and sauces")),
        (say("Other things"), ("other",)),
        (say("Cold, last"), ("frozen", "dairy and eggs", "meat and fish")),
    ):
        own = tuple(row for name in sections for row in rows.get(name, ()) if not row.look)
        if own:
            yield ShoppingSection(title, own)


def shopping_name(number: int, language: str) -> str:
    """Where the sheet lies below `class/`."""
    return f"session-{number:02}/shopping-{language}.pdf"


def shopping_table_name(number: int) -> str:
    """Where the table for a spreadsheet lies below `class/`."""
    return f"session-{number:02}/shopping.csv"


def _for_whom(trip: Trip, texts: Texts) -> str:
    setting = trip.session.setting
    children = texts.count("{number} child", "{number} children", trip.children)
    people = children
    if setting.helpers_eat and setting.helpers:
        people = texts.say(
            "{children} and {helpers}",
            children=children,
            helpers=texts.count("{number} helper", "{number} helpers", setting.helpers),
        )
    if not setting.guests:
        return people
    return texts.count(
        "{people}, and {number} guest",
        "{people}, and {number} guests",
        setting.guests,
        people=people,
    )


def _costs(trip: Trip, currency: str, texts: Texts) -> tuple[str, ...]:
    if not trip.children or len(trip.unpriced) == len(trip.lines):
        return ()
    a_child = trip.cost / trip.children

    def money(amount: Fraction) -> str:
        return money_text(amount, currency, texts.language)

    said = [
        texts.say(
            "Everything on this list: {cost}, which is {share} a child.",
            cost=money(trip.cost),
            share=money(a_child),
        )
    ]
    if trip.least < trip.cost:
        said.append(
            texts.say(
                "If all that should be left is there: {cost}, {share} a child.",
                cost=money(trip.least),
                share=money(trip.least / trip.children),
            )
        )
    budget = trip.session.setting.budget
    if budget is not None and trip.over:
        said.append(
            texts.say(
                "Budget: {budget} a child. Over it by {over} a child.",
                budget=money(budget),
                over=money(trip.over),
            )
        )
    elif budget is not None:
        said.append(
            texts.say(
                "Budget: {budget} a child. {left} a child is left.",
                budget=money(budget),
                left=money(budget - a_child),
            )
        )
    if trip.unpriced:
        said.append(
            texts.say(
                "Without a price, and not in the sum: {foods}.",
                foods=", ".join(dict.fromkeys(line.name for line in trip.unpriced)),
            )
        )
    return tuple(said)


def _row(
    each: SeasonLine, folder: ClassFolder, setting: Setting, currency: str, texts: Texts
) -> ShoppingRow:
    line = each.line
    deciding, hints = _deciding(line, setting, texts), _hints(line, folder, setting, texts)
    label = label_text(line.item, line.findings, setting, texts)
    brands = brands_text(line.item, line.findings, texts)
    cost = None if line.purchase is None else line.purchase.cost
    return ShoppingRow(
        name=line.name,
        buy=_buy(line, texts),
        look=at_hand_text(each.at_hand, texts),
        if_found=bought_text(each.instead, texts) if each.instead is not None else "",
        need=_need(line, folder.recipes, texts),
        price=money_text(cost, "", texts.language) if cost else "",
        cost=money_text(cost, currency, texts.language) if cost else "",
        label=label,
        brands=brands,
        has_label=bool(label or brands or line.item is None),
        notes=(*deciding, *hints),
        others=len(hints),
    )


def _buy(line: Line, texts: Texts) -> str:
    if line.purchase is not None and line.only_if and not line.purchase.packages:
        return texts.say("nothing more: what is left of the other is enough")
    if line.purchase is not None:
        return bought_text(line.purchase, texts)
    if not line.measured:
        return texts.say("some")
    measured = texts.say("as measured: {amount}", amount=amounts_text(line.measured, texts))
    if line.grams is None:
        return measured
    return texts.say(
        "{amount} ({weight} as sold)", amount=measured, weight=weight_text(line.grams, texts)
    )


def _need(line: Line, recipes: Mapping[str, Recipe], texts: Texts) -> str:
    said = []
    several = len({taking.dish for taking in line.takings}) > 1
    for taking in line.takings:
        amounts = loosely(taking.parts)
        amount = amounts_text(amounts, texts) if amounts else texts.say("as needed")
        where = []
        if several:
            where.append(recipes[taking.dish].title)
        if taking.tables:
            tables = ", ".join(map(str, taking.tables))
            where.append(
                texts.say(
                    "table {tables}, instead of {food}",
                    tables=tables,
                    food=" and ".join(taking.instead_of),
                )
            )
        said.append(f"{amount} ({'; '.join(where)})" if where else amount)
    if line.spare is not None:
        said.append(texts.say("{amount} spare", amount=amounts_text((line.spare,), texts)))
    return " + ".join(said)


def _deciding(line: Line, setting: Setting, texts: Texts) -> list[str]:
    """Whether to buy it at all, and for whom it isn't."""
    said = []
    if line.item is None:
        said.append(texts.say("The pantry doesn't know it: read its whole label."))
    if line.optional:
        said.append(texts.say("may be left out"))
    if line.only_if:
        originals = ", ".join(name for taking in line.takings for name in taking.instead_of)
        said.append(
            texts.say(
                "Only if the label of {original} names {what}.",
                original=originals,
                what=", ".join(dict.fromkeys(on_label(each, texts) for each in line.only_if)),
            )
        )
    sure = tuple(each for each in line.findings if each.match is Match.CERTAIN)
    if sure:
        said.append(
            texts.say("Not for everyone: {what}.", what=findings_text(sure, setting, texts))
        )
    asked = tuple(each for each in line.findings if each.match is Match.ASK)
    if asked:
        said.append(texts.say("Ask the family: {what}.", what=findings_text(asked, setting, texts)))
    return said


def _hints(line: Line, folder: ClassFolder, setting: Setting, texts: Texts) -> list[str]:
    """What else would do."""
    said = []
    for swap in stand_ins_of(line, folder.recipes, setting, folder.pantry, avoided_words(setting)):
        doubt = tuple(each for each in swap.findings if each.match is not Match.ASK)
        amount = (
            bought_text(swap.purchase, texts)
            if swap.purchase
            else (amounts_text(loosely_one(swap.amount), texts) if swap.amount else "")
        )
        name = f"{swap.name}, {amount}" if amount else swap.name
        if any(each.match in (Match.CERTAIN, Match.UNKNOWN) for each in doubt):
            said.append(
                texts.say(
                    "Won't do: {food} ({why}).",
                    food=swap.name,
                    why=findings_text(doubt, setting, texts),
                )
            )
        elif swap.because == SHOP and doubt:
            said.append(
                texts.say(
                    "If the shop has none: {food}; read its label for {why}.",
                    food=name,
                    why=findings_text(doubt, setting, texts),
                )
            )
        elif swap.because == SHOP:
            said.append(texts.say("If the shop has none: {food}.", food=name))
        elif doubt:
            said.append(
                texts.say(
                    "Will do for the price: {food}; read its label for {why}.",
                    food=name,
                    why=findings_text(doubt, setting, texts),
                )
            )
        else:
            said.append(texts.say("Will do for the price: {food}.", food=name))
    if line.item is not None and line.item.corner and not line.only_if:
        said.append(texts.say("In a small shop: {what}.", what=line.item.corner.rstrip(".")))
    return said


HEADINGS = (
    "session",
    "date",
    "section",
    "item",
    "needed",
    "look first",
    "if found buy",
    "buy",
    "price",
    "label must not name",
    "some brands contain",
    "notes",
    "bought",
    "paid",
    "brand",
    "label read",
)
"""The last four are blanks to fill in."""

CORNER_HEADINGS = ("session", "date", "instead of", "item", "buy", "notes")

_BLANKS = ("",) * 4


def shopping_table(sheets: Iterable[Shopping]) -> tuple[tuple[str, ...], ...]:
    """The headings and every row, as texts."""
    return (
        HEADINGS,
        *(
            (
                str(sheet.number),
                sheet.iso_date,
                section.title,
                row.name,
                row.need,
                row.look,
                row.if_found,
                row.buy,
                row.price,
                row.label,
                row.brands,
                " ".join(row.notes),
                *_BLANKS,
            )
            for sheet in sheets
            for section in sheet.sections
            for row in section.rows
        ),
    )


def corner_table(sheets: Iterable[Shopping]) -> tuple[tuple[str, ...], ...]:
    """The same for a small shop."""
    return (
        CORNER_HEADINGS,
        *(
            (
                str(sheet.number),
                sheet.iso_date,
                row.instead_of,
                row.name,
                row.buy,
                "; ".join(row.notes),
            )
            for sheet in sheets
            for row in sheet.corner
        ),
    )


def made(context: BuildContext) -> Iterator[File | Sheet]:
    """A list a session, and the same as a table for a spreadsheet."""
    texts = context.texts
    for trip in trips_of(
        context.classroom.sessions, context.recipes, context.uses, context.folder.pantry
    ):
        if trip.session not in context.sessions:
            continue
        sheet = shopping_of(context.folder, context.classroom, trip, texts)
        yield File(f"class/{shopping_table_name(sheet.number)}", shopping_table([sheet]))
        yield Sheet(
            (f"class/{shopping_name(sheet.number, sheet.language)}",),
            f"Listing the shopping for session {sheet.number}",
            LAYOUT,
            {"sheet": sheet},
            texts.language,
        )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    yield PackEntry(
        Moment.BEFORE,
        f"class/{shopping_name(session.number, context.texts.language)}",
        say("Shopping"),
        say("for whoever shops"),
    )


LAYOUT = Layout("shopping.html")
"""One size of type: a long list goes on overleaf."""

PART = Part(made, ("class/session-*/shopping*",), in_pack)
