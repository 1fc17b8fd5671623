"""Why each problem matters: one paragraph for a cook, for every code there is."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from spoonfold.knowledge.data import data

_HOUSE = "common practice, or how Spoonfold works"


@dataclass(frozen=True, slots=True)
class Reason:
    """What `spoonfold why` says of a code."""

    code: str
    looks_for: str
    """What is looked for, in one sentence."""
    why: str
    """One paragraph: why it matters."""
    source: str
    """Where that is published, or that it isn't."""
    mend: str
    """How to satisfy it, and where its lines are shown."""


@lru_cache(maxsize=1)
def reasons() -> Mapping[str, Reason]:
    """The reason for every code that reading, checking or printing can give, by code."""
    known = data("reasons.json")
    return {row["code"]: _reason(row, known["kinds"][row["kind"]]) for row in known["reasons"]}


def _reason(row: Mapping[str, str], kind: Mapping[str, str]) -> Reason:
    return Reason(
        row["code"],
        # Codes of one kind are found by looking at one thing; a rule looks for its own.
        row.get("looks for") or kind["looks for"],
        row["why"],
        row.get("source", _HOUSE),
        f"{row.get('mend', '')} {kind['shown']}".strip(),
    )


def near_codes(code: str, count: int = 3) -> tuple[str, ...]:
    """The codes that are spelt most like it, best first."""
    return tuple(difflib.get_close_matches(code.casefold(), reasons(), n=count, cutoff=0.55))
