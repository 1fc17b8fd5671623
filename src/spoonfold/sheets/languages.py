"""Whether a language of the class can be printed, and whether its fixed texts are there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from spoonfold.check.translation import without_font, without_texts
from spoonfold.language.cldr import own_name
from spoonfold.press.pdf import NoPdf, Printer
from spoonfold.problem import Problem
from spoonfold.sheets.sheet import Tongue


def unprintable(tongues: Sequence[Tongue], printer: Printer | NoPdf | None) -> Iterator[Problem]:
    """Languages whose own name can't be printed: told before any page is laid out."""
    if not isinstance(printer, Printer):
        return
    for tongue in tongues:
        name = own_name(tongue.texts.language)
        if printer.lacks(name):
            yield without_font(tongue.texts.language, name)


def half_told(tongues: Sequence[Tongue]) -> Iterator[Problem]:
    """Languages that the fixed texts aren't translated into."""
    for tongue in tongues:
        if not tongue.texts.is_translated:
            yield without_texts(tongue.texts.language)
