"""The shopping list as a table for a spreadsheet: one row for each thing to buy."""

from __future__ import annotations

from spoonfold.paper.shopping import Shopping

HEADINGS = (
    "session", "date", "section", "item", "needed", "look first", "if found buy", "buy",
    "price", "label must not name", "some brands contain", "notes", "bought", "paid", "brand",
    "label read",
)
"""The last four are blanks to fill in."""

_BLANKS = ("",) * 4


def shopping_table(sheet: Shopping) -> tuple[tuple[str, ...], ...]:
    """The headings and every row, as texts."""
    return (HEADINGS, *(
        (str(sheet.number), sheet.iso_date, section.title, row.name, row.need, row.look,
         row.if_found, row.buy, row.price, row.label, row.brands,
         " ".join(row.notes), *_BLANKS)
        for section in sheet.sections for row in section.rows))


def corner_table(sheet: Shopping) -> tuple[tuple[str, ...], ...]:
    """The same for a small shop."""
    return (("instead of", "item", "buy", "notes"), *(
        (row.instead_of, row.name, row.buy, "; ".join(row.notes)) for row in sheet.corner))
