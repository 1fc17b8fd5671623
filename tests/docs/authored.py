"""Examples of the guide, read as an author's files are read."""

from __future__ import annotations

from typing import Any

from spoonfold.author.schema import plain_value
from spoonfold.problem import Problem
from spoonfold.read.files import Source
from spoonfold.read.nodes import node_from_yaml
from spoonfold.read.recipe import read_recipe

_HEADER = """\
---
title: Anything
place: Lima, Peru
country: PE
serves: 4
ingredients:
  - 1 cup rice
---

## Steps

"""


def values_in(text: str) -> Any:
    """What an editor takes a text for."""
    found: list[Problem] = []
    node = node_from_yaml(text, "example", found)
    assert node is not None and not found
    return plain_value(node)


def accepts_as_steps(text: str) -> list[Problem]:
    """What is said of a recipe with these steps."""
    found: list[Problem] = []
    assert read_recipe(Source("example", _HEADER + text), "example", found) is not None
    return found
