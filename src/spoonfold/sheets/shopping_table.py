"""The shopping list as a table for a spreadsheet: one row for each thing to buy."""

from __future__ import annotations

from collections.abc import Iterable

from spoonfold.sheets.shopping import Shopping

HEADINGS = (
    "session",
    "date",
    "section",
    "item",
    "needed",
    "look first",
    "if found buy",
    "buy",
    "price",
    "label must not name",
    "some brands contain",
    "notes",
    "bought",
    "paid",
    "brand",
    "label read",
)
"""The last four are blanks to fill in."""

CORNER_HEADINGS = ("session", "date", "instead of", "item", "buy", "notes")

_BLANKS = ("",) * 4


def shopping_table(sheets: Iterable[Shopping]) -> tuple[tuple[str, ...], ...]:
    """The headings and every row, as texts."""
    return (
        HEADINGS,
        *(
            (
                str(sheet.number),
                sheet.iso_date,
                section.title,
                row.name,
                row.need,
                row.look,
                row.if_found,
                row.buy,
                row.price,
                row.label,
                row.brands,
                " ".join(row.notes),
                *_BLANKS,
            )
            for sheet in sheets
            for section in sheet.sections
            for row in section.rows
        ),
    )


def corner_table(sheets: Iterable[Shopping]) -> tuple[tuple[str, ...], ...]:
    """The same for a small shop."""
    return (
        CORNER_HEADINGS,
        *(
            (
                str(sheet.number),
                sheet.iso_date,
                row.instead_of,
                row.name,
                row.buy,
                "; ".join(row.notes),
            )
            for sheet in sheets
            for row in sheet.corner
        ),
    )
