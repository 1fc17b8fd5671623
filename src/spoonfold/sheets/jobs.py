"""The job chart of a session: who does what, by seat, or by first name where the class lists them.

It is the one sheet that may carry a child's name, and it is for the adults in the room: nothing
of it may reach what families or the world see.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import plain
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.people.jobs import Job, Kind, SeasonJobs, SeatJobs, seat_letter, seats_at_tables
from spoonfold.plan.safety.dish import cooked_at
from spoonfold.sheets.shared.head import Head, dishes_of, head_of
from spoonfold.sheets.shared.numbers import step_name
from spoonfold.sheets.sheet import BuildContext, Layout, Moment, PackEntry, Part, SessionFile, Sheet

_LONGEST = 46
"""Letters of a step's name, so that a job stands on one line."""
_DISH = 14
"""Letters of a dish's name in front of its step."""

_ICONS: Mapping[Kind, str] = {
    Kind.READ: "talk",
    Kind.KNIFE: "knife",
    Kind.GRATE: "hands",
    Kind.MIX: "pot",
    Kind.HEAT: "heat",
    Kind.WATCH: "raw",
    Kind.SET: "table",
    Kind.CLEAN: "hands",
}


@dataclass(frozen=True, slots=True)
class JobView:
    """A job on the chart."""

    icon: str
    kind: str
    step: str = ""
    """`Step 3`; empty for a standing job."""
    words: str = ""
    """How the step begins."""


@dataclass(frozen=True, slots=True)
class SeatRow:
    """A seat and its jobs."""

    letter: str
    name: str
    """Empty: seats go by letter."""
    usual: str
    """Which table the seat usually belongs to, where it isn't this one today."""
    standing: tuple[JobView, ...]
    steps: tuple[JobView, ...]


@dataclass(frozen=True, slots=True)
class TableChart:
    """A table's seats."""

    label: str
    rows: tuple[SeatRow, ...]
    everyone: tuple[JobView, ...]
    """What the whole table does; not repeated at each seat."""


@dataclass(frozen=True, slots=True)
class KindView:
    """What a kind of job means."""

    kind: str
    meaning: str


@dataclass(frozen=True, slots=True)
class JobChart:
    """The chart of one session."""

    head: Head
    tables: tuple[TableChart, ...]
    kinds: tuple[KindView, ...]
    """Those that this session has and that need a word."""
    has_names: bool
    is_wide: bool
    """Whether there is more beside a letter: a name, or the table that a seat comes from."""


@dataclass(frozen=True, slots=True)
class _Dishes:
    """What one table cooks."""

    names: Mapping[str, str]
    """What tells the dishes of a day apart, by a recipe's key."""
    cooked: Mapping[str, Sequence[Recipe]]
    """The dish of each table, by the recipe's key."""
    table: int
    """Counted from 0."""

    def own(self, job: Job) -> Step:
        """The first step of a job, in the words of this table's card."""
        step, dish = job.steps[0], self.cooked.get(job.dish or "", ())
        if step.shared or not dish:
            return step
        return next(each for each in dish[self.table].steps if each.number == step.number)


def job_chart(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    uses: Mapping[str, Uses],
    season: SeasonJobs,
    texts: Texts,
) -> JobChart:
    """The chart of a session out of the season's jobs."""
    jobs = next(each for each in season.sessions if each.session == session.number)
    usual = {
        seat: table
        for table, seats in enumerate(
            seats_at_tables(classroom.setting.tables, classroom.setting.tables), 1
        )
        for seat in seats
    }
    names = _dish_names(folder, session)
    cooked = cooked_at(
        dishes_of(folder, session), uses, folder.pantry, session.setting, texts.language
    )
    kinds = {job.kind for table in jobs.tables for seat in table for job in seat.jobs}
    tables = tuple(
        _table(seats, number, usual, folder.children, _Dishes(names, cooked, number - 1), texts)
        for number, seats in enumerate(jobs.tables, 1)
        if seats
    )
    return JobChart(
        head=head_of(folder, classroom, session, texts),
        tables=tables,
        kinds=tuple(
            KindView(kind_text(kind, texts), meaning)
            for kind in Kind
            if kind in kinds and (meaning := _meaning(kind, texts))
        ),
        has_names=bool(folder.children),
        is_wide=any(row.name or row.usual for table in tables for row in table.rows),
    )


