"""The sheets that there are, by who they are for, and what tells that they have changed."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from spoonfold.press.memo import Memo, digest_of

SITE = "site"
_BOOKLETS = "site/booklets/"
_SESSION = re.compile(r"class/session-0*([0-9]+)/(.+)")
_SHORT = 16
"""Signs of a digest: enough to tell two versions of one file apart."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One file to look at."""

    name: str
    """In words, from the file's own name."""
    path: str
    """Below the output."""


@dataclass(frozen=True, slots=True)
class Group:
    """Sheets that belong together."""

    title: str
    is_private: bool
    """Whether it is for the adults of the class alone."""
    entries: tuple[Entry, ...]


def groups_of(memo: Memo, languages: Collection[str]) -> tuple[Group, ...]:
    """What families get, what is for the whole season, and each session's sheets; the language
    is named where the class has several."""
    families, season = [], []
    sessions: dict[int, list[Entry]] = {}
    for path in sorted(memo.files, key=_order):
        top, _, rest = path.partition("/")
        session = _SESSION.fullmatch(path)
        if session:
            sessions.setdefault(int(session[1]), []).append(
                Entry(_name(session[2], languages), path)
            )
        elif top == "families":
            families.append(Entry(_name(rest, languages), path))
        elif top == "class":
            season.append(Entry(_name(rest, languages), path))
    groups = (
        Group("For families", False, tuple(families)),
        Group("The whole season", True, tuple(season)),
        *(Group(f"Session {number}", True, tuple(sessions[number])) for number in sorted(sessions)),
    )
    return tuple(group for group in groups if group.entries)


def revisions_of(memo: Memo) -> Mapping[str, str]:
    """A mark for each sheet, and one for all pages of the site, that is another once it has
    changed: pages share their stylesheets and pictures."""
    pages = [
        piece
        for path in sorted(memo.files)
        if _is_page(path)
        for piece in (path, memo.files[path].digest)
    ]
    marks = {
        path: record.digest[:_SHORT] for path, record in memo.files.items() if not _is_page(path)
    }
    return {**marks, SITE: digest_of(*pages)[:_SHORT]} if pages else marks


def _is_page(path: str) -> bool:
    return path.startswith("site/") and not path.startswith(_BOOKLETS)


def _order(path: str) -> tuple[bool, list[tuple[int, str]]]:
    """What is printed comes first; a booklet for ten people comes after the one for two."""
    return not path.endswith(".pdf"), [
        (int(part), "") if part.isdecimal() else (-1, part)
        for part in re.split(r"([0-9]+|[-/.])", path)
        if part not in ("", "-")
    ]


def _name(file: str, languages: Collection[str]) -> str:
    """`helper-brief-en.pdf` as `Helper brief`; other kinds of file with their kind."""
    stem, _, kind = file.rpartition(".")
    words = re.split(r"[-/_]+", stem)
    found = [word for word in words if word in languages]
    rest = " ".join(word for word in words if word not in languages)
    notes = [*(found if len(languages) > 1 else []), *([kind] if kind != "pdf" else [])]
    return " ".join([rest[:1].upper() + rest[1:], *(f"({note})" for note in notes)])
