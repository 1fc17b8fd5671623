"""The shopping sheet as it is printed: one sheet of paper, tagged, in both sizes of paper."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from demo_class import demo_examined
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import LETTER, PAPERS, Paper
from spoonfold.plan.shop.left import trips_of
from spoonfold.press.html import environment_for, rendered
from spoonfold.press.layouts import layouts_for
from spoonfold.press.pdf import Printer, printer
from spoonfold.sheets.shopping import LAYOUT, shopping_of

DEMO = Path(__file__).resolve().parents[2]
A4_WIDTH = 595.28
"""Points: 210 mm (ISO 216)."""


def _printed(paper: Paper) -> dict[int, bytes]:
    """The sheet of every session of the demo."""
    examined = demo_examined()
    folder, texts, layouts = examined.read.folder, Texts("en"), layouts_for(DEMO)
    assert folder.classroom is not None
    press = printer(layouts)
    if not isinstance(press, Printer):
        pytest.skip(press.message)
    environment = environment_for(layouts, texts)
    made = {}
    for trip in trips_of(
        folder.classroom.sessions, folder.recipes, examined.facts.uses, folder.pantry
    ):
        sheet = replace(shopping_of(folder, folder.classroom, trip, texts), paper=paper)
        tries = (
            rendered(environment, "shopping.html", sheet=sheet, size=size) for size in LAYOUT.sizes
        )
        pdf = press.print(tries, layouts.find("look/paper.css"), pages=LAYOUT.sides)
        assert isinstance(pdf, bytes), pdf
        made[trip.session.number] = pdf
    return made


@pytest.fixture(scope="module")
def letter() -> dict[int, bytes]:
    return _printed(LETTER)


def test_one_sheet_each(letter: dict[int, bytes]) -> None:
    """Every list of the demo fits on the two sides of one sheet."""
    assert {len(pypdfium2.PdfDocument(pdf)) for pdf in letter.values()} <= {1, 2}
    assert set(letter) == set(range(1, 9))


def test_same_bytes(letter: dict[int, bytes]) -> None:
    """The same list gives the same bytes."""
    assert _printed(LETTER) == letter


def test_a4() -> None:
    """On A4 the sheet is A4, and still one sheet."""
    for pdf in _printed(PAPERS["a4"]).values():
        document = pypdfium2.PdfDocument(pdf)
        assert len(document) <= LAYOUT.sides
        assert document[0].get_width() == pytest.approx(A4_WIDTH, abs=1)


def test_tags(letter: dict[int, bytes]) -> None:
    """A reader who hears the sheet hears a right one: PDF/UA-1 by an independent checker."""
    page = pytest.importorskip("page", reason="page-validation isn't installed")
    for pdf in letter.values():
        report = page.validate_pdf_bytes(pdf, profile=page.ValidationProfile.PDF_UA_1)
        assert [f"{each.rule_id}: {each.message}" for each in report.failures] == []
