"""The print pack of a session, joined from the sheets that a build has staged."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from spoonfold.model.classroom import Session
from spoonfold.paper.head import session_folder
from spoonfold.paper.print_pack import SIZES, Wanted, print_pack_name, slip_of, wanted_for
from spoonfold.press.fold import Part, joined, page_count
from spoonfold.sheets.sheet import Joined, Sheet, Work


def packs(work: Work) -> Iterator[Joined]:
    """A pack a session."""
    for session in work.classroom.sessions:
        yield _pack(work, session)


def _pack(work: Work, session: Session) -> Joined:
    path = f"{session_folder(session)}/{print_pack_name(work.texts.language)}"
    doing = f"Joining the print pack of session {session.number}"
    wanted = wanted_for(work.folder, work.classroom, session, work.texts)

    def slip(found: Mapping[str, bytes]) -> Sheet:
        """What is in the pack, and how often to print it."""
        counts = {name: page_count(pdf) for name, pdf in found.items()}

        def pages(each: Wanted) -> int | None:
            return counts.get(each.path)

        value = slip_of(work.folder, work.classroom, session, wanted, pages, work.texts)
        return Sheet(
            (path,), doing, "print-pack.html", {"slip": value}, work.texts.language, SIZES, 1
        )

    def join(printed: bytes, found: Mapping[str, bytes]) -> bytes:
        return joined(
            [
                Part(work.texts.say("To print"), printed),
                *(
                    Part(each.title, found[each.path], each.copies)
                    for each in wanted
                    if each.path in found
                ),
            ]
        )

    known_by = repr((work.classroom.paper, session.date, session.dishes, wanted))
    return Joined(
        path, doing, tuple(dict.fromkeys(each.path for each in wanted)), known_by, slip, join
    )
