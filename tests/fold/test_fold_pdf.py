"""The booklet to fold and the book from one sheet, as files."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest
from folded_pages import Read, failures, first_letter, halves, read, squeezed, texts

from spoonfold.plan.folding import BLANK, LEAF, PANELS, mini_panels, saddle_sides
from spoonfold.press.fold import Part, joined, mini_book, page_count, saddle_stitched

SLIP_PAGES = 2
"""The slip and its blank back."""
HALF_LETTER = 396.0
POINTS = 72 / 25.4
FOOT = 8 * POINTS
"""A page's number stands in so much of its foot."""


@pytest.fixture(scope="module")
def pages(families: Path) -> bytes:
    return (families / "booklet-en-2.pdf").read_bytes()


@pytest.fixture(scope="module")
def folded(families: Path) -> bytes:
    return (families / "booklet-en-2-to-fold.pdf").read_bytes()


@pytest.fixture(scope="module")
def of_pages(pages: bytes) -> Read:
    return read(pages)


@pytest.fixture(scope="module")
def of_folded(folded: bytes) -> Read:
    return read(folded)


class TestSaddleStitched:
    """Two pages beside each other."""

    def test_the_slip_comes_first_on_a_sheet_of_its_own(self, folded: bytes) -> None:
        """Who prints the file two-sided has the directions apart from the booklet."""
        slip, back = texts(folded)[:SLIP_PAGES]
        assert squeezed("Choose two-sided, flip on short edge, and actual size.") in slip
        assert back == ""

    def test_each_half_is_the_page_that_belongs_there(self, pages: bytes, folded: bytes) -> None:
        """The text of every half, read by itself, is that of the page of the published rule."""
        alone = [*texts(pages)]
        expected = [
            tuple("" if page == BLANK else alone[page - 1] for page in side)
            for side in saddle_sides(len(alone))
        ]
        assert halves(folded)[SLIP_PAGES:] == expected
        assert len(expected) == (len(alone) + 3) // 4 * 2

    def test_the_slip_counts_the_paper(self, pages: bytes, folded: bytes) -> None:
        """As many sheets as the file has besides the slip's."""
        sheets = (page_count(folded) - SLIP_PAGES) // 2
        assert (
            squeezed(f"{page_count(pages)} pages on {sheets} sheets of paper.") in texts(folded)[0]
        )

    def test_inner_sheets_move_toward_the_fold(self, pages: bytes, folded: bytes) -> None:
        """Right-hand pages by a thickness of paper to the left for each sheet around them."""
        sides = saddle_sides(page_count(pages))
        moved = set()
        for number, (_, right) in enumerate(sides):
            if right == BLANK or not texts(pages)[right - 1]:
                continue
            alone = first_letter(pages, right - 1)[0]
            placed = first_letter(folded, SLIP_PAGES + number, HALF_LETTER)[0]
            inward = alone + HALF_LETTER - placed
            assert inward == pytest.approx(number // 2 * float(LEAF) * POINTS, abs=0.01)
            moved.add(round(inward, 2))
        assert len(moved) == len(sides) // 2 > 1

    def test_it_is_as_accessible_as_its_pages(self, folded: bytes) -> None:
        """The strict checker has no finding, with slip, blanks and all."""
        assert failures(folded) == []

    def test_nothing_that_is_read_is_lost(self, of_pages: Read, of_folded: Read) -> None:
        """Title and language stay; so does each heading of the outline, behind the slip's; each
        piece of content is found from its page, and every link is there."""
        assert (of_folded.title, of_folded.language) == (of_pages.title, of_pages.language)
        assert of_folded.headings == ("How to fold this booklet", *of_pages.headings)
        assert of_folded.pieces > of_pages.pieces > 100
        assert of_folded.links == of_pages.links > 0

    def test_links_lead_to_the_same_words(
        self, pages: bytes, of_pages: Read, of_folded: Read
    ) -> None:
        """Every place is on the side that has its page, as far from the page's own corner."""
        sides = saddle_sides(page_count(pages))
        assert of_folded.named.keys() == of_pages.named.keys() != set()
        for name, (page, x, y) in of_pages.named.items():
            side, at, high = of_folded.named[name]
            left, right = sides[side - SLIP_PAGES]
            assert page + 1 in (left, right)
            creep = (side - SLIP_PAGES) // 2 * float(LEAF) * POINTS
            expected = x + (creep if page + 1 == left else HALF_LETTER - creep)
            assert (at, high) == pytest.approx((expected, y), abs=0.01)

    def test_it_asks_the_printer_for_two_sides(self, of_folded: Read) -> None:
        """A print dialog that knows the request proposes the right edge."""
        assert of_folded.duplex == "/DuplexFlipShortEdge"

    def test_the_same_pages_give_the_same_bytes(self, pages: bytes) -> None:
        """Nothing of the moment goes in."""
        assert saddle_stitched(pages) == saddle_stitched(pages)

    def test_from_right_to_left_the_fold_is_on_the_other_side(self, pages: bytes) -> None:
        """Left and right change places, and nothing else."""
        turned = [(right, left) for left, right in halves(saddle_stitched(pages, True))]
        assert turned == halves(saddle_stitched(pages))


@pytest.fixture(scope="module")
def sheet(families: Path) -> bytes:
    """The mini-book of one dish."""
    return (families / "mini-book-rice-en.pdf").read_bytes()


class TestMiniBook:
    """Eight pages on one side."""

    def test_one_sheet_and_how_to_fold_it(self, sheet: bytes) -> None:
        """The dish is on the first page alone; the second says what to do with it."""
        book, how = texts(sheet)
        assert squeezed("Gather and measure") in book and squeezed("Cut once") in how

    def test_nothing_of_the_recipe_is_left_out(self, sheet: bytes, families: Path) -> None:
        """Title, amounts, steps, and each caution that the card has."""
        book = texts(sheet)[0]
        card = "".join(texts((families / "card-rice-en-2.pdf").read_bytes()))
        for words in (
            "Plain rice",
            "½ cup",
            "Boil the rice in the water with salt.",
            "Boiling water burns at once.",
            "Steam burns.",
            "stays at the burner",
        ):
            assert squeezed(words) in card
            # Lines that stand on their heads are read from the last to the first.
            assert all(squeezed(word) in book for word in words.split()), words

    def test_it_is_accessible(self, sheet: bytes) -> None:
        """The strict checker has no finding, upside down or not."""
        assert failures(sheet) == []
        assert read(sheet).pieces > 20

    def test_pages_stand_in_their_panels(self, sheet: bytes) -> None:
        """The number at the foot of each small page is in its panel, at the sheet's edge; the
        back is last, and blanks stand before it."""
        page = pypdfium2.PdfDocument(sheet)[0]
        width, height = page.get_size()
        found = {}
        for panel in mini_panels():
            low = 0.0 if panel.row == 0 else height - FOOT
            found[panel.page] = squeezed(
                page.get_textpage().get_text_bounded(
                    panel.column * width / 4, low, (panel.column + 1) * width / 4, low + FOOT
                )
            )
        count = int(found[PANELS])
        assert 4 <= count <= PANELS
        assert found == {
            number: str(number) if number < count else "" for number in range(1, 8)
        } | {PANELS: str(count)}

    def test_more_than_eight_pages_give_no_book(self, pages: bytes) -> None:
        """Nothing is squeezed in."""
        many = joined([Part("Booklet", pages, 2)])
        assert page_count(pages) <= PANELS < page_count(many)
        assert mini_book(pages) is not None and mini_book(many) is None
