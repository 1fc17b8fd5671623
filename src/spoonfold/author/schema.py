"""JSON Schemas of everything that an author writes, for her editor.

Published source of the form: JSON Schema, draft 2020-12 (json-schema.org). Every schema is made
from the tables by which her files are read, so that none can say something else than they do.

The schemas as files in a folder; over older ones of their kind, never over anything else."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from spoonfold.author.written import Refused, Written, write_new, write_over
from spoonfold.problem import Place
from spoonfold.read import classroom, pantry, recipe, teaching, translation
from spoonfold.read.nodes import Mapping, Node, Scalar, Sequence, node_from_yaml
from spoonfold.read.record import Key, ListOf, MapOf, Record
from spoonfold.read.setting import AtTables
from spoonfold.read.shape import Choice, Day, Found, Line, Named, Parsed, Shape, Whole, YesNo

DIALECT = "https://json-schema.org/draft/2020-12/schema"
ID = "urn:spoonfold:"
"""Begins the name of every schema made here."""

Schema = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Described:
    """A kind of file, and the shape of its YAML."""

    name: str
    files: str
    """Which files these are, relative to the class folder."""
    shape: Shape
    header: bool = False
    """Whether only the header of the file is YAML."""


@dataclass(frozen=True, slots=True)
class InLanguages:
    """A record that may hold another one under the tag of each language."""

    own: Record
    other: Record

    def read(self, node: Node, found: Found) -> Any:
        """Its own keys alone."""
        return self.own.read(node, found)


FILES = (
    Described("class", "content/class.yaml", classroom.CLASS),
    Described("pantry", "content/pantry.yaml", MapOf(pantry.ITEM)),
    Described(
        "words", "content/words.yaml", MapOf(InLanguages(teaching.WORD, teaching.TRANSLATED_WORD))
    ),
    Described(
        "skills",
        "content/skills.yaml",
        MapOf(InLanguages(teaching.SKILL, teaching.TRANSLATED_SKILL)),
    ),
    Described(
        "children",
        "content/private/children.yaml",
        ListOf(Line("a first name or initials"), or_one=True),
    ),
    Described("recipe", "content/recipes/NAME.md", recipe.HEADER, header=True),
    Described("translation", "content/recipes/NAME.LANGUAGE.md", translation.HEADER, header=True),
    Described("lesson", "content/lessons/NAME.md", teaching.LESSON, header=True),
    Described("after", "content/after/DATE.md", teaching.AFTER, header=True),
)


def schema_of(described: Described) -> Schema:
    """The schema of one kind of file."""
    part = " (its header)" if described.header else ""
    return {
        "$schema": DIALECT,
        "$id": f"{ID}{described.name}",
        "title": f"{described.files}{part}",
        **_schema(described.shape),
    }


def plain_value(node: Node) -> Any:
    """What an editor takes a node for: YAML 1.2, core schema (yaml.org/spec/1.2.2, 10.3.2).

    Dates stay text, as they do in JSON.
    """
    if isinstance(node, Sequence):
        return [plain_value(each) for each in node.items]
    if isinstance(node, Mapping):
        return {key: plain_value(each) for key, each in node.entries.items()}
    if node.quoted:
        return node.text
    if node.text in ("", "~", "null", "Null", "NULL"):
        return None
    if node.text in ("true", "false"):
        return node.text == "true"
    try:
        return json.loads(node.text)
    except ValueError:
        return node.text


# Whatever stands unquoted becomes text when it is read, so an editor must not insist on quotes.
_TEXT: Schema = {"type": ["string", "number"]}


def _line(shape: Line) -> Schema:
    return {**_TEXT, "description": shape.what}


def _choice(shape: Choice) -> Schema:
    return {"enum": list(shape.words)}


def _whole(shape: Whole) -> Schema:
    return {
        "description": shape.what,
        "anyOf": [
            {"type": "integer", "minimum": shape.least, "maximum": shape.most},
            {"type": "string", "pattern": "^[0-9]{1,9}$"},
        ],
    }


def _day(shape: Day) -> Schema:
    return {
        "type": "string",
        "pattern": "^[12][0-9]{3}-[0-9]{2}-[0-9]{2}$",
        "description": "a date: year-month-day",
    }


def _list_of(shape: ListOf) -> Schema:
    item = _schema(shape.item)
    listed: Schema = {"type": "array", "items": item}
    if shape.least:
        listed["minItems"] = shape.least
    ways = [listed]
    if shape.or_one:
        ways.append(item)
    if not shape.least:
        ways.append({"type": "null"})
    return ways[0] if len(ways) == 1 else {"anyOf": ways}


def _map_of(shape: MapOf) -> Schema:
    return {"type": ["object", "null"], "additionalProperties": _schema(shape.value)}


def _record(shape: Record) -> Schema:
    required = [key.name for key in shape.keys if key.required]
    return {
        # An empty value is read as a record without keys, where it needs none.
        "type": "object" if required else ["object", "null"],
        "description": shape.what,
        "properties": {key.name: _key(key) for key in shape.keys},
        "required": required,
        "additionalProperties": False,
    }


def _in_languages(shape: InLanguages) -> Schema:
    names = "|".join(key.name for key in shape.own.keys)
    # `say` and `how` look like the tags of languages, and aren't.
    language = rf"^(?!(?:{names})$)[a-z]{{2,3}}(-\w+)*$"
    return {**_record(shape.own), "patternProperties": {language: _record(shape.other)}}


def _key(key: Key) -> Schema:
    schema = _schema(key.shape)
    what = schema.get("description")
    schema["description"] = key.about if what in (None, key.about) else f"{key.about} ({what})"
    if key.example:
        node = node_from_yaml(key.example, "", [])
        schema["examples"] = [plain_value(node or Scalar(key.example, Place("")))]
    return schema


_SCHEMAS: dict[type, Callable[[Any], Schema]] = {
    Line: _line,
    Parsed: _line,
    Named: _line,
    Choice: _choice,
    Whole: _whole,
    YesNo: lambda shape: {"enum": ["yes", "no"]},
    Day: _day,
    ListOf: _list_of,
    AtTables: _list_of,
    MapOf: _map_of,
    Record: _record,
    InLanguages: _in_languages,
}


def _schema(shape: Shape) -> Schema:
    known = _SCHEMAS.get(type(shape))
    if known is not None:
        return known(shape)
    ways = [_schema(each) for each in getattr(shape, "written", ())]
    return ways[0] if len(ways) == 1 else {"anyOf": ways}


def write_schemas(folder: Path) -> tuple[Written, ...] | Refused:
    """Writes one file for each kind of file that an author writes."""
    texts = {
        f"{each.name}.schema.json": json.dumps(schema_of(each), ensure_ascii=False, indent=2) + "\n"
        for each in FILES
    }
    # Looked at before the first is written: a folder never holds half of them.
    for name in texts:
        if (folder / name).exists() and not _is_ours(folder / name):
            return Refused(
                f"{folder / name} is there already and is none of these schemas; "
                "nothing is written over it.",
                "Choose another folder.",
            )
    written = []
    for name, text in texts.items():
        there = (folder / name).exists()
        made = (
            (write_over(folder, name, text) or Written(name))
            if there
            else write_new(folder, name, text)
        )
        if isinstance(made, Refused):
            return made
        written.append(made)
    return tuple(written)


def _is_ours(path: Path) -> bool:
    try:
        held = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return False
    return isinstance(held, dict) and str(held.get("$id", "")).startswith(ID)
