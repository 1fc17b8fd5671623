"""Sheets printed once for all tests of this folder."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from printed_sheets import ROOT, Press, Printed, printed

from small_class import write_small_class


@pytest.fixture(scope="session")
def demo() -> Press:
    """The demo class."""
    return Press(ROOT)


@pytest.fixture(scope="session")
def demo_booklet(demo_with: Callable[[str], Path]) -> Printed:
    """The demo's booklet for four people."""
    return printed((demo_with("booklet") / "families/booklet-en-4.pdf").read_bytes())


@pytest.fixture(scope="session")
def demo_card(demo_with: Callable[[str], Path]) -> Callable[[str], Printed]:
    """The demo's card of the dish with that key, for four people."""
    families = demo_with("card") / "families"
    return lambda key: printed((families / f"card-{key}-en-4.pdf").read_bytes())


@pytest.fixture(scope="session")
def small(tmp_path_factory: pytest.TempPathFactory) -> Callable[..., Press]:
    """The class of one dish, on the paper and with the title that is asked for."""

    def press(paper: str = "letter", title: str = "Rice with carrot") -> Press:
        return Press(write_small_class(tmp_path_factory.mktemp("small"), paper, title))

    return press
