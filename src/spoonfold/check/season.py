"""What the season's own sheets need: an adult at each table, seats for all names, notes that
belong to a session, and equipment that is kept somewhere."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.check.known import did_you_mean
from spoonfold.check.rule import Facts, Rule, key_place, settings_of, warning
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
        if len(setting.tables) > setting.helpers and not _told_by_the_clock(facts, session):
            usual = classroom.setting.places
            own = [
                setting.places[key]
                for key in ("tables", "helpers")
                if setting.places.get(key, usual.get(key)) != usual.get(key)
            ]
            place = own[0] if own else key_place(setting, "helpers", session.place)
            key = len(setting.tables), setting.helpers, place
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
    return watched and session.setting.helpers + 1 < len(session.setting.tables)


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
    """A note after a session that there isn't."""
    classroom = _classroom(facts)
    if classroom is None:
        return
    numbers = {session.number for session in classroom.sessions}
    for note in facts.folder.after:
        if note.session not in numbers:
            yield warning(
                "note-of-no-session",
                note.place,
                f"This is the note after session {note.session}, and there "
                f"{'is' if len(numbers) == 1 else 'are'} {len(numbers) or 'no'} "
                f"session{'' if len(numbers) == 1 else 's'}, so no sheet shows it.",
                "Give it the number of the session that it is about.",
            )


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
    Rule("unknown-kept", unknown_kept),
)
