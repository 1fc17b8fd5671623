"""The clock of a session as a chart: a row for the whole class, each table, each adult."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from spoonfold.knowledge.equipment import Kind
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.plan.clock.class_work import Timed, cooking_begins
from spoonfold.plan.clock.clock import BUFFER
from spoonfold.plan.clock.tasks import LEAD, ROVING, Placed, equipment_of, tool
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
    marks: str = ""
    """A letter for each shared thing that it holds."""
    is_watched: bool = False
    """Whether an adult stands by."""
    is_washing: bool = False
    """Somebody washes up: no step."""


@dataclass(frozen=True, slots=True)
class ChartRow:
    """A table, the class or an adult."""

    label: str
    bars: tuple[ChartBar, ...]
    is_first: bool = True
    """False: it belongs to the row above it, without a line between them."""


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
    marks: tuple[tuple[str, str], ...]
    """Each letter and the shared thing that it stands for."""
    washing: str
    """The letter of washing up; empty where nobody does."""

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


def chart_of(each: Timed, names: Names) -> ChartView:
    """The chart of a session."""
    texts, setting, clock = names.texts, each.session.setting, each.clock
    letters = _letters(_shared(each))
    rows = []
    together = [one for one in clock.placed if one.task.table is None]
    if together:
        rows.append(ChartRow(texts.say("For all"), _bars(together, letters, names), True))
    for table, children in enumerate(setting.tables, start=1):
        if not children:
            continue
        own = [one for one in clock.placed if one.task.table == table]
        bars = (*_bars(own, letters, names), *_washing_bars(each, table, names))
        rows.append(ChartRow(texts.say("Table {number}", number=table), bars, True))
    rows += _adults(each, names)
    return replace(
        _part(each, rows, names),
        marks=tuple((letter, texts.say(name)) for name, letter in letters.items()),
        washing=_wash_letter(texts) if clock.washing.turns else "",
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
        rows.append(ChartRow(seat_letter(seat.seat), _bars(placed, {}, names)))
    return _part(each, rows, names)


def table_rows_of(each: Timed, tables: Sequence[int], names: Names) -> ChartView:
    """What is done at each of these tables, and once for all."""
    texts = names.texts
    rows = []
    for table in (None, *tables):
        placed = [one for one in each.clock.placed if one.task.table == table]
        label = texts.say("For all") if table is None else texts.say("Table {number}", number=table)
        if placed:
            rows.append(ChartRow(label, _bars(placed, {}, names)))
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
        marks=(),
        washing="",
    )


def _shared(each: Timed) -> list[str]:
    """Equipment that tables have to share: cookers, and what there is fewer of than tables."""
    setting = each.session.setting
    steps = [placed.task.step for placed in each.clock.placed]
    used = dict.fromkeys(name for step in steps for name in equipment_of(step))
    cookers = {name for step in steps for name in step.named(Kind.HOT)}
    return [
        name
        for name in used
        if name in cookers or 0 < setting.equipment.get(name, 0) < len(setting.tables)
    ]


def _letters(names: Iterable[str]) -> Mapping[str, str]:
    """A capital for each name: of its words' first letters, then of all, the first still free."""
    taken: dict[str, str] = {}
    for name in names:
        initials = [word[0] for word in name.upper().split()]
        letters = [*initials, *name.upper(), *"ABCDEFGHIJKLMNOPQRSTUVWXYZ"]
        free = [one for one in letters if one.isalpha() and one not in taken.values()]
        taken[name] = free[0] if free else "*"
    return taken


def _bars(
    placed: Sequence[Placed], letters: Mapping[str, str], names: Names
) -> tuple[ChartBar, ...]:
    return tuple(
        ChartBar(
            label=names.number(one.task.dish, one.task.step.number),
            start=one.start,
            work_end=one.start + one.task.work,
            wash_end=one.hands_free,
            end=max(one.end, one.hands_free),
            marks="".join(
                letters[name]
                for name in equipment_of(one.task.step)
                if name in letters
                and one.task.load == 1
                and any(
                    hold.resource == tool(name) and hold.amount for hold in one.task.activity.holds
                )
            ),
            is_watched=one.task.adult is not None,
        )
        for one in placed
    )


def _washing_bars(each: Timed, table: int, names: Names) -> tuple[ChartBar, ...]:
    return tuple(
        ChartBar(
            label=_wash_letter(names.texts),
            start=turn.start,
            work_end=turn.start,
            wash_end=turn.end,
            end=turn.end,
            marks="",
            is_watched=False,
            is_washing=True,
        )
        for turn in each.clock.washing.turns
        if turn.table == table
    )


def _wash_letter(texts: Texts) -> str:
    """On the chart, for washing up."""
    return texts.say("W")


def _adults(each: Timed, names: Names) -> list[ChartRow]:
    """One row for the lead cook, one for each helper at a table, one for those who go round."""
    texts = names.texts
    found: dict[str, list[Placed]] = {}
    for one in each.clock.placed:
        if one.task.adult is not None:
            found.setdefault(one.task.adult, []).append(one)
    rows: list[ChartRow] = []
    for adult in sorted(found, key=lambda name: (name != LEAD, name)):
        goes_round = adult == ROVING
        bars = tuple(
            ChartBar(
                label=_adult_label(one, goes_round, names),
                start=one.start,
                work_end=one.start + one.task.work,
                wash_end=one.start + one.task.work,
                end=one.start + one.task.work,
                marks="",
                is_watched=False,
            )
            for one in found[adult]
        )
        rows.append(ChartRow(_adult_name(adult, names), bars, not rows))
    if not rows:
        rows.append(ChartRow(texts.say("Adults"), (), True))
    return rows


def _adult_name(adult: str, names: Names) -> str:
    if adult == LEAD:
        return names.texts.say("Lead cook")
    if adult == ROVING:
        return names.texts.say("Helpers")
    return names.texts.say("Helper {number}", number=adult.rpartition(" ")[2])


def _adult_label(one: Placed, goes_round: bool, names: Names) -> str:
    number = names.number(one.task.dish, one.task.step.number)
    return f"{number} ({one.task.table})" if goes_round and one.task.table else number


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
    if bar.is_washing:
        return texts.say("{start} washing up", start=start)
    return texts.say("{start} step {number}", start=start, number=bar.label)
