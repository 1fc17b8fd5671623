"""Sheets and pages of the site rendered, and sheets printed, with the layouts of a class folder.

Laying a sheet out is most of the work of printing it. A sheet is tried in ever smaller type
until it fits; where its text is so long that a size has never held so much, that size isn't
tried. A guess too large costs a try; it is never too small by more than what the layouts say.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from spoonfold.language.texts import load_texts
from spoonfold.press.faults import LayoutError
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.html import Environment, environment_for, rendered
from spoonfold.press.html_guard import fault_of
from spoonfold.press.icons import drawn_once
from spoonfold.press.layouts import Layouts, layouts_for
from spoonfold.press.pdf import Printer, printer
from spoonfold.press.pictures import PictureStore
from spoonfold.problem import Failure, Level, Place, Problem
from spoonfold.read.files import LAYOUTS
from spoonfold.sheets.sheet import Layout, Page, Sheet


def _fault(error: Exception, own: Path) -> Problem:
    found = fault_of(error, own)
    if found is not None:
        shown, flaw = found
        place = Place(f"{LAYOUTS}/{shown}" if shown else LAYOUTS, flaw.line)
        return Problem("layout-template", Level.ERROR, place, flaw.message, flaw.hint)
    said = str(error).strip().split("\n", 1)[0].rstrip(".") or type(error).__name__
    sheet = "look/paper.css"
    return Problem(
        "layout-style",
        Level.ERROR,
        Place(f"{LAYOUTS}/{sheet}" if (own / sheet).is_file() else LAYOUTS),
        f"The sheets can't be printed with these layouts of the class: {said}.",
        "Take the files of layouts/ out one by one, the last that was changed first: without one, "
        "the one that ships is used.",
    )


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
        """A page of the site, which shows pictures as files beside it. Raises LayoutError."""
        with self._faults_of_layouts():
            return self._page(page)

    def _page(self, page: Page) -> bytes:
        texts = page.edition.texts
        if texts.language not in self._on_site:
            self._on_site[texts.language] = environment_for(
                self.layouts, texts, self.pictures.on_site
            )
        environment = self._on_site[texts.language]
        return drawn_once(rendered(environment, page.template, page=page.values))

    def html(self, sheet: Sheet, size: str) -> bytes:
        """A sheet in one size of type. Raises LayoutError."""
        with self._faults_of_layouts():
            return self._html(sheet, size)

    def _html(self, sheet: Sheet, size: str) -> bytes:
        if sheet.language not in self._on_paper:
            self._on_paper[sheet.language] = environment_for(
                self.layouts,
                load_texts(sheet.language, *self.layouts.folders),
                self.pictures.on_paper,
            )
        environment = self._on_paper[sheet.language]
        return rendered(environment, sheet.layout.template, size=size, **sheet.values)

    def largest(self, sheet: Sheet) -> bytes:
        """A sheet in its largest type."""
        return self.html(sheet, sheet.layout.sizes[0])

    def printed(self, sheet: Sheet, largest: bytes) -> Printed:
        """The PDF in the largest type that fits, given the page in the largest of all. Raises
        LayoutError."""
        with self._faults_of_layouts():
            return self._printed(sheet, largest)

    def _printed(self, sheet: Sheet, largest: bytes) -> Printed:
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

    @contextmanager
    def _faults_of_layouts(self) -> Iterator[None]:
        """Where the class has layouts of its own, whatever fails is told of them; without, it is a
        bug."""
        own = self.layouts.own
        try:
            yield
        except LayoutError:
            raise
        except (OSError, MemoryError):
            raise
        except Exception as error:
            if own is None:
                raise
            raise LayoutError(_fault(error, own)) from error

    @property
    def printer(self) -> Printer | Failure:
        """The printer, or why there is none here."""
        if self._printer is None:
            self._printer = printer(self.layouts)
        return self._printer


def render_context_for(folder: Path) -> RenderContext:
    """The render context of a class folder."""
    return RenderContext(folder, layouts_for(folder), PictureStore(folder))
