"""`words.yaml`, `skills.yaml`, lessons, and the notes after a session."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeVar

from spoonfold.model.teaching import After, Lesson, Skill, Word
from spoonfold.problem import Place
from spoonfold.quantity.duration import read_minutes
from spoonfold.read.files import Source
from spoonfold.read.header import split_header
from spoonfold.read.markdown import read_prose
from spoonfold.read.nodes import Mapping, node_from_yaml, shorten
from spoonfold.read.shape import (
    Day,
    Found,
    Key,
    Line,
    ListOf,
    MapOf,
    Named,
    Parsed,
    Record,
    Whole,
    YesNo,
    add,
    entries_of,
)

_TEXTS = ListOf(Line("a few words"), or_one=True)

WORD = Record(
    (
        Key("say", Line("how it is said"), "how it is said, in plain letters"),
        Key("meaning", Line("what it means"), "what it means", True, "to cook just below the boil"),
        Key("from", Line("where the word comes from"), "where the word comes from"),
        Key("forms", _TEXTS, "its other forms"),
    ),
    "a word",
)
SKILL = Record(
    (
        Key("how", Line("how it is done"), "how it is done", True, "Curl the fingers under."),
        Key("caution", Line("what to watch"), "what to watch"),
        Key("short", Line("a reminder"), "the one-line reminder"),
        Key("after", ListOf(Named("a skill"), or_one=True), "skills that come first"),
        Key("by the piece", YesNo(), "whether each piece takes its time"),
    ),
    "a skill",
)
LESSON = Record(
    (
        Key("title", Line("the lesson's title"), "the lesson's title", True,
            "Soften, boil, simmer"),
        Key("minutes", Whole(1, 120, "minutes"), "how long it takes"),
        Key("aims", _TEXTS, "what the children learn"),
        Key("sources", _TEXTS, "where its facts are from"),
    ),
    "a lesson's header",
)
AFTER = Record(
    (
        Key("session", Whole(1, 200, "a session's number"), "which session", True, "1"),
        Key("date", Day(), "its date"),
        Key("came", Whole(0, 500, "how many came"), "how many came"),
        Key("minutes", MapOf(Parsed(read_minutes, "minutes, such as 12 min")), "real minutes"),
        Key("keep", _TEXTS, "what worked"),
        Key("change", _TEXTS, "what to change"),
    ),
    "the notes after a session",
)

T = TypeVar("T")


def _entries(
    source: Source, record: Record, found: Found, make: Callable[[str, dict[str, Any], Place], T]
) -> dict[str, T]:
    """A file of named entries, each made into a value; what could be read is kept."""
    node = node_from_yaml(source.text, source.path, found)
    mapping = None if node is None else entries_of(node, found)
    made: dict[str, T] = {}
    needed = {key.name for key in record.keys if key.required}
    seen: dict[str, Place] = {}
    for name, entry in (mapping or Mapping(Place(source.path))).entries.items():
        place = mapping.keys[name] if mapping else entry.place
        first = seen.setdefault(name.casefold(), place)
        if first is not place:
            add(found, "entry-twice", place,
                f"“{shorten(name)}” is already explained on line {first.line}.", "Keep one.")
            continue
        values = record.read(entry, found)
        if values is not None and needed <= values.keys():
            made[name] = make(name, values, place)
    return made


def read_words(source: Source, found: Found) -> dict[str, Word]:
    """Every word of `words.yaml`."""
    return _entries(source, WORD, found, lambda term, v, place: Word(
        term, v["meaning"], v.get("say"), v.get("from"), v.get("forms", ()), place))


def read_skills(source: Source, found: Found) -> dict[str, Skill]:
    """Every skill of `skills.yaml`."""
    return _entries(source, SKILL, found, lambda name, v, place: Skill(
        name, v["how"], v.get("caution"), v.get("short"), v.get("after", ()),
        v.get("by the piece", False), place))


@dataclass(frozen=True, slots=True)
class _Page:
    values: dict[str, Any]
    body: Any


def _page(source: Source, record: Record, found: Found) -> _Page | None:
    """A Markdown file with a header, or None where its header can't be used."""
    split = split_header(source, found)
    values = None if split is None else record.read(split.header, found)
    if split is None or values is None:
        return None
    if any(key.required and key.name not in values for key in record.keys):
        return None
    return _Page(values, read_prose(split.body, source.path, split.body_line, found))


def read_lesson(source: Source, key: str, found: Found) -> Lesson | None:
    """One lesson."""
    page = _page(source, LESSON, found)
    if page is None:
        return None
    values = page.values
    return Lesson(key, values["title"], values.get("minutes"), values.get("aims", ()),
                  values.get("sources", ()), page.body, Place(source.path, 1))


def read_after(source: Source, found: Found) -> After | None:
    """The notes after one session."""
    page = _page(source, AFTER, found)
    if page is None:
        return None
    values = page.values
    return After(values["session"], values.get("date"), values.get("came"),
                 values.get("minutes", {}), values.get("keep", ()), values.get("change", ()),
                 page.body, Place(source.path, 1))
