"""Fixed texts in one language, out of the gettext catalogues in `layouts/messages/`.

English is the language of the sources: it needs no catalogue. Whatever a catalogue lacks
falls back to English.
"""

from __future__ import annotations

import gettext
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path

SOURCE_LANGUAGE = "en"
_RIGHT_TO_LEFT = frozenset({"ar", "fa", "he", "ur", "ps", "ckb", "yi", "dv", "sd", "ug"})


@dataclass(frozen=True, slots=True)
class Texts:
    """The fixed texts of one language."""

    language: str
    """A BCP 47 tag."""
    _catalogue: gettext.NullTranslations = field(default_factory=gettext.NullTranslations)

    @property
    def direction(self) -> str:
        """`ltr` or `rtl`."""
        return direction_of(self.language)

    @property
    def is_translated(self) -> bool:
        """Whether the fixed texts are in this language, and not in English for want of a
        catalogue."""
        return self.language == SOURCE_LANGUAGE or bool(self._catalogue.info())

    def has(self, message: str) -> bool:
        """Whether a fixed text is in this language."""
        return self.language == SOURCE_LANGUAGE or self.say(message) != message

    def say(self, message: str, **values: object) -> str:
        """A fixed text with its named blanks filled."""
        text = self._catalogue.gettext(message)
        if text == message:
            # A word that also has a plural (`cup`) stands in the catalogue with it.
            text = self._catalogue.ngettext(message, message, 1)
        return text.format(**values) if values else text

    def count(self, one: str, many: str, number: int, **values: object) -> str:
        """A fixed text for a whole number, in the plural that the language asks for."""
        return self._catalogue.ngettext(one, many, number).format(number=number, **values)


def direction_of(language: str) -> str:
    """`ltr` or `rtl`."""
    return "rtl" if language.split("-")[0] in _RIGHT_TO_LEFT else "ltr"


def load_texts(language: str, layouts: Path) -> Texts:
    """The texts of a language; English where there is no catalogue for it."""
    catalogue = layouts / "messages" / f"{language}.po"
    if language == SOURCE_LANGUAGE or not catalogue.is_file():
        return Texts(language)
    # Imported here: only a class with a second language pays for Babel.
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    with catalogue.open("rb") as file:
        messages = read_po(file, locale=language)
    compiled = BytesIO()
    write_mo(compiled, messages)
    compiled.seek(0)
    return Texts(language, gettext.GNUTranslations(compiled))
