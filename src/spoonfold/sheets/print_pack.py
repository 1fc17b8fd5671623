"""The print pack: every sheet of a session, in the number of copies that the day needs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import ALWAYS_PACKED, Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.sheets import parts
from spoonfold.sheets.shared.head import Head, head_of
from spoonfold.sheets.sheet import (
    BuildContext,
    Joined,
    Layout,
    PackEntry,
    Part,
    Piece,
    SessionFile,
    Sheet,
)


@dataclass(frozen=True, slots=True)
class SlipRow:
    """A line of the contents slip."""

    title: str
    use: str
    copies: int
    sheets: int
    """Of paper, for all copies, printed on both sides."""


@dataclass(frozen=True, slots=True)
class Slip:
    """The first page of the pack."""

    head: Head
    rows: tuple[SlipRow, ...]
    missing: tuple[str, ...]
    """Sheets that this pack lacks since they weren't made."""
    sheets: int
    """With the slip itself."""


def entries_for(context: BuildContext, session: Session) -> tuple[PackEntry, ...]:
    """The sheets of a session in the order in which they are needed."""
    wanted = {*context.classroom.sheets, ALWAYS_PACKED}
    entries = (
        each
        for name, part in parts().items()
        if name in wanted
        for each in part.in_pack(context, session)
    )
    return tuple(sorted((each for each in entries if each.copies), key=lambda each: each.moment))


def slip_of(
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    entries: tuple[PackEntry, ...],
    pages: Mapping[str, int],
    texts: Texts,
) -> Slip:
    """The slip; `pages` says how many pages each file has that is there."""
    rows = tuple(_rows(entries, pages))
    return Slip(
        head=head_of(folder, classroom, session, texts),
        rows=rows,
        missing=tuple(each.title for each in entries if each.path not in pages),
        sheets=1 + sum(row.sheets for row in rows),
    )


def _rows(entries: tuple[PackEntry, ...], pages: Mapping[str, int]) -> Iterator[SlipRow]:
    for each in entries:
        count = pages.get(each.path)
        if count is not None:
            yield SlipRow(each.title, each.use, each.copies, each.copies * -(-count // 2))


def made(context: BuildContext) -> Iterator[Joined]:
    """A pack a session."""
    for session in context.sessions:
        yield _pack(context, session)


def _pack(context: BuildContext, session: Session) -> Joined:
    texts, entries = context.texts, entries_for(context, session)
    path = FILE.path(session, texts.language)
    doing = f"Joining the print pack of session {session.number}"

    def slip(pages: Mapping[str, int]) -> Sheet:
        """What is in the pack, and how often to print it."""
        value = slip_of(context.folder, context.classroom, session, entries, pages, texts)
        return Sheet((path,), doing, LAYOUT, {"slip": value}, texts.language)

    known_by = repr((context.classroom.paper, session.date, session.dishes, entries))
    pieces = tuple(Piece(each.path, each.title, each.copies) for each in entries)
    return Joined(path, doing, pieces, known_by, texts.say("To print"), slip)


FILE = SessionFile("print-pack")

LAYOUT = Layout("print-pack.html", ("large", "middle", "small"), sides=1)

PART = Part(made, FILE.owns)
