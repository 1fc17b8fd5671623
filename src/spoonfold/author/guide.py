"""The guide for the author, by its headings."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Chapter:
    """What stands under one heading."""

    title: str
    """Its heading, as plain words."""
    text: str
    """As Markdown."""


def guide_text() -> str:
    """The whole guide, as Markdown."""
    return _shipped("guide.md")


def changes_text() -> str:
    """What changed in each version, as Markdown."""
    return _shipped("changes.md")


def _shipped(name: str) -> str:
    return (files("spoonfold") / "author" / name).read_text("utf-8")


def chapters() -> tuple[Chapter, ...]:
    """Every chapter of the guide, in order; the last is what changed in each version."""
    return (*_under("## ", guide_text()), *_under("## ", _lowered(changes_text())))


def _lowered(text: str) -> str:
    """The same with each heading one level lower, so that a text of its own becomes a chapter."""
    return re.sub(r"^(?=#+ )", "#", text, flags=re.MULTILINE)


def sections(chapter: Chapter) -> tuple[Chapter, ...]:
    """The parts of a chapter that have a heading of their own."""
    return tuple(_under("### ", chapter.text))


def _under(mark: str, text: str) -> Iterator[Chapter]:
    title, lines, is_example = None, list[str](), False
    for line in text.split("\n"):
        is_example ^= line.startswith("```")
        if line.startswith(mark) and not is_example:
            if title is not None:
                yield Chapter(title, "\n".join(lines).strip())
            title, lines = line.removeprefix(mark).replace("`", "").strip(), []
        else:
            lines.append(line)
    if title is not None:
        yield Chapter(title, "\n".join(lines).strip())


_ARTICLE = re.compile(r"^(a|an|the) ")


def chapters_about(words: str) -> tuple[Chapter, ...]:
    """What the guide has under a heading with these words: chapters, or else parts of them.

    A heading that begins with the words, but for an article, goes before one that has them
    whole, and that before one that only holds their letters.
    """
    wanted = " ".join(words.casefold().split())
    whole = re.compile(rf"(?<!\w){re.escape(wanted)}(?!\w)")
    ways: tuple[Callable[[str], bool], ...] = (
        lambda title: any(whole.match(each) for each in (title, _ARTICLE.sub("", title))),
        lambda title: whole.search(title) is not None,
        lambda title: wanted in title,
    )
    everything = chapters()
    for level in (everything, tuple(part for each in everything for part in sections(each))):
        for way in ways:
            found = tuple(each for each in level if way(each.title.casefold()))
            if found:
                return found
    return ()


def parts_that_say(words: str) -> tuple[Chapter, ...]:
    """The parts of chapters, and the chapters without parts, whose text has these words."""
    said = re.compile(rf"(?<!\w){re.escape(' '.join(words.split()))}(?!\w)", re.IGNORECASE)
    return tuple(
        part for each in chapters() for part in sections(each) or (each,) if said.search(part.text)
    )
