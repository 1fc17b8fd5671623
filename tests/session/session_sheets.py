"""The sheets of a class folder's sessions, as values and printed."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import pypdfium2
import pytest

from spoonfold.check import examine, facts_of
from spoonfold.language.texts import load_texts
from spoonfold.model.classroom import Session
from spoonfold.plan.people.jobs import jobs_of
from spoonfold.press.html import environment_for, rendered
from spoonfold.press.layouts import layouts_for, shipped_layouts
from spoonfold.press.pdf import Printer, printer
from spoonfold.read.folder import read_folder
from spoonfold.sheets.brief import HelperBrief, brief_of
from spoonfold.sheets.sheet import BuildContext, Edition
from spoonfold.sheets.table_cards import TableCards, table_cards_of

ROOT = Path(__file__).resolve().parents[2]
STRICT = "page-validation isn't installed: pip install 'spoonfold[test]'"


def squeezed(text: str) -> str:
    """Text without its spaces, so that line ends in a PDF don't matter."""
    return re.sub(r"[\s\ufffe\u00ad]+", "", text)


def failures(pdf: bytes) -> list[str]:
    """What PDF/UA-1 by page-validation finds wrong."""
    page = pytest.importorskip("page", reason=STRICT)
    report = page.validate_pdf_bytes(pdf, profile=page.ValidationProfile.PDF_UA_1)
    return [f"{each.rule_id}: {each.message}" for each in report.failures]


@dataclass(frozen=True, slots=True)
class Printed:
    """A PDF and the text of its pages, squeezed."""

    pdf: bytes
    pages: tuple[str, ...]


def printed(pdf: bytes) -> Printed:
    """Reads a PDF."""
    document = pypdfium2.PdfDocument(pdf)
    return Printed(pdf, tuple(squeezed(page.get_textpage().get_text_range()) for page in document))


class Office:
    """Makes the sheets of one class folder."""

    def __init__(self, folder: Path) -> None:
        self.read = read_folder(folder).folder
        assert self.read.classroom is not None
        self.classroom = self.read.classroom
        self.uses = facts_of(self.read).uses
        self.texts = load_texts("en", shipped_layouts())
        self.season = jobs_of(self.classroom, self.read.recipes)
        self.layouts = layouts_for(folder)
        self.printer = printer(self.layouts)
        self.environment = environment_for(self.layouts, self.texts)
        self.folder = folder
        self._cards: dict[int, TableCards] = {}
        self._briefs: dict[int, HelperBrief] = {}

    @cached_property
    def context(self) -> BuildContext:
        """All that sheets are made of, in the first language alone."""
        edition = Edition(self.read, self.uses, self.texts)
        households = self.classroom.households
        return BuildContext(examine(self.folder), self.classroom, (edition,), edition, households)

    def session(self, number: int) -> Session:
        return self.classroom.sessions[number - 1]

    def cards(self, number: int) -> TableCards:
        if number not in self._cards:
            self._cards[number] = self.cards_of(self.session(number))
        return self._cards[number]

    def cards_of(self, session: Session) -> TableCards:
        """The cards of a session that may differ from the one that was written."""
        return table_cards_of(
            self.read, self.classroom, self.uses, session, self.season, self.texts
        )

    def brief(self, number: int) -> HelperBrief:
        if number not in self._briefs:
            clocks = {each.session.number: each for each in self.context.examined.facts.clocks}
            self._briefs[number] = brief_of(
                self.read,
                self.classroom,
                self.uses,
                self.session(number),
                self.season,
                clocks.get(number),
                self.texts,
            )
        return self._briefs[number]

    def printed(
        self, template: str, sizes: Sequence[str], pages: int | None, **values: object
    ) -> Printed:
        if not isinstance(self.printer, Printer):
            pytest.skip(self.printer.message)
        tries = (rendered(self.environment, template, size=size, **values) for size in sizes)
        pdf = self.printer.print(tries, self.layouts.find("look/paper.css"), pages=pages)
        assert isinstance(pdf, bytes), pdf
        return printed(pdf)
