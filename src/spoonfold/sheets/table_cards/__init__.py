"""Table cards: each table's dish at its own size, and a card for what is made once for all.

One side, or two, for children who read it at arm's length: who does what, when, with how much.
What their helper has to know besides stands on the brief. For the adults and children in the
room, so they belong into `class/` alone: a card says what a table cooks with, never for whose
sake.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from spoonfold.check.rule import warning
from spoonfold.knowledge.equipment import Kind as Gear
from spoonfold.language.amounts import number_text
from spoonfold.language.marks import draft_mark, language_mark
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import plain
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.eaters import (
    eaters_at_tables,
    guests_at_tables,
    helpers_at_tables,
    portions_at_tables,
)
from spoonfold.plan.amounts.scale import Scaled
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.people.jobs import SeasonJobs, SessionJobs, seat_letter
from spoonfold.plan.safety.apart import Apart, apart_of
from spoonfold.plan.safety.dish import ClassDishes, Dish, class_dishes, parts_with
from spoonfold.plan.safety.dish import Part as TablePart
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.swapped import table_swaps
from spoonfold.plan.safety.tools import Board, boards_of
from spoonfold.problem import Problem
from spoonfold.sheets.home_labels import eaten_at
from spoonfold.sheets.lesson_card.clock import moment
from spoonfold.sheets.shared.head import Head, dishes_of, head_of
from spoonfold.sheets.shared.labels import Labels, labels_of
from spoonfold.sheets.shared.swaps import TableSwapView, guarded, session_swaps
from spoonfold.sheets.sheet import (
    BuildContext,
    Layout,
    Moment,
    PackEntry,
    Part,
    SessionFile,
    Sheet,
    longest,
)
from spoonfold.sheets.table_cards.fitting import Fitted, Room, fitted, room_on
from spoonfold.sheets.table_cards.fitting import Head as CardHead
from spoonfold.sheets.table_cards.front import NEVER, Lane, Moments, dangers_of, lanes_of, places_of
from spoonfold.sheets.table_cards.steps import CardPlace, Entry, entries_of
from spoonfold.sheets.table_cards.uses import Instead, uses_at
from spoonfold.sheets.table_cards.words import (
    head_lines,
    people_text,
    portion_text,
    standing_text,
    tools_text,
)


@dataclass(frozen=True, slots=True)
class Change:
    """What else to measure when one more or one fewer eats here."""

    title: str
    amounts: tuple[tuple[str, str], ...]
    """Name and amount; none: everything stays."""


@dataclass(frozen=True, slots=True)
class TableCard:
    """A sheet of paper, with one side or two."""

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
    table: int | None
    """Counted from 1; None: for all."""
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
    lanes: tuple[Lane, ...]
    """In the order in which they stand."""
    tools: str
    """What lies on the table."""
    fitted: Fitted
    """Where the steps stand on the children's sides."""

    @property
    def is_guarded(self) -> bool:
        """Whether what is cooked here is kept apart from the other tables'."""
        return bool(guarded(self.swaps))


@dataclass(frozen=True, slots=True)
class TableCards:
    """All cards of a session."""

    head: Head
    cards: tuple[TableCard, ...]


def table_cards_of(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    session: Session,
    season: SeasonJobs,
    texts: Texts,
    timed: Timed | None = None,
) -> TableCards:
    """Dish by dish: one card a table, then one for what is made for everyone. `timed` is the
    session in time; None where nobody knows."""
    jobs = next(each for each in season.sessions if each.session == session.number)
    cards = []
    for dish in session.dishes:
        if dish.text in folder.recipes:
            recipe = folder.recipes[dish.text]
            cards += _DishCards(
                folder, recipe, uses, session, jobs, texts, timed, room_on(classroom.paper)
            ).cards()
    return TableCards(head_of(folder, classroom, session, texts), tuple(cards))


