"""Kitchen words that a child may not know, for noticing that nobody explains them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from spoonfold.knowledge.data import data


@cache
def kitchen_terms() -> Mapping[str, tuple[str, ...]]:
    """Each with its other forms, in the language that `kitchen-terms.json` names."""
    return {term: tuple(forms) for term, forms in data("kitchen-terms.json")["terms"].items()}
