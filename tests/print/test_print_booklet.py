"""What the booklet says, on which page, and in which order."""

from __future__ import annotations

import re
from collections.abc import Callable

import pypdfium2
import pytest
from printed_sheets import Press, Printed, printed, squeezed

from spoonfold.model.prose import plain

THREE_MEGABYTES = 3_000_000
NEARLY_EMPTY = 150
"""Characters: a page with less than two lines of text besides its running head."""


def _first_pages(demo: Press, booklet: Printed) -> dict[str, int]:
    """The page on which each dish begins: where its origin and its title stand together."""
    found = {}
    for sheet in demo.booklet(4).recipes:
        opening = squeezed(sheet.origin + sheet.title)
        pages = [number for number, text in enumerate(booklet.pages, start=1) if opening in text]
        assert len(pages) == 1, sheet.key
        found[sheet.title] = pages[0]
    return found


def test_contents_name_the_page_of_every_dish(demo: Press, demo_booklet: Printed) -> None:
    """Every dish stands in the contents with the number of the page on which it begins."""
    contents = next(text for text in demo_booklet.pages if "Contents" in text)
    starts = _first_pages(demo, demo_booklet)
    # A word is explained where it stands too: its list is the last place.
    words = max(
        number
        for number, text in enumerate(demo_booklet.pages, start=1)
        if squeezed(demo.booklet(4).words[0].meaning)[1:] in text
    )
    # Numbers stand at the right edge, so they come in a row of their own in the page's text.
    assert "".join(map(str, [*starts.values(), words])) in contents
    for title in starts:
        assert squeezed(title) in contents


def test_every_dish_begins_on_a_left_page(demo: Press, demo_booklet: Printed) -> None:
    """A left page is an even one: so a dish of two pages is one opening."""
    assert all(page % 2 == 0 for page in _first_pages(demo, demo_booklet).values())


def test_a_dish_takes_two_to_four_pages(demo: Press, demo_booklet: Printed) -> None:
    """One opening or two, but for the odd long dish; a third opening is the most."""
    starts = [*_first_pages(demo, demo_booklet).values()]
    # A word is explained where it stands too: its list is the last place.
    words = max(
        number
        for number, text in enumerate(demo_booklet.pages, start=1)
        if squeezed(demo.booklet(4).words[0].meaning)[1:] in text
    )
    lengths = [end - start for start, end in zip(starts, [*starts[1:], words], strict=True)]
    assert all(2 <= length <= 6 for length in lengths), lengths
    assert sum(length <= 4 for length in lengths) >= len(lengths) - 2, lengths


def test_a_step_is_never_parted_from_its_cautions(demo: Press, demo_booklet: Printed) -> None:
    """Every caution stands on the page of its step, after the step before and ahead of it."""
    starts = _first_pages(demo, demo_booklet)
    for sheet in demo.booklet(4).recipes:
        page, end = starts[sheet.title] - 1, 0
        for step in sheet.steps:
            words = squeezed(plain(step.text))
            while words not in demo_booklet.pages[page][end:]:
                page, end = page + 1, 0
            text = demo_booklet.pages[page]
            place = text.index(words, end)
            for caution in step.cautions:
                said = squeezed(f"{caution.title} {caution.text}")
                assert said in text[end:place], (sheet.key, step.number, caution.title)
            end = place + len(words)


def test_no_page_is_nearly_empty_without_a_reason(demo_booklet: Printed) -> None:
    """Only the cover, and pages ruled for notes, have few words."""
    for text in demo_booklet.pages[1:]:
        ruled = "Ourownnotes" in text or "Wordsofourown" in text
        assert len(text) > NEARLY_EMPTY or ruled, text


def test_amounts_are_those_of_the_household(demo: Press, demo_booklet: Printed) -> None:
    """Every amount of every ingredient stands on its dish's pages, whole."""
    whole = "".join(demo_booklet.pages)
    for sheet in demo.booklet(4).recipes:
        for line in sheet.lines:
            assert squeezed(line.sizes[0].text + line.names[0]) in whole, (sheet.key, line.name)


def test_labels_and_safety_words_are_there(demo_booklet: Printed) -> None:
    """The guide says who decides about labels, heat, knives and local rules."""
    guide = demo_booklet.pages[1]
    for said in (
        "Read every label, every time.",
        "An adult is there",
        "Local rules and trained people decide",
    ):
        assert squeezed(said) in guide


def test_no_line_ends_inside_a_temperature(demo_booklet: Printed) -> None:
    """A number never stands at the end of a line with its degrees on the next."""
    seen = 0
    for page in pypdfium2.PdfDocument(demo_booklet.pdf):
        text = page.get_textpage().get_text_range()
        assert not re.search(r"\d\s*\r?\n\s*°", text)
        seen += text.count("°")
    assert seen > len(demo_booklet.pages) / 2


def test_size_of_the_file(demo_booklet: Printed) -> None:
    """The booklet can be sent by mail: under three megabytes."""
    assert len(demo_booklet.pdf) < THREE_MEGABYTES


@pytest.mark.parametrize(
    ("paper", "booklet", "card"),
    [("letter", (396, 612), (612, 792)), ("a4", (420.94, 595.28), (595.28, 841.89))],
)
def test_paper_is_that_of_the_class(
    small: Callable[..., Press], paper: str, booklet: tuple[float, float], card: tuple[float, float]
) -> None:
    """Half of letter or of A4 for the booklet, all of it for the card (A4 by ISO 216: 210 mm by
    297 mm; a half is not rounded down to A5, so that two are the sheet that is folded)."""
    press = small(paper)
    for sizes, wanted in (
        (printed(press.print_booklet(2)).sizes, booklet),
        (printed(press.print_card("rice", 2)).sizes, card),
    ):
        assert set(sizes) == {sizes[0]}
        assert sizes[0] == pytest.approx(wanted, abs=0.01)
