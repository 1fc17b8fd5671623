"""Taught words and skills in another language, with what nobody has translated marked."""

from __future__ import annotations

from dataclasses import replace

from spoonfold.model.foreign import Foreign
from spoonfold.model.teaching import Skill, Word


def word_in(word: Word, original: str, language: str) -> Word:
    """A taught word and its explanation in another language."""
    other = word.translations.get(language)
    if other is None:
        return replace(
            word,
            term=Foreign(word.term, original),
            meaning=Foreign(word.meaning, original),
            origin=_own(word.origin, original),
        )
    if other.term is None:
        return replace(
            word,
            term=Foreign(word.term, original),
            meaning=other.meaning or Foreign(word.meaning, original),
            origin=other.origin or _own(word.origin, original),
        )
    # Another word sounds otherwise and comes from elsewhere.
    return replace(
        word,
        term=other.term,
        meaning=other.meaning or Foreign(word.meaning, original),
        say=other.say,
        origin=other.origin,
        forms=other.forms,
    )


def skill_in(skill: Skill, original: str, language: str) -> Skill:
    """A skill and how it is done in another language."""
    other = skill.translations.get(language)
    return replace(
        skill,
        name=(other.name if other else None) or Foreign(skill.name, original),
        how=(other.how if other else None) or Foreign(skill.how, original),
        caution=(other.caution if other else None) or _own(skill.caution, original),
        short=(other.short if other else None) or _own(skill.short, original),
    )


def _own(text: str | None, original: str) -> str | None:
    return Foreign(text, original) if text else None
