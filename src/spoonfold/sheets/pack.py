"""The print pack of a session, joined from the sheets that a build has staged."""

from __future__ import annotations

from pathlib import Path

from spoonfold.model.classroom import Session
from spoonfold.paper.head import session_folder
from spoonfold.paper.print_pack import Wanted, print_pack_name, slip_of, wanted_for
from spoonfold.press.fold import Part, joined, page_count
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.sheets.desk import Desk
from spoonfold.sheets.sheet import File, Sheet, Work


def pack_of(
    work: Work, session: Session, staged: Path, desk: Desk
) -> File | tuple[MissingGlyph, ...]:
    """Joins whatever is staged; the slip names what isn't. Or the letters that the slip lacks."""
    texts = work.texts
    wanted = wanted_for(work.folder, work.classroom, session, texts)
    found = {each: (staged / each.path).read_bytes() for each in wanted
             if (staged / each.path).is_file()}
    counts = {each: page_count(pdf) for each, pdf in found.items()}

    def pages(each: Wanted) -> int | None:
        return counts.get(each)

    path = f"{session_folder(session)}/{print_pack_name(texts.language)}"
    slip = slip_of(work.folder, work.classroom, session, wanted, pages, texts)
    first = desk.printed(Sheet((path,), "", "print-pack.html", {"slip": slip}, texts))
    if not isinstance(first, bytes):
        return first
    return File(path, joined([
        Part(texts.say("To print"), first),
        *(Part(each.title, pdf, each.copies) for each, pdf in found.items())]))
