"""The card: one sheet of paper, with everything on it."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from printed_sheets import Press, Printed, squeezed

from spoonfold.model.prose import plain
from spoonfold.sheets.card import LAYOUT, card_name, card_size


@pytest.mark.parametrize("key", ["fruit-salad", "chickpea-stew", "turkey-kofta"])
def test_a_card_is_one_sheet_with_every_step(
    demo: Press, demo_card: Callable[[str], Printed], key: str
) -> None:
    """The shortest and the longest dishes of the demo fit on a front and a back."""
    card = demo.card(key, 4)
    made = demo_card(key)
    assert len(made.pages) <= LAYOUT.sides
    whole = "".join(made.pages)
    for step in card.sheet.steps:
        assert squeezed(plain(step.text)) in whole
        for caution in step.cautions:
            page = next(text for text in made.pages if squeezed(plain(step.text)) in text)
            assert squeezed(caution.title + caution.text) in page
    for line in card.sheet.lines:
        assert squeezed(line.sizes[0].text + line.names[0]) in whole


def test_short_dishes_are_printed_larger(
    demo_card: Callable[[str], Printed], small: Callable[..., Press]
) -> None:
    """The first size that fits is kept, so a short card has larger letters than a long one."""
    import pypdfium2

    def lines(pdf: object) -> float:
        assert isinstance(pdf, bytes)
        page = pypdfium2.PdfDocument(pdf)[0].get_textpage()
        _, bottom, _, top = page.get_charbox(page.search("Allergens").get_next()[0])
        return float(top - bottom)

    assert lines(small().print_card("rice", 4)) > lines(demo_card("chickpea-stew").pdf)


def test_cards_are_for_the_middle_household() -> None:
    """The middle of the sizes in order; of two in the middle, the smaller."""
    assert card_size((6, 2, 4)) == 4
    assert card_size((2, 4, 5, 6)) == 4
    assert card_size((3,)) == 3


def test_the_file_says_what_is_in_it() -> None:
    """Dish, language and household size stand in the name."""
    assert card_name("rice", "en", 4) == "card-rice-en-4.pdf"
