"""Words that tell a description, a vague amount or a fixed name from a food's own name."""

from __future__ import annotations

from collections.abc import Mapping

from spoonfold.knowledge.data import data

_KNOWN = data("line-words.json")

ABOUT: frozenset[str] = frozenset(_KNOWN["about"])
"""Before a number: it is not meant exactly."""

HEAPING: frozenset[str] = frozenset(_KNOWN["heaping"])
"""Before a measure: how full it is, which nobody can scale."""

FOODS_LIKE_UNITS: frozenset[str] = frozenset(_KNOWN["foods like units"])
"""Foods whose first word would otherwise be read as a unit."""

FIXED_NAMES: tuple[str, ...] = tuple(_KNOWN["fixed names"])
"""Names of one food in which two are named."""

DESCRIBING: frozenset[str] = frozenset(_KNOWN["describing"])
"""Words that describe a food and are never one."""

COLOURS: frozenset[str] = frozenset(_KNOWN["colours"])
"""Two of these before one food are two foods: red and green peppers."""

SEASONINGS: frozenset[str] = frozenset(_KNOWN["seasonings"])
"""Foods that a list names without an amount and means to taste."""

NUMBER_WORDS: Mapping[str, str] = _KNOWN["numbers"]
"""Numbers in words, the longer before the shorter that starts it, and their figures."""

VAGUE_LITTLE: tuple[str, ...] = tuple(_KNOWN["a little"])
VAGUE_MANY: tuple[str, ...] = tuple(_KNOWN["many"])
"""Amounts that nobody can measure: the first kind may mean "as needed"."""
