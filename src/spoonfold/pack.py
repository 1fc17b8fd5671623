"""The print pack of a session, joined from the sheets that a build has staged."""

from __future__ import annotations

from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom, Session
from spoonfold.model.folder import ClassFolder
from spoonfold.paper.head import session_folder
from spoonfold.paper.print_pack import Wanted, print_pack_name, slip_of, wanted_for
from spoonfold.press.fold import Part, joined, page_count
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.html import Environment, rendered
from spoonfold.press.layouts import Layouts
from spoonfold.press.output import Stage
from spoonfold.press.pdf import Printer


def write_pack(
    stage: Stage,
    layouts: Layouts,
    environment: Environment,
    press: Printer,
    folder: ClassFolder,
    classroom: Classroom,
    session: Session,
    texts: Texts,
) -> tuple[MissingGlyph, ...]:
    """Joins whatever is staged; the slip names what isn't. The letters that the slip lacks."""
    wanted = wanted_for(folder, classroom, session, texts)
    found = {each: path.read_bytes() for each in wanted
             if (path := stage.folder / each.path).is_file()}
    counts = {each: page_count(pdf) for each, pdf in found.items()}

    def pages(each: Wanted) -> int | None:
        return counts.get(each)

    slip = slip_of(folder, classroom, session, wanted, pages, texts)
    first = press.print([rendered(environment, "print-pack.html", slip=slip)],
                        layouts.find("look/paper.css"))
    if not isinstance(first, bytes):
        return first
    parts = [Part(texts.say("To print"), first),
             *(Part(each.title, pdf, each.copies) for each, pdf in found.items())]
    stage.write(f"{session_folder(session)}/{print_pack_name(texts.language)}", joined(parts))
    return ()
