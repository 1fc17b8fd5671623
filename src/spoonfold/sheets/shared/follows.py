"""What follows from a day's changes: the day as it was planned beside the day as it will be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.amounts import amounts_text
from spoonfold.language.texts import Texts
from spoonfold.model.changes import Kind
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.plan.amounts.uses import Uses
from spoonfold.plan.clock.advice import advice_of
from spoonfold.plan.clock.class_work import Timed, timed
from spoonfold.plan.clock.late import Way
from spoonfold.plan.people.jobs import seat_letter, seats_at_tables
from spoonfold.plan.shop.shop import Line, session_lines
from spoonfold.sheets.lesson_card.clock import names_of, relief_text, saving_text, verdict
from spoonfold.sheets.shared.swaps import session_swaps
from spoonfold.sheets.shopping.words import bought_text


@dataclass(frozen=True, slots=True)
class Follows:
    """What is different, and for whom. For the adults in the room alone."""

    written: tuple[str, ...]
    """The changes in the author's words."""
    more: tuple[str, ...]
    """To buy besides, or more of."""
    less: tuple[str, ...]
    """To buy less of or no longer; bought already, it is left over."""
    seats: tuple[str, ...]
    """Tables at which others sit than was planned."""
    swaps: tuple[str, ...]
    """What a table cooks with that wasn't planned."""
    planned_clock: str
    clock: str
    ways: tuple[str, ...]
    """Where it doesn't fit: what saves minutes, the least painful first, each with how many and
    what the children no longer do."""


def follows_of(
    folder: ClassFolder,
    planned: Classroom,
    session: Session,
    uses: Mapping[str, Uses],
    texts: Texts,
) -> Follows:
    """What follows from the changes of a session. `planned`: the class without any change."""
    before = next(each for each in planned.sessions if each.number == session.number)
    more, less = _shopping(folder, before, session, uses, texts)
    changed = session.changed
    own = timed(folder, session, uses)
    return Follows(
        written=tuple(
            each.text
            for each in (changed.lines if changed is not None else ())
            if each.kind is not Kind.AS_OF
        ),
        more=more,
        less=less,
        seats=tuple(_seats(planned, before, session, texts)),
        swaps=tuple(_swaps(folder, before, session, uses, texts)),
        planned_clock=_clock(folder, before, uses, texts),
        clock=verdict(own, texts) if isinstance(own, Timed) else "",
        ways=tuple(_ways(own, texts)) if isinstance(own, Timed) else (),
    )


def _shopping(
    folder: ClassFolder, before: Session, now: Session, uses: Mapping[str, Uses], texts: Texts
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    was, will = (
        {
            each.name: each
            for each in session_lines(session, folder.recipes, uses, folder.pantry)
            if not each.only_if
        }
        for session in (before, now)
    )
    more: list[str] = []
    less: list[str] = []
    for name in dict.fromkeys((*will, *was)):
        old, new = was.get(name), will.get(name)
        if _bought(old, texts) == _bought(new, texts):
            continue
        words = texts.say(
            "{food}: {now} instead of {before}",
            food=name,
            now=_bought(new, texts),
            before=_bought(old, texts),
        )
        (more if _is_more(old, new) else less).append(words)
    return tuple(more), tuple(less)


def _bought(line: Line | None, texts: Texts) -> str:
    if line is None:
        return texts.say("nothing")
    if line.purchase is not None:
        return bought_text(line.purchase, texts)
    return amounts_text(line.measured, texts) if line.measured else texts.say("some")


def _is_more(old: Line | None, new: Line | None) -> bool:
    """Whether what is bought for it grows; a food that comes or goes is plain."""
    if old is None or new is None:
        return new is not None
    sizes = [sum((each.low for each in line.measured), start=Fraction(0)) for line in (old, new)]
    return sizes[1] > sizes[0]


def _seats(planned: Classroom, before: Session, now: Session, texts: Texts) -> Iterator[str]:
    usual = planned.setting.tables
    old = seats_at_tables(usual, before.setting.tables)
    new = seats_at_tables(usual, now.setting.tables)
    for table, (was, will) in enumerate(zip(old, new, strict=True), start=1):
        if was != will:
            letters = ", ".join(map(seat_letter, will))
            yield (
                texts.count(
                    "Table {table}: {number} child ({letters})",
                    "Table {table}: {number} children ({letters})",
                    len(will),
                    table=table,
                    letters=letters,
                )
                if will
                else texts.say("Table {table}: nobody", table=table)
            )


def _swaps(
    folder: ClassFolder, before: Session, now: Session, uses: Mapping[str, Uses], texts: Texts
) -> Iterator[str]:
    old, new = (
        session_swaps(session, folder.recipes, uses, folder.pantry, texts)
        for session in (before, now)
    )
    known = {(each.table, each.dish, each.instead_of, each.name) for each in old}
    for each in new:
        if (each.table, each.dish, each.instead_of, each.name) not in known:
            yield texts.say(
                "{where}: {name} instead of {original}",
                where=each.where,
                name=each.name,
                original=each.instead_of,
            )


def _ways(each: Timed, texts: Texts) -> Iterator[str]:
    """What is borrowed or asked for costs the children nothing; then what they hardly miss, what
    gets easier, what an adult does instead; the talk last."""
    over = each.clock.over
    if not over or each.clock.cooking <= 0:
        return
    names, advice = names_of(each, texts), advice_of(each.work, each.clock)
    yield from (saving_text(saving, names) for saving in advice.savings[:_MOST_WAYS])
    titles = {
        Way.LEAVE_OUT: texts.say("Leave out:"),
        Way.EASIER: texts.say("The easier way:"),
        Way.ADULT: texts.say("An adult takes over:"),
    }
    for relief in advice.relief:
        yield f"{titles[relief.way]} {relief_text(relief, names)}"
    talk = each.session.setting.fixed.get("talk", 0)
    if talk:
        yield texts.count(
            "Talk for {number} minute less; the words and questions go home.",
            "Talk for {number} minutes less; the words and questions go home.",
            min(talk, over),
        )


_MOST_WAYS = 2


def _clock(folder: ClassFolder, session: Session, uses: Mapping[str, Uses], texts: Texts) -> str:
    each = timed(folder, session, uses)
    return verdict(each, texts) if isinstance(each, Timed) else ""
