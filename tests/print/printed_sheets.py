"""Booklets and cards of a class folder, printed for tests."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path

import pypdfium2
import pytest

from spoonfold.check import facts_of
from spoonfold.language.texts import load_texts
from spoonfold.press.glyphs import MissingGlyph
from spoonfold.press.html import environment_for, rendered
from spoonfold.press.layouts import layouts_for, shipped_layouts
from spoonfold.press.pdf import Printer, printer
from spoonfold.read.folder import read_folder
from spoonfold.sheets.booklet import Booklet, booklet_of
from spoonfold.sheets.card import LAYOUT, Card, card_of
from spoonfold.sheets.shared.recipe import Household

ROOT = Path(__file__).resolve().parents[2]


def squeezed(text: str) -> str:
    """Text without its spaces, so that line ends in a PDF don't matter."""
    return re.sub(r"[\s\ufffe\u00ad]+", "", text)


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF and its pages."""

    pdf: bytes
    pages: tuple[str, ...]
    """The text of each page, squeezed."""
    sizes: tuple[tuple[float, float], ...]
    """Width and height of each page in points."""


def printed(pdf: bytes | tuple[MissingGlyph, ...]) -> Printed:
    """Reads a PDF that must have been made."""
    assert isinstance(pdf, bytes), pdf
    document = pypdfium2.PdfDocument(pdf)
    return Printed(
        pdf,
        tuple(squeezed(page.get_textpage().get_text_range()) for page in document),
        tuple(page.get_size() for page in document),
    )


class Press:
    """Page values and PDFs of one class folder."""

    def __init__(self, folder: Path) -> None:
        self.read = read_folder(folder).folder
        assert self.read.classroom is not None
        self.classroom = self.read.classroom
        self.uses = facts_of(self.read).uses
        self.texts = load_texts("en", shipped_layouts())
        self.layouts = layouts_for(folder)
        made = printer(self.layouts)
        if not isinstance(made, Printer):
            pytest.skip(made.message)
        self.printer = made
        self.environment = environment_for(self.layouts, self.texts)
        self._booklets: dict[int, Booklet] = {}

    def booklet(self, people: int) -> Booklet:
        if people not in self._booklets:
            self._booklets[people] = booklet_of(
                self.read, self.classroom, self.uses, people, self.texts
            )
        return self._booklets[people]

    def card(self, key: str, people: int) -> Card:
        return card_of(Household(self.read, self.classroom, self.uses, people, self.texts), key)

    def print_booklet(self, people: int) -> bytes | tuple[MissingGlyph, ...]:
        html = rendered(self.environment, "booklet.html", book=self.booklet(people))
        return self.printer.print([html], self.layouts.find("look/paper.css"))

    def print_card(self, key: str, people: int) -> bytes | tuple[MissingGlyph, ...]:
        card = self.card(key, people)
        tries = (
            rendered(self.environment, "card.html", card=card, size=size) for size in LAYOUT.sizes
        )
        return self.printer.print(tries, self.layouts.find("look/paper.css"), LAYOUT.sides)
