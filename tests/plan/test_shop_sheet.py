"""The shopping sheet as it is printed: one sheet of paper, tagged, in both sizes of paper."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from demo_class import demo_examined
from drawn_letters import letters
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import LETTER, PAPERS, Paper
from spoonfold.plan.shop.left import trips_of
from spoonfold.press.html import environment_for, rendered
from spoonfold.press.layouts import layouts_for
from spoonfold.press.pdf import Printer, printer
from spoonfold.sheets.shopping import LAYOUT, shopping_of

DEMO = Path(__file__).resolve().parents[2]
SMALLEST, EDGE, FOOT = 10.99, 18, 42
"""Points: the smallest type, a quarter of an inch, where the running foot begins."""
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
        page = rendered(environment, LAYOUT.template, sheet=sheet, size="")
        pdf = press.print([page], layouts.find("look/paper.css"))
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
        assert len(document) <= 2
        assert document[0].get_width() == pytest.approx(A4_WIDTH, abs=1)


def test_tags(letter: dict[int, bytes]) -> None:
    """A reader who hears the sheet hears a right one: PDF/UA-1 by an independent checker."""
    page = pytest.importorskip("page", reason="page-validation isn't installed")
    for pdf in letter.values():
        report = page.validate_pdf_bytes(pdf, profile=page.ValidationProfile.PDF_UA_1)
        assert [f"{each.rule_id}: {each.message}" for each in report.failures] == []


def test_a_buyer_reads_it_at_arms_length(letter: dict[int, bytes]) -> None:
    """Nothing in the lists is below 11 points, nothing within a quarter of an inch of the edge."""
    for pdf in letter.values():
        for page in pypdfium2.PdfDocument(pdf):
            width, height = page.get_size()
            for text, size, _, (left, bottom, right, top) in letters([page]):
                assert size >= SMALLEST or bottom < FOOT, text
                assert min(left, bottom, width - right, height - top) >= EDGE, text


def test_all_is_on_paper(letter: dict[int, bytes]) -> None:
    """Every food, what to buy, its price, its label and its notes: nothing is cut."""
    examined = demo_examined()
    folder = examined.read.folder
    assert folder.classroom is not None
    for trip in trips_of(
        folder.classroom.sessions, folder.recipes, examined.facts.uses, folder.pantry
    ):
        sheet = shopping_of(folder, folder.classroom, trip, Texts("en"))
        pages = pypdfium2.PdfDocument(letter[trip.session.number])
        said = "".join("".join(page.get_textpage().get_text_range().split()) for page in pages)
        for section in sheet.sections:
            for row in section.rows:
                parts = (row.name, row.buy, row.cost, row.look, row.need, row.label, row.brands)
                for text in (*parts, *row.notes):
                    assert "".join(text.split()) in said, text
        for other in sheet.corner:
            assert "".join(f"{other.name}: {other.buy}".split()) in said
        shown = [row.name for row in sheet.at_home]
        shown += [row.name for aisle in sheet.aisles for row in aisle.rows]
        assert sorted(shown) == sorted(row.name for each in sheet.sections for row in each.rows)


def test_raw_meat_is_bought_last() -> None:
    """What must stay cold is taken at the end, and raw meat after all else (USDA FSIS, “Shop:
    select raw meat just before checking out”)."""
    examined = demo_examined()
    folder = examined.read.folder
    assert folder.classroom is not None
    trips = trips_of(folder.classroom.sessions, folder.recipes, examined.facts.uses, folder.pantry)
    sheet = shopping_of(folder, folder.classroom, trips[5], Texts("en"))
    assert sheet.aisles[-1].rows[-1].name == "ground turkey"
    assert sheet.aisles[0].rows[0].name == "cucumbers"
