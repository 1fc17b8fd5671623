"""Steps that wait: which circles there are, and what is proposed instead."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from spoonfold.check import examine
from spoonfold.check.order import circles
from tiny_class import RICE

THREE = RICE + "".join(
    f"\n{number}. {text}\n    - time: 1 min\n"
    for number, text in ((2, "Let it stand."), (3, "Serve."))
)


@pytest.mark.parametrize(
    ("edges", "found"),
    [
        ({1: (), 2: (1,), 3: (2,)}, []),
        ({1: (2,), 2: (1,)}, [(1, 2, 1)]),
        ({1: (2,), 2: (3,), 3: (1,)}, [(1, 2, 3, 1)]),
        ({1: (2,), 2: (3,), 3: (4,), 4: (5,), 5: (1,)}, [(1, 2, 3, 4, 5, 1)]),
        # The shorter of two ways round.
        ({1: (2, 4), 2: (3,), 3: (4,), 4: (1,)}, [(1, 4, 1)]),
        # What only leads into a circle is no part of it; two circles apart are two.
        ({1: (2,), 2: (3,), 3: (2,), 4: (5,), 5: (4,)}, [(2, 3, 2), (4, 5, 4)]),
    ],
)
def test_circles(edges: dict[int, tuple[int, ...]], found: list[tuple[int, ...]]) -> None:
    """Each circle once, along the shortest way from its first node back to itself."""
    assert list(circles(edges)) == found


@pytest.mark.parametrize(
    ("step", "after", "instead"),
    [
        ("3. Serve.", "1, 3", "after: 1"),
        ("3. Serve.", "3", "after: 2"),
        ("1. Boil", "1", "after: none"),
    ],
)
def test_a_step_that_waits_for_itself(
    make_class: Callable[..., Path], step: str, after: str, instead: str
) -> None:
    """What else it waits for stays; else the step in front of it; the first waits for nothing."""
    head, found, tail = THREE.partition(step)
    line, rest = tail.split("\n", 1)
    text = f"{head}{found}{line}\n    - after: {after}\n{rest}"
    problems = examine(make_class({"recipes/rice.md": text})).problems
    assert [each.hint for each in problems if each.code == "after-itself"] == [instead]
