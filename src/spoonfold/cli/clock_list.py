"""The clock of a session for a terminal: every table's steps in time, and what holds it up."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence

from spoonfold.language.calendar import date_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Session
from spoonfold.model.folder import ClassFolder
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.advice import Advice, advice_of
from spoonfold.plan.clock.class_work import Timed, timed
from spoonfold.plan.clock.late import LATE
from spoonfold.plan.clock.schedule import Unschedulable
from spoonfold.plan.clock.tasks import Placed, equipment_of
from spoonfold.plan.clock.washing import WashUp
from spoonfold.plan.shop.left import with_children
from spoonfold.sheets.lesson_card import late_of
from spoonfold.sheets.lesson_card.clock import (
    Names,
    circuit_text,
    idle_text,
    lacking,
    left_to_wash,
    main_idle,
    meanwhile_text,
    moment,
    names_of,
    saving_text,
    things_text,
    verdict,
)
from spoonfold.sheets.lesson_card.day import day_of, missing_helper

_TIMES = 13
_STEP = 5
_NEEDS = 27
"""Columns of a table's list; what is left in between says how the step begins."""
_LEAST_WORDS = 14


def clock_text(
    folder: ClassFolder,
    uses: Mapping[str, Uses],
    session: Session,
    children: int | None,
    width: int,
) -> str | Unschedulable:
    """The clock of a session; `children` come instead of those who were expected."""
    texts = Texts("en")
    each = timed(folder, session if children is None else with_children(session, children), uses)
    if isinstance(each, Unschedulable):
        return each
    names = names_of(each, texts)
    lines = [
        *_head(each, names, width),
        *_advice(each, names, width),
        "",
        "THE DAY, TO FIVE MINUTES",
        *_day(each, names, width),
        *_tables(each, names, width),
        *_left(each, names, width),
        *_idle(each, texts, width),
    ]
    return "\n".join(lines)


