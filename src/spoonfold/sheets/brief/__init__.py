"""The helper's brief: one sheet a helper, to read the evening before and to have in the pocket.

The front is this helper's own day: table, times, swap and labels, new skills, gravest dangers.
The back has in full what the front says in short, for the same table. For the adults in the
room: it names tables that cook with something else, never a child.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from spoonfold.knowledge.equipment import Kind
from spoonfold.language.marks import draft_mark, language_mark
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session, Setting
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import Block, Listing, Prose, plain_prose
from spoonfold.model.recipe import Recipe
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.people.jobs import SeasonJobs, seat_letter
from spoonfold.plan.safety.dish import Dish, dishes_at
from spoonfold.plan.safety.flow import Flow
from spoonfold.plan.safety.tools import Board, boards_of
from spoonfold.sheets.booklet.opening import watch_lines
from spoonfold.sheets.booklet.plate import plate_view
from spoonfold.sheets.brief.chart import ChartView, lanes_of, table_rows_of
from spoonfold.sheets.brief.front import (
    LESS_ROOM,
    ROOM,
    Cooked,
    DayTime,
    Front,
    ToCoach,
    ToFear,
    blades_and_boards,
    day_times,
    fitted,
    setup_text,
)
from spoonfold.sheets.brief.posts import Post, Where, posts_of
from spoonfold.sheets.home_labels import eaten_at
from spoonfold.sheets.lesson_card.clock import Names, names_in
from spoonfold.sheets.shared.cautions import CautionView, cautions_of, sentence
from spoonfold.sheets.shared.head import Head, dishes_of, head_of
from spoonfold.sheets.shared.labels import Labels, labels_of
from spoonfold.sheets.shared.numbers import numbers_text
from spoonfold.sheets.shared.swaps import TableSwapView, contact_rules, guarded, session_swaps
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, SessionFile, Sheet
from spoonfold.sheets.table_cards import Change, TableCard, table_cards_of
from spoonfold.teach.skills import coaching_of, skill_uses


@dataclass(frozen=True, slots=True)
class SkillNote:
    """A skill that the dish asks for, and how to coach it."""

    name: str
    how: str
    caution: str
    is_new: bool
    """The season uses it for the first time: then it is told in full."""
    short: str
    """The same in a few words."""


@dataclass(frozen=True, slots=True)
class AtSteps:
    """Something to know, and the steps that it belongs to: `3, 5–7`."""

    steps: str
    title: str
    text: str


@dataclass(frozen=True, slots=True)
class Portions:
    """What to measure otherwise when one more or one fewer eats."""

    where: str
    """`Table 2`, or `For all`; with the dish where there are several."""
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Back:
    """What stands on the back, in full."""

    portions: tuple[Portions, ...]
    watch: tuple[AtSteps, ...]
    yours: tuple[AtSteps, ...]
    """What is kept for an adult."""
    easier: tuple[AtSteps, ...]
    usual: tuple[AtSteps, ...]
    """What nobody wrote and the words don't say, but is only usual: to be looked at."""
    skills: tuple[SkillNote, ...]
    rules: tuple[str, ...]
    """How to keep swaps apart; none where there are no swaps."""
    questions: tuple[str, ...]
    labels: tuple[tuple[str, Labels], ...]
    """The dish, where there are several, and what is in it."""


_LINES, _LESS_LINES, _LETTERS = 118, 98, 44
"""Of both columns of a back together, as a rule and where that was more than it held; and letters
of a line."""


