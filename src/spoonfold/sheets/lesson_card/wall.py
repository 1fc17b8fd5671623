"""The hour on the wall: what begins when, at which table, at which heat, and what is taken out.

Every time is to the minute, by the class clock; steps that begin close to each other share a
row. A row of its own has whatever waits and is done: then somebody must be there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from math import ceil

from spoonfold.knowledge.equipment import Kind
from spoonfold.language.amounts import minutes_text, temperature_text
from spoonfold.model.recipe import Recipe
from spoonfold.plan.clock.class_work import Timed, cooking_begins
from spoonfold.plan.clock.clock import ANCHOR, Part
from spoonfold.plan.clock.tasks import LEAD, Placed, tool
from spoonfold.sheets.lesson_card.clock import Names, day_time
from spoonfold.sheets.shared.cautions import cautions_of
from spoonfold.sheets.shared.numbers import step_name

_JOINED = (4, 6, 9)
"""Minutes within which starts share a row: the fewest by which the rows fit on the page."""
_MOST_LINES, _OVER = 31, 38
"""Lines by which rows are joined, and above which the page doesn't hold them."""
_NAME = 25
"""Letters of a step's name."""
_TABLE_LETTERS, _YOU_LETTERS = 29, 26
"""Of a line in these columns."""
_EARLY = 20
"""Minutes before the meal at which food that is ready is worth a word (common practice)."""
_UNITS = 4
"""So many shelves and burners have a column each; of more, each kind has one."""


@dataclass(frozen=True, slots=True)
class TableLine:
    """What begins at some tables."""

    who: str
    text: str


@dataclass(frozen=True, slots=True)
class HeatCell:
    """What is on one shelf or burner from this row on, or that it is free."""

    span: int
    texts: tuple[str, ...]
    is_on: bool


@dataclass(frozen=True, slots=True)
class WallRow:
    """One time of the day."""

    time: str
    is_alarm: bool
    """Something is done, and has to be looked at."""
    tables: tuple[TableLine, ...]
    you: tuple[str, ...]
    heat: tuple[HeatCell | None, ...]
    """By column; None: the cell above reaches down to here."""


@dataclass(frozen=True, slots=True)
class Wall:
    """The whole day."""

    columns: tuple[str, ...]
    rows: tuple[WallRow, ...]
    is_long: bool
    """Whether it goes on overleaf."""


@dataclass(slots=True)
class _Row:
    """A row while it is made; minutes since the session began."""

    at: int
    is_part: bool = False
    is_alarm: bool = False
    tables: list[TableLine] = field(default_factory=list)
    starts: dict[tuple[str, int, int], list[int | None]] = field(default_factory=dict)
    """Tables by dish, step and minute."""
    you: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Before:
    """What an adult does before class, and when to begin."""

    at: int
    text: str


@dataclass(frozen=True, slots=True)
class Said:
    """What stands beside the parts of the day."""

    topic: str
    blades: str
    """Those to count, `9 × knife`; empty for none."""
    has_swaps: bool
    ice: Sequence[tuple[int, str]] = ()
    """When the boxes of which dish must be on ice, in minutes since the session began."""


def wall_of(
    each: Timed,
    names: Names,
    before: Sequence[Before],
    dishes: Sequence[Sequence[Recipe]],
    said: Said,
) -> Wall:
    """The day of a session; `dishes` are what each table cooks."""
    rows: list[_Row] = []
    for minutes in _JOINED:
        rows = sorted(_rows(each, names, before, dishes, said, minutes), key=lambda row: row.at)
        if sum(map(_lines, rows)) <= _MOST_LINES:
            break
    columns, cells = _heat(each, names, rows)
    texts, setting = names.texts, each.session.setting
    return Wall(
        columns,
        tuple(
            WallRow(
                day_time(setting, row.at, texts),
                row.is_alarm,
                tuple(row.tables),
                tuple(row.you),
                tuple(column[index] for column in cells),
            )
            for index, row in enumerate(rows)
        ),
        sum(map(_lines, rows)) > _OVER,
    )


def _lines(row: _Row) -> int:
    tables = sum(ceil(len(f"{line.who} {line.text}") / _TABLE_LETTERS) for line in row.tables)
    you = sum(ceil(len(text) / _YOU_LETTERS) for text in row.you)
    return max(1, tables, you)


def _rows(
    each: Timed,
    names: Names,
    before: Sequence[Before],
    dishes: Sequence[Sequence[Recipe]],
    said: Said,
    minutes: int,
) -> Iterator[_Row]:
    groups: dict[int, list[str]] = {}
    for one in sorted(before, key=lambda one: one.at):
        # Begun a few minutes early, nothing is late.
        at = next((at for at in groups if one.at - at <= ANCHOR), one.at)
        groups.setdefault(at, []).append(one.text)
    for at, told in groups.items():
        yield _Row(at, is_part=True, you=told)
    for at, dish in said.ice:
        yield _Row(at, you=[names.texts.say("Boxes on ice: {dish}", dish=dish)])
    for part in each.clock.parts:
        if part.end == part.start:
            continue
        if part.name == "cook":
            yield from _cooking(each, names, dishes, said, minutes)
        else:
            yield _part(part.name, part.start, said, names, _ends(each, part, names))


