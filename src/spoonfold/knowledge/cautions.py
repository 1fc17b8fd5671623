"""Named cautions: what can hurt, in words that a ten-year-old and a helper both understand.

A step names one (`watch: hot handle`) and every sheet prints it in full. The temperatures
are those of the FoodSafety.gov chart for homes and community kitchens. Ways of handling tools
have no published source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from spoonfold.knowledge.data import data


@dataclass(frozen=True, slots=True)
class Caution:
    """One danger and what to do about it."""

    name: str
    """As a step names it."""
    text: str
    """One or two short sentences in English."""
    short: str
    """What to do about it in a few words: a strip of all dangers of a dish has room for no more,
    and never leaves out a temperature."""
    few: str
    """The same in two or three words, for a table card; a temperature that no step says stays."""
    group: str
    """The name of those that are told of together."""
    icon: str
    """A drawing of `layouts/icons/`, by its name without the ending."""
    source: str
    raw: tuple[str, ...] = ()
    """The raw foods that call for it, by the pantry's words for their hazards."""


@dataclass(frozen=True, slots=True)
class CautionGroup:
    """Dangers of one kind."""

    name: str
    icon: str


@dataclass(frozen=True, slots=True)
class AdultNote:
    """A job that a step keeps for an adult, by name."""

    name: str
    """As a step names it; a verb, with “an adult” left out."""
    text: str
    """A whole sentence in English."""


_ROWS = data("cautions.json")

CAUTIONS: Mapping[str, Caution] = {
    row["name"]: Caution(
        row["name"],
        row["text"],
        row["short"],
        row["few"],
        row["group"],
        row["icon"],
        row["source"],
        tuple(row.get("raw", ())),
    )
    for row in _ROWS["cautions"]
}
"""Every caution by its name."""

CAUTION_GROUPS = tuple(CautionGroup(row["name"], row["icon"]) for row in _ROWS["groups"])
"""The gravest first."""

ADULT: Mapping[str, AdultNote] = {
    row["name"]: AdultNote(row["name"], row["text"]) for row in _ROWS["adult"]
}
"""Every adult's job by its name."""

RAW_CAUTIONS: Mapping[str, str] = {
    kind: caution.name for caution in CAUTIONS.values() for kind in caution.raw
}
"""The caution that a raw food calls for, by its hazard."""
