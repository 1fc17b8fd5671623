"""Where sheets are rendered and printed."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from spoonfold.language.texts import Texts, load_texts
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.html import Environment, environment_for, rendered
from spoonfold.press.layouts import Layouts, layouts_for, shipped_layouts
from spoonfold.press.pdf import NoPdf, Printer, printer
from spoonfold.press.pictures import Gallery
from spoonfold.press.sizing import sizes_to_try
from spoonfold.sheets.sheet import Sheet

Printed = bytes | tuple[MissingGlyph, ...]
"""A PDF, or the letters that the fonts lack."""


@dataclass(slots=True)
class Desk:
    """Templates in each language, pictures, and the printer once it is needed."""

    folder: Path
    """The class folder."""
    layouts: Layouts
    gallery: Gallery
    _on_paper: dict[str, Environment] = field(default_factory=dict)
    _printer: Printer | NoPdf | None = None

    def on_site(self, texts: Texts) -> Environment:
        """Templates that show pictures as files of the site."""
        return environment_for(self.layouts, texts, self.gallery.on_site)

    def html(self, sheet: Sheet, size: str) -> bytes:
        """A sheet in one size of type."""
        if sheet.language not in self._on_paper:
            self._on_paper[sheet.language] = environment_for(
                self.layouts, load_texts(sheet.language, shipped_layouts()), self.gallery.on_paper
            )
        return rendered(self._on_paper[sheet.language], sheet.template, size=size, **sheet.values)

    def largest(self, sheet: Sheet) -> bytes:
        """A sheet in its largest type."""
        return self.html(sheet, sheet.sizes[0])

    def printed(self, sheet: Sheet, largest: bytes) -> Printed:
        """The PDF in the largest type that fits, given the page in the largest of all."""
        if not isinstance(self.printer, Printer):
            raise TypeError("nothing can be printed here")
        sizes = sizes_to_try(sheet.template, sheet.sizes, largest)
        return self.printer.print(
            (largest if size == sheet.sizes[0] else self.html(sheet, size) for size in sizes),
            self.layouts.find("look/paper.css"),
            sheet.sides,
        )

    @property
    def printer(self) -> Printer | NoPdf:
        """The printer, or why there is none here."""
        if self._printer is None:
            self._printer = printer(self.layouts)
        return self._printer


def desk_for(folder: Path) -> Desk:
    """The desk of a class folder."""
    return Desk(folder, layouts_for(folder), Gallery(folder))
