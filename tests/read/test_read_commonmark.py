"""CommonMark's own examples through our readers. `SOURCES.md` names where they are from."""

from __future__ import annotations

import html
import json
import re
from pathlib import Path
from typing import Any

import pytest

from spoonfold.model.prose import plain_prose
from spoonfold.problem import Problem
from spoonfold.read.markdown import read_prose, read_sections

EXAMPLES: list[dict[str, Any]] = json.loads(
    Path(__file__).with_name("commonmark-examples.json").read_text("utf-8")
)

_PICTURE = re.compile(r'<img src="[^"]*" alt="([^"]*)"[^>]*>')
_BLOCK = re.compile(r"</?(?:p|li|ul|ol|h[1-6]|pre|blockquote|hr|br)\b[^>]*>")
_TAG = re.compile(r"<[^>]*>")

# HTML that is never closed: ours shows the words as they stand, and they are no tag.
NOT_A_TAG = 158


def _words(page: str) -> str:
    """The words that a page shows."""
    page = _BLOCK.sub(" ", _PICTURE.sub(r"\1", page))
    return " ".join(html.unescape(_TAG.sub("", page)).split())


every_example = pytest.mark.parametrize(
    "example", EXAMPLES, ids=lambda each: f"{each['section']}-{each['number']}"
)


@every_example
def test_words_are_the_specification_s(example: dict[str, Any]) -> None:
    """Prose has the words that the specification's HTML shows; where it has others, which is
    where HTML was written, a problem says so."""
    found: list[Problem] = []
    ours = " ".join(plain_prose(read_prose(example["markdown"], "x.md", 1, found)).split())
    told = any(problem.code == "raw-html" for problem in found)
    assert told or ours == _words(example["html"]) or example["number"] == NOT_A_TAG


@every_example
def test_steps_are_read_without_a_crash(example: dict[str, Any]) -> None:
    """Whatever stands where steps belong is read as sections, with places inside the text."""
    body = f"## Steps\n\n{example['markdown']}"
    found: list[Problem] = []
    sections = read_sections(body, "x.md", 10, found, steps_in="steps")
    assert sections[1].title == "Steps"
    last = 10 + body.count("\n")
    assert all(10 <= problem.place.line <= last for problem in found)
    assert all(10 <= item.place.line <= last for each in sections for _, item in each.numbered)


def test_all_examples_are_here() -> None:
    """The file holds every example of the specification."""
    assert [example["number"] for example in EXAMPLES] == list(range(1, 653))
