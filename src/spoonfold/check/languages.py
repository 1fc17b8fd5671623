"""What only a build can tell of a language: whether its letters and fixed texts are there."""

from __future__ import annotations

from spoonfold.check.rule import advice, error
from spoonfold.problem import Place, Problem
from spoonfold.read.folder import CLASS_FILE


def without_font(language: str, name: str) -> Problem:
    """No font has the letters of this language, whose own name is given."""
    return error(
        "language-without-font",
        Place(CLASS_FILE),
        f"The fonts here have no letters for “{language}” ({name}).",
        "Put a font of that script into layouts/fonts/ and name it in layouts/look/, or leave the "
        "language out of `languages`.",
    )


def without_texts(language: str) -> Problem:
    """The fixed texts aren't translated into this language."""
    return advice(
        "fixed-texts-untranslated",
        Place(CLASS_FILE),
        f"What every sheet says alike isn't translated into “{language}”: headings, cautions and "
        "the names of allergens are in English there.",
        "Give such a sheet together with the English one, and read it aloud with someone who "
        "speaks both.",
    )