def kind_text(kind: Kind, texts: Texts) -> str:
    """A kind of job as the chart calls it."""
    match kind:
        case Kind.READ:
            return texts.say("Read aloud")
        case Kind.KNIFE:
            return texts.say("Knife")
        case Kind.GRATE:
            return texts.say("Grate, peel, open")
        case Kind.MIX:
            return texts.say("Measure and mix")
        case Kind.HEAT:
            return texts.say("At the heat")
        case Kind.WATCH:
            return texts.say("Raw-to-ready watch")
        case Kind.SET:
            return texts.say("Set the table")
        case Kind.CLEAN:
            return texts.say("Lead the clean-up")


def _meaning(kind: Kind, texts: Texts) -> str:
    match kind:
        case Kind.READ:
            return texts.say("reads each step to the table before it begins")
        case Kind.WATCH:
            return texts.say(
                "keeps hands clean and says “wash” when a hand, tool or board has met raw food"
            )
        case Kind.CLEAN:
            return texts.say("washes first, and counts every tool back in with the helper")
        case _:
            return ""


def _table(
    seats: Sequence[SeatJobs],
    table: int,
    usual: Mapping[int, int],
    children: Sequence[str],
    dishes: _Dishes,
    texts: Texts,
) -> TableChart:
    common = (
        []
        if len(seats) < 2
        else [job for job in seats[0].jobs if all(job in each.jobs for each in seats)]
    )
    return TableChart(
        texts.say("Table {number}", number=table),
        tuple(_row(each, table, common, usual, children, dishes, texts) for each in seats),
        tuple(_view(job, dishes, texts) for job in common),
    )


def _row(
    each: SeatJobs,
    table: int,
    common: Sequence[Job],
    usual: Mapping[int, int],
    children: Sequence[str],
    dishes: _Dishes,
    texts: Texts,
) -> SeatRow:
    home = usual.get(each.seat)
    moved = home is not None and home != table
    return SeatRow(
        letter=seat_letter(each.seat),
        name=children[each.seat] if each.seat < len(children) else "",
        usual=texts.say("from table {number}", number=home) if moved else "",
        standing=tuple(_view(job, dishes, texts) for job in each.jobs if not job.steps),
        steps=tuple(
            _view(job, dishes, texts) for job in each.jobs if job.steps and job not in common
        ),
    )


def _dish_names(folder: ClassFolder, session: Session) -> Mapping[str, str]:
    """What tells the dishes of a day apart: their first words where those do, else their titles.

    Empty for one dish alone, which nobody mixes up.
    """
    titles = {
        dish.text: folder.recipes[dish.text].title
        for dish in session.dishes
        if dish.text in folder.recipes
    }
    if len(titles) < 2:
        return {}
    short = {key: _cut(title, _DISH) for key, title in titles.items()}
    return short if len(set(short.values())) == len(short) else titles


def _view(job: Job, dishes: _Dishes, texts: Texts) -> JobView:
    icon, kind = _ICONS[job.kind], kind_text(job.kind, texts)
    if job.dish is None:
        return JobView(icon, kind)
    step = _numbers(job.steps, dishes.names.get(job.dish, ""), texts)
    return JobView(icon, kind, step, step_name(plain(dishes.own(job).said), texts, _LONGEST))


def _numbers(steps: tuple[Step, ...], dish: str, texts: Texts) -> str:
    first, last = steps[0].number, steps[-1].number
    if dish and first == last:
        return texts.say("{dish}, step {number}", dish=dish, number=first)
    if dish:
        return texts.say("{dish}, steps {first} to {last}", dish=dish, first=first, last=last)
    if first == last:
        return texts.say("Step {number}", number=first)
    return texts.say("Steps {first} to {last}", first=first, last=last)


def _cut(text: str, longest: int) -> str:
    """As many whole words as there is room for."""
    if len(text) <= longest:
        return text
    return text[: longest + 1].rpartition(" ")[0] or text


def made(context: BuildContext) -> Iterator[Sheet]:
    """A job chart a session."""
    for session in context.sessions:
        chart = job_chart(
            context.folder, context.classroom, session, context.uses, context.season, context.texts
        )
        yield Sheet(
            (FILE.path(session, context.texts.language),),
            f"Charting the jobs of session {session.number}",
            LAYOUT,
            {"chart": chart},
            context.texts.language,
        )


def in_pack(context: BuildContext, session: Session) -> Iterator[PackEntry]:
    say = context.texts.say
    path = FILE.path(session, context.texts.language)
    yield PackEntry(Moment.DAY, path, say("Jobs"), say("on the day, for the adults"))


FILE = SessionFile("jobs")

LAYOUT = Layout(
    "jobs.html", ("large", "middle", "small", "least"), sides=1, holds=(1200, 1700, 2050)
)

PART = Part(made, FILE.owns, in_pack)
