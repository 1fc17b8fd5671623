"""Jobs that go round: over the season every seat gets every kind of job as evenly as can be.

Each job goes to a seat that has had its kind least often. So, among seats that share a table all
season, no kind's counts ever differ by more than one: where two differ, the one behind is always
taken first. What that leaves open is used to make each day fair: nobody has much more to do
than another, and nobody gets two steps that may run at the same time.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from spoonfold.model.classroom import Classroom
from spoonfold.model.recipe import Recipe
from spoonfold.plan.clock.step_order import StepKey, steps_before
from spoonfold.plan.people.job_kinds import Job, Kind, Post, posts_of
from spoonfold.plan.people.seating import seats_at_tables

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


def jobs_of(classroom: Classroom, recipes: Mapping[str, Recipe]) -> SeasonJobs:
    """The jobs of a season; dishes that `recipes` lacks are left out."""
    counts: dict[Kind, Counter[int]] = {kind: Counter() for kind in Kind}
    done: Counter[int] = Counter()
    sessions = []
    for session in classroom.sessions:
        cooked = [recipes[dish.text] for dish in session.dishes if dish.text in recipes]
        tables = session.setting.tables
        day = _Day(
            seats_at_tables(classroom.setting.tables, tables),
            posts_of(cooked, tables),
            _together(cooked),
            counts,
            done,
        )
        sessions.append(SessionJobs(session.number, day.shared_out()))
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


@dataclass(slots=True)
class _Day:
    """A day while its jobs are shared out."""

    tables: Sequence[Sequence[int]]
    posts: Sequence[Post]
    together: frozenset[tuple[StepKey, StepKey]]
    counts: dict[Kind, Counter[int]]
    done: Counter[int]
    """Jobs of the season so far, by seat."""
    holders: list[list[int]] = field(default_factory=list)
    """The seats of each post."""
    own: dict[int, list[Job]] = field(default_factory=dict)

    def shared_out(self) -> tuple[tuple[SeatJobs, ...], ...]:
        self.own = {seat: [] for seats in self.tables for seat in seats}
        for post in self.posts:
            chosen: list[int] = []
            while len(chosen) < post.hands:
                chosen.append(self.next(post, chosen))
                self.give(chosen[-1], post.job)
            self.holders.append(chosen)
        for _ in range(ROUNDS):
            if not sum(self.improve(number) for number in range(len(self.posts))):
                break
        for seat, jobs in self.own.items():
            self.done[seat] += len(jobs)
        held = tuple(zip(self.posts, self.holders, strict=True))
        return tuple(
            tuple(
                SeatJobs(seat, tuple(post.job for post, holders in held if seat in holders))
                for seat in seats
            )
            for seats in self.tables
        )

    def next(self, post: Post, chosen: Sequence[int]) -> int:
        """The seat that has had the kind least, then has the fairer day, then the fairer season."""
        counts = self.counts[post.job.kind]
        tables = self.tables if post.table is None else (self.tables[post.table - 1],)
        return min(
            (seat for seats in tables for seat in seats if seat not in chosen),
            key=lambda seat: (counts[seat], self.burden(seat, post.job), self.done[seat], seat),
        )

    def burden(self, seat: int, job: Job) -> int:
        """What one more job would add to a day: it weighs more the more there is already."""
        clashes = sum(self.clash(job, other) for other in self.own[seat])
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

    def give(self, seat: int, job: Job) -> None:
        self.own[seat].append(job)
        self.counts[job.kind][seat] += 1

    def take(self, seat: int, job: Job) -> None:
        self.own[seat].remove(job)
        self.counts[job.kind][seat] -= 1

    def improve(self, number: int) -> bool:
        """Passes a job on inside its table where the day gets fairer and the season stays as
        even: to a seat that has had the kind exactly once less."""
        post, holders = self.posts[number], self.holders[number]
        counts = self.counts[post.job.kind]
        for place, seat in enumerate(holders):
            table = next(seats for seats in self.tables if seat in seats)
            self.take(seat, post.job)
            # Without this job, who has had the kind as often as the holder is as much behind.
            best = min(
                (
                    each
                    for each in table
                    if each == seat or (each not in holders and counts[each] == counts[seat])
                ),
                key=lambda each: (self.burden(each, post.job), each != seat),
            )
            self.give(best, post.job)
            holders[place] = best
            if best != seat:
                return True
        return False
