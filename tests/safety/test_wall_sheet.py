"""The safety sheet for the wall: one page, everything on it, and nothing that isn't ours to say."""

from __future__ import annotations

import re
from pathlib import Path

import pypdfium2
import pytest

from spoonfold.build import build
from tiny_class import CLASS, write_class

pytestmark = pytest.mark.slow
LETTER, A4 = (612, 792), (595, 842)


def sheet(folder: Path, paper: str) -> tuple[Path, pypdfium2.PdfDocument]:
    """The sheet of the tiny class on that paper."""
    text = CLASS.replace("languages: [en]", f"languages: [en]\npaper: {paper}")
    write_class(folder, {"class.yaml": text})
    outcome = build(folder, folder / "build", ["safety"])
    assert (
        outcome.problems == () and outcome.print_failure is None and outcome.write_failure is None
    )
    path = folder / "build" / "class" / "safety-sheet-en.pdf"
    return path, pypdfium2.PdfDocument(path.read_bytes())


def words(document: pypdfium2.PdfDocument) -> str:
    return re.sub(r"\s+", " ", document[0].get_textpage().get_text_range())


@pytest.mark.parametrize(("paper", "size"), [("letter", LETTER), ("a4", A4)])
def test_it_is_one_page_of_its_paper(paper: str, size: tuple[int, int], tmp_path: Path) -> None:
    """A second page would hang behind the first."""
    _, document = sheet(tmp_path, paper)
    assert len(document) == 1
    width, height = document[0].get_size()
    assert (round(width), round(height)) == size


def test_everything_that_it_is_for_is_on_it(tmp_path: Path) -> None:
    """Hands with the published seconds, the knife, burns, spills, cuts, reactions, blanks."""
    text = words(sheet(tmp_path, "letter")[1])
    for part in (
        "20 seconds",
        "Claw",
        "Bridge",
        "Tip down",
        "let it fall",
        "in the sink",
        "Burn",
        "Cut",
        "Spill",
        "Call the emergency number. Follow the child's own plan.",
        "Emergency number",
        "Our address",
        "Trained in",
        "Medicine and",
        "trained people decide",
        "Tiny Table, The Small Hall",
    ):
        assert part in text, part


def test_it_gives_no_medical_advice(tmp_path: Path) -> None:
    """What is done for a burn, a cut or a reaction is for the trained person."""
    text = words(sheet(tmp_path, "letter")[1]).casefold()
    for word in (
        "ice",
        "butter",
        "bandage",
        "epinephrine",
        "antihistamine",
        "inject",
        "pressure",
        "minutes under",
        "cold water",
        "cool water",
    ):
        assert not re.search(rf"\b{word}\b", text), word


def test_it_is_there_only_for_the_adults(tmp_path: Path) -> None:
    """It stands in `class/`, and made alone it makes nothing else."""
    path, _ = sheet(tmp_path, "letter")
    made = {each.name for each in (tmp_path / "build").rglob("*.pdf")}
    assert made == {path.name}


def test_it_stays_when_another_part_is_made(tmp_path: Path) -> None:
    """`--only site` carries it over, byte for byte."""
    path, _ = sheet(tmp_path, "letter")
    before = path.read_bytes()
    assert build(tmp_path, tmp_path / "build", ["site"]).problems == ()
    assert path.read_bytes() == before


def test_it_is_tagged_for_who_cannot_see_it(tmp_path: Path) -> None:
    """PDF/UA-1 by an independent checker."""
    page = pytest.importorskip(
        "page", reason="page-validation isn't installed: pip install 'spoonfold[test]'"
    )
    path, _ = sheet(tmp_path, "letter")
    report = page.validate_pdf_bytes(path.read_bytes(), profile=page.ValidationProfile.PDF_UA_1)
    assert [each.message for each in report.failures] == []
