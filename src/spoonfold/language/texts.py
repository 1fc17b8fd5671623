"""Fixed texts in one language, out of the gettext catalogues in `layouts/messages/`.

English is the language of the sources: it needs no catalogue. Whatever a catalogue lacks falls
back to English, and says so to whoever prints it.
"""

from __future__ import annotations

import gettext
from dataclasses import dataclass, field
from functools import lru_cache
from io import BytesIO
from pathlib import Path

from spoonfold.model.translation import Foreign

SOURCE_LANGUAGE = "en"
_RIGHT_TO_LEFT = frozenset({"ar", "fa", "he", "ur", "ps", "ckb", "yi", "dv", "sd", "ug"})


class _Untranslated(gettext.NullTranslations):
    """English texts in place of those that a language lacks. Nothing in sight marks each one:
    where fixed texts aren't translated, few are."""

    def gettext(self, message: str) -> str:
        return Foreign(message, SOURCE_LANGUAGE, is_marked=False)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return Foreign(msgid1 if n == 1 else msgid2, SOURCE_LANGUAGE, is_marked=False)


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
        """Whether there are fixed texts in this language at all."""
        return self.language == SOURCE_LANGUAGE or isinstance(
            self._catalogue, gettext.GNUTranslations
        )

    def has(self, message: str) -> bool:
        """Whether a fixed text is in this language."""
        return not isinstance(self.say(message), Foreign)

    def say(self, message: str, **values: object) -> str:
        """A fixed text with its named blanks filled."""
        text = self._catalogue.gettext(message)
        if text == message:
            # A word that also has a plural (`cup`) stands in the catalogue with it.
            text = self._catalogue.ngettext(message, message, 1)
        return _filled(text, values) if values else text

    def count(self, one: str, many: str, number: int, **values: object) -> str:
        """A fixed text for a whole number, in the plural that the language asks for."""
        text = self._catalogue.ngettext(one, many, number)
        return _filled(text, {"number": number, **values})


def _filled(text: str, values: dict[str, object]) -> str:
    filled = text.format(**values)
    return text.changed(filled) if isinstance(text, Foreign) else filled


def direction_of(language: str) -> str:
    """`ltr` or `rtl`."""
    return "rtl" if language.split("-")[0] in _RIGHT_TO_LEFT else "ltr"


def load_texts(language: str, *layouts: Path) -> Texts:
    """The texts of a language, from the first of these folders of layouts that has them; a text
    that it lacks from the next. English where there is no catalogue at all."""
    catalogues = [
        data
        for folder in layouts
        if (data := _read(folder / "messages" / f"{language}.po")) is not None
    ]
    if not catalogues:
        return Texts(language) if language == SOURCE_LANGUAGE else Texts(language, _Untranslated())
    return Texts(language, _chained(tuple(catalogues), language))


def _read(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() else None


@lru_cache(maxsize=8)
def _chained(catalogues: tuple[bytes, ...], language: str) -> gettext.GNUTranslations:
    first, *others = (translations(each, language) for each in catalogues)
    for other in others:
        first.add_fallback(other)
    if language != SOURCE_LANGUAGE:
        first.add_fallback(_Untranslated())
    return first


def translations(catalogue: bytes, language: str) -> gettext.GNUTranslations:
    """A catalogue, compiled: that takes as long as a small class takes to be checked."""
    # Imported here: only a class with a second language pays for Babel.
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    compiled = BytesIO()
    write_mo(compiled, read_po(BytesIO(catalogue), locale=language))
    compiled.seek(0)
    return gettext.GNUTranslations(compiled)
