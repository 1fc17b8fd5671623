"""The next season of a class, begun from the one before.

What is the class's goes along: recipes, words, skills, pantry, lessons, pictures, its own layouts,
and of the notes after sessions what was learned. What belonged to the days and the children of the
last season stays behind: names, stories, changes, and whatever a session had of its own.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from spoonfold.author.grow import parts_of_file
from spoonfold.author.start import is_free, starter_files
from spoonfold.author.written import Refused, Written
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.teaching import After
from spoonfold.plan.people.names import name_search
from spoonfold.quantity.show import show_number
from spoonfold.read.classroom import read_classroom
from spoonfold.read.files import PRIVATE, Source, files_inside, read_source
from spoonfold.read.folder import CLASS_FILE, read_folder
from spoonfold.read.yaml_text import yaml_text

_LEFT = (PRIVATE, "content/after/", "content/changes/")
"""What belongs to the last season's days and children."""
_IGNORED = ".gitignore"


@dataclass(frozen=True, slots=True)
class NextSeason:
    """A season that was begun."""

    files: tuple[Written, ...]
    classroom: Classroom
    learned: int
    """Notes of which something was learned."""


def next_season(
    folder: Path, last: Path, first_day: datetime.date | None = None, with_dishes: bool = True
) -> NextSeason | Refused:
    """Writes the next season of the class in `last` into a folder that is empty or isn't there
    yet. `first_day`: by the rhythm of the last season, where none is given."""
    refused = is_free(folder)
    if refused is not None:
        return refused
    read = read_folder(last)
    before = read.folder.classroom
    source = read_source(last, CLASS_FILE)
    if before is None or not isinstance(source, Source):
        return Refused(f"The class in {last} can't be read yet.", "Mend it first: spoonfold check")
    day = first_day or _day_after(before)
    text = _class_text(source, before, day, with_dishes)
    if isinstance(text, Refused):
        return text
    files: dict[str, bytes] = {CLASS_FILE: text.encode()}
    for path in files_inside(last):
        if isinstance(path, str) and path != CLASS_FILE and not path.startswith(_LEFT):
            files[path] = (last / path).read_bytes()
    notes = dict(_learned(read.folder, before.sessions))
    files |= {path: note.encode() for path, note in notes.items()}
    files |= {
        path.relative_to(last).as_posix(): path.read_bytes()
        for path in sorted((last / "layouts").rglob("*"))
        if path.is_file() and not path.is_symlink()
    }
    files.setdefault(_IGNORED, starter_files()[_IGNORED].encode())
    made = tuple(_all_written(folder, files))
    failed = next((each for each in made if isinstance(each, Refused)), None)
    if failed is not None:
        return failed
    after = read_classroom(Source(CLASS_FILE, text), [])
    assert after is not None
    return NextSeason(tuple(each for each in made if isinstance(each, Written)), after, len(notes))


def _all_written(folder: Path, files: dict[str, bytes]) -> Iterator[Written | Refused]:
    for path, data in files.items():
        target = folder / path
        try:
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("xb") as file:
                file.write(data)
        except OSError as error:
            yield Refused(f"{path} can't be written: {error.strerror or 'the disk refused'}.")
            return
        yield Written(path)


def _day_after(classroom: Classroom) -> datetime.date:
    """The same day of the week, after the last session."""
    last = max((each.date for each in classroom.sessions), default=classroom.first_day)
    days = (classroom.first_day - last).days % 7
    return last + datetime.timedelta(days=days or 7)


def _class_text(
    source: Source, before: Classroom, day: datetime.date, with_dishes: bool
) -> str | Refused:
    """class.yaml with the new first day, no days off, and its sessions without what was theirs
    alone; every other line stays."""
    by_hand = Refused(
        f"{CLASS_FILE} is written in a way that can't be changed safely.",
        "Give every key a line of its own, beginning at the edge, and try again.",
    )
    parts = parts_of_file(source.text, CLASS_FILE)
    if parts is None:
        return by_hand
    usual = before.setting.portion
    sessions = "".join(f"  - {{{_entry(each, usual)}}}\n" for each in before.sessions)
    new = {
        "first day": f"first day: {day}\n",
        "not on": "",
        "sessions": f"sessions:\n{sessions}" if with_dishes and sessions else "sessions: []\n",
    }
    text = "".join(new.get(key, lines) for key, lines in parts)
    after = read_classroom(Source(CLASS_FILE, text), [])
    if after is None or after.first_day != day:
        return by_hand
    kept = tuple(each.dishes for each in before.sessions) if with_dishes else ()
    same = [[term.text for term in dishes] for dishes in kept]
    if [[term.text for term in each.dishes] for each in after.sessions] != same:
        return by_hand
    return text


def _entry(session: Session, usual: Fraction) -> str:
    """What a session is about: of two dishes children have less of each."""
    said = f"dishes: [{', '.join(yaml_text(each.text) for each in session.dishes)}]"
    if session.lesson is not None:
        said += f", lesson: {yaml_text(session.lesson.text)}"
    if session.setting.portion != usual:
        said += f", portion: {session.setting.portion}"
    return said


def _learned(folder: ClassFolder, sessions: Sequence[Session]) -> Iterator[tuple[str, str]]:
    """Each note by its path: how long the dishes took, what worked and what was to change. What
    may say a child's name is left out: the new folder has no list to look for it by."""
    names = name_search(folder)
    for note in folder.after:
        keep, change = (
            tuple(each for each in lines if not names.says_one(each))
            for lines in (note.keep, note.change)
        )
        if note.date is not None and (note.minutes or keep or change):
            yield (
                f"content/after/{note.date}.md",
                "\n".join(("---", *_note_lines(note, sessions, keep, change), "---", "")),
            )


def _note_lines(
    note: After, sessions: Sequence[Session], keep: Sequence[str], change: Sequence[str]
) -> Iterator[str]:
    yield f"dishes: [{', '.join(map(yaml_text, sorted(note.cooked(sessions))))}]"
    if note.minutes:
        yield "minutes:"
        for dish, minutes in note.minutes.items():
            yield f"  {yaml_text(dish)}: {show_number(minutes)} min"
    for key, lines in (("keep", keep), ("change", change)):
        if lines:
            yield f"{key}:"
            yield from (f"  - {yaml_text(each)}" for each in lines)
