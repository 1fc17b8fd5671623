"""Sheets about what is on the plate."""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.paper.groups import SIZES as COLOUR_SIZES
from spoonfold.paper.groups import colours_name, colours_sheet
from spoonfold.sheets.sheet import Sheet, Work


def colours(work: Work) -> Iterator[Sheet]:
    """The colours of the season on one page."""
    sheet = colours_sheet(work.folder, work.classroom, work.uses, work.texts)
    if sheet is not None:
        yield Sheet(
            (f"class/{colours_name(work.texts.language)}",), "Painting the season's colours",
            "groups.html", {"sheet": sheet}, work.texts.language, COLOUR_SIZES, 1)
