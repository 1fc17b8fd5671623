"""Where each helper stands, and at which moments of the day, by the class clock."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Setting
from spoonfold.model.recipe import Step
from spoonfold.plan.amounts.eaters import portions_at_tables
from spoonfold.plan.clock.class_work import Timed
from spoonfold.plan.clock.tasks import LEAD


class Where(Enum):
    """What a helper's place is."""

    TABLE = "a table"
    ROUND = "all tables"
    LEAD = "beside the lead cook"


@dataclass(frozen=True, slots=True)
class Post:
    """One helper's place for the day."""

    helper: int
    """Counted from 1; 0: whoever comes without having been expected."""
    where: Where
    tables: tuple[int, ...]
    """Those whose dishes concern this helper, counted from 1."""


@dataclass(frozen=True, slots=True)
class Turn:
    """A step at which this helper stands by, in seconds since cooking began."""

    dish: str
    step: Step
    tables: tuple[int, ...]
    """None where it is done once for all."""
    start: int
    end: int
    """When it is done by itself, too."""


def posts_of(setting: Setting) -> tuple[Post, ...]:
    """Every helper's; with none expected, one for whoever comes."""
    tables = tuple(
        table for table, portions in enumerate(portions_at_tables(setting), 1) if portions
    )
    if setting.helpers < len(setting.tables):
        first = min(1, setting.helpers)
        return tuple(Post(n, Where.ROUND, tables) for n in range(first, setting.helpers + 1))
    return tuple(
        Post(n, Where.TABLE, tables[n - 1 : n]) if n <= len(tables) else Post(n, Where.LEAD, tables)
        for n in range(1, setting.helpers + 1)
    )


def turns_of(each: Timed, post: Post) -> tuple[Turn, ...]:
    """The steps with an adult at this place, by their first start."""
    found: dict[tuple[str, int], Turn] = {}
    for one in each.clock.placed:
        task = one.task
        if task.adult is None:
            continue
        if post.where is Where.LEAD:
            is_own = task.adult == LEAD
        else:
            is_own = task.table is not None and task.table in post.tables
        if is_own:
            key = (task.dish, task.step.number)
            before = found.get(key)
            tables = () if task.table is None else (task.table,)
            found[key] = Turn(
                task.dish,
                task.step,
                tables if before is None else tuple(sorted({*before.tables, *tables})),
                one.start if before is None else min(before.start, one.start),
                one.end if before is None else max(before.end, one.end),
            )
    return tuple(sorted(found.values(), key=lambda turn: turn.start))


def last_turn(each: Timed, post: Post) -> Turn | None:
    """The step that ends the cooking there; None where nothing is cooked."""
    own = [
        one for one in each.clock.placed if one.task.table is None or one.task.table in post.tables
    ]
    if not own:
        return None
    last = max(own, key=lambda one: (one.start, one.end))
    tables = () if last.task.table is None else (last.task.table,)
    return Turn(last.task.dish, last.task.step, tables, last.start, last.end)


def joined(turns: Sequence[Turn], most: int) -> list[list[Turn]]:
    """At most so many groups: those that begin closest to each other are told together."""
    groups = [[turn] for turn in turns]
    while len(groups) > most:
        at = min(range(len(groups) - 1), key=lambda k: groups[k + 1][0].start - groups[k][-1].start)
        groups[at : at + 2] = [groups[at] + groups[at + 1]]
    return groups


def tables_text(tables: Sequence[int], texts: Texts) -> str:
    """`table 2`, `tables 1, 3`."""
    return texts.count(
        "table {tables}", "tables {tables}", len(tables), tables=", ".join(map(str, tables))
    )
