"""The booklet in large print: the same words and scoops, on whole sheets.

At least 18 points and an inch of margin, one column, ragged lines half as far again apart, no
slanted type (ADCET and Round Table guidelines; UKAAF G003, 2019; RNIB). The look is in
`layouts/look/paper.css`.
"""

from __future__ import annotations

from collections.abc import Iterator

from spoonfold.sheets.booklet import booklet_of
from spoonfold.sheets.card import card_size
from spoonfold.sheets.sheet import BuildContext, Layout, Part, Sheet

LEAST_POINTS = 18
"""No letter is smaller."""


def large_print_name(language: str, people: int) -> str:
    """The file of the booklet in large print."""
    return f"large-print-booklet-{language}-{people}.pdf"


def made(context: BuildContext) -> Iterator[Sheet]:
    """One for each language, at the middle household size: large sheets are many."""
    people = card_size(context.households)
    for edition in context.editions:
        book = booklet_of(edition.folder, context.classroom, edition.uses, people, edition.texts)
        yield Sheet(
            (f"families/{large_print_name(book.language, people)}",),
            f"Printing the booklet in large print ({book.language})",
            LAYOUT,
            {"book": book},
            edition.texts.language,
        )


LAYOUT = Layout("large-print.html")

PART = Part(made, ("families/large-print-*",))