def _ends(each: Timed, part: Part, names: Names) -> str:
    """Of the last part, until when it goes."""
    setting = each.session.setting
    if part.end < setting.minutes:
        return ""
    time = day_time(setting, part.end, names.texts)
    return names.texts.say("until {time}", time=time)


def _part(name: str, start: int, said: Said, names: Names, until: str) -> _Row:
    say = names.texts.say
    row = _Row(start, is_part=True)
    match name:
        case "arrive":
            row.tables.append(TableLine("", say("Arrive, wash hands")))
            row.you.append(say("Soap, 20 seconds"))
        case "talk":
            row.tables.append(TableLine("", say("Talk")))
            row.you += [said.topic] if said.topic else []
        case "eat":
            row.tables.append(TableLine("", say("Eat together")))
            row.you += [say("Right plates? Look twice.")] if said.has_swaps else []
        case "clean up":
            row.tables.append(TableLine("", say("Clean up")))
            row.you += [say("Count: {things}.", things=said.blades)] if said.blades else []
        case _:
            row.tables.append(TableLine("", say(name)))
    if until:
        row.tables[-1] = TableLine("", f"{row.tables[-1].text}, {until}")
    return row


@dataclass(frozen=True, slots=True, order=True)
class _Event:
    at: int
    is_start: bool
    index: int
    """In the order of the clock."""


