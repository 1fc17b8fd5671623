"""The print pack of a session, joined from the sheets that a build has staged."""

from __future__ import annotations

from pathlib import Path

from spoonfold.model.classroom import Session
from spoonfold.paper.head import session_folder
from spoonfold.paper.print_pack import Wanted, print_pack_name, slip_of, wanted_for
from spoonfold.press.fold import Part, joined, page_count
from spoonfold.press.memo import digest_of
from spoonfold.sheets.sheet import File, Sheet, Work


def pack_path(work: Work, session: Session) -> str:
    """Where a session's pack lies."""
    return f"{session_folder(session)}/{print_pack_name(work.texts.language)}"


def pack_key(work: Work, session: Session, staged: Path) -> str:
    """What a pack is made of: the sheets that are staged, and how they are joined."""
    pieces: list[str | bytes] = [work.classroom.paper, repr(session.date), repr(session.dishes)]
    for each in wanted_for(work.folder, work.classroom, session, work.texts):
        pieces += [each.path, each.title, each.use, str(each.copies)]
        if (staged / each.path).is_file():
            pieces.append((staged / each.path).read_bytes())
    return digest_of(*pieces)


def slip_for(work: Work, session: Session, staged: Path) -> Sheet:
    """The first page of a pack: what is in it, and how often to print it."""
    counts = {each: page_count((staged / each.path).read_bytes())
              for each in _staged(work, session, staged)}

    def pages(each: Wanted) -> int | None:
        return counts.get(each)

    wanted = wanted_for(work.folder, work.classroom, session, work.texts)
    slip = slip_of(work.folder, work.classroom, session, wanted, pages, work.texts)
    return Sheet(
        (pack_path(work, session),), f"Joining the print pack of session {session.number}",
        "print-pack.html", {"slip": slip}, work.texts.language)


def pack_of(work: Work, session: Session, staged: Path, slip: bytes) -> File:
    """The slip and whatever is staged, joined."""
    return File(pack_path(work, session), joined([
        Part(work.texts.say("To print"), slip),
        *(Part(each.title, (staged / each.path).read_bytes(), each.copies)
          for each in _staged(work, session, staged))]))


def _staged(work: Work, session: Session, staged: Path) -> list[Wanted]:
    return [each for each in wanted_for(work.folder, work.classroom, session, work.texts)
            if (staged / each.path).is_file()]