def lines_of(back: Back) -> int:
    """About how many lines a back has in its columns."""
    items = [
        *(f"{each.steps} {each.title} {each.text}" for each in (*back.watch, *back.yours)),
        *(f"{each.steps} {each.text}" for each in (*back.easier, *back.usual)),
        *(f"{each.name}: {each.how} {each.caution}" for each in back.skills),
        *(
            f"{part.where}: {change.title} {', '.join(map(' '.join, change.amounts))}"
            for part in back.portions
            for change in part.changes
        ),
        " ".join(back.rules),
        *back.questions,
    ]
    headed = (
        back.watch,
        back.yours,
        back.rules,
        back.portions,
        back.skills,
        back.easier,
        back.questions,
    )
    boxes = 6 * len(back.labels) + sum(
        -(-len(", ".join(each.ingredients)) // 25)
        for _, labels in back.labels
        for each in (*labels.contains, *labels.check)
    )
    return boxes + 2 * sum(map(bool, headed)) + sum(-(-len(text) // _LETTERS) for text in items)


def fitted_back(back: Back, lines: int) -> Back:
    """The same on one side if that can be had without what elsewhere stands too: the questions
    of the lesson card, the reminders of skills that were new before. What else there is goes on
    overleaf."""
    if lines_of(back) > lines:
        back = replace(back, questions=())
    if lines_of(back) > lines:
        back = replace(back, skills=tuple(each for each in back.skills if each.is_new))
    return back


@dataclass(frozen=True, slots=True)
class Brief:
    """One helper's."""

    front: Front
    back: Back


@dataclass(frozen=True, slots=True)
class HelperBrief:
    """All helpers of a session."""

    head: Head
    letters: tuple[tuple[str, str], ...]
    """With two dishes, the letter of each in front of its steps."""
    notes: tuple[str, ...]
    """That a dish isn't translated, or that nobody has read its translation."""
    briefs: tuple[Brief, ...]
    shorter: tuple[Brief, ...]
    """The same, where they were longer than they seemed."""


def brief_of(
    folder: ClassFolder,
    classroom: Classroom,
    uses: Mapping[str, Uses],
    session: Session,
    season: SeasonJobs,
    timed: Timed | None,
    texts: Texts,
) -> HelperBrief:
    """The briefs of a session: dishes that couldn't be read are left out, and so are times where
    there is no clock."""
    recipes = dishes_of(folder, session)
    names = names_in(recipes, texts)
    day = _Day(
        folder,
        classroom,
        uses,
        session,
        season,
        timed,
        names,
        {
            recipe.key: dishes_at(
                recipe, uses[recipe.key], folder.pantry, session.setting, texts.language
            )
            for recipe in recipes
        },
        table_cards_of(folder, classroom, uses, session, season, texts).cards,
        session_swaps(session, folder.recipes, uses, folder.pantry, texts),
    )
    notes = dict.fromkeys(
        mark
        for recipe in recipes
        for mark in (
            language_mark(recipe.language or texts.language, texts),
            draft_mark(recipe.is_draft, texts),
        )
        if mark
    )
    posts = posts_of(session.setting) if recipes else ()
    return HelperBrief(
        head=head_of(folder, classroom, session, texts),
        letters=names.key(),
        notes=tuple(notes),
        briefs=tuple(day.brief(post, ROOM, _LINES) for post in posts),
        shorter=tuple(day.brief(post, LESS_ROOM, _LESS_LINES) for post in posts),
    )


@dataclass(frozen=True, slots=True)
class _Day:
    """One session while its briefs are made."""

    folder: ClassFolder
    classroom: Classroom
    uses: Mapping[str, Uses]
    session: Session
    season: SeasonJobs
    timed: Timed | None
    names: Names
    dishes: Mapping[str, Sequence[Dish]]
    """By recipe, what each table cooks."""
    cards: Sequence[TableCard]
    swaps: Sequence[TableSwapView]

    @property
    def texts(self) -> Texts:
        return self.names.texts

    @property
    def setting(self) -> Setting:
        return self.session.setting

    def brief(self, post: Post, room: float, lines: int) -> Brief:
        front = fitted(self.front(post), room)
        return Brief(front, fitted_back(self.back(post, front), lines))

    def cooked_at(self, post: Post) -> list[Dish]:
        """What is cooked at the tables of a helper, each version once."""
        found: list[Dish] = []
        for made in self.dishes.values():
            for table in post.tables:
                if all(made[table - 1].recipe != other.recipe for other in found):
                    found.append(made[table - 1])
        return found

    def front(self, post: Post) -> Front:
        texts, made = self.texts, self.cooked_at(post)
        recipes = [dish.recipe for dish in made]
        own = tuple(swap for swap in self.swaps if swap.table in post.tables)
        is_table = post.where is Where.TABLE
        blades, boards = (
            blades_and_boards(recipes, self.setting, post.tables, texts) if (is_table) else ("", 0)
        )
        is_parted = is_table and any(
            Board.RAW in boards_of(Flow(dish.recipe, dish.uses, self.folder.pantry)).values()
            for dish in made
        )
        setup = setup_text(blades, boards, is_parted, texts)
        return Front(
            title=self._title(post),
            place=self._place(post),
            cooked=tuple(self._cooked(post)),
            plate=next(
                (
                    plate_view(dish.recipe, dish.uses, self.folder.pantry, texts)
                    for dish in made[:1]
                ),
                None,
            ),
            day=(
                (DayTime(texts.say("Before"), (), " ".join(setup)),)
                if self.timed is None
                else day_times(self.timed, post, recipes, self.names, setup, blades)
            ),
            chart=self._chart(post),
            swaps=own,
            labels=self._labels(made),
            apart=self._apart(own),
            skills=tuple(
                ToCoach(note.name, note.short, note.is_new) for note in self._skills(recipes)
            ),
            dangers=tuple(
                ToFear(line.icon, line.title, line.text, line.brief)
                for line in watch_lines(
                    [step for recipe in recipes for step in recipe.steps if step.when is None],
                    texts,
                )
            ),
            questions=_alternating([self._questions(recipe) for recipe in self._listed()]),
        )

    def _listed(self) -> list[Recipe]:
        return [self.folder.recipes[key] for key in self.dishes]

    def _title(self, post: Post) -> str:
        say = self.texts.say
        if not post.helper:
            return say("For a helper who comes today")
        match post.where:
            case Where.TABLE:
                return say(
                    "Helper {number}, you are at table {table}",
                    number=post.helper,
                    table=post.tables[0],
                )
            case Where.ROUND:
                return say("Helper {number}, you go round all tables", number=post.helper)
            case Where.LEAD:
                return say("Helper {number}, you are beside the lead cook", number=post.helper)

    def _place(self, post: Post) -> str:
        say = self.texts.say
        match post.where:
            case Where.TABLE:
                return say("They have their own card. You keep the time, the labels and the heat.")
            case Where.ROUND:
                return say(
                    "Each table has its own card. A table waits with blades and heat until an "
                    "adult is there."
                )
            case Where.LEAD:
                return say(
                    "You stand at the heat with the lead cook, and go to the table where a hand "
                    "is up."
                )

    def _cooked(self, post: Post) -> Iterator[Cooked]:
        """Table by table; what several tables make alike stands once."""
        seats = self._seats()
        found: dict[tuple[str, str], list[int]] = {}
        for card in self.cards:
            if card.table in post.tables and card.table is not None:
                found.setdefault((card.title, card.portion), []).append(card.table)
        for (title, portion), tables in found.items():
            where = (
                ""
                if post.where is Where.TABLE
                else self.texts.count(
                    "Table {tables}",
                    "Tables {tables}",
                    len(tables),
                    tables=", ".join(map(str, tables)),
                )
            )
            who = ", ".join(seats[tables[0] - 1]) if post.where is Where.TABLE else ""
            yield Cooked(where, title, who, portion)

    def _seats(self) -> Sequence[Sequence[str]]:
        jobs = next(one for one in self.season.sessions if one.session == self.session.number)
        return [[seat_letter(each.seat) for each in table] for table in jobs.tables]

    def _chart(self, post: Post) -> ChartView | None:
        if self.timed is None:
            return None
        if post.where is Where.TABLE:
            jobs = next(one for one in self.season.sessions if one.session == self.session.number)
            return lanes_of(self.timed, post.tables[0], jobs.tables[post.tables[0] - 1], self.names)
        return table_rows_of(self.timed, post.tables, self.names)

    def _labels(self, made: Sequence[Dish]) -> tuple[tuple[str, str], ...]:
        found: dict[str, dict[str, None]] = {}
        for dish in made:
            labels = labels_of(eaten_at(dish), self.folder.pantry, self.texts)
            for label in labels.check:
                for food in label.ingredients:
                    found.setdefault(food, {})[label.allergen] = None
            for food in labels.unknown:
                found.setdefault(food, {})[self.texts.say("unknown: read its label")] = None
        return tuple((food, ", ".join(what)) for food, what in found.items())

    def _apart(self, own: Sequence[TableSwapView]) -> tuple[str, ...]:
        say = self.texts.say
        if not guarded(self.swaps):
            return ()
        said = [
            say("Its own bowl, pan, spoon and cloth, and it is made first.")
            if guarded(own)
            else "",
            say("Nothing moves between the tables, not even to taste."),
            say("If anything moved, it isn't served: make it again."),
        ]
        return tuple(each for each in said if each)

    def back(self, post: Post, front: Front) -> Back:
        """All that the front doesn't tell in full."""
        made, texts = self.cooked_at(post), self.texts
        recipes = [dish.recipe for dish in made]
        cautions = [
            (recipe.key, step.number, view)
            for recipe in recipes
            for step in recipe.steps
            if step.when is None
            for view in cautions_of(step, texts)
        ]
        told = {step.key for row in front.day for step in row.steps}
        several = len(self.dishes) > 1 or len(recipes) > 1
        return Back(
            portions=tuple(
                Portions(f"{card.where}, {card.title}" if several else card.where, card.changes)
                for card in self.cards
                if card.changes and (card.table is None or card.table in post.tables)
            ),
            watch=self._gathered(each for each in cautions if each[2].icon != "adult"),
            yours=self._gathered(
                (key, number, view)
                for key, number, view in cautions
                if view.icon == "adult" and not (front.is_all and (key, number) in told)
            ),
            easier=tuple(
                AtSteps(self.names.number(recipe.key, step.number), "", sentence(step.easier))
                for recipe in self._listed()
                for step in recipe.steps
                if step.when is None and step.easier
            ),
            usual=tuple(each for recipe in self._listed() for each in self._usual(recipe)),
            # Of a skill that was new before, what can hurt is enough.
            skills=tuple(
                note if note.is_new or not note.caution else replace(note, how="")
                for note in self._skills(recipes)
            ),
            rules=contact_rules(texts) if guarded(self.swaps) else (),
            questions=tuple(
                text
                for recipe in self._listed()
                for text in self._questions(recipe)
                if text not in front.questions
            ),
            labels=tuple(
                (
                    dish.recipe.title if several else "",
                    labels_of(eaten_at(dish), self.folder.pantry, texts),
                )
                for dish in made
            ),
        )

    def _gathered(self, cautions: Iterable[tuple[str, int, CautionView]]) -> tuple[AtSteps, ...]:
        """Each text once, with every step that it belongs to."""
        numbers: dict[tuple[str, str], dict[str, list[int]]] = {}
        for dish, number, each in cautions:
            numbers.setdefault((each.title, each.text), {}).setdefault(dish, []).append(number)
        return tuple(
            AtSteps(
                "; ".join(
                    self.names.letters.get(dish, "") + numbers_text(steps)
                    for dish, steps in by_dish.items()
                ),
                title,
                text,
            )
            for (title, text), by_dish in numbers.items()
        )

    def _usual(self, recipe: Recipe) -> Iterator[AtSteps]:
        guessed = [
            (step, each) for step in recipe.steps for each in step.worked_out if not each.is_said
        ]
        found: dict[str, list[int]] = {}
        for step, each in guessed:
            if each.note in ("time", "wait"):
                found.setdefault(self.texts.say("minutes"), []).append(step.number)
            elif each.note == "needs" and each.value in step.named(*_LOOKED_AT):
                found.setdefault(self.texts.say(each.value), []).append(step.number)
        for what, steps in found.items():
            yield AtSteps(self.names.letters.get(recipe.key, "") + numbers_text(steps), "", what)

    def _skills(self, recipes: Sequence[Recipe]) -> tuple[SkillNote, ...]:
        """Of the steps in class, each once; what is new takes the most coaching, then what can
        hurt."""
        sessions = [
            (each.number, [dish.text for dish in each.dishes]) for each in self.classroom.sessions
        ]
        asked = {
            term.text
            for recipe in recipes
            for step in recipe.steps
            if step.when is None
            for term in step.skills
        }
        skills = self.folder.skills
        found: dict[str, SkillNote] = {}
        for note in coaching_of(tuple(skill_uses(sessions, self.folder.recipes)), skills):
            key = note.use.skill.text
            if note.use.session == self.session.number and key in asked:
                found.setdefault(
                    key,
                    SkillNote(
                        skills[key].name,
                        sentence(note.text),
                        note.caution or "",
                        note.first_time,
                        sentence(skills[key].short or skills[key].how),
                    ),
                )
        return tuple(sorted(found.values(), key=lambda note: (not note.is_new, not note.caution)))

    def _questions(self, recipe: Recipe) -> tuple[str, ...]:
        """What to talk about, one by one: nobody's answer is the right one."""
        prose = recipe.sections.get("talk", ())
        return tuple(
            text for block in prose for item in _items(block) if (text := plain_prose(item))
        )


_LOOKED_AT = (Kind.HEAT_SOURCE, Kind.POT, Kind.BLADE, Kind.MOVING_BLADE)
"""Tools of which it matters that they are the right ones."""


def _items(block: Block) -> Sequence[Prose]:
    return block.items if isinstance(block, Listing) else ((block,),)


def _alternating(lists: Sequence[Sequence[str]]) -> tuple[str, ...]:
    """The first of each, then the second of each."""
    longest = max(map(len, lists), default=0)
    return tuple(each[index] for index in range(longest) for each in lists if index < len(each))


def made(context: BuildContext) -> Iterator[Sheet]:
    """What each helper reads before the day, a session and language."""
    clocks = {each.session.number: each for each in context.examined.facts.clocks}
    for edition in context.editions:
        for session in context.sessions:
            brief = brief_of(
                edition.folder,
                context.classroom,
                edition.uses,
                session,
                context.season,
                clocks.get(session.number),
                edition.texts,
            )
            language = edition.texts.language
            if brief.briefs:
                yield Sheet(
                    (FILE.path(session, language),),
                    f"Printing the helper's brief for session {session.number} ({language})",
                    LAYOUT,
                    {"brief": brief},
                    language,
                    2 * len(brief.briefs),
                )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    yield PackEntry(
        Moment.BEFORE,
        FILE.path(session, context.texts.language),
        say("Helper's brief"),
        say("the evening before: a sheet for each helper"),
        min(1, session.setting.helpers),
    )


FILE = SessionFile("helper-brief")

LAYOUT = Layout("brief.html", ("", "less"))
"""One size of type, with more or less on the front; what isn't there is on the back."""

PART = Part(made, FILE.owns, in_pack)
