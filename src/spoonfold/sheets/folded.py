"""Booklets to print, fold and staple, made of the pages of the finished ones."""

from __future__ import annotations

from collections.abc import Mapping

from spoonfold.language.texts import Texts
from spoonfold.paper.booklet import Booklet, booklet_name
from spoonfold.paper.folded import fold_slip, folded_name
from spoonfold.press.fold import page_count, saddle_stitched, slipped
from spoonfold.sheets.sheet import Joined, Sheet


def to_fold(book: Booklet, texts: Texts) -> Joined:
    """A booklet with two pages on each side of a sheet, and the slip that says how to fold it."""
    name = booklet_name(book.language, book.people)
    source, path = f"families/{name}", f"families/{folded_name(name)}"
    doing = f"Folding the booklet for {book.people} ({book.language})"

    def slip(found: Mapping[str, bytes]) -> Sheet:
        pages = page_count(found[source])
        value = fold_slip(book.class_name, book.for_whom, book.paper, pages, texts)
        return Sheet((path,), doing, "fold-slip.html", {"slip": value}, texts.language)

    def join(printed: bytes, found: Mapping[str, bytes]) -> bytes:
        return slipped(
            texts.say("How to fold this booklet"),
            printed,
            saddle_stitched(found[source], book.direction == "rtl"),
        )

    known_by = repr((book.language, book.class_name, book.for_whom, book.paper))
    return Joined(path, doing, (source,), known_by, slip, join)
