"""What class.yaml names is there: dishes, lessons, tables, foods to avoid, languages; and its
dates and minutes add up."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator

from spoonfold.check.known import did_you_mean, is_avoidable, label_word
from spoonfold.check.rule import Facts, Rule, advice, error, key_place, settings_of
from spoonfold.model.classroom import Session, Setting
from spoonfold.model.recipe import Term
from spoonfold.problem import Place, Problem
from spoonfold.read.folder import CLASS_FILE, PANTRY_FILE
from spoonfold.read.pantry import ALLERGENS, TAGS


def _sessions(facts: Facts) -> tuple[Session, ...]:
    classroom = facts.folder.classroom
    return () if classroom is None else classroom.sessions


def dish_missing(facts: Facts) -> Iterator[Problem]:
    """A session cooks what isn't there."""
    folder = facts.folder
    for session in _sessions(facts):
        for dish in session.dishes:
            if dish.text not in folder.recipes and dish.text not in folder.unread:
                yield error(
                    "dish-missing",
                    dish.place,
                    f"Session {session.number} cooks “{dish.text}”, but there is no "
                    f"content/recipes/{dish.text}.md.",
                    # Whoever writes the title means the file that has it.
                    next(
                        (
                            f"Did you mean `{name}`?"
                            for name, recipe in folder.recipes.items()
                            if recipe.title.casefold() == dish.text.casefold()
                        ),
                        None,
                    )
                    or _meant(dish, (*folder.recipes, *folder.unread)),
                )


def lesson_missing(facts: Facts) -> Iterator[Problem]:
    """A session has a lesson that isn't there."""
    folder = facts.folder
    for session in _sessions(facts):
        lesson = session.lesson
        if lesson is None or lesson.text in folder.lessons:
            continue
        path = f"content/lessons/{lesson.text}.md"
        if path not in folder.files:
            yield error(
                "lesson-missing",
                lesson.place,
                f"Session {session.number} has the lesson “{lesson.text}”, but there is no {path}.",
                _meant(lesson, folder.lessons),
            )


def _meant(term: Term, known: Iterable[str]) -> str:
    return did_you_mean(term.text, known, "Write the file's name without its ending.")


def unknown_avoid(facts: Facts) -> Iterator[Problem]:
    """A need that nothing in the pantry could ever answer to."""
    seen: set[Place] = set()
    for setting, _ in _settings(facts):
        for need in setting.needs:
            for term in need.avoid:
                if term.place in seen or need.is_missing:
                    continue
                seen.add(term.place)
                meant = label_word(term.text)
                if meant is None and (
                    is_avoidable(facts, term.text) or PANTRY_FILE in facts.troubled
                ):
                    continue
                yield error(
                    "unknown-avoid",
                    term.place,
                    f"No food of the pantry carries the word “{term.text}”, so this need would "
                    "not be looked after.",
                    f"avoid: [{meant}]"
                    if meant
                    else did_you_mean(
                        term.text,
                        (*ALLERGENS, *TAGS),
                        "The allergens are " + ", ".join(ALLERGENS) + "; a food of the pantry "
                        "can be named too.",
                    ),
                )


def _settings(facts: Facts) -> Iterator[tuple[Setting, Place]]:
    classroom = facts.folder.classroom
    return iter(()) if classroom is None else settings_of(classroom)


def no_such_table(facts: Facts) -> Iterator[Problem]:
    """A need at a table that the session doesn't have."""
    if CLASS_FILE in facts.troubled:
        return
    seen: set[Place] = set()
    for setting, place in _settings(facts):
        for need in setting.needs:
            if need.table is None or need.table <= len(setting.tables) or need.place in seen:
                continue
            seen.add(need.place)
            base = facts.folder.classroom is not None and (
                setting is facts.folder.classroom.setting
            )
            where = need.place if base or "needs" not in setting.places else place
            yield error(
                "no-such-table",
                where,
                f"A need is noted for table {need.table}, but there {_are(setting)}, "
                "so nobody would look after it.",
                "Give it a table that is there, or none: then it holds at every table."
                if base
                else "Write it under this session's `needs` with a table that is there, and as it "
                "stands in the class under `needs dropped`.",
            )


def _are(setting: Setting) -> str:
    count = len(setting.tables)
    return "is 1 table" if count == 1 else f"are {count} tables"


def sessions_collide(facts: Facts) -> Iterator[Problem]:
    """Two sessions on one day."""
    first: dict[datetime.date, Session] = {}
    for session in _sessions(facts):
        other = first.setdefault(session.date, session)
        if other is not session:
            yield error(
                "sessions-collide",
                session.place,
                f"Session {session.number} is on {session.date.isoformat()}, and so is session "
                f"{other.number}.",
                "Give one of them another `date`.",
            )


def fixed_too_long(facts: Facts) -> Iterator[Problem]:
    """No minute left to cook in."""
    classroom = facts.folder.classroom
    usual = classroom.setting.places.get("minutes") if classroom else None
    for setting, place in _settings(facts):
        fixed = sum(setting.fixed.values())
        if fixed >= setting.minutes:
            # A session that is shorter than usual is the odd one out, not the fixed parts.
            key = "fixed" if setting.places.get("minutes") == usual else "minutes"
            yield error(
                "fixed-too-long",
                key_place(setting, key, place),
                f"Arriving, talking, eating and cleaning up take {fixed} minutes, and the whole "
                f"session has {setting.minutes}: none is left for cooking.",
                "Make the fixed parts shorter or the session longer.",
            )


def language_not_listed(facts: Facts) -> Iterator[Problem]:
    """A translation that no sheet will use."""
    classroom = facts.folder.classroom
    if classroom is None or CLASS_FILE in facts.troubled:
        return
    for (_, language), translation in facts.folder.translations.items():
        if language not in classroom.languages:
            listed = ", ".join((*classroom.languages, language))
            yield advice(
                "language-not-listed",
                translation.place,
                f"Nothing is made in the language “{language}”: {CLASS_FILE} doesn't list it.",
                f"languages: [{listed}]",
            )


RULES = (
    Rule("dish-missing", dish_missing),
    Rule("lesson-missing", lesson_missing),
    Rule("unknown-avoid", unknown_avoid),
    Rule("no-such-table", no_such_table),
    Rule("sessions-collide", sessions_collide),
    Rule("fixed-too-long", fixed_too_long),
    Rule("language-not-listed", language_not_listed),
)
