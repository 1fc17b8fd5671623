"""The tree of what is read in a tagged PDF (ISO 32000-1, 14.7), as far as it is walked here."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pikepdf


def pairs(numbers: Any) -> Iterator[tuple[int, Any]]:
    """The entries of a number tree that has no branches."""
    flat = list(numbers)
    return zip(map(int, flat[::2]), flat[1::2], strict=True)


def kids_of(element: Any) -> list[Any]:
    """What an element holds: elements, numbers of marked content, links."""
    found = element.get("/K")
    if found is None:
        return []
    return list(found) if isinstance(found, pikepdf.Array) else [found]


def is_element(kid: Any) -> bool:
    """Whether a kid is an element itself."""
    return isinstance(kid, pikepdf.Dictionary) and "/S" in kid
