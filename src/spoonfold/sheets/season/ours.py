"""What the class did, on one page for families and funders: no names, and no pictures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from spoonfold.language.calendar import date_text
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Paper, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.model.prose import (
    Block,
    Listing,
    Picture,
    Prose,
    Quote,
    inlines,
    leaves,
    plain_prose,
)
from spoonfold.model.teaching import After
from spoonfold.plan.people.names import NameSearch, name_search
from spoonfold.sheets.shared.head import dish_titles


@dataclass(frozen=True, slots=True)
class Done:
    """A session that was held, without names and pictures."""

    date: str
    dishes: tuple[str, ...]
    lesson: str
    came: str
    story: Prose


@dataclass(frozen=True, slots=True)
class OurSeason:
    """What the class did."""

    language: str
    direction: str
    paper: Paper
    class_name: str
    location: str
    facts: tuple[str, ...]
    sessions: tuple[Done, ...]


def our_season(folder: ClassFolder, classroom: Classroom, texts: Texts) -> OurSeason | None:
    """What the class did, from the notes after its sessions; None while there are none.

    Of a note only what stands under “For families” is told; what may say a name of the children's
    list is left out, whole: this page leaves the room.
    """
    by_session = {note.session: note for note in folder.after}
    told = [
        (session, by_session[session.number])
        for session in classroom.sessions
        if session.number in by_session
    ]
    if not told:
        return None
    held, notes = [session for session, _ in told], [note for _, note in told]
    names = name_search(folder)
    return OurSeason(
        language=texts.language,
        direction=texts.direction,
        paper=classroom.paper,
        class_name=classroom.name,
        location=classroom.location,
        facts=tuple(_facts(folder, held, notes, texts)),
        sessions=tuple(_done(folder, names, session, note, texts) for session, note in told),
    )


def our_season_name(language: str) -> str:
    """The file of that page; it doesn't begin with `season`, which is for the adults."""
    return f"our-season-{language}.pdf"


def _facts(
    folder: ClassFolder, held: Sequence[Session], notes: Sequence[After], texts: Texts
) -> Iterator[str]:
    yield texts.count("1 session", "{number} sessions", len({each.number for each in held}))
    dishes = {
        dish.text for session in held for dish in session.dishes if dish.text in folder.recipes
    }
    yield texts.count("1 dish", "{number} dishes", len(dishes))
    places = {folder.recipes[dish].origin for dish in dishes} - {""}
    if len(places) > 1:
        yield texts.count("from 1 place", "from {number} places of the world", len(places))
    came = [note.came for note in notes if note.came is not None]
    if len(came) == len(notes):
        yield texts.count("1 child at the table", "{number} places taken at the table", sum(came))


def _done(
    folder: ClassFolder, names: NameSearch, session: Session, note: After, texts: Texts
) -> Done:
    lesson = folder.lessons.get(session.lesson.text) if session.lesson else None
    return Done(
        date=date_text(note.date or session.date, texts.language),
        dishes=dish_titles(folder, session),
        lesson=lesson.title if lesson else "",
        came=""
        if note.came is None
        else texts.count("1 child came", "{number} children came", note.came),
        story=_without(note.for_families, names),
    )


def _without(prose: Prose, names: NameSearch) -> Prose:
    """Blocks that say no name and show no picture."""
    kept: list[Block] = []
    for block in prose:
        match block:
            case Listing(items, ordered):
                left = tuple(item for item in (_without(each, names) for each in items) if item)
                if left:
                    kept.append(Listing(left, ordered))
            case Quote(blocks):
                inner = _without(blocks, names)
                if inner:
                    kept.append(replace(block, blocks=inner))
            case _:
                if not _tells(block, names):
                    kept.append(block)
    return tuple(kept)


def _tells(block: Block, names: NameSearch) -> bool:
    pictured = any(isinstance(each, Picture) for each in leaves(tuple(inlines((block,)))))
    return pictured or names.says_one(plain_prose((block,)))
