"""Table cards: each table's dish at its own size, and a card for what is made once for all.

For the adults and children in the room, so they belong into `class/` alone: a card says what a
table cooks with, never for whose sake.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.language.amounts import number_text
from spoonfold.language.marks import draft_mark, language_mark
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.eaters import eaters_at_tables, portions_at_tables
from spoonfold.plan.amounts.measure import class_kitchen
from spoonfold.plan.amounts.scale import Scaled, scaled
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.people.jobs import SeasonJobs, SessionJobs, seat_letter
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.swapped import table_swaps
from spoonfold.plan.safety.tools import Board, boards_of
from spoonfold.sheets.head import Head, head_of
from spoonfold.sheets.labels import Labels, labels_of
from spoonfold.sheets.swaps import TableSwapView, session_swaps
from spoonfold.sheets.table_head import people_text, portion_text, standing_text
from spoonfold.sheets.table_steps import Entry, Place, entries_of
from spoonfold.sheets.table_uses import Swapped, uses_at

SIZES = ("18pt", "16.5pt", "15pt", "14pt")
"""Sizes of the steps' type to try, until every card fits on one sheet. Never below 14 points:
what is longer takes a second sheet."""

SIDES = 2
"""A sheet has a front and a back."""


@dataclass(frozen=True, slots=True)
class Change:
    """What else to measure when one more or one fewer eats here."""

    title: str
    amounts: tuple[tuple[str, str], ...]
    """Name and amount; none: everything stays."""


@dataclass(frozen=True, slots=True)
class TableCard:
    """One sheet."""

    dish: str
    """The recipe's key."""
    title: str
    language: str
    """Of the title and the steps."""
    direction: str
    mark: str
    """`in English`, where that isn't the reader's language; mostly empty."""
    draft: str
    """That no fluent speaker has read the translation; mostly empty."""
    where: str
    """`Table 2`, or `For all`."""
    people: str
    portion: str
    """What one portion is, and how much of it each eats where that isn't all."""
    standing: tuple[tuple[str, str], ...]
    """A seat's letter and its jobs for the whole session."""
    labels: Labels
    swaps: tuple[TableSwapView, ...]
    entries: tuple[Entry, ...]
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class TableCards:
    """All cards of a session."""

    head: Head
    cards: tuple[TableCard, ...]


def table_cards_name(language: str) -> str:
    """The file of a session's cards, in the session's folder."""
    return f"table-cards-{language}.pdf"


def table_cards_of(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    session: Session,
    season: SeasonJobs,
    texts: Texts,
) -> TableCards:
    """Dish by dish: one card a table, then one for what is made for everyone."""
    jobs = next(each for each in season.sessions if each.session == session.number)
    cards = []
    for dish in session.dishes:
        if dish.text in folder.recipes:
            desk = _Desk(folder, folder.recipes[dish.text], uses, session, jobs, texts)
            cards += desk.cards()
    return TableCards(head_of(folder, classroom, session, texts), tuple(cards))


