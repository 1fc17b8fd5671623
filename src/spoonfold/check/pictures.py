"""Pictures lie inside the class folder and are told in words."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable, Iterator
from functools import lru_cache

from spoonfold.check.rule import Facts, Rule, error, warning
from spoonfold.model.prose import Inline, Link, Picture, Prose, inlines, leaves
from spoonfold.problem import Problem
from spoonfold.read.shape import nearest

_ON_THE_WEB = re.compile(r"[A-Za-z][A-Za-z0-9+.-]+:|//")
_DRIVE = re.compile(r"[A-Za-z]:")
PRIVATE = "content/private/"
KINDS = (".png", ".jpg", ".jpeg", ".webp", ".gif")
"""What browsers and the PDF writer can both show."""


@lru_cache(maxsize=1)
def pictures_of(facts: Facts) -> tuple[Picture, ...]:
    """Every picture that an author placed."""
    return tuple(_all(facts))


def _all(facts: Facts) -> Iterator[Picture]:
    folder = facts.folder
    for recipe in folder.recipes.values():
        yield from _in_prose(recipe.headnote)
        for step in recipe.steps:
            yield from _among(step.text)
        for prose in recipe.sections.values():
            yield from _in_prose(prose)
    for translation in folder.translations.values():
        yield from _in_prose(translation.headnote)
        for translated in translation.steps:
            yield from _among(translated.text)
        for _, prose in translation.sections:
            yield from _in_prose(prose)
    for lesson in folder.lessons.values():
        yield from _in_prose(lesson.body)
    for note in folder.after:
        yield from _in_prose((*note.for_families, *note.body))


def _in_prose(prose: Prose) -> Iterator[Picture]:
    yield from _among(tuple(inlines(prose)))


def _among(children: tuple[Inline, ...]) -> Iterator[Picture]:
    for leaf in leaves(children):
        if isinstance(leaf, Picture):
            yield leaf
        elif isinstance(leaf, Link):
            yield from _among(leaf.children)


def resolved(picture: Picture) -> str | None:
    """The picture's path relative to the class folder; None where it leads out of it."""
    written = picture.path.replace("\\", "/")
    if written.startswith("/") or _DRIVE.match(written):
        return None
    path = posixpath.normpath(posixpath.join(posixpath.dirname(picture.place.path), written))
    return None if path.startswith("../") or path == ".." else path


def _is_local(picture: Picture) -> bool:
    return _DRIVE.match(picture.path) is not None or not _ON_THE_WEB.match(picture.path)


def picture_on_web(facts: Facts) -> Iterator[Problem]:
    """A picture on somebody's web site."""
    for picture in pictures_of(facts):
        if not _is_local(picture):
            yield error(
                "picture-on-web",
                picture.place,
                "This picture is on the web. Nothing is fetched from there: the sheets must work "
                "without a connection.",
                f"![{picture.alt}](../pictures/{_name(picture)})",
            )


def picture_outside(facts: Facts) -> Iterator[Problem]:
    """A path that climbs out of the class folder."""
    for picture in pictures_of(facts):
        if _is_local(picture) and resolved(picture) is None:
            yield error(
                "picture-outside",
                picture.place,
                f"“{picture.path}” leads out of the class folder, where nobody else has it.",
                f"![{picture.alt}](../pictures/{_name(picture)})",
            )


def picture_private(facts: Facts) -> Iterator[Problem]:
    """A picture out of the folder that is never published."""
    for picture in pictures_of(facts):
        path = resolved(picture) if _is_local(picture) else None
        if path is not None and path.startswith(PRIVATE):
            yield error(
                "picture-private",
                picture.place,
                "This picture lies in content/private/, and nothing from there is ever published.",
                f"Move it to content/pictures/:\n![{picture.alt}](../pictures/{_name(picture)})",
            )


def picture_missing(facts: Facts) -> Iterator[Problem]:
    """No such file."""
    for picture in pictures_of(facts):
        path = resolved(picture) if _is_local(picture) else None
        if path is None or path.startswith(PRIVATE) or path in facts.folder.files:
            continue
        if path in facts.troubled:
            continue
        yield error(
            "picture-missing",
            picture.place,
            f"There is no file {path}.",
            _nearest_picture(picture, path, facts.folder.files),
        )


def _nearest_picture(picture: Picture, path: str, files: Iterable[str]) -> str:
    shown = {each.lower(): each for each in files if each.lower().endswith(KINDS)}
    close = nearest(path, shown)
    if close is None:
        return "Put the picture into content/pictures/ and check how its name is spelt."
    written = posixpath.relpath(shown[close], posixpath.dirname(picture.place.path))
    return f"![{picture.alt}]({written})"


def picture_kind(facts: Facts) -> Iterator[Problem]:
    """A file that browsers or the PDF writer can't show."""
    for picture in pictures_of(facts):
        path = resolved(picture) if _is_local(picture) else None
        if path in facts.folder.files and not str(path).lower().endswith(KINDS):
            yield error(
                "picture-kind",
                picture.place,
                f"“{picture.path}” isn't a kind of picture that can be printed.",
                "Save it as .jpg or .png.",
            )


def picture_without_words(facts: Facts) -> Iterator[Problem]:
    """No alternative text."""
    for picture in pictures_of(facts):
        if not picture.alt.strip():
            yield warning(
                "picture-without-words",
                picture.place,
                "Nobody who can't see this picture would learn what it shows.",
                f"![What the picture shows]({picture.path})",
            )


def _name(picture: Picture) -> str:
    return posixpath.basename(picture.path.replace("\\", "/")) or "name.jpg"


RULES = (
    Rule("picture-on-web", picture_on_web),
    Rule("picture-outside", picture_outside),
    Rule("picture-private", picture_private),
    Rule("picture-missing", picture_missing),
    Rule("picture-kind", picture_kind),
    Rule("picture-without-words", picture_without_words),
)
