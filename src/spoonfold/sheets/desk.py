"""Where sheets are rendered and printed."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from spoonfold.language.texts import Texts
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.html import Environment, environment_for, rendered
from spoonfold.press.layouts import Layouts
from spoonfold.press.pdf import NoPdf, Printer
from spoonfold.press.pictures import Gallery
from spoonfold.sheets.sheet import Sheet


@dataclass(slots=True)
class Desk:
    """Templates in each language, pictures, and the printer where there is one."""

    layouts: Layouts
    gallery: Gallery
    printer: Printer | NoPdf | None
    """None where nothing is to be printed."""
    _on_paper: dict[str, Environment] = field(default_factory=dict)

    def on_site(self, texts: Texts) -> Environment:
        """Templates that show pictures as files of the site."""
        return environment_for(self.layouts, texts, self.gallery.on_site)

    def html(self, sheet: Sheet, size: str) -> bytes:
        """A sheet in one size of type."""
        language = sheet.texts.language
        if language not in self._on_paper:
            self._on_paper[language] = environment_for(
                self.layouts, sheet.texts, self.gallery.on_paper)
        return rendered(self._on_paper[language], sheet.template, size=size, **sheet.values)

    def printed(self, sheet: Sheet) -> bytes | tuple[MissingGlyph, ...]:
        """The PDF in the largest type that fits, or the letters that the fonts lack."""
        if not isinstance(self.printer, Printer):
            raise TypeError("nothing can be printed here")
        return self.printer.print(
            (self.html(sheet, size) for size in sheet.sizes), self.paper, sheet.sides)

    @property
    def paper(self) -> Path:
        """The stylesheet of everything that is printed."""
        return self.layouts.find("look/paper.css")