@dataclass(frozen=True, slots=True)
class _DishCards:
    """One dish of one session while its cards are made.

    Cards ask again and again what is cooked at a table, also with one child more or fewer there:
    it is worked out once for each number of children at the tables, where alone the settings that
    are asked about differ."""

    folder: ClassFolder
    recipe: Recipe
    uses: Mapping[str, Uses]
    session: Session
    jobs: SessionJobs
    texts: Texts
    timed: Timed | None
    room: Room
    _cooked: dict[tuple[int, ...], tuple[ClassDishes, tuple[TablePart, ...]]] = field(
        default_factory=dict
    )
    _swaps: dict[tuple[int, ...], tuple[TableSwapView, ...]] = field(default_factory=dict)

    def cards(self) -> list[TableCard]:
        setting = self.session.setting
        cards = [
            self.table(index)
            for index, portions in enumerate(portions_at_tables(setting))
            if portions
        ]
        if self.at_the_pot():
            cards.append(self.pot())
        return cards

    def at_the_pot(self) -> tuple[int, ...]:
        """The steps done in class once for everyone, as far as anyone is left to do them for."""
        portions = portions_at_tables(self.session.setting)
        apart = self.apart().portions
        return tuple(
            step.number
            for step in self.recipe.steps
            if step.for_class
            and step.when is None
            and apart.get(step.number, 0) < sum(portions, Fraction(0))
        )

    def apart(self) -> Apart:
        return apart_of(
            self.recipe, self.uses[self.recipe.key], self.folder.pantry, self.session.setting
        )

    def table(self, index: int) -> TableCard:
        setting = self.session.setting
        whole = self.scaled(setting, index)
        assert whole is not None
        children = setting.tables[index]
        seats = [seat_letter(each.seat) for each in self.jobs.tables[index]]
        dish = self.dish(setting, index)
        boards = self.boards(dish)
        own = [step.number for step in dish.recipe.steps if not step.shared]
        changes = [self.change(own, index, more) for more in (1, -1) if children + more > 0]
        return self.card(
            table=index + 1,
            where=self.texts.say("Table {number}", number=index + 1),
            people=people_text(
                seats,
                helpers_at_tables(setting)[index],
                guests_at_tables(setting)[index],
                self.texts,
            ),
            seats=seats,
            place=CardPlace(
                own=own,
                whole=whole,
                dish=dish,
                instead=self.instead(dish, setting, index),
                who=self.who((index,)),
                seats=len(seats),
                boards=boards,
                used=dish.uses.by_step,
                portions=self.portions(index),
                notes=self.out_of_the_pot(dish),
                less={},
            ),
            standing=tuple(
                (seat_letter(seat.seat), ", ".join(said))
                for seat in self.jobs.tables[index]
                if (
                    said := [
                        standing_text(job.kind, bool(boards), self.texts)
                        for job in seat.jobs
                        if not job.steps
                    ]
                )
            ),
            labels=self.labels(dish),
            swaps=self.views(setting, index),
            changes=changes,
        )

    def pot(self) -> TableCard:
        """What is made once for everyone, with children of every table."""
        setting = self.session.setting
        whole = self.scaled(setting, None)
        assert whole is not None
        own = self.at_the_pot()
        everyone = sum(eaters_at_tables(setting))
        dish = self.dish(setting, None)
        return self.card(
            table=None,
            where=self.texts.say("For all"),
            people=self.texts.count("For 1 person", "For {number} people", everyone),
            seats=(),
            place=CardPlace(
                own=own,
                whole=whole,
                dish=dish,
                instead=self.instead(dish, setting, None),
                who=self.who(range(len(setting.tables)), at_the_pot=True),
                seats=sum(setting.tables),
                boards=self.boards(dish),
                used={},
                portions="",
                notes=self.without(),
                less=self.apart().portions,
            ),
            standing=(),
            labels=self.labels(dish),
            swaps=(),
            changes=[self.change(own, None, more) for more in (1, -1)],
        )

    def card(
        self,
        table: int | None,
        where: str,
        people: str,
        seats: Sequence[str],
        place: CardPlace,
        standing: tuple[tuple[str, str], ...],
        labels: Labels,
        swaps: tuple[TableSwapView, ...],
        changes: Sequence[Change],
    ) -> TableCard:
        language = self.recipe.language or self.texts.language
        pantry, texts, moments = self.folder.pantry, self.texts, self.moments(table)
        entries = entries_of(place.dish.recipe, place, pantry, self.folder.skills, texts)
        places = places_of(entries, place, moments, pantry, texts)
        tools = tools_text(place, texts)
        jobs = dict(standing)
        lanes = tuple(Lane(each, jobs.get(each, "")) for each in lanes_of(seats, places))
        draft = draft_mark(self.recipe.is_draft, texts)
        portion = ". ".join(filter(None, (self.portion(), self.batches(table, place.whole))))
        head = CardHead(
            place.dish.recipe.title,
            head_lines(
                "" if table is not None else f"{people}. {portion}",
                labels,
                tools,
                draft,
                bool(guarded(swaps)),
                texts,
            ),
            tuple(each.jobs for each in lanes),
            lambda part: dangers_of(part, bool(guarded(swaps)), texts),
        )
        letters = [each.letter for each in lanes]
        return TableCard(
            dish=self.recipe.key,
            title=place.dish.recipe.title,
            language=language,
            direction=direction_of(language),
            mark=language_mark(language, self.texts),
            draft=draft,
            table=table,
            where=where,
            people=people,
            portion=portion,
            standing=standing,
            labels=labels,
            swaps=swaps,
            entries=entries,
            changes=tuple(changes),
            lanes=lanes,
            tools=tools,
            fitted=fitted(places, letters, head, moments, self.room),
        )

    def moments(self, table: int | None) -> Moments:
        """When the steps run at a table; at the pot where there is none."""
        if self.timed is None:
            return NEVER
        starts: dict[int, int] = {}
        free: dict[int, int] = {}
        for each in self.timed.clock.placed:
            task = each.task
            if (task.dish, task.table) == (self.recipe.key, table):
                number = task.step.number
                starts[number] = min(starts.get(number, each.start), each.start)
                free[number] = max(free.get(number, 0), each.hands_free)
        said = {
            number: moment(self.session.setting, start, self.texts)
            for number, start in starts.items()
        }
        return Moments(said, starts, free)

    def portion(self) -> str:
        return portion_text(self.recipe, self.session.setting, self.texts)

    def batches(self, table: int | None, whole: Scaled) -> str:
        """In how many batches the one pot is cooked; a table's part is a household's."""
        if table is not None or whole.batches < 2:
            return ""
        return self.texts.say("Cook it in {batches} batches", batches=whole.batches)

    def without(self) -> Mapping[int, str]:
        """By step: which tables the one pot isn't for."""
        tables: dict[int, list[str]] = {}
        for table, steps in sorted(self.apart().steps.items()):
            for number in steps:
                tables.setdefault(number, []).append(str(table))
        return {
            number: self.texts.count(
                "Without table {tables}, which cooks its own.",
                "Without tables {tables}, which cook their own.",
                len(own),
                tables=", ".join(own),
            )
            for number, own in tables.items()
        }

    def out_of_the_pot(self, dish: Dish) -> Mapping[int, str]:
        """By step: where a table's part leaves the one pot, ahead of what it cooks without."""
        listed = {step.number: step for step in self.recipe.steps}
        found = {}
        for step in dish.recipe.steps:
            was = listed[step.number]
            pots = [
                before
                for number in step.follows
                if (before := listed.get(number)) and before.for_class and before.when is None
            ]
            if (
                was.for_class
                and not step.for_class
                and any(
                    dish.recipe.steps[each.number - 1].for_class
                    and was.named(Gear.VESSEL) & each.named(Gear.VESSEL)
                    for each in pots
                )
            ):
                found[step.number] = self.texts.say(
                    "First take your part out of the pot for everyone, into your own."
                )
        return found

    def cooked(self, setting: Setting) -> tuple[ClassDishes, tuple[TablePart, ...]]:
        """What is cooked in a setting, and how much of it at every place."""
        if setting.tables not in self._cooked:
            dish = (self.recipe, self.uses[self.recipe.key], self.folder.pantry, setting)
            made = class_dishes(*dish, self.texts.language)
            self._cooked[setting.tables] = made, parts_with(made, *dish)
        return self._cooked[setting.tables]

    def dish(self, setting: Setting, index: int | None) -> Dish:
        """What a table cooks; what is made once for all where no table is named."""
        made, _ = self.cooked(setting)
        return made.for_all if index is None else made.tables[index]

    def scaled(self, setting: Setting, index: int | None) -> Scaled | None:
        """The dish at one table; what is made once for all where no table is named. None where
        nobody eats."""
        _, parts = self.cooked(setting)
        table = None if index is None else index + 1
        return next((each.scaled for each in parts if each.table == table), None)

    def views(self, setting: Setting, index: int) -> tuple[TableSwapView, ...]:
        """A table's swaps as it reads them."""
        if setting.tables not in self._swaps:
            dishes = tuple(each for each in self.session.dishes if each.text == self.recipe.key)
            self._swaps[setting.tables] = session_swaps(
                replace(self.session, setting=setting, dishes=dishes[:1]),
                self.folder.recipes,
                self.uses,
                self.folder.pantry,
                self.texts,
            )
        return tuple(each for each in self._swaps[setting.tables] if each.table == index + 1)

    def instead(self, dish: Dish, setting: Setting, index: int | None) -> Instead:
        """What of a table's dish stands for something else, and what may have to."""
        of = {key: swap.originals[0].said for key, swap in dish.instead_of.items()}
        if index is None or not dish.perhaps:
            return Instead(of)
        swaps = table_swaps(self.recipe, self.uses[self.recipe.key], self.folder.pantry, setting)
        own = [each for each in swaps if each.table == index + 1]
        pairs = zip(own, self.views(setting, index), strict=True)
        return Instead(of, tuple(pair for pair in pairs if pair[0].if_label))

    def change(self, own: Sequence[int], index: int | None, more: int) -> Change:
        """What is measured otherwise with one more at this table, or one fewer."""
        setting = self.session.setting
        tables = list(setting.tables)
        # Who comes late joins some table: for the pot it doesn't matter which of those that eat
        # from it.
        apart = self.apart().steps
        fed = [each for each in range(len(tables)) if each + 1 not in apart] or range(len(tables))
        tables[max(fed, key=tables.__getitem__) if index is None else index] += more
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
        if whole is None:
            return []
        instead = self.instead(self.dish(setting, index), setting, index)
        found = []
        for step in self.recipe.steps:
            if step.number in own:
                for use in uses_at(step, whole, instead, self.folder.pantry, self.texts):
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

    def who(self, tables: Sequence[int], at_the_pot: bool = False) -> Mapping[int, tuple[str, ...]]:
        """The seats of these tables at each step of the dish, or at the one pot alone."""
        found: dict[int, tuple[str, ...]] = {}
        for index in tables:
            for seat in self.jobs.tables[index]:
                for job in seat.jobs:
                    for step in job.steps if job.dish == self.recipe.key else ():
                        if at_the_pot and not step.for_class:
                            continue
                        found[step.number] = (*found.get(step.number, ()), seat_letter(seat.seat))
        return found

    def boards(self, dish: Dish) -> Mapping[int, Board]:
        return boards_of(Flow(dish.recipe, dish.uses, self.folder.pantry))

    def portions(self, index: int) -> str:
        """This table's part of what was made for all."""
        portions = portions_at_tables(self.session.setting)
        return self.texts.say(
            "Your table takes {own} of {all} portions.",
            own=number_text(portions[index], self.texts),
            all=number_text(sum(portions, Fraction(0)), self.texts),
        )

    def labels(self, dish: Dish) -> Labels:
        """Of what this table cooks, and of what it may have to."""
        return labels_of(eaten_at(dish), self.folder.pantry, self.texts)


