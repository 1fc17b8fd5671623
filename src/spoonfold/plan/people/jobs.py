"""Jobs that go round: over the season every seat gets every kind of job as evenly as can be.

Each job goes to a seat that has had its kind least often. So, among seats that share a table all
season, no kind's counts ever differ by more than one: where two differ, the one behind is always
taken first. What that leaves open is used to make each day fair: nobody has much more to do
than another, and two steps that may run at the same time fall to different children where they can.
Where the clock has timed the day, nobody is at two steps at once, whatever that costs in evenness,
and a step for everyone is done by children of the tables from which the clock takes them.

Who sits where: a seat keeps its letter for the season, even when tables change for a day.

What kinds of job there are, and which jobs a session has.

The list is fixed, so that a season can be even: a step of a recipe is one of four kinds, by
what it needs and which skills it asks for, and every table has a few standing jobs besides.
Which jobs a table needs is common practice."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from enum import Enum
from itertools import combinations, count

from spoonfold.knowledge.cautions import CAUTIONS
from spoonfold.knowledge.equipment import Kind as Gear
from spoonfold.model.classroom import Classroom
from spoonfold.model.recipe import Recipe, Step
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.clock.step_order import StepKey, steps_before
from spoonfold.plan.clock.tasks import Placed

_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


def seat_letter(seat: int) -> str:
    """The letter of a seat, counted from 0: A to Z, then AA, AB ..."""
    letters = ""
    seat += 1
    while seat:
        seat, rest = divmod(seat - 1, len(_LETTERS))
        letters = _LETTERS[rest] + letters
    return letters


def seats_at_tables(usual: Sequence[int], today: Sequence[int]) -> tuple[tuple[int, ...], ...]:
    """The seats at each table of a day, counted from 0 through the class as it usually sits.

    `usual` and `today` are children at each table. Who can, stays at the usual table: a table's
    needs are those of the children who sit there. Only who finds no room moves, and only a child
    beyond the usual number gets a new letter.
    """
    home: list[list[int]] = []
    first = 0
    for children in usual:
        home.append(list(range(first, first + children)))
        first += children
    own = [home[table][:size] if table < len(home) else [] for table, size in enumerate(today)]
    staying = {seat for seats in own for seat in seats}
    moving = [seat for seats in home for seat in seats if seat not in staying]
    new = count(first)
    for seats, size in zip(own, today, strict=True):
        while len(seats) < size:
            seats.append(moving.pop(0) if moving else next(new))
    return tuple(map(tuple, own))


class Kind(Enum):
    """A kind of job, in the order in which charts show them."""

    READ = "read aloud"
    """Reads each step to the table before it begins."""
    KNIFE = "knife"
    """Steps with a knife or scissors."""
    GRATE = "grate, peel, open"
    """Steps with a grater, a peeler or a can opener."""
    MIX = "measure and mix"
    """Every other step that children do."""
    HEAT = "at the heat"
    """Steps at a burner, a griddle or the oven."""
    WATCH = "raw and ready"
    """Sees that what touched raw food is washed before it touches anything else."""
    SET = "set the table"
    CLEAN = "clean up"
    """Leads the washing up and counts the tools back in."""


_SKILLS = (
    (Kind.HEAT, frozenset({"stir at the heat", "flip"})),
    (Kind.KNIFE, frozenset({"claw grip", "bridge hold", "slice", "dice", "snip"})),
    (Kind.GRATE, frozenset({"grate", "peel", "open a can"})),
)


@dataclass(frozen=True, slots=True)
class Job:
    """Something that one child does on one day."""

    kind: Kind
    dish: str | None = None
    """The recipe's key; None: a standing job."""
    steps: tuple[Step, ...] = ()
    """One, or a run of steps with raw food that the same hands do; none: a standing job."""

    @property
    def is_raw(self) -> bool:
        """Whether its hands touch raw food."""
        return any(is_raw(step) for step in self.steps)


@dataclass(frozen=True, slots=True)
class Post:
    """A job to be filled by so many different children."""

    job: Job
    table: int | None
    """Counted from 1; None: it is done once for everyone, and any table may send a child."""
    hands: int
    spans: tuple[tuple[int, int], ...] = ()
    """From when to when they are at work, in seconds since cooking began; empty where nobody has
    timed it."""

    def overlaps(self, other: Post) -> bool:
        """Whether some hands can't do both."""
        return any(
            start < end and begin < until
            for start, until in self.spans
            for begin, end in other.spans
        )


