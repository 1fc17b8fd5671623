"""Every place of a content file in which an author writes something of their own."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass

import yaml

_MARKDOWN = re.compile(r"^[ ]*(?:- (?:[a-z ]+: )?|\d+\. |#+ |> )?(?P<words>\S.*)$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Field:
    """A piece of a file's text; in YAML it may be quoted."""

    start: int
    end: int
    in_yaml: bool

    def filled(self, text: str, value: str, *, quoted: bool = False) -> str:
        """The file's text with `value` in this place."""
        # YAML 1.2 reads every string of JSON as that string.
        shown = json.dumps(value, ensure_ascii=False) if quoted and self.in_yaml else value
        return text[: self.start] + shown + text[self.end :]


def fields_of(name: str, text: str) -> Iterator[Field]:
    """The keys and values of the YAML, and the words of every line of the Markdown."""
    if name.endswith(".yaml"):
        yield from _in_yaml(text, 0)
        return
    _, header, body = re.split(r"^---\n", text, maxsplit=2, flags=re.MULTILINE)
    yield from _in_yaml(header, len("---\n"))
    begin = len(text) - len(body)
    for match in _MARKDOWN.finditer(body):
        yield Field(begin + match.start("words"), begin + match.end("words"), False)


def _in_yaml(text: str, begin: int) -> Iterator[Field]:
    for event in yaml.parse(text, Loader=yaml.SafeLoader):
        if isinstance(event, yaml.ScalarEvent):
            assert event.start_mark is not None and event.end_mark is not None
            yield Field(begin + event.start_mark.index, begin + event.end_mark.index, True)
