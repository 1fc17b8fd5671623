"""What the season's own sheets need: an adult at each table, seats for all names, notes that
belong to a session, and equipment that is kept somewhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from spoonfold.check.known import did_you_mean
from spoonfold.check.rule import Facts, Rule, advice, key_place, settings_of, warning
from spoonfold.model.classroom import Classroom, Session
from spoonfold.problem import Place, Problem
from spoonfold.read.folder import CHILDREN_FILE, CLASS_FILE


def _classroom(facts: Facts) -> Classroom | None:
    return None if CLASS_FILE in facts.troubled else facts.folder.classroom


def too_few_helpers(facts: Facts) -> Iterator[Problem]:
    """More tables than helpers; told once for all sessions that are alike."""
    classroom = _classroom(facts)
    if classroom is None:
        return
    alike: dict[tuple[int, int, Place], list[Session]] = {}
    for session in classroom.sessions:
        setting = session.setting
        tables = sum(map(bool, setting.tables))
        if tables > setting.helpers and not _told_by_the_clock(facts, session):
            usual = classroom.setting.places
            own = [
                setting.places[key]
                for key in ("tables", "helpers")
                if setting.places.get(key, usual.get(key)) != usual.get(key)
            ]
            place = own[0] if own else key_place(setting, "helpers", session.place)
            key = tables, setting.helpers, place
            alike.setdefault(key, []).append(session)
    for (tables, helpers, place), sessions in alike.items():
        yield warning(
            "too-few-helpers",
            place,
            f"{_sessions_said(sessions)} {tables} tables and "
            f"{helpers or 'no'} helper{'' if helpers == 1 else 's'}, so the lead cook is tied to a "
            "table and nobody goes round.",
            "One helper for two tables: put them side by side, with the blades at one of them at "
            "a time. Or ask for one more adult, or make fewer and larger tables.",
        )


def _told_by_the_clock(facts: Facts, session: Session) -> bool:
    """Whether `few-helpers` speaks: blades or heat at a table, and not even the lead cook left."""
    recipes = [
        facts.folder.recipes[dish.text]
        for dish in session.dishes
        if dish.text in facts.folder.recipes
    ]
    watched = any(step.watch and not step.shared for recipe in recipes for step in recipe.steps)
    return watched and session.setting.helpers + 1 < sum(map(bool, session.setting.tables))


def _sessions_said(sessions: list[Session]) -> str:
    numbers = [str(session.number) for session in sessions]
    if len(numbers) == 1:
        return f"Session {numbers[0]} has"
    return f"Sessions {', '.join(numbers[:-1])} and {numbers[-1]} have"


def names_without_seat(facts: Facts) -> Iterator[Problem]:
    """More children on the list than any session has seats. Says no name: it may be printed."""
    classroom = _classroom(facts)
    if classroom is None or not facts.folder.children:
        return
    seats = max((sum(setting.tables) for setting, _ in settings_of(classroom)), default=0)
    names = len(facts.folder.children)
    if names > seats:
        more = names - seats
        yield warning(
            "names-without-seat",
            Place(CHILDREN_FILE),
            f"There are {names} names and {seats} seats, so the last "
            f"{'name stands' if more == 1 else f'{more} names stand'} on no job chart.",
            f"Add a seat to `tables` in {CLASS_FILE}, or take out who doesn't come.",
        )


def note_of_no_session(facts: Facts) -> Iterator[Problem]:
    """A note that belongs to no day of this season, and to no dish of an earlier one."""
    classroom = _classroom(facts)
    if classroom is None:
        return
    days = [session.date for session in classroom.sessions]
    for note in facts.folder.after:
        if note.session is not None:
            continue
        if note.date is None:
            yield warning(
                "note-of-no-session",
                note.place,
                f"This is the note after session {note.number}, and there "
                f"{'is' if len(days) == 1 else 'are'} {len(days) or 'no'} "
                f"session{'' if len(days) == 1 else 's'}, so no sheet shows it.",
                "Name the file by the day that it is about, such as content/after/2027-09-18.md.",
            )
        elif not days or note.date < min(days):
            if not note.cooked(()):
                yield warning(
                    "note-of-no-session",
                    note.place,
                    f"This is the note of {note.date}, before this season began, and it names no "
                    "dish, so no sheet shows it.",
                    "Say what was cooked, as the recipes are named: `dishes: [red-lentil-soup]`.",
                )
        else:
            near = min(days, key=lambda day: (abs(day - (note.date or day)), day))
            yield warning(
                "note-of-no-session",
                note.place,
                f"This is the note of {note.date}, and there is no session on that day, so no "
                "sheet shows it.",
                f"Name it by the day that was planned: content/after/{near}.md. If it really was "
                f"another day, say so inside: `date: {note.date}`.",
            )


def two_notes(facts: Facts) -> Iterator[Problem]:
    """Two notes of one session: a sheet shows one of them alone."""
    first: dict[int, Place] = {}
    for note in facts.folder.after:
        if note.session is None:
            continue
        other = first.setdefault(note.session, note.place)
        if other is not note.place:
            yield warning(
                "two-notes",
                note.place,
                f"{other.path} is of the same session, and the lesson card shows one note.",
                "Put both into one file.",
            )


def more_votes(facts: Facts) -> Iterator[Problem]:
    """More votes for a dish than children who came."""
    for note in facts.folder.after:
        for dish, (_, votes) in note.votes.items():
            if note.came is not None and votes > note.came:
                yield warning(
                    "more-votes",
                    note.place,
                    f"{votes} voted for {dish}, and {note.came} children came, so the report would "
                    "count votes that nobody gave.",
                    "Count again: `came` is how many children came, `votes` how many of how many "
                    "said yes.",
                )


def note_by_number(facts: Facts) -> Iterator[Problem]:
    """A note that is named by a number: it stands under the wrong dish when sessions move."""
    classroom = _classroom(facts)
    if classroom is None:
        return
    days = {each.number: each.date for each in classroom.sessions}
    first = min(days.values(), default=None)
    for note in facts.folder.after:
        # The planned day, by which a note is found; before the season began its own.
        day = note.date if note.session is None else days[note.session]
        is_known = note.session is not None or (day is not None and first and day < first)
        path = f"content/after/{day}.md"
        if note.named is None and is_known and path not in facts.folder.files:
            found = advice(
                "note-by-number",
                Place(note.place.path),
                "This note is named by the number of a session. A number means another dish as "
                "soon as a session is put in, and in the next season.",
                f"Name the file by its day: {path}",
            )
            yield replace(found, move=path)


def unknown_kept(facts: Facts) -> Iterator[Problem]:
    """A thing that is said to be kept somewhere, and that the class doesn't have."""
    classroom = _classroom(facts)
    if classroom is None:
        return
    told: set[Place] = set()
    for setting, _ in settings_of(classroom):
        for terms in setting.kept.values():
            for term in terms:
                if term.text in setting.equipment or term.place in told:
                    continue
                told.add(term.place)
                yield warning(
                    "unknown-kept",
                    term.place,
                    f"`equipment` doesn't list “{term.text}”, so it isn't packed from there.",
                    did_you_mean(term.text, setting.equipment, f"equipment: {{…, {term.text}: 1}}"),
                )


RULES = (
    Rule("too-few-helpers", too_few_helpers),
    Rule("names-without-seat", names_without_seat),
    Rule("note-of-no-session", note_of_no_session),
    Rule("two-notes", two_notes),
    Rule("note-by-number", note_by_number),
    Rule("more-votes", more_votes),
    Rule("unknown-kept", unknown_kept),
)
