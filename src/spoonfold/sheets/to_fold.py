"""Booklets to print, fold and staple, made of the pages of the finished ones."""

from __future__ import annotations

from collections.abc import Mapping

from spoonfold.language.texts import Texts
from spoonfold.sheets.booklet import Booklet, booklet_name
from spoonfold.sheets.folded import fold_slip, folded_name
from spoonfold.sheets.sheet import Joined, Piece, Sheet


def to_fold(book: Booklet, texts: Texts) -> Joined:
    """A booklet with two pages on each side of a sheet, and the slip that says how to fold it."""
    name = booklet_name(book.language, book.people)
    source, path = f"families/{name}", f"families/{folded_name(name)}"
    doing = f"Folding the booklet for {book.people} ({book.language})"

    def slip(pages: Mapping[str, int]) -> Sheet:
        value = fold_slip(book.class_name, book.for_whom, book.paper, pages[source], texts)
        return Sheet((path,), doing, "fold-slip.html", {"slip": value}, texts.language)

    known_by = repr((book.language, book.class_name, book.for_whom, book.paper))
    title = texts.say("How to fold this booklet")
    return Joined(
        path,
        doing,
        (Piece(source, ""),),
        known_by,
        title,
        slip,
        is_folded=True,
        is_rtl=book.direction == "rtl",
    )
