"""`words.yaml`, `skills.yaml`, lessons, and the notes after a session."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any, TypeVar

from spoonfold.model.classroom import Session
from spoonfold.model.teaching import After, Lesson, Skill, TranslatedSkill, TranslatedWord, Word
from spoonfold.problem import Place
from spoonfold.quantity.duration import read_minutes
from spoonfold.quantity.refusal import Refusal
from spoonfold.read.files import Source
from spoonfold.read.grammar import read_price
from spoonfold.read.header import FENCE, Split, split_header
from spoonfold.read.markdown import read_prose, read_sections
from spoonfold.read.nodes import Mapping, Node, node_from_yaml, shorten
from spoonfold.read.record import Key, ListOf, MapOf, Record, entries_of
from spoonfold.read.shape import Day, Found, Line, Named, Parsed, Whole, YesNo, add

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
TRANSLATED_WORD = Record(
    (
        Key("term", Line("the word"), "the word in that language"),
        *WORD.keys[:1],
        Key("meaning", Line("what it means"), "what it means"),
        *WORD.keys[2:],
    ),
    "a word in another language",
)
TRANSLATED_SKILL = Record(
    (
        Key("name", Line("the skill's name"), "its name in that language"),
        Key("how", Line("how it is done"), "how it is done"),
        *SKILL.keys[1:3],
    ),
    "a skill in another language",
)
LESSON = Record(
    (
        Key(
            "title", Line("the lesson's title"), "the lesson's title", True, "Soften, boil, simmer"
        ),
        Key("minutes", Whole(1, 120, "minutes"), "how long it takes"),
        Key("aims", _TEXTS, "what the children learn"),
        Key("sources", _TEXTS, "where its facts are from"),
    ),
    "a lesson's header",
)


def _votes(text: str) -> tuple[int, int] | Refusal:
    """`9 of 10`."""
    found = re.fullmatch(r"([0-9]{1,3}) *(?:of|/|out of) *([0-9]{1,3})", text)
    if found is None:
        return Refusal("not-votes", f"“{text}” should say how many of how many.", 0, "9 of 10")
    yes, of = int(found[1]), int(found[2])
    if yes > of:
        return Refusal("not-votes", f"{yes} can't say yes where {of} vote.", 0, f"{of} of {yes}")
    return yes, of


AFTER = Record(
    (
        Key("date", Day(), "when it really was"),
        Key("dishes", ListOf(Named("a recipe"), or_one=True), "what was cooked"),
        Key("came", Whole(0, 500, "how many came"), "how many came"),
        Key("minutes", MapOf(Parsed(read_minutes, "minutes, such as 12 min")), "real minutes"),
        Key("keep", _TEXTS, "what worked"),
        Key("change", _TEXTS, "what to change"),
        Key("spent", Parsed(read_price, "money"), "what the food cost"),
        Key("helpers", Whole(0, 60, "how many came"), "adults who came besides the lead cook"),
        Key("votes", MapOf(Parsed(_votes, "votes, such as 9 of 10")), "who would eat it again"),
        Key("quotes", _TEXTS, "what was said, for the report"),
        Key("session", Whole(1, 200, "a session's number"), "which session; the day says it too"),
    ),
    "the notes after a session",
)
FOR_FAMILIES = "for families"
"""The heading of what families may read of a note."""

# Shaped like the tag of a language (BCP 47): `es`, `pt-BR`.
_LANGUAGE = re.compile(r"[a-z]{2,3}(-\w+)*")

T = TypeVar("T")
Values = dict[str, Any]


@dataclass(frozen=True, slots=True)
class _Entry:
    """What stands under one name: its own values, and those in other languages."""

    name: str
    values: Values
    others: dict[str, tuple[Values, Place]]
    place: Place


def _entry(
    name: str, node: Node, place: Place, own: Record, other: Record, found: Found
) -> _Entry | None:
    """Keys that name a language hold the same once more, in that language."""
    others: dict[str, tuple[Values, Place]] = {}
    if isinstance(node, Mapping):
        known = {key.name for key in own.keys}
        languages = [
            key
            for key, value in node.entries.items()
            if key not in known and isinstance(value, Mapping) and _LANGUAGE.fullmatch(key)
        ]
        for language in languages:
            values = other.read(node.entries[language], found)
            if values is not None:
                others[language] = values, node.keys[language]
        node = Mapping(
            node.place,
            {key: value for key, value in node.entries.items() if key not in languages},
            {key: where for key, where in node.keys.items() if key not in languages},
        )
    values = own.read(node, found)
    needed = {key.name for key in own.keys if key.required}
    if values is None or not needed <= values.keys():
        return None
    return _Entry(name, values, others, place)


def _entries(
    source: Source, own: Record, other: Record, found: Found, make: Callable[[_Entry], T]
) -> dict[str, T]:
    """A file of named entries, each made into a value; what could be read is kept."""
    node = node_from_yaml(source.text, source.path, found)
    mapping = None if node is None else entries_of(node, found)
    made: dict[str, T] = {}
    seen: dict[str, Place] = {}
    for name, node in (mapping or Mapping(Place(source.path))).entries.items():
        place = mapping.keys[name] if mapping else node.place
        first = seen.setdefault(name.casefold(), place)
        if first is not place:
            add(
                found,
                "entry-twice",
                place,
                f"“{shorten(name)}” is already explained on line {first.line}.",
                "Keep one.",
            )
            continue
        entry = _entry(name, node, place, own, other, found)
        if entry is not None:
            made[name] = make(entry)
    return made


def read_words(source: Source, found: Found) -> dict[str, Word]:
    """Every word of `words.yaml`."""
    return _entries(source, WORD, TRANSLATED_WORD, found, _word)


def _word(entry: _Entry) -> Word:
    v = entry.values
    return Word(
        entry.name,
        v["meaning"],
        v.get("say"),
        v.get("from"),
        v.get("forms", ()),
        entry.place,
        translations={
            language: TranslatedWord(
                o.get("term"),
                o.get("meaning"),
                o.get("say"),
                o.get("from"),
                o.get("forms", ()),
                place,
            )
            for language, (o, place) in entry.others.items()
        },
    )


def read_skills(source: Source, found: Found) -> dict[str, Skill]:
    """Every skill of `skills.yaml`."""
    return _entries(source, SKILL, TRANSLATED_SKILL, found, _skill)


def _skill(entry: _Entry) -> Skill:
    v = entry.values
    return Skill(
        entry.name,
        v["how"],
        v.get("caution"),
        v.get("short"),
        v.get("after", ()),
        v.get("by the piece", False),
        entry.place,
        translations={
            language: TranslatedSkill(
                o.get("name"), o.get("how"), o.get("caution"), o.get("short"), place
            )
            for language, (o, place) in entry.others.items()
        },
    )


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
    return Lesson(
        key,
        values["title"],
        values.get("minutes"),
        values.get("aims", ()),
        values.get("sources", ()),
        page.body,
        Place(source.path, 1),
    )


def read_after(source: Source, name: str, found: Found) -> After | None:
    """The notes after one day, not yet matched to its session. `name`: what the file is called,
    a day or, as it was until version 0.2, the number of a session."""
    # What is only told needs no header.
    is_told = bool(source.text.strip()) and not source.text.startswith(FENCE)
    top = Mapping(Place(source.path, 1), {}, {})
    split = Split(top, source.text, 1) if is_told else split_header(source, found)
    values = None if split is None else AFTER.read(split.header, found)
    if split is None or values is None:
        return None
    number, named = values.get("session"), None
    if name.isdecimal():
        number = number or int(name)
    else:
        named = _day_of(name)
        if named is None:
            add(
                found,
                "not-a-date",
                Place(source.path),
                f"The name of this file, “{name}”, isn't a date of the calendar.",
                "Name it by year, month and day: 2027-09-18.md.",
            )
            return None
    sections = read_sections(split.body, source.path, split.body_line, found)
    told = [each for each in sections[1:] if each.title.casefold() == FOR_FAMILIES]
    rest = [each for each in sections if each not in told]
    return After(
        date=values.get("date", named),
        session=None,
        dishes=values.get("dishes", ()),
        came=values.get("came"),
        minutes=values.get("minutes", {}),
        keep=values.get("keep", ()),
        change=values.get("change", ()),
        for_families=tuple(block for each in told for block in each.blocks),
        body=tuple(block for each in rest for block in each.blocks),
        place=Place(source.path, 1),
        spent=values.get("spent"),
        helpers=values.get("helpers"),
        votes=values.get("votes", {}),
        quotes=values.get("quotes", ()),
        number=number,
        named=named,
    )


def _day_of(name: str) -> datetime.date | None:
    try:
        return datetime.date.fromisoformat(name)
    except ValueError:
        return None


def with_session(note: After, sessions: Sequence[Session]) -> After:
    """The note with the session that it is about: the one of its day; where only a number names
    it, that one, unless its date is before the season began."""
    by_day = {each.date: each for each in sessions}
    own = by_day.get(note.named) if note.named is not None else None
    in_season = note.date is None or not sessions or note.date >= sessions[0].date
    if note.named is None and in_season:
        own = next((each for each in sessions if each.number == note.number), None)
    if own is None and note.date is not None:
        own = by_day.get(note.date)
    if own is None:
        return note
    return replace(note, session=own.number, date=note.date or own.date)
