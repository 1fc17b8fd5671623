"""The clock of a table as a chart: a row for each child, or for each table of a helper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.plan.clock.class_work import Timed, cooking_begins
from spoonfold.plan.clock.clock import BUFFER
from spoonfold.plan.clock.tasks import Placed
from spoonfold.plan.people.jobs import SeatJobs, seat_letter
from spoonfold.sheets.lesson_card.clock import Names, day_time, moment

_CLOCK_EVERY = 10
"""Minutes from one clock time over the chart to the next."""


@dataclass(frozen=True, slots=True)
class ChartBar:
    """One piece of work; times in seconds since cooking began."""

    label: str
    start: int
    work_end: int
    wash_end: int
    """Not before `work_end`; equal to it where nobody washes."""
    end: int
    """Not before `work_end`; the wait lasts until here."""
    is_watched: bool = False
    """Whether an adult stands by."""


@dataclass(frozen=True, slots=True)
class ChartRow:
    """A child, a table or the class."""

    label: str
    bars: tuple[ChartBar, ...]


@dataclass(frozen=True, slots=True)
class ChartView:
    """The chart and what explains it."""

    rows: tuple[ChartRow, ...]
    length: int
    """Minutes there are."""
    buffer: int
    """Minutes of them to keep free at the end."""
    times: tuple[tuple[int, str], ...]
    """Minutes with the clock time to write over them, in order."""
    end_label: str
    """What comes after the cooking."""
    words: str
    """All of it for a reader who hears the page."""

    @property
    def high(self) -> int:
        """About how many drawing units it needs, each to a point."""
        return 28 + sum(3 + 13 * _at_once(row.bars) for row in self.rows)


def _at_once(bars: Sequence[ChartBar]) -> int:
    """The most that lie below each other."""
    return max(
        (sum(one.start <= bar.start < max(one.end, one.wash_end) for one in bars) for bar in bars),
        default=1,
    )


def lanes_of(each: Timed, table: int, seats: Sequence[SeatJobs], names: Names) -> ChartView:
    """One table alone: a row for each child, with the steps that it does there or for all."""
    rows = []
    for seat in seats:
        own = {(job.dish, step.number) for job in seat.jobs for step in job.steps}
        placed = [
            one
            for one in each.clock.placed
            if one.task.table in (None, table) and (one.task.dish, one.task.step.number) in own
        ]
        rows.append(ChartRow(seat_letter(seat.seat), _bars(placed, names)))
    return _part(each, rows, names)


def table_rows_of(each: Timed, tables: Sequence[int], names: Names) -> ChartView:
    """What is done at each of these tables, and once for all."""
    texts = names.texts
    rows = []
    for table in (None, *tables):
        placed = [one for one in each.clock.placed if one.task.table == table]
        label = texts.say("For all") if table is None else texts.say("Table {number}", number=table)
        if placed:
            rows.append(ChartRow(label, _bars(placed, names)))
    return _part(each, rows, names)


def _part(each: Timed, rows: Sequence[ChartRow], names: Names) -> ChartView:
    texts, setting, clock = names.texts, each.session.setting, each.clock
    begin = cooking_begins(setting)
    return ChartView(
        rows=tuple(rows),
        length=clock.cooking,
        buffer=min(BUFFER, clock.cooking),
        times=tuple(
            (minute, day_time(setting, begin + minute, texts))
            for minute in range(0, clock.cooking - _CLOCK_EVERY // 2, _CLOCK_EVERY)
        ),
        end_label=day_time(setting, begin + clock.cooking, texts),
        words=_words(rows, setting, names),
    )


def _bars(placed: Sequence[Placed], names: Names) -> tuple[ChartBar, ...]:
    return tuple(
        ChartBar(
            label=names.number(one.task.dish, one.task.step.number),
            start=one.start,
            work_end=one.start + one.task.work,
            wash_end=one.hands_free,
            end=max(one.end, one.hands_free),
            is_watched=one.task.adult is not None,
        )
        for one in placed
    )


def _words(rows: Sequence[ChartRow], setting: Setting, names: Names) -> str:
    """Everything that the chart shows, row by row."""
    texts = names.texts
    told = []
    for row in rows:
        steps = "; ".join(
            _begin(bar, moment(setting, bar.start, texts), texts)
            + (
                texts.say(", waits until {end}", end=moment(setting, bar.end, texts))
                if bar.end > bar.wash_end
                else ""
            )
            for bar in sorted(row.bars, key=lambda bar: bar.start)
        ) or texts.say("nothing")
        told.append(f"{row.label}: {steps}.")
    return texts.say("When each step runs.") + " " + " ".join(told)


def _begin(bar: ChartBar, start: str, texts: Texts) -> str:
    return texts.say("{start} step {number}", start=start, number=bar.label)
