"""The YAML test suite through our reader. `SOURCES.md` names where it is from."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from spoonfold.problem import Problem
from spoonfold.read.nodes import Mapping, Node, Scalar, Sequence, node_from_yaml

CASES: list[dict[str, Any]] = json.loads(
    Path(__file__).with_name("yaml-suite.json").read_text("utf-8")
)

# LibYAML reads YAML 1.1, which differs: `[?x]` as a key, and spaces at the end of a block.
DIFFERENT = {"HM87/1", "L24T/1"}
# It also reads a few layouts that YAML 1.2 refuses; each still means only one thing.
LENIENT = {
    "9C9N",
    "9JBA",
    "CVW2",
    "DK95/1",
    "G5U8",
    "MUS6/0",
    "QB6E",
    "S98Z",
    "SU5Z",
    "X4QW",
    "Y79Y/3",
    "YJV2",
}

every_case = pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])


def _plain(node: Node | None) -> object:
    match node:
        case Mapping():
            return {key: _plain(value) for key, value in node.entries.items()}
        case Sequence():
            return [_plain(item) for item in node.items]
        case Scalar():
            return node.text
    return None


def _is_text(value: object) -> bool:
    """Mappings and sequences of strings alone: our scalars stay text, so nothing else compares."""
    if isinstance(value, dict):
        return all(map(_is_text, value.values()))
    return all(map(_is_text, value)) if isinstance(value, list) else isinstance(value, str)


def _expected(case: dict[str, Any]) -> object:
    """What the suite gives as JSON; None where it gives none, or several documents."""
    try:
        return json.loads(case["json"] or "null")
    except ValueError:
        return None


@every_case
def test_every_document_is_read_or_refused_with_a_place(case: dict[str, Any]) -> None:
    """No document crashes the reader, and every problem points into the text."""
    found: list[Problem] = []
    node_from_yaml(case["yaml"], "x.yaml", found, first_line=5)
    last = 5 + case["yaml"].count("\n")
    for problem in found:
        assert 5 <= problem.place.line <= last
        assert problem.message
        assert problem.hint


@every_case
def test_text_means_what_the_suite_says(case: dict[str, Any]) -> None:
    """What is read without a problem has the structure and the texts of the suite's JSON."""
    found: list[Problem] = []
    node = node_from_yaml(case["yaml"], "x.yaml", found)
    expected = _expected(case)
    if not found and _is_text(expected) and case["id"] not in DIFFERENT:
        assert _plain(node) == expected


@every_case
def test_what_the_suite_refuses_is_refused(case: dict[str, Any]) -> None:
    """Where the suite says that a document is no YAML, so do we; the known exceptions are named."""
    found: list[Problem] = []
    node_from_yaml(case["yaml"], "x.yaml", found)
    assert not case["fail"] or bool(found) is (case["id"] not in LENIENT)


def test_enough_is_compared() -> None:
    """The comparison isn't empty: far more than a hundred documents are read and compared."""
    compared = 0
    for case in CASES:
        found: list[Problem] = []
        node_from_yaml(case["yaml"], "x.yaml", found)
        compared += not found and _is_text(_expected(case))
    assert compared > 140
