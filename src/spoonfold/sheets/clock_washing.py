"""Washing up while it cooks, in words: for the day, for each table, for the clean-up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from spoonfold.knowledge.equipment import Kind
from spoonfold.model.classroom import Setting
from spoonfold.plan.clock.class_work import Timed, cooking_begins
from spoonfold.plan.clock.clock import ANCHOR
from spoonfold.plan.clock.washing import Washing, WashUp
from spoonfold.sheets.clock_words import Names, day_time

CLEAN_UP = "clean up"


@dataclass(frozen=True, slots=True)
class WashAnchor:
    """When to send somebody to the sink while one thing cooks; minutes since the session began,
    on full fives."""

    at: int
    latest: int
    """When the last ones go."""
    words: str


def washing_anchors(each: Timed, names: Names) -> Iterator[WashAnchor]:
    """One for each step that goes on by itself meanwhile, by their first turns."""
    texts, setting = names.texts, each.session.setting
    groups: dict[tuple[str, int] | None, list[WashUp]] = {}
    for turn in each.clock.washing.turns:
        groups.setdefault(turn.during, []).append(turn)
    for turns in groups.values():
        tables = dict.fromkeys(turn.table for turn in turns)
        numbers = ", ".join(map(str, tables))
        at, latest = (_to_five(setting, turn.start) for turn in (turns[0], turns[-1]))
        yield WashAnchor(
            at,
            latest,
            texts.say(
                "{tables}, {meanwhile}",
                meanwhile=meanwhile_text(turns[0], names),
                tables=texts.count(
                    "table {tables}", "tables {tables}", len(tables), tables=numbers
                ),
            ),
        )


def meanwhile_text(turn: WashUp, names: Names) -> str:
    """What goes on by itself: `while step 9 cooks`."""
    if turn.during is None:
        return names.texts.say("while the others work")
    dish, number = turn.during
    step = next(one for one in names.recipes[dish].steps if one.number == number)
    if step.has(Kind.HOT):
        return names.texts.say("while step {number} cooks", number=names.number(dish, number))
    return names.texts.say("while step {number} rests", number=names.number(dish, number))


def washing_at_tables(each: Timed, names: Names) -> tuple[str, ...]:
    """A line a table, to five minutes: `Table 2: 10:30–10:35 3 × knife; 10:40–10:50 ...`."""
    texts, setting = names.texts, each.session.setting
    lines: dict[int, list[str]] = {}
    for turn in each.clock.washing.turns:
        start, end = (_to_five(setting, at) for at in (turn.start, turn.end))
        lines.setdefault(turn.table, []).append(
            texts.say(
                "{start}–{end} {things}",
                start=day_time(setting, start, texts),
                end=day_time(setting, max(start + ANCHOR, end), texts),
                things=things_text(turn.things, names),
            )
        )
    return tuple(
        texts.say("Table {number}: {times}", number=table, times="; ".join(lines[table]))
        for table in sorted(lines)
    )


def left_to_wash(each: Timed, names: Names) -> str:
    """What the clean-up is left with, and whether that fits in it; empty where nothing is."""
    texts, washing = names.texts, each.clock.washing
    if not washing.left:
        return ""
    needed, given = _minutes_left(washing), each.session.setting.fixed.get(CLEAN_UP, 0)
    told = texts.say(
        "For the clean-up: {things}, pots and dishes.", things=things_text(washing.left, names)
    )
    if needed > given:
        told += " " + texts.count(
            "That takes about {needed} minutes, and there is {number}: leave some for the adults.",
            "That takes about {needed} minutes, and there are {number}: leave some for the adults.",
            given,
            needed=needed,
        )
    return told


def things_text(things: Sequence[tuple[str, int]], names: Names) -> str:
    """`4 × knife, board`; a number stays on the line of its thing."""
    say = names.texts.say
    return ", ".join(
        f"{count}\u00a0×\u00a0{say(name)}" if count > 1 else say(name) for name, count in things
    )


def _minutes_left(washing: Washing) -> int:
    return -(-washing.left_seconds // 60)


def _to_five(setting: Setting, seconds: int) -> int:
    whole = (cooking_begins(setting) * 60 + seconds + ANCHOR * 30) // 60
    return whole // ANCHOR * ANCHOR
