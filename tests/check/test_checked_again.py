"""A program that checks after every save runs all day."""

from __future__ import annotations

import gc
import weakref
from pathlib import Path

from spoonfold.check import examine
from tiny_class import write_class


class Ring:
    """What holds itself, so that only a search finds that nobody else does."""

    def __init__(self) -> None:
        self.itself = self


def test_what_was_dropped_between_two_checks_is_found(tmp_path: Path) -> None:
    """Each check spares the search while it runs; what it meets is not spared for ever."""
    folder = write_class(tmp_path)
    examine(folder)
    dropped = weakref.ref(Ring())
    kept = Ring()
    seen = weakref.ref(kept)
    examine(folder)
    del kept
    examine(folder)
    gc.collect()
    assert dropped() is None and seen() is None
    assert gc.isenabled()


def test_a_check_leaves_no_rings(tmp_path: Path) -> None:
    """So that sparing the search costs no memory."""
    folder = write_class(tmp_path)
    examine(folder)
    gc.collect()
    gc.disable()
    try:
        examine(folder)
        assert not gc.isenabled()
        assert gc.collect() == 0
    finally:
        gc.enable()
