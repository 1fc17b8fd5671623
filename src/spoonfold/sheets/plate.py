"""Sheets about what is on the plate."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.read.nutrients import food_rows, packaged_foods
from spoonfold.sheets.groups import SIZES as COLOUR_SIZES
from spoonfold.sheets.groups import colours_name, colours_sheet
from spoonfold.sheets.head import session_folder
from spoonfold.sheets.packet import SIDES as PACKET_SIDES
from spoonfold.sheets.packet import SIZES as PACKET_SIZES
from spoonfold.sheets.packet import packet_key_name, packet_name, packet_sheet
from spoonfold.sheets.sheet import Sheet, Work


def colours(work: Work) -> Iterator[Sheet]:
    """The colours of the season on one page."""
    sheet = colours_sheet(work.folder, work.classroom, work.uses, work.texts)
    if sheet is not None:
        yield Sheet(
            (f"class/{colours_name(work.texts.language)}",),
            "Painting the season's colours",
            "groups.html",
            {"sheet": sheet},
            work.texts.language,
            COLOUR_SIZES,
            1,
        )


def packets(work: Work) -> Iterator[Sheet]:
    """A dish beside its packaged cousin, and the key, for the sessions that have such a dish."""
    language = work.texts.language
    for session in work.classroom.sessions:
        sheet = packet_sheet(
            work.folder,
            work.classroom,
            session,
            work.uses,
            (food_rows(), packaged_foods()),
            work.texts,
        )
        if sheet is None:
            continue
        sides = PACKET_SIDES * len(sheet.dishes)
        doing = f"Opening the packet of session {session.number}"
        for name, is_key in ((packet_name(language), False), (packet_key_name(language), True)):
            yield Sheet(
                (f"{session_folder(session)}/{name}",),
                doing,
                "packet.html",
                {"sheet": sheet, "key": is_key},
                work.texts.language,
                PACKET_SIZES,
                sides,
            )
