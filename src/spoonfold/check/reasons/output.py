"""Reasons for what only printing can tell."""

from __future__ import annotations

OUTPUT = {
    "sheet-overflows":
        "A lesson card is one sheet with two sides, and so is a table card: it is held in one "
        "hand, and lies on a wet table. Smaller type than the smallest couldn't be read there, so "
        "what is longer takes a second sheet, which is left at the copier. The print pack counts "
        "it, but shorter words teach better.",
}
