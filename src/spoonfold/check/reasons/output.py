"""Reasons for what only printing can tell."""

from __future__ import annotations

OUTPUT = {
    "sheet-overflows": "A lesson card is one sheet with two sides, and so is a table card: it is held in one "
    "hand, and lies on a wet table. Smaller type than the smallest couldn't be read there, so "
    "what is longer takes a second sheet, which is left at the copier. The print pack counts "
    "it, but shorter words teach better.",
    "no-mini-book": "The small book is folded from one side of one sheet. Every caution stands in it in full, "
    "and a child reads it at arm's length, so a dish with many steps isn't squeezed in.",
    "language-without-font": "A printer that lacks a letter draws an empty box, or takes any font that it finds. On a "
    "sheet that names allergens and amounts nothing may be missing, so a language is printed "
    "only where a font has its letters.",
    "fixed-texts-untranslated": "Headings, cautions and allergens are the same on every sheet, and Spoonfold brings them "
    "in some languages alone. A family that can't read English would miss exactly the words "
    "that keep a child safe.",
}
