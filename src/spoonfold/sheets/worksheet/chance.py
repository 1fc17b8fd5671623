"""Choice by a seed: the same seed chooses the same, on every machine and in every year."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from itertools import count
from typing import TypeVar

T = TypeVar("T")
Draws = Iterator[int]
"""Numbers below 2**64, evenly spread."""


def draws_of(seed: str) -> Draws:
    """An endless row of numbers: SHA-256 of the seed and a counter.

    A published hash and not a library's generator, whose numbers may change with its version.
    """
    for place in count():
        digest = hashlib.sha256(f"{seed}/{place}".encode()).digest()
        yield int.from_bytes(digest[:8], "big")


def pick(draws: Draws, choices: Sequence[T]) -> T:
    """One of the choices, of which there is at least one."""
    return choices[next(draws) % len(choices)]


def shuffled(draws: Draws, things: Sequence[T]) -> tuple[T, ...]:
    """The same things in another order (Fisher and Yates)."""
    order = list(things)
    for last in range(len(order) - 1, 0, -1):
        other = next(draws) % (last + 1)
        order[last], order[other] = order[other], order[last]
    return tuple(order)
