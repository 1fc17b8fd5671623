"""Finished PDFs joined and folded, tags and all. The only room that knows pikepdf."""

from __future__ import annotations

from spoonfold.press.fold.imposing import mini_book, saddle_stitched
from spoonfold.press.fold.joining import Part, joined, page_count, slipped

__all__ = ["Part", "joined", "mini_book", "page_count", "saddle_stitched", "slipped"]