class Grain(Enum):
    """How much of the work the same hands do. The larger, the fewer there are to wash."""

    RUN = "a run of steps with raw food"
    STEP = "a step"
    LOAD = "a load of a step"


def kind_of(step: Step) -> Kind:
    """The kind of a step: the one that takes most care, where it could be several."""
    skills = {term.text.casefold() for term in step.skills}
    if step.has(Gear.HOT):
        return Kind.HEAT
    for kind, named in _SKILLS[:1]:
        if skills & named:
            return kind
    if step.has(Gear.KNIFE):
        return Kind.KNIFE
    if step.has(Gear.BLADE, Gear.MOVING_BLADE, Gear.OPENER):
        return Kind.GRATE
    for kind, named in _SKILLS[1:]:
        if skills & named:
            return kind
    return Kind.MIX


def posts_of(recipes: Sequence[Recipe], tables: Sequence[int]) -> tuple[Post, ...]:
    """Every job of a session that nobody has timed. `tables` are the children at each."""
    numbers = range(1, len(tables) + 1)
    posts = [*_standing(dict.fromkeys(numbers, recipes), recipes, tables)]
    for recipe in recipes:
        for steps in _runs(recipe):
            job = Job(kind_of(steps[0]), recipe.key, steps)
            hands = children_of(steps[0])
            if steps[0].for_class:
                posts.append(Post(job, None, min(hands, sum(tables))))
            else:
                posts += [Post(job, table, min(hands, tables[table - 1])) for table in numbers]
    return tuple(post for post in posts if post.hands)


def timed_posts(day: Timed, grain: Grain) -> tuple[Post, ...]:
    """Every job of a session as the clock has it, the earliest first: what each table really
    cooks, with so many hands of each table as work there."""
    tables, dishes = day.session.setting.tables, day.work.dishes
    numbers = range(1, len(tables) + 1)
    own = {table: [dish.at(table).recipe for dish in dishes] for table in numbers}
    placed: dict[tuple[str, int, int | None], list[Placed]] = {}
    for each in day.clock.placed:
        key = (each.task.dish, each.task.step.number, each.task.table)
        placed.setdefault(key, []).append(each)
    posts: list[Post] = []
    for dish in dishes:
        for table, recipe in ((None, dish.recipe), *((n, dish.at(n).recipe) for n in numbers)):
            for steps in _runs(recipe):
                if steps[0].for_class is not (table is None):
                    continue
                turns = [placed.get((recipe.key, step.number, table), []) for step in steps]
                posts += _of_run(recipe.key, steps, turns, grain)
    posts.sort(key=lambda post: post.spans[0])
    standing = _standing(own, [dish.recipe for dish in dishes], tables)
    return (*(post for post in standing if post.hands), *posts)


def _of_run(
    dish: str, steps: Sequence[Step], turns: Sequence[Sequence[Placed]], grain: Grain
) -> Iterator[Post]:
    """`turns`: the loads of each step of a run at one place."""
    loads = [each for own in turns for each in own]
    hands = [dict(each.task.hands) for each in loads]
    if grain is Grain.RUN and all(each == hands[0] for each in hands):
        yield from _at_once(Job(kind_of(steps[0]), dish, tuple(steps)), loads)
        return
    for step, own in zip(steps, turns, strict=True):
        job = Job(kind_of(step), dish, (step,))
        if grain is Grain.LOAD:
            for load in own:
                yield from _at_once(job, [load])
        else:
            yield from _at_once(job, own)


def _at_once(job: Job, loads: Sequence[Placed]) -> Iterator[Post]:
    spans = tuple((each.start, each.hands_free) for each in loads)
    for table, hands in loads[0].task.hands.items() if loads else ():
        if hands:
            yield Post(job, table, hands, spans)


def _standing(
    own: Mapping[int, Sequence[Recipe]], recipes: Sequence[Recipe], tables: Sequence[int]
) -> Iterator[Post]:
    numbers = range(1, len(tables) + 1)
    for table in numbers:
        yield from (
            Post(Job(kind), table, min(1, tables[table - 1]))
            for kind in (Kind.READ, Kind.SET, Kind.CLEAN)
        )
    # Somebody watches wherever raw food is handled in class.
    watching = [
        table
        for table in numbers
        if any(
            _handles_raw(step) and not step.for_class for each in own[table] for step in each.steps
        )
    ]
    yield from (Post(Job(Kind.WATCH), table, min(1, tables[table - 1])) for table in watching)
    if not watching and any(_handles_raw(step) for each in recipes for step in each.steps):
        yield Post(Job(Kind.WATCH), None, min(1, sum(tables)))


