"""Printed sheets in Arabic and Vietnamese: joined letters, direction, marks, and order."""

from __future__ import annotations

import re
import unicodedata
from collections import defaultdict
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from spoonfold.build import build
from spoonfold.problem import Level
from tiny_class import write_class

TONGUES = Path(__file__).with_name("class")
_PAIR = re.compile(r"<([0-9a-f]{4})> <([0-9a-f]+)>")
_BIDI = re.compile("[\u200e\u200f\u202a-\u202e\u2066-\u2069]")


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All that families, tables and helpers get, in all four languages."""
    output = tmp_path_factory.mktemp("tongues") / "build"
    outcome = build(TONGUES, output, ("booklet", "card", "notice", "table-cards", "brief"))
    assert [each for each in outcome.problems if each.level is Level.ERROR] == []
    assert outcome.made
    return output


def _named(sheets: Path, part: str) -> list[Path]:
    found = sorted(path for path in sheets.rglob("*.pdf") if part in path.name)
    assert found
    return found


def _text(path: Path) -> str:
    """The text of a PDF as it is copied, without spaces and marks of direction."""
    document = pypdfium2.PdfDocument(path)
    text = "".join(page.get_textpage().get_text_range() for page in document)
    return re.sub(r"\s+", "", _BIDI.sub("", text))


def _letters(path: Path) -> list[tuple[str, float]]:
    """Letters of the first page with where they begin, from the left in points."""
    page = pypdfium2.PdfDocument(path)[0].get_textpage()
    return [
        (page.get_text_range(index, 1), page.get_charbox(index)[0])
        for index in range(page.count_chars())
    ]


def test_every_sheet_is_there_in_every_language(sheets: Path) -> None:
    """Booklets, cards, notice and brief in each; table cards where class.yaml asks for them."""
    for language in ("en", "ar", "vi", "es"):
        for name in (
            f"booklet-{language}-4.pdf",
            f"card-carrot-rice-{language}-2.pdf",
            f"allergen-notice-{language}.pdf",
        ):
            assert (sheets / "families" / name).is_file()
        assert (sheets / f"class/session-01/helper-brief-{language}.pdf").is_file()
    cards = {path.name for path in _named(sheets, "table-cards")}
    assert cards == {"table-cards-en.pdf", "table-cards-ar.pdf"}


@pytest.mark.parametrize("language", ["ar", "vi"])
def test_readers_aloud_get_all_of_it(sheets: Path, language: str) -> None:
    """Every sheet is PDF/UA-1 by an independent checker."""
    checker = pytest.importorskip("page", reason="pip install 'spoonfold[test]'")
    for path in _named(sheets, f"-{language}"):
        if "to-fold" in path.name:
            continue  # Two pages a side: held where booklets are folded.
        report = checker.validate_pdf_bytes(
            path.read_bytes(), profile=checker.ValidationProfile.PDF_UA_1
        )
        assert [each.message for each in report.failures] == [], path.name


def test_arabic_is_copied_in_its_order(sheets: Path) -> None:
    """Names and steps come out of the PDF as they were written, first letter first. In the booklet
    foods stand in the order of use, without headings, and the first step has an English sign on
    its line, which makes the reader take it for English."""
    own = {"card-carrot-rice-ar": ("ابشر الجزر", "للتقديم"), "booklet-ar-4.pdf": ("أضف الجزر",)}
    for name, alone in own.items():
        for path in _named(sheets, name):
            text = _text(path)
            for words in ("أرز بالجزر واللبن", "لبن زبادي", *alone):
                assert words.replace(" ", "") in text, (path.name, words)


def test_arabic_runs_from_right_to_left(sheets: Path) -> None:
    """The title begins at the right and ends at the left; the Vietnamese one the other way."""
    for language, first, last, is_left in (("ar", "أ", "ن", True), ("vi", "C", "a", False)):
        (path, *_) = _named(sheets, f"card-carrot-rice-{language}")
        title = {"ar": "أرز بالجزر واللبن", "vi": "Cơm cà rốt với sữa chua"}[language]
        letters = [(letter, at) for letter, at in _letters(path) if not _BIDI.match(letter)]
        text = "".join(letter for letter, _ in letters)
        start = text.index(title)
        begins, ends = letters[start], letters[start + len(title) - 1]
        assert (begins[0], ends[0]) == (first, last)
        assert (ends[1] < begins[1]) is is_left


def test_arabic_letters_are_joined(sheets: Path) -> None:
    """A letter has another shape at the beginning, in the middle and at the end of a word: one
    letter stands for several glyphs of the font, as shaping makes them."""
    shapes: defaultdict[str, set[str]] = defaultdict(set)
    (path, *_) = _named(sheets, "booklet-ar-4.pdf")
    with pikepdf.open(path) as pdf:
        for found in pdf.objects:
            if (
                isinstance(found, pikepdf.Dictionary)
                and "/ToUnicode" in found
                and (str(found["/BaseFont"]).endswith("+Vazirmatn"))
            ):
                table = found["/ToUnicode"].read_bytes().decode()
                for glyph, text in _PAIR.findall(table):
                    shapes[bytes.fromhex(text).decode("utf-16-be")].add(glyph)
    assert all(len(shapes[letter]) >= 2 for letter in "بلمن")
    # A letter that joins to nothing after it has fewer.
    assert len(shapes["ل"]) > len(shapes["د"])


def test_numbers_stay_together(sheets: Path) -> None:
    """In a text from right to left 1½ is not drawn as ½1. This reader of PDFs takes ½ apart and
    puts it first, so the places on the page decide: the 1 is left of the half."""
    seen = 0
    for page in pypdfium2.PdfDocument(sheets / "families/booklet-ar-4.pdf"):
        text = page.get_textpage()
        drawn = [text.get_text_range(index, 1) for index in range(text.count_chars())]
        for index in range(len(drawn) - 3):
            if drawn[index : index + 4] == ["1", "/", "2", "1"]:
                half, one = (text.get_charbox(at)[0] for at in (index, index + 3))
                assert one < half
                seen += 1
    assert seen >= 2


def test_vietnamese_marks_stay_on_their_letters(sheets: Path) -> None:
    """Every letter with its marks is one letter, in normal form C, and no font but ours is
    used."""
    for path in _named(sheets, "card-carrot-rice-vi"):
        text = _text(path)
        assert unicodedata.is_normalized("NFC", text)
        for words in ("Cơm cà rốt với sữa chua", "Để lửa nhỏ liu riu", "nêm vừa ăn"):
            assert words.replace(" ", "") in text
        with pikepdf.open(path) as pdf:
            fonts = {
                str(found["/BaseFont"]).partition("+")[2]
                for found in pdf.objects
                if isinstance(found, pikepdf.Dictionary)
                and found.get("/Type") == "/Font"
                and "/BaseFont" in found
            }
        assert fonts and all(name.startswith(("Andika", "Literata")) for name in fonts)


def test_allergens_of_a_draft_stand_beside_the_original(sheets: Path) -> None:
    """Where nobody fluent has read it, milk is named in English too."""
    assert "milk" in _text(sheets / "families/allergen-notice-ar.pdf")


def test_a_language_without_letters_is_told_at_once(tmp_path: Path) -> None:
    """No page is laid out in a language that no font here can write."""
    folder = write_class(tmp_path / "class")
    path = folder / "content/class.yaml"
    path.write_text(path.read_text("utf-8").replace("[en]", "[en, zh]"), encoding="utf-8")
    outcome = build(folder, tmp_path / "build", ("card",))
    assert [each.code for each in outcome.problems if each.level is Level.ERROR] == [
        "language-without-font"
    ]
    assert not (tmp_path / "build").exists()
