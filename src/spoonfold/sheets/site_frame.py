"""What stands round every page of the site: the class, the way about, the other languages."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from spoonfold.language.cldr import own_name
from spoonfold.language.texts import Texts, direction_of
from spoonfold.model.classroom import Classroom
from spoonfold.model.folder import ClassFolder
from spoonfold.sheets.address import site_folder
from spoonfold.sheets.booklet import booklet_name


@dataclass(frozen=True, slots=True)
class Tongue:
    """The site in one language."""

    language: str
    direction: str
    name: str
    """In that language: `Español`."""
    folder: str
    """Where its pages lie, from the site's top: empty or `es/`."""


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands round every page."""

    class_name: str
    location: str
    language: str
    direction: str
    root: str
    """The way back to the site's top: empty or `../`. Looks, pictures and booklets lie there."""
    home: str
    """The way back to the front page of this language."""
    tongues: tuple[Tongue, ...]
    """Every language of the site, this one too; empty where there is one alone."""
    booklets: tuple[tuple[str, str], ...]
    """File and label of each booklet."""
    has_words: bool


def frame_of(
    folder: ClassFolder, classroom: Classroom, texts: Texts, home: str, booklets: Collection[str]
) -> Frame:
    """The frame of pages that have so far to go back to their front page."""
    files = tuple(
        (
            booklet_name(texts.language, people),
            texts.count("For 1 person", "For {number} people", people),
        )
        for people in classroom.households
        if booklet_name(texts.language, people) in booklets
    )
    own = site_folder(texts.language, classroom)
    return Frame(
        class_name=classroom.name,
        location=classroom.location,
        language=texts.language,
        direction=texts.direction,
        root=f"{home}../" if own else home,
        home=home,
        tongues=_tongues(classroom),
        booklets=files,
        has_words=bool(folder.words),
    )


def _tongues(classroom: Classroom) -> tuple[Tongue, ...]:
    if len(classroom.languages) == 1:
        return ()
    return tuple(
        Tongue(
            language,
            direction_of(language),
            _capital(own_name(language)),
            site_folder(language, classroom),
        )
        for language in classroom.languages
    )


def _capital(name: str) -> str:
    return name[:1].upper() + name[1:]