def _handles_raw(step: Step) -> bool:
    return step.when is None and is_raw(step)


def _runs(recipe: Recipe) -> Iterator[tuple[Step, ...]]:
    """The steps that are done in class, in order. Raw food that goes on from one step to the next
    stays in the same hands: the fewer they are, the fewer there are to wash."""
    run: tuple[Step, ...] = ()
    for step in recipe.steps:
        if step.when is not None:
            continue
        if run and not _goes_on(run[-1], step):
            yield run
            run = ()
        run = (*run, step)
    if run:
        yield run


def _goes_on(before: Step, step: Step) -> bool:
    return (
        is_raw(before)
        and is_raw(step)
        and step.follows == (before.number,)
        and before.for_class == step.for_class
        and children_of(before) == children_of(step)
        and kind_of(before) is kind_of(step)
    )


def is_raw(step: Step) -> bool:
    """Whether raw food is handled, by the cautions that the step names."""
    known = (CAUTIONS.get(term.text.casefold()) for term in step.watch)
    return any(caution is not None and caution.icon == "raw" for caution in known)


def children_of(step: Step) -> int:
    """How many children are at work: as noted, else one, unless an adult or the class does it."""
    if step.hands is not None:
        return step.hands
    return int(not (step.adult or step.for_class))


CLASH = 4
"""How much worse two steps at once are than a job more: enough to outweigh it at any table."""

ROUNDS = 50
"""Rounds of improving a day; a day of six tables settles in fewer than ten."""


@dataclass(frozen=True, slots=True)
class SeatJobs:
    """What one seat does on one day."""

    seat: int
    """Counted from 0 through the class."""
    jobs: tuple[Job, ...]
    """Standing jobs, then the others in the order of dishes and steps."""


@dataclass(frozen=True, slots=True)
class SessionJobs:
    """A session's jobs, by table."""

    session: int
    tables: tuple[tuple[SeatJobs, ...], ...]


@dataclass(frozen=True, slots=True)
class SeasonJobs:
    """Every session's jobs, and how often each seat has had each kind."""

    sessions: tuple[SessionJobs, ...]
    counts: Mapping[Kind, Mapping[int, int]]
    """By kind and seat."""


def jobs_of(
    classroom: Classroom, recipes: Mapping[str, Recipe], clocks: Iterable[Timed] = ()
) -> SeasonJobs:
    """The jobs of a season; dishes that `recipes` lacks are left out. A session of which `clocks`
    has none is shared out by what its steps wait for."""
    timed = {each.session.number: each for each in clocks}
    counts: dict[Kind, Counter[int]] = {kind: Counter() for kind in Kind}
    done: Counter[int] = Counter()
    sessions = []
    for session in classroom.sessions:
        cooked = [recipes[dish.text] for dish in session.dishes if dish.text in recipes]
        tables = session.setting.tables
        seats = seats_at_tables(classroom.setting.tables, tables)
        own = timed.get(session.number)
        ways = (
            [posts_of(cooked, tables)]
            if own is None
            else [timed_posts(own, grain) for grain in Grain]
        )
        for posts in ways:
            dishes = [recipe.key for recipe in cooked]
            day = _Day(seats, posts, dishes, _together(cooked), deepcopy(counts), Counter(done))
            shared = day.shared_out()
            if not day.is_torn():
                break
        counts, done = day.counts, day.done
        sessions.append(SessionJobs(session.number, shared))
    return SeasonJobs(tuple(sessions), counts)


def _together(recipes: Sequence[Recipe]) -> frozenset[tuple[StepKey, StepKey]]:
    """Pairs of steps of which neither waits for the other: they may run at the same time."""
    before = steps_before(recipes)
    return frozenset(
        (one, other)
        for one in before
        for other in before
        if one != other and one not in before[other] and other not in before[one]
    )


def _jobs(posts: Iterable[Post]) -> list[Job]:
    """Each job once: its loads are several posts."""
    found: list[Job] = []
    for post in posts:
        if post.job not in found:
            found.append(post.job)
    return found


