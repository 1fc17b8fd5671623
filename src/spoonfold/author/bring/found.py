"""What was found of a recipe, before it is written the way it is written here."""

from __future__ import annotations

from dataclasses import dataclass

MOST_LINES = 200
"""Of ingredients, and of steps; no dish has as many."""
MOST_BYTES = 5_000_000
"""Of a page, a file or a text; saved pages carry much besides the recipe."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading between ingredients or between steps."""

    text: str


@dataclass(frozen=True, slots=True)
class FoundRecipe:
    """A recipe in the words of its source, each on one line."""

    title: str = ""
    description: str = ""
    ingredients: tuple[str | Heading, ...] = ()
    steps: tuple[str | Heading, ...] = ()
    makes: tuple[str, ...] = ()
    """What it says of its yield: `4 servings`, `1 loaf`."""
    times: tuple[str, ...] = ()
    """What it says of its times, with what they are for: `preparation: 15 min`."""
    tips: tuple[str, ...] = ()
    """What it says beside its steps: what else would do, how long a step takes, what to look out
    for."""
    place: str = ""
    """Where the dish is from, where the data of a page says so."""
    author: str = ""
    origin: tuple[str, ...] = ()
    """Lines that say from where it is, or from whom: the two look alike."""
    address: str = ""
    left_out: tuple[str, ...] = ()
    """Lines of a text that were taken for neither."""
    guesses: tuple[str, ...] = ()
    """What was guessed in finding all this."""