def _head(each: Timed, names: Names, width: int) -> Iterator[str]:
    session, setting = each.session, each.session.setting
    dishes = ", ".join(dish.recipe.title for dish in each.work.dishes)
    yield from _wrap(f"Session {session.number}, {date_text(session.date, 'en')}: {dishes}", width)
    tables = ", ".join(map(str, setting.tables))
    children = sum(setting.tables)
    guests = f", {setting.guests} guest{'' if setting.guests == 1 else 's'}"
    yield from _wrap(
        f"{children} {'child' if children == 1 else 'children'} at tables of {tables}; "
        f"{setting.helpers} helper{'' if setting.helpers == 1 else 's'}"
        f"{guests if setting.guests else ''} and the lead cook.",
        width,
    )
    for letter, title in names.key():
        yield f"{letter}: {title}"
    taken = -(-each.clock.makespan // 60)
    yield ""
    yield from _wrap(
        f"{verdict(each, names.texts)}: cooking takes {taken} of {each.clock.cooking} minutes.",
        width,
    )


def _advice(each: Timed, names: Names, width: int) -> Iterator[str]:
    advice = advice_of(each.work, each.clock)
    lines = [*lacking(each, names), *(saving_text(one, names) for one in advice.savings)]
    if not advice.savings:
        lines.append("One more of any one thing saves nothing worth it.")
    circuits = circuit_text(each.clock, names.texts)
    lines += [circuits] if circuits else []
    if each.clock.arrival.seconds > each.clock.arrival.given:
        lines.append(
            f"Washing hands on arrival takes {-(-each.clock.arrival.seconds // 60)} "
            f"minutes, and there are {each.clock.arrival.given // 60}."
        )
    for line in lines:
        yield from _item(line, width)
    yield ""
    yield from _late(advice, names, width)
    missing = missing_helper(each, names)
    if missing:
        yield ""
        yield "A HELPER IS MISSING?"
        yield from _item(" ".join(missing), width)


def _late(advice: Advice, names: Names, width: int) -> Iterator[str]:
    late = late_of(advice, names)
    yield f"{LATE} MINUTES LATE?"
    lists = (
        ("Leave out:", late.leave_out),
        ("The easier way:", late.easier),
        ("An adult takes over:", late.adult),
    )
    if not late.leave_out:
        yield "Nothing can be left out: every step is needed."
    for title, lines in lists:
        if lines:
            yield title
            for line in lines:
                yield from _item(line, width)
    if not late.is_any:
        yield from _wrap(
            f"No step that is hurried saves a minute: all {LATE} come off the talk and the meal.",
            width,
        )
    elif late.rest:
        yield f"The other {late.rest} come off the talk and the meal."


def _day(each: Timed, names: Names, width: int) -> Iterator[str]:
    for row in day_of(each, names, ""):
        by = f"all begun by {row.latest}" if row.latest else ""
        what = f"{row.what}: {row.words}" if row.words else row.what
        room = width - 7 - (len(by) + 2 if by else 0)
        first, *more = textwrap.wrap(what, room)
        yield (
            f"{row.time:>5}  {first.ljust(room)}  {by}".rstrip()
            if by
            else (f"{row.time:>5}  {first}")
        )
        yield from (f"{'':7}{line}" for line in more)


def _tables(each: Timed, names: Names, width: int) -> Iterator[str]:
    places: list[tuple[str, list[Placed]]] = [
        ("FOR ALL", [one for one in each.clock.placed if one.task.table is None])
    ]
    places += [
        (
            f"TABLE {table}, {children} {'child' if children == 1 else 'children'}",
            [one for one in each.clock.placed if one.task.table == table],
        )
        for table, children in enumerate(each.session.setting.tables, 1)
        if children
    ]
    for table, (title, placed) in enumerate(places):
        turns = [turn for turn in each.clock.washing.turns if turn.table == table]
        if placed or turns:
            yield ""
            yield title
            found: list[Placed | WashUp] = [*placed, *turns]
            for one in sorted(found, key=lambda one: one.start):
                if isinstance(one, Placed):
                    yield from _step(one, each, names, width)
                else:
                    yield from _washing(one, each, names, width)


def _step(one: Placed, each: Timed, names: Names, width: int) -> Iterator[str]:
    setting, task, texts = each.session.setting, one.task, names.texts
    times = f"{moment(setting, one.start, texts)}–{moment(setting, one.hands_free, texts)}"
    words = names.opening(task.dish, task.step)
    if task.loads > 1:
        words += f" (load {task.load} of {task.loads})"
    if one.end > one.hands_free:
        words += f"; waits until {moment(setting, one.end, texts)}"
    hands = sum(task.hands.values())
    with_whom = [f"{hands} {'child' if hands == 1 else 'children'}"] if hands else []
    with_whom += ["adult"] if task.adult is not None else []
    needs = [
        *with_whom,
        *(
            f"{count} × {name}" if count > 1 else name
            for name, count in equipment_of(task.step).items()
        ),
    ]
    yield from _cells(times, names.number(task.dish, task.step.number), words, needs, width)


def _washing(one: WashUp, each: Timed, names: Names, width: int) -> Iterator[str]:
    setting, texts = each.session.setting, names.texts
    times = f"{moment(setting, one.start, texts)}–{moment(setting, one.end, texts)}"
    words = f"Wash up {things_text(one.things, names)}, {meanwhile_text(one, names)}"
    hands = f"{one.hands} {'child' if one.hands == 1 else 'children'}"
    yield from _cells(times, "", words, [hands, setting.sink], width)


def _cells(times: str, number: str, words: str, needs: Sequence[str], width: int) -> Iterator[str]:
    """One entry of a table's list, in as many lines as its longest column."""
    room = width - _TIMES - _STEP - _NEEDS - 2
    needed = ", ".join(needs)
    if room < _LEAST_WORDS:
        # Beside each other they would take a letter a line.
        room = width - _TIMES - _STEP
        cells = ([*textwrap.wrap(words, room), *textwrap.wrap(needed, room)], [""])
    else:
        cells = (textwrap.wrap(words, room) or [""], textwrap.wrap(needed, _NEEDS) or [""])
    for depth in range(max(map(len, cells))):
        left = f"{times:<{_TIMES}}{number:<{_STEP}}" if not depth else " " * (_TIMES + _STEP)
        middle, right = (cell[depth] if depth < len(cell) else "" for cell in cells)
        yield f"{left}{middle:<{room}}  {right}".rstrip()


def _left(each: Timed, names: Names, width: int) -> Iterator[str]:
    left = left_to_wash(each, names)
    if left:
        yield ""
        yield "WASHING UP"
        yield from _wrap(left, width)


def _idle(each: Timed, texts: Texts, width: int) -> Iterator[str]:
    waits = main_idle(each)
    if waits:
        yield ""
        yield "FREE HANDS"
        for one in waits:
            yield from _item(idle_text(one, each, texts), width)


def _item(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, initial_indent="- ", subsequent_indent="  ")


def _wrap(text: str, width: int) -> Sequence[str]:
    return textwrap.wrap(text, width)
