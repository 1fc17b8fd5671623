"""What many tests look at, made once for all processes of a run."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from filelock import FileLock

from spoonfold.sheets import NAMES, SITE, parts

_LOOKED_AT = (
    (SITE, "booklet"),
    ("card", "notice"),
    ("table-cards", "brief", "lesson-card", "story-card", "word-cards"),
    ("jobs", "prep", "season", "colours", "packet"),
    ("home-labels", "shopping"),
)
"""Parts of the demo class that the same tests look at."""


def parts_with(part: str) -> tuple[str, ...]:
    """The parts that are built together with one: all are in one of these."""
    for together in _LOOKED_AT:
        if part in together:
            return together
    return tuple(name for name in NAMES if not any(name in some for some in _LOOKED_AT))


def handed_out() -> tuple[str, ...]:
    """The parts of which families or the world get something."""
    theirs = ("families/", "site/")
    return tuple(
        name for name, row in parts().items() if any(one.startswith(theirs) for one in row.owns)
    )


def made_once(folders: pytest.TempPathFactory, name: str, make: Callable[[Path], object]) -> Path:
    """The folder of that name, filled by `make` for whoever comes first: the others wait for it.

    Nobody may change what is in it. As pytest-xdist's documentation has it, under "Making
    session-scoped fixtures execute only once".
    """
    own = folders.getbasetemp()
    # Each process has a folder of its own in the run's.
    top = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    folder = top / f"once-{name}"
    with FileLock(folder.with_suffix(".lock")):
        if not folder.exists():
            begun = folder.with_suffix(".begun")
            shutil.rmtree(begun, ignore_errors=True)
            begun.mkdir()
            make(begun)
            begun.rename(folder)
    return folder
