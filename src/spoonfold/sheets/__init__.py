"""The table of sheets: every part of a build, in the order in which they are made."""

from __future__ import annotations

from spoonfold.sheets import adults, families, pack, plate
from spoonfold.sheets.sheet import File, Joined, Part, Sheet, Tongue, Work, in_session
from spoonfold.sheets.worksheet.sheet import worksheets

SITE = "site"
"""A part that needs more than the class folder: which booklets lie beside it."""

PARTS = (
    Part("booklet", families.booklets, ("families/booklet-*", "site/booklets/booklet-*")),
    Part("large-print", families.large_print, ("families/large-print-*",)),
    Part("card", families.cards, ("families/card-*",)),
    Part("mini-book", families.mini_books, ("families/mini-book-*",)),
    Part("notice", families.notices, ("families/allergen-notice-*",)),
    Part("safety", adults.safety, ("class/safety-sheet-*",)),
    Part("shopping", adults.shopping, ("class/session-*/shopping*",)),
    Part("jobs", adults.jobs, in_session("jobs")),
    Part("prep", adults.prep, in_session("prep")),
    Part("season", adults.season, ("class/season-*", "class/season.ics", "families/our-season-*")),
    Part("table-cards", adults.table_cards, in_session("table-cards")),
    Part("home-labels", families.home_labels, in_session("home-labels")),
    Part("word-cards", adults.word_cards, in_session("word-cards")),
    Part("story-card", adults.story_cards, in_session("story-card")),
    Part("brief", adults.briefs, in_session("helper-brief")),
    Part("lesson-card", adults.lesson_cards, in_session("lesson-card")),
    Part("colours", plate.colours, ("class/colours-*",)),
    Part("packet", plate.packets, in_session("packet")),
    Part("worksheet", worksheets, in_session("worksheet")),
    Part("print-pack", pack.packs, in_session("print-pack")),
)

__all__ = ["PARTS", "SITE", "File", "Joined", "Part", "Sheet", "Tongue", "Work"]
