"""What a season came to, for a funder or a school: figures from the notes after its sessions.

It names no child, and says of every sum from how many notes it is.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from spoonfold.language.calendar import date_text
from spoonfold.language.money import money_text, usual_currency
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.teaching import After
from spoonfold.plan.people.names import name_search
from spoonfold.plan.people.votes import wilson
from spoonfold.quantity.show import show_number
from spoonfold.sheets.shared.head import dish_titles
from spoonfold.teach.vocabulary import session_words


@dataclass(frozen=True, slots=True)
class Figure:
    """One number and what it counts."""

    value: str
    what: str
    of: str
    """From how much of the season it is known; empty: from all that was held."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What the children voted of a dish."""

    dish: str
    yes: int
    votes: int
    low: int
    high: int
    """Whole hundredths, between which the true share lies nineteen times in twenty."""


@dataclass(frozen=True, slots=True)
class Report:
    """The season in figures."""

    language: str
    direction: str
    paper: Paper
    class_name: str
    location: str
    when: str
    figures: tuple[Figure, ...]
    days: tuple[tuple[str, str, str, str], ...]
    """Date, dishes, lesson, how many children came."""
    skills: tuple[str, ...]
    words: tuple[str, ...]
    verdicts: tuple[Verdict, ...]
    quotes: tuple[str, ...]


def report_of(folder: ClassFolder, classroom: Classroom, texts: Texts) -> Report | None:
    """The report; None while nothing is noted of this season."""
    held = _held(folder, classroom)
    if not held:
        return None
    names = name_search(folder)
    first, last = held[0][0].date, held[-1][0].date
    return Report(
        language=texts.language,
        direction=texts.direction,
        paper=classroom.paper,
        class_name=classroom.name,
        location=classroom.location,
        when=texts.say(
            "{first} to {last}",
            first=date_text(first, texts.language),
            last=date_text(last, texts.language),
        )
        if first != last
        else date_text(first, texts.language),
        figures=tuple(_figures(folder, classroom, held, texts)),
        days=tuple(_day(folder, session, note, texts) for session, note in held),
        skills=_skills(folder, held),
        words=_words(folder, classroom, held),
        verdicts=tuple(_verdicts(folder, held)),
        quotes=tuple(each for _, note in held for each in note.quotes if not names.says_one(each)),
    )


Held = Sequence[tuple[Session, After]]


def _held(folder: ClassFolder, classroom: Classroom) -> Held:
    notes = {note.session: note for note in folder.after}
    sessions = sorted(classroom.sessions, key=lambda each: each.date)
    return [(each, notes[each.number]) for each in sessions if each.number in notes]


def _figures(
    folder: ClassFolder, classroom: Classroom, held: Held, texts: Texts
) -> Iterator[Figure]:
    count, planned = len(held), len(classroom.sessions)
    yield Figure(
        str(count),
        texts.count("session held", "sessions held", count),
        texts.say("{number} were planned", number=planned) if planned != count else "",
    )
    places = [(session, note.came) for session, note in held if note.came is not None]
    if places:
        known = _known(len(places), count, texts)
        total = sum(came for _, came in places)
        hours = sum(came * session.setting.minutes for session, came in places)
        yield Figure(
            str(total),
            texts.count("place taken by a child", "places taken by children", total),
            known,
        )
        yield Figure(_hours(hours), texts.say("hours of children in class"), known)
    if folder.children:
        yield Figure(str(len(folder.children)), texts.say("children on the list"), "")
    helped = [
        (note.helpers if note.helpers is not None else session.setting.helpers) + 1
        for session, note in held
    ]
    minutes = sum(
        adults * session.setting.minutes for adults, (session, _) in zip(helped, held, strict=True)
    )
    yield Figure(_hours(minutes), texts.say("hours of helpers and the lead cook in class"), "")
    yield from _money(classroom, held, texts)
    dishes = {dish.text for session, _ in held for dish in session.dishes} & set(folder.recipes)
    yield Figure(str(len(dishes)), texts.count("dish cooked", "dishes cooked", len(dishes)), "")
    origins = {folder.recipes[dish].origin for dish in dishes} - {""}
    if origins:
        yield Figure(
            str(len(origins)),
            texts.count("place they are from", "places they are from", len(origins)),
            "",
        )


def _money(classroom: Classroom, held: Held, texts: Texts) -> Iterator[Figure]:
    spent = [(session, note) for session, note in held if note.spent is not None]
    if not spent:
        return
    total = sum((note.spent or Fraction(0) for _, note in spent), Fraction(0))
    currency = classroom.currency or usual_currency(
        classroom.languages[0], classroom.paper.name, classroom.first_day
    )
    known = _known(len(spent), len(held), texts)
    yield Figure(money_text(total, currency, texts.language), texts.say("spent on food"), known)
    came = [note.came for _, note in spent]
    if all(came):
        each = total / sum(n for n in came if n is not None)
        yield Figure(
            money_text(each, currency, texts.language), texts.say("for a child and session"), known
        )


def _known(notes: int, of: int, texts: Texts) -> str:
    if notes == of:
        return ""
    return texts.say("noted of {number} of {all} sessions", number=notes, all=of)


def _hours(minutes: int) -> str:
    return show_number(Fraction(round(Fraction(minutes, 60))))


def _day(
    folder: ClassFolder, session: Session, note: After, texts: Texts
) -> tuple[str, str, str, str]:
    lesson = folder.lessons.get(session.lesson.text) if session.lesson else None
    return (
        date_text(note.date or session.date, texts.language),
        ", ".join(dish_titles(folder, session)),
        lesson.title if lesson else "",
        "" if note.came is None else str(note.came),
    )


def _skills(folder: ClassFolder, held: Held) -> tuple[str, ...]:
    steps = (
        step
        for session, _ in held
        for dish in session.dishes
        if dish.text in folder.recipes
        for step in folder.recipes[dish.text].steps
    )
    return tuple(dict.fromkeys(term.text for step in steps for term in step.skills))


def _words(folder: ClassFolder, classroom: Classroom, held: Held) -> tuple[str, ...]:
    numbers = {session.number for session, _ in held}
    brought = session_words(classroom.sessions, folder.recipes, folder.words)
    return tuple(
        folder.words[key].term for each in brought if each.session in numbers for key in each.new
    )


def _verdicts(folder: ClassFolder, held: Held) -> Iterator[Verdict]:
    """Of each dish, all its days together, the best liked first."""
    votes: dict[str, tuple[int, int]] = {}
    for _, note in held:
        for dish, (yes, of) in note.votes.items():
            before = votes.get(dish, (0, 0))
            votes[dish] = before[0] + yes, before[1] + of
    found = []
    for dish, (yes, of) in votes.items():
        if of and dish in folder.recipes:
            low, high = wilson(yes, of)
            title = folder.recipes[dish].title
            found.append(Verdict(title, yes, of, round(low * 100), round(high * 100)))
    return iter(sorted(found, key=lambda each: (-each.low, each.dish)))


def rows_of(report: Report, texts: Texts) -> tuple[tuple[str, ...], ...]:
    """The same figures as a table for a spreadsheet, the headings first."""
    say: Callable[[str], str] = texts.say
    votes = [
        (f"{say('Votes for')} {each.dish}", f"{each.yes}/{each.votes}", f"{each.low}-{each.high} %")
        for each in report.verdicts
    ]
    return (
        (say("What"), say("Figure"), say("Known from")),
        *((each.what, each.value, each.of) for each in report.figures),
        *votes,
    )