@dataclass(slots=True)
class _Day:
    """A day while its jobs are shared out."""

    tables: Sequence[Sequence[int]]
    posts: Sequence[Post]
    dishes: Sequence[str]
    together: frozenset[tuple[StepKey, StepKey]]
    counts: dict[Kind, Counter[int]]
    done: Counter[int]
    """Jobs of the season so far, by seat."""
    holders: list[list[int]] = field(default_factory=list)
    """The seats of each post."""
    own: dict[int, list[Post]] = field(default_factory=dict)

    def shared_out(self) -> tuple[tuple[SeatJobs, ...], ...]:
        self.own = {seat: [] for seats in self.tables for seat in seats}
        for post in self.posts:
            chosen: list[int] = []
            while len(chosen) < post.hands:
                chosen.append(self.next(post, chosen))
                self.give(chosen[-1], post)
            self.holders.append(chosen)
        for _ in range(ROUNDS):
            if not sum(self.improve(number) for number in range(len(self.posts))):
                break
        for seat, posts in self.own.items():
            self.done[seat] += len(_jobs(posts))
        return tuple(
            tuple(SeatJobs(seat, tuple(self.in_order(seat))) for seat in seats)
            for seats in self.tables
        )

    def in_order(self, seat: int) -> list[Job]:
        """A seat's jobs in the order of posts, dishes and steps."""
        held = [
            post for post, holders in zip(self.posts, self.holders, strict=True) if seat in holders
        ]
        return sorted(
            _jobs(held),
            key=lambda job: (
                (self.dishes.index(job.dish or ""), job.steps[0].number) if job.steps else (-1, 0)
            ),
        )

    def is_torn(self) -> bool:
        """Whether a child is at two steps at once."""
        return any(
            one.overlaps(other)
            for posts in self.own.values()
            for one, other in combinations(posts, 2)
        )

    def next(self, post: Post, chosen: Sequence[int]) -> int:
        """The seat that has had the kind least, then has the fairer day, then the fairer season."""
        counts = self.counts[post.job.kind]
        tables = self.tables if post.table is None else (self.tables[post.table - 1],)
        return min(
            (seat for seats in tables for seat in seats if seat not in chosen),
            key=lambda seat: (
                self.is_busy(seat, post),
                counts[seat],
                self.burden(seat, post),
                self.done[seat],
                seat,
            ),
        )

    def is_busy(self, seat: int, post: Post) -> bool:
        """Whether a child works elsewhere at the time."""
        return any(post.overlaps(other) for other in self.own[seat])

    def burden(self, seat: int, post: Post) -> int:
        """What one more job would add to a day: it weighs more the more there is already."""
        clashes = sum(self.clash(post.job, other.job) for other in self.own[seat])
        return 2 * len(self.own[seat]) + 1 + CLASH * clashes

    def clash(self, one: Job, other: Job) -> bool:
        """Whether two jobs shouldn't fall to the same child."""
        if Kind.WATCH in (one.kind, other.kind):
            # Who watches over raw hands had better have clean ones.
            return one.is_raw or other.is_raw
        return any(
            ((one.dish or "", a.number), (other.dish or "", b.number)) in self.together
            for a in one.steps
            for b in other.steps
        )

    def give(self, seat: int, post: Post) -> None:
        # Several loads of a step are one job.
        self.counts[post.job.kind][seat] += all(post.job != each.job for each in self.own[seat])
        self.own[seat].append(post)

    def take(self, seat: int, post: Post) -> None:
        self.own[seat].remove(post)
        self.counts[post.job.kind][seat] -= all(post.job != each.job for each in self.own[seat])

    def improve(self, number: int) -> bool:
        """Passes a job on inside its table where the day gets fairer and the season stays as
        even: to a seat that has had the kind less often."""
        post, holders = self.posts[number], self.holders[number]
        counts = self.counts[post.job.kind]
        for place, seat in enumerate(holders):
            table = next(seats for seats in self.tables if seat in seats)
            self.take(seat, post)
            # Without this job, who has had the kind as often as the holder is as much behind.
            best = min(
                (
                    each
                    for each in table
                    if each == seat
                    or (
                        each not in holders
                        and counts[each] <= counts[seat]
                        and not self.is_busy(each, post)
                    )
                ),
                key=lambda each: (counts[each], self.burden(each, post), each != seat),
            )
            self.give(best, post)
            holders[place] = best
            if best != seat:
                return True
        return False
