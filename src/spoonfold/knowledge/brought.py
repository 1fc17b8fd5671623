"""Words that stand around recipes as people keep them, and the measures of other languages."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from typing import Any

from spoonfold.knowledge.data import data


@cache
def _known() -> Mapping[str, Any]:
    known: Mapping[str, Any] = data("brought.json")
    return known


@cache
def any_of(name: str) -> str:
    """A pattern for any of the words of that kind, whatever their letter case; it holds no group
    that counts."""
    return _either(_known()[name])


def _either(patterns: list[str]) -> str:
    return f"(?i:{'|'.join(patterns)})"


@cache
def measures_abroad() -> tuple[tuple[str, re.Pattern[str]], ...]:
    """Each unit, and what it is called in other languages where it stands behind a number."""
    return tuple(
        (unit, re.compile(rf"{_either(words)}(?![^\W_])\.?"))
        for unit, words in _known()["measures"].items()
    )