def too_long(folder: ClassFolder, session: Session, language: str) -> Problem | None:
    """A table card of a session takes a second sheet; told of its longest dish.

    `folder` is the class folder in the card's language. None where the session has no dish.
    """
    recipes = dishes_of(folder, session)
    if not recipes:
        return None
    recipe = max(recipes, key=lambda each: sum(map(_letters, each.steps)))
    parts = [(_letters(step), f"step {step.number}") for step in recipe.steps if step.when is None]
    return warning(
        "sheet-overflows",
        recipe.place,
        f"The table card of {recipe.key} ({language}) takes a second sheet in session "
        f"{session.number}: its type is never smaller than can be read at arm's length. One sheet "
        "lies on the table; a second one lies under it.",
        f"Say the longest steps in a few words with `card: …`: {longest(parts)}. Or do a step "
        "`for: class`, which has a card of its own, or `when: before class`.",
    )


def _letters(step: Step) -> int:
    """How long a step's own words are on a table card. Cautions aren't there to be shortened."""
    return len(step.card or plain(step.said))


def made(context: BuildContext) -> Iterator[Sheet]:
    """A card for each table and dish, a file a session and language."""
    clocks = {each.session.number: each for each in context.examined.facts.clocks}
    for edition in context.editions:
        language = edition.texts.language
        if language not in context.classroom.table_cards:
            continue
        for session in context.sessions:
            cards = table_cards_of(
                edition.folder,
                context.classroom,
                edition.uses,
                session,
                context.season,
                edition.texts,
                clocks.get(session.number),
            )
            yield Sheet(
                (FILE.path(session, language),),
                f"Printing the table cards of session {session.number} ({language})",
                LAYOUT,
                {"cards": cards},
                language,
                SIDES * len(cards.cards),
                too_long(edition.folder, session, language),
            )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    yield PackEntry(
        Moment.DAY,
        FILE.path(session, context.texts.language),
        say("Table cards"),
        say("on the day: one is for each table and dish"),
    )


FILE = SessionFile("table-cards")

SIDES = 2
"""A sheet has a front and a back."""

LAYOUT = Layout("table-card.html")
"""Never below 14 points: what is longer takes a second sheet."""

PART = Part(made, FILE.owns, in_pack)
