"""Sheets and pages of the site rendered, and sheets printed, with the layouts of a class folder.

Laying a sheet out is most of the work of printing it. A sheet is tried in ever smaller type
until it fits; where its text is so long that a size has never held so much, that size isn't
tried. A guess too large costs a try; it is never too small by more than what the layouts say.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path

from spoonfold.language.texts import load_texts
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.html import Environment, environment_for, rendered
from spoonfold.press.icons import drawn_once
from spoonfold.press.layouts import Layouts, layouts_for, shipped_layouts
from spoonfold.press.pdf import Printer, printer
from spoonfold.press.pictures import PictureStore
from spoonfold.problem import Failure
from spoonfold.sheets.sheet import Layout, Page, Sheet

Printed = bytes | tuple[MissingGlyph, ...]
"""A PDF, or the letters that the fonts lack."""

_UNREAD = re.compile(r"<(head|style|svg)\b.*?</\1>|<[^>]*>", re.DOTALL)
_SHEET = '<article class="sheet'


def letters_of(html: bytes) -> int:
    """Letters and single spaces in the text of the longest sheet of a document."""
    return max(
        len(" ".join(_UNREAD.sub(" ", part).split())) for part in html.decode().split(_SHEET)
    )


def sizes_to_try(layout: Layout, html: bytes) -> Sequence[str]:
    """The sizes from which on the text may fit; the last one in any case."""
    letters, most = letters_of(html), layout.holds
    start = next((number for number, held in enumerate(most) if letters <= held), len(most))
    return layout.sizes[min(start, len(layout.sizes) - 1) :]


@dataclass(slots=True)
class RenderContext:
    """Templates in each language, pictures, and the printer once it is needed."""

    folder: Path
    """The class folder."""
    layouts: Layouts
    pictures: PictureStore
    _on_paper: dict[str, Environment] = field(default_factory=dict)
    _on_site: dict[str, Environment] = field(default_factory=dict)
    _printer: Printer | Failure | None = None

    def page(self, page: Page) -> bytes:
        """A page of the site, which shows pictures as files beside it."""
        texts = page.edition.texts
        if texts.language not in self._on_site:
            self._on_site[texts.language] = environment_for(
                self.layouts, texts, self.pictures.on_site
            )
        environment = self._on_site[texts.language]
        return drawn_once(rendered(environment, page.template, page=page.values))

    def html(self, sheet: Sheet, size: str) -> bytes:
        """A sheet in one size of type."""
        if sheet.language not in self._on_paper:
            self._on_paper[sheet.language] = environment_for(
                self.layouts, load_texts(sheet.language, shipped_layouts()), self.pictures.on_paper
            )
        environment = self._on_paper[sheet.language]
        return rendered(environment, sheet.layout.template, size=size, **sheet.values)

    def largest(self, sheet: Sheet) -> bytes:
        """A sheet in its largest type."""
        return self.html(sheet, sheet.layout.sizes[0])

    def printed(self, sheet: Sheet, largest: bytes) -> Printed:
        """The PDF in the largest type that fits, given the page in the largest of all."""
        if not isinstance(self.printer, Printer):
            raise TypeError("nothing can be printed here")
        sizes = sizes_to_try(sheet.layout, largest)
        return self.printer.print(
            (
                largest if size == sheet.layout.sizes[0] else self.html(sheet, size)
                for size in sizes
            ),
            self.layouts.find("look/paper.css"),
            sheet.most_pages,
        )

    @property
    def printer(self) -> Printer | Failure:
        """The printer, or why there is none here."""
        if self._printer is None:
            self._printer = printer(self.layouts)
        return self._printer


def render_context_for(folder: Path) -> RenderContext:
    """The render context of a class folder."""
    return RenderContext(folder, layouts_for(folder), PictureStore(folder))
