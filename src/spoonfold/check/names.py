"""No child's name in anything that leaves the adults' room."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterator
from functools import lru_cache

from spoonfold.check.pictures import pictures_of, resolved
from spoonfold.check.rule import Facts, Rule, error, warning
from spoonfold.plan.people.names import NameSearch, name_search
from spoonfold.problem import Place, Problem
from spoonfold.read.files import PRIVATE, Source
from spoonfold.read.folder import CLASS_FILE
from spoonfold.read.header import header_nodes
from spoonfold.read.nodes import Mapping, Node, Scalar, Sequence

_FOR_ADULTS = "note"
"""What a session's note says stays on the adults' sheets."""
_TRANSLATED = re.compile(r"content/recipes/(?P<name>.+?)(?:\.(?P<language>[^./]+))?\.md")


def name_said(facts: Facts) -> Iterator[Problem]:
    """A child's name in what families or the world get. Says no name: it may be printed."""
    for place, is_sure in _said(facts):
        if is_sure:
            yield error(
                "name-said",
                place,
                "This says a name of the children's list, and it would leave the adults' room: the "
                "website and the families' sheets name no child."
                if place.line
                else "This file's name says a name of the children's list, and it would be "
                "published with it.",
                "Write “one child” instead, or nothing."
                if place.line
                else "Name the file by what it shows or tells.",
            )


def name_perhaps(facts: Facts) -> Iterator[Problem]:
    """What may be a child's name, or a word, a place, a month, an author. Says no name."""
    for place, is_sure in _said(facts):
        if not is_sure:
            yield warning(
                "name-perhaps",
                place,
                "This may say a name of the children's list, and it would leave the adults' room."
                if place.line
                else "This file's name may say a name of the children's list.",
                "If it means the child, write “one child” instead. If it is a word, it is fine: "
                "inside a sentence, in small letters, it isn't asked about."
                if place.line
                else "If it means the child, name the file by what it shows or tells.",
            )


@lru_cache(maxsize=1)
def _said(facts: Facts) -> tuple[tuple[Place, bool], ...]:
    return tuple(_all_said(facts))


def _all_said(facts: Facts) -> Iterator[tuple[Place, bool]]:
    if not facts.folder.children:
        return
    search = name_search(facts.folder)
    for path, text in facts.texts.items():
        if not path.startswith(PRIVATE):
            yield from _said_in(facts, search, path, text)
    shown = {resolved(picture) for picture in pictures_of(facts)}
    for path in sorted(facts.folder.files):
        if path in shown or (path in facts.texts and path.startswith(_PUBLISHED)):
            yield from ((Place(path), each.is_sure) for each in search.mentions(_stem(path)))


_PUBLISHED = ("content/recipes/", "content/lessons/")


def _stem(path: str) -> str:
    """The name of a file, its humps parted: `soupByAda` says three words."""
    stem = posixpath.splitext(posixpath.basename(path))[0]
    return re.sub(r"(?<=[^\W\d_A-Z])(?=[A-Z])", "-", stem)


def _said_in(
    facts: Facts, search: NameSearch, path: str, text: str
) -> Iterator[tuple[Place, bool]]:
    match = _TRANSLATED.fullmatch(path)
    recipe = facts.folder.recipes.get(match["name"]) if match else None
    listed: set[str] = set()
    if recipe is not None:
        named = [each.name for each in recipe.ingredients]
        language = (match and match["language"]) or ""
        translation = facts.folder.translations.get((recipe.key, language))
        named += [each.name for each in translation.ingredients] if translation else []
        listed = {word for name in named for word in re.findall(r"\w+", name.casefold())}
    for said in search.mentions(text, listed, (match and match["language"]) or ""):
        if not _stays(path, text, said.start):
            line = text.count("\n", 0, said.start) + 1
            column = said.start - text.rfind("\n", 0, said.start)
            yield Place(path, line, column), said.is_sure


def _stays(path: str, text: str, at: int) -> bool:
    """Whether it stands in a comment, or in what a session's note says to the adults."""
    header = header_nodes(Source(path, text))
    if header is None:
        return False
    node, end = header
    line = text.count("\n", 0, at) + 1
    if line > end:
        return False
    begin = text.rfind("\n", 0, at) + 1
    for comment in re.finditer(r"(?:^|(?<=\s))#", text[begin:at]):
        stop = text.find("\n", at)
        stop = len(text) if stop < 0 else stop
        without = text[: begin + comment.start()] + text[stop:]
        other = header_nodes(Source(path, without))
        if other is not None and other[0] == node:
            return True
    if path != CLASS_FILE:
        return False
    here = (line, at - begin + 1)
    before = [each for each in _values(node, "") if each[0] <= here]
    return bool(before) and max(before)[1] == _FOR_ADULTS


def _values(node: Node, key: str) -> Iterator[tuple[tuple[int, int], str]]:
    """Where each key and value begins, and under which key it stands."""
    match node:
        case Mapping():
            for name, value in node.entries.items():
                where = node.keys[name]
                yield (where.line, where.column), ""
                yield from _values(value, name)
        case Sequence():
            for value in node.items:
                yield from _values(value, key)
        case Scalar():
            yield (node.place.line, node.place.column), key


RULES = (Rule("name-said", name_said), Rule("name-perhaps", name_perhaps))
