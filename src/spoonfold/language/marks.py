"""What a sheet says of its own language: what isn't translated, what nobody has read yet."""

from __future__ import annotations

from spoonfold.language.cldr import language_name
from spoonfold.language.texts import Texts


def language_mark(language: str, texts: Texts) -> str:
    """`in English`, for a part in another language than the sheet's; else empty."""
    if not language or language == texts.language:
        return ""
    return texts.say("in {language}", language=language_name(language, texts.language))


def draft_mark(is_draft: bool, texts: Texts) -> str:
    """That no fluent speaker has read the translation; else empty."""
    return texts.say("Draft: to be read by a fluent speaker.") if is_draft else ""


def beside_original(word: str, is_draft: bool, texts: Texts) -> str:
    """A word of a food label; with its original beside it where the sheet is a draft: `leche
    (milk)`. A family compares it with a label, and a mistake there can hurt."""
    said = texts.say(word)
    return f"{said} ({word})" if is_draft and said != word else said
