"""The print pack of a session, joined from the sheets that a build has staged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from spoonfold.model.classroom import Session
from spoonfold.sheets.head import session_folder
from spoonfold.sheets.print_pack import SIZES, Wanted, print_pack_name, slip_of, wanted_for
from spoonfold.sheets.sheet import Joined, Piece, Sheet, Work


def packs(work: Work) -> Iterator[Joined]:
    """A pack a session."""
    for session in work.classroom.sessions:
        yield _pack(work, session)


def _pack(work: Work, session: Session) -> Joined:
    path = f"{session_folder(session)}/{print_pack_name(work.texts.language)}"
    doing = f"Joining the print pack of session {session.number}"
    wanted = wanted_for(work.folder, work.classroom, session, work.texts)

    def slip(counts: Mapping[str, int]) -> Sheet:
        """What is in the pack, and how often to print it."""

        def pages(each: Wanted) -> int | None:
            return counts.get(each.path)

        value = slip_of(work.folder, work.classroom, session, wanted, pages, work.texts)
        return Sheet(
            (path,), doing, "print-pack.html", {"slip": value}, work.texts.language, SIZES, 1
        )

    known_by = repr((work.classroom.paper, session.date, session.dishes, wanted))
    pieces = tuple(Piece(each.path, each.title, each.copies) for each in wanted)
    return Joined(path, doing, pieces, known_by, work.texts.say("To print"), slip)