@dataclass(frozen=True, slots=True)
class _Desk:
    """One dish of one session while its cards are made."""

    folder: ClassFolder
    recipe: Recipe
    uses: Mapping[str, Uses]
    session: Session
    jobs: SessionJobs
    texts: Texts

    def cards(self) -> list[TableCard]:
        setting = self.session.setting
        cards = [
            self.table(index)
            for index, portions in enumerate(portions_at_tables(setting))
            if portions
        ]
        if any(_at_pot(step) for step in self.recipe.steps):
            cards.append(self.pot())
        return cards

    def table(self, index: int) -> TableCard:
        setting = self.session.setting
        children, eaters = setting.tables[index], eaters_at_tables(setting)[index]
        seats = [seat_letter(each.seat) for each in self.jobs.tables[index]]
        swapped = self.swapped(setting, index)
        own = [step.number for step in self.recipe.steps if not step.shared]
        changes = [self.change(own, index, more) for more in (1, -1) if children + more > 0]
        return self.card(
            where=self.texts.say("Table {number}", number=index + 1),
            people=people_text(seats, eaters - children, self.texts),
            place=Place(
                own=own,
                whole=self.scaled(setting, index),
                swapped=swapped,
                who=self.who((index,)),
                seats=len(seats),
                boards=self.boards(),
                used=self.uses[self.recipe.key].by_step,
                portions=self.portions(index),
            ),
            standing=tuple(
                (seat_letter(seat.seat), ", ".join(said))
                for seat in self.jobs.tables[index]
                if (
                    said := [
                        standing_text(job.kind, self.texts) for job in seat.jobs if not job.steps
                    ]
                )
            ),
            labels=self.labels(swapped),
            changes=changes,
        )

    def pot(self) -> TableCard:
        """What is made once for everyone, with children of every table."""
        setting = self.session.setting
        own = [step.number for step in self.recipe.steps if _at_pot(step)]
        everyone = sum(eaters_at_tables(setting))
        return self.card(
            where=self.texts.say("For all"),
            people=self.texts.count("For 1 person", "For {number} people", everyone),
            place=Place(
                own=own,
                whole=self.scaled(setting, None),
                swapped=(),
                who=self.who(range(len(setting.tables))),
                seats=sum(setting.tables),
                boards=self.boards(),
                used={},
                portions="",
            ),
            standing=(),
            labels=self.labels(()),
            changes=[self.change(own, None, more) for more in (1, -1)],
        )

    def card(
        self,
        where: str,
        people: str,
        place: Place,
        standing: tuple[tuple[str, str], ...],
        labels: Labels,
        changes: Sequence[Change],
    ) -> TableCard:
        language = self.recipe.language or self.texts.language
        return TableCard(
            dish=self.recipe.key,
            title=self.recipe.title,
            language=language,
            direction=direction_of(language),
            mark=language_mark(language, self.texts),
            draft=draft_mark(self.recipe.is_draft, self.texts),
            where=where,
            people=people,
            portion=portion_text(self.recipe, self.session.setting, self.texts),
            standing=standing,
            labels=labels,
            swaps=tuple(view for _, view in place.swapped),
            entries=entries_of(
                self.recipe, place, self.folder.pantry, self.folder.skills, self.texts
            ),
            changes=tuple(changes),
        )

    def scaled(self, setting: Setting, index: int | None) -> Scaled:
        """The dish at one table; at the pot for all where no table is named."""
        portions = portions_at_tables(setting)
        kitchen = class_kitchen(setting)
        wanted = sum(portions, Fraction(0)) if index is None else portions[index]
        return scaled(self.recipe, self.uses[self.recipe.key], self.folder.pantry, kitchen, wanted)

    def swapped(self, setting: Setting, index: int) -> Swapped:
        found = [
            each
            for each in table_swaps(
                self.recipe, self.uses[self.recipe.key], self.folder.pantry, setting
            )
            if each.table == index + 1
        ]
        alone = replace(
            self.session,
            setting=setting,
            dishes=tuple(dish for dish in self.session.dishes if dish.text == self.recipe.key)[:1],
        )
        views = [
            each
            for each in session_swaps(
                alone, self.folder.recipes, self.uses, self.folder.pantry, self.texts
            )
            if each.table == index + 1
        ]
        return tuple(zip(found, views, strict=True))

    def change(self, own: Sequence[int], index: int | None, more: int) -> Change:
        """What is measured otherwise with one more at this table, or one fewer."""
        setting = self.session.setting
        tables = list(setting.tables)
        # Who comes late joins some table: for the pot it doesn't matter which.
        tables[index if index is not None else tables.index(max(tables))] += more
        changed = replace(setting, tables=tuple(tables))
        before, after = (self.amounts(each, own, index) for each in (setting, changed))
        amounts = tuple(
            (name, text)
            for (name, text), (_, old) in zip(after, before, strict=True)
            if text != old
        )
        title = (
            self.texts.say("One more is here? Measure:")
            if more > 0
            else self.texts.say("One fewer? Measure:")
        )
        return Change(title, amounts)

    def amounts(
        self, setting: Setting, own: Sequence[int], index: int | None
    ) -> list[tuple[str, str]]:
        """Everything that is measured at this place, in the order of steps."""
        whole = self.scaled(setting, index)
        swapped = () if index is None else self.swapped(setting, index)
        found = []
        for step in self.recipe.steps:
            if step.number in own:
                for use in uses_at(step, whole, swapped, self.folder.pantry, self.texts):
                    amount = f"{use.amount.text} {use.amount.joint}".rstrip()
                    found.append((step.number, use.key, use.name, amount))
        often = [key for _, key, _, _ in found]
        return [
            (
                self.texts.say("{name} (step {number})", name=name, number=number)
                if often.count(key) > 1
                else name,
                text,
            )
            for number, key, name, text in found
        ]

    def who(self, tables: Sequence[int]) -> Mapping[int, tuple[str, ...]]:
        """The seats of these tables at each step of the dish."""
        found: dict[int, tuple[str, ...]] = {}
        for index in tables:
            for seat in self.jobs.tables[index]:
                for job in seat.jobs:
                    for step in job.steps if job.dish == self.recipe.key else ():
                        found[step.number] = (*found.get(step.number, ()), seat_letter(seat.seat))
        return found

    def boards(self) -> Mapping[int, Board]:
        return boards_of(Flow(self.recipe, self.uses[self.recipe.key], self.folder.pantry))

    def portions(self, index: int) -> str:
        """This table's part of what was made for all."""
        portions = portions_at_tables(self.session.setting)
        return self.texts.say(
            "Your table takes {own} of {all} portions.",
            own=number_text(portions[index], self.texts),
            all=number_text(sum(portions, Fraction(0)), self.texts),
        )

    def labels(self, swapped: Swapped) -> Labels:
        """Of the dish as it is listed, and of what this table takes besides. What a swap takes
        out stays named: it is in the room, and a swap can be forgotten."""
        taken = [swap.swap.use for swap, _ in swapped]
        own = replace(self.recipe, ingredients=(*self.recipe.ingredients, *taken))
        return labels_of(own, self.folder.pantry, self.texts)


def _at_pot(step: Step) -> bool:
    """Done in class, once for everyone."""
    return step.for_class and step.when is None