def _cooking(
    each: Timed, names: Names, dishes: Sequence[Sequence[Recipe]], said: Said, minutes: int
) -> list[_Row]:
    begin = cooking_begins(each.session.setting)
    placed = each.clock.placed
    events = [_Event(begin + one.start // 60, True, index) for index, one in enumerate(placed)]
    events += [
        _Event(begin + one.end // 60, False, index)
        for index, one in enumerate(placed)
        if one.task.wait
    ]
    rows: list[_Row] = []
    told: dict[tuple[str, int], set[str]] = {}
    for event in sorted(events):
        one = placed[event.index]
        last = rows[-1] if rows else None
        alarm = not event.is_start
        # What is done has a row at its own minute: nobody looks for it in an earlier one.
        fresh = last is None or (event.at != last.at and (alarm or event.at - last.at > minutes))
        if last is None or fresh:
            rows.append(_Row(event.at))
        row = rows[-1]
        if alarm:
            row.is_alarm = True
            row.you.append(_done(one, names))
        else:
            key = (one.task.dish, one.task.step.number, event.at)
            row.starts.setdefault(key, []).append(one.task.table)
            row.you += _lead(one, told, names)
    for row in rows:
        row.tables += _starting(row, each, names, dishes)
        row.you = list(dict.fromkeys(row.you))
    rows += [_Row(at, you=[text]) for at, text in _ready_early(each, names)]
    if said.blades and rows:
        say = names.texts.say
        rows[0].you.insert(0, say("Hand out, counted: {things}.", things=said.blades))
    return rows


def _ready_early(each: Timed, names: Names) -> Iterator[tuple[int, str]]:
    """The dishes that everyone has ready long before the meal, with when."""
    texts, begin = names.texts, cooking_begins(each.session.setting)
    meal = begin + each.clock.cooking
    for dish in each.work.dishes:
        ends = [one.end for one in each.clock.placed if one.task.dish == dish.recipe.key]
        ready = begin + max(ends, default=0) // 60
        if ends and meal - ready >= _EARLY:
            yield (
                ready,
                texts.say(
                    "{dish}: ready, {minutes} before the meal",
                    dish=dish.recipe.title,
                    minutes=minutes_text(Fraction(meal - ready), texts),
                ),
            )


def _done(one: Placed, names: Names) -> str:
    """`Table 1, step 9: 165 °F in the middle, by thermometer. Out.`"""
    texts, step = names.texts, one.task.step
    label = names.step(one.task.dish, step.number)
    if one.task.table is not None:
        table = texts.say("Table {number}", number=one.task.table)
        label = f"{table}, {label[:1].lower()}{label[1:]}"
    if step.heat is not None:
        heat = temperature_text(step.heat, texts)
        return texts.say("{step}: {heat}, by thermometer", step=label, heat=heat)
    return texts.say("{step}: done? Look.", step=label)


def _lead(one: Placed, told: dict[tuple[str, int], set[str]], names: Names) -> list[str]:
    """What the lead cook has to do there: once a step, and again at a table whose version of it
    asks for something else."""
    key = (one.task.dish, one.task.step.number)
    if one.task.adult != LEAD:
        return []
    own = [
        f"{view.title} {view.text}".strip()
        for view in cautions_of(one.task.step, names.texts)
        if view.icon == "adult"
    ]
    job, before = own[0] if own else "", told.setdefault(key, set())
    if job in before:
        return []
    label = names.step(*key)
    if before and one.task.table is not None:
        table = names.texts.say("Table {number}", number=one.task.table)
        label = f"{table}, {label[:1].lower()}{label[1:]}"
    before.add(job)
    if job and len(f"{label}: {job}") <= 2 * _YOU_LETTERS:
        return [f"{label}: {job}"]
    return [names.texts.say("{step}: stand by", step=label)]


def _starting(
    row: _Row, each: Timed, names: Names, dishes: Sequence[Sequence[Recipe]]
) -> Iterator[TableLine]:
    """Step by step the tables that begin it, and when the last of them does."""
    texts, setting = names.texts, each.session.setting
    everyone = len(setting.tables)
    found: dict[str, list[tuple[int, int | None]]] = {}
    for (dish, number, at), tables in row.starts.items():
        for table in tables:
            name = step_name(_words(dish, number, table, dishes, names), texts, _NAME)
            label = f"{names.number(dish, number)} {name}"
            found.setdefault(label, []).append((at, table))
    lines: dict[tuple[str, bool], list[str]] = {}
    for label, starts in found.items():
        own = sorted({table for _, table in starts if table is not None})
        who = (
            texts.say("all")
            if any(table is None for _, table in starts) or len(own) == everyone > 1
            else ", ".join(map(str, own))
        )
        first, last = min(at for at, _ in starts), max(at for at, _ in starts)
        text = label
        if first != last:
            text = texts.say("{step}, to {time}", step=label, time=day_time(setting, last, texts))
        elif first != row.at:
            text = f"{label}, {day_time(setting, first, texts)}"
        lines.setdefault((who, text is label), []).append(text)
    # What begins in this very minute runs on; a later time ends its line.
    for (who, runs_on), said in lines.items():
        for text in [" · ".join(said)] if runs_on else said:
            yield TableLine(who, text)


def _words(
    dish: str, number: int, table: int | None, dishes: Sequence[Sequence[Recipe]], names: Names
) -> str:
    """The step's words as that table reads them."""
    made = [recipe for recipe in dishes[table - 1] if recipe.key == dish] if table else []
    recipe = made[0] if made else names.recipes[dish]
    step = next(step for step in recipe.steps if step.number == number)
    return replace(names, recipes={**names.recipes, dish: recipe}).words(dish, step)


@dataclass(frozen=True, slots=True)
class _Use:
    start: int
    end: int
    text: str


def _heat(
    each: Timed, names: Names, rows: Sequence[_Row]
) -> tuple[tuple[str, ...], list[list[HeatCell | None]]]:
    """A column for each shelf and burner that is used, with what is on it."""
    texts, begin = names.texts, cooking_begins(each.session.setting)
    used = dict.fromkeys(
        name for one in each.clock.placed for name in one.task.step.named(Kind.HOT)
    )
    counts = {name: each.clock.tasks.capacities.get(tool(name), 1) for name in used}
    together = sum(counts.values()) > _UNITS
    titles: list[str] = []
    columns: list[list[HeatCell | None]] = []
    for name, count in counts.items():
        units: list[list[_Use]] = [[] for _ in range(1 if together else count)]
        for one in each.clock.placed:
            for hold in one.task.activity.holds:
                if hold.resource != tool(name) or not hold.amount:
                    continue
                start, end = (begin * 60 + one.start + at for at in (hold.begin, hold.end))
                use = _Use(start // 60, end // 60, _on_heat(one, end // 60, each, names))
                free = [unit for unit in units if all(other.end <= use.start for other in unit)]
                for unit in (free or units)[: hold.amount]:
                    unit.append(use)
        for number, unit in enumerate(units, 1):
            if unit:
                label = texts.say(name)
                titles.append(f"{label} {number}" if len(units) > 1 else label)
                columns.append(_column(unit, rows, texts.say("free")))
    return tuple(titles), columns


def _on_heat(one: Placed, end: int, each: Timed, names: Names) -> str:
    """`Table 1: 9, to 10:53`."""
    texts = names.texts
    who = (
        texts.say("all")
        if one.task.table is None
        else texts.say("Table {number}", number=one.task.table)
    )
    return texts.say(
        "{who}: {step}, to {time}",
        who=who,
        step=names.number(one.task.dish, one.task.step.number),
        time=day_time(each.session.setting, end, texts),
    )


def _column(uses: Sequence[_Use], rows: Sequence[_Row], free: str) -> list[HeatCell | None]:
    """Cells down the rows; what begins in one row stands in one cell."""
    at_rows: dict[int, list[_Use]] = {}
    for use in uses:
        start = max(index for index, row in enumerate(rows) if row.at <= use.start or not index)
        at_rows.setdefault(start, []).append(use)
    cells: list[HeatCell | None] = []
    while (index := len(cells)) < len(rows):
        own = at_rows.get(index, [])
        following = min((at for at in at_rows if at > index), default=len(rows))
        if own:
            end = max(use.end for use in own)
            last = max(at for at, row in enumerate(rows) if row.at < end or at == index)
            span = max(1, min(last + 1, following) - index)
            texts = tuple(dict.fromkeys(use.text for use in own))
        else:
            span, texts = following - index, (free,)
        cells += [HeatCell(span, texts, bool(own)), *[None] * (span - 1)]
    return cells
