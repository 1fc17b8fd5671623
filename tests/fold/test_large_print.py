"""The booklet in large print: nothing small, nothing slanted, nothing lost."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from folded_pages import squeezed

from drawn_letters import letters
from spoonfold.sheets.large_print import LEAST_POINTS

INCH = 72.0
ROUNDING = 0.1


@pytest.fixture(scope="module")
def book(families: Path) -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument((families / "large-print-booklet-en-2.pdf").read_bytes())


def test_no_letter_is_smaller(book: pypdfium2.PdfDocument) -> None:
    """Text, labels of scoops and page numbers alike: 18 points and up."""
    sizes = [size for _, size, _, _ in letters(book)]
    assert len(sizes) > 1000
    assert min(sizes) >= LEAST_POINTS - ROUNDING


def test_nothing_is_slanted(book: pypdfium2.PdfDocument) -> None:
    """What is slanted elsewhere is bold here."""
    assert not {name for _, _, name, _ in letters(book) if "italic" in name.lower()}


def test_an_inch_of_margin(book: pypdfium2.PdfDocument) -> None:
    """Whole sheets, and no text nearer to their edges on either side."""
    assert {page.get_size() for page in book} == {(612.0, 792.0)}
    for _, _, _, (left, _, right, _) in letters(book):
        assert left >= INCH - 1 and right <= 612 - INCH + 1


def test_no_drawing_leaves_the_sheet(book: pypdfium2.PdfDocument) -> None:
    """What is drawn wider, the map too, keeps the same margin."""
    for page in book:
        picture = page.render(scale=1).to_pil().convert("L")
        width, height = picture.size
        for left, right in ((0, INCH - 3), (width - INCH + 3, width)):
            assert picture.crop((int(left), 0, int(right), height)).getextrema() == (255, 255)


def test_nothing_is_lost(book: pypdfium2.PdfDocument, families: Path) -> None:
    """Every sentence of the small booklet is in the large one."""

    def words(document: pypdfium2.PdfDocument) -> set[str]:
        return {
            squeezed(word)
            for page in document
            for word in page.get_textpage().get_text_range().split()
            if squeezed(word) and not word.isdigit()
        }

    small = pypdfium2.PdfDocument((families / "booklet-en-2.pdf").read_bytes())
    lost = words(small) - words(book)
    # What is hyphenated or broken at another place is found in the text as a whole.
    whole = squeezed("".join(page.get_textpage().get_text_range() for page in book))
    assert not {word for word in lost if word.rstrip("-") not in whole}
