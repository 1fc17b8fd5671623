"""The demo class's sheets, made once for all tests of this folder."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from session_sheets import ROOT, Office, Printed, printed


@pytest.fixture(scope="session")
def office() -> Office:
    """The demo class."""
    return Office(ROOT)


@pytest.fixture(scope="session")
def built(demo_with: Callable[[str], Path]) -> Callable[[int, str], Printed]:
    """A sheet of the demo class by the number of its session and its file's name."""
    return lambda session, name: printed(
        (demo_with("table-cards") / f"class/session-{session:02}" / name).read_bytes()
    )


@pytest.fixture(scope="session")
def kofta_cards(built: Callable[[int, str], Printed]) -> Printed:
    """The cards of the longest dish, with raw meat and two tables that swap."""
    return built(6, "table-cards-en.pdf")


@pytest.fixture(scope="session")
def soup_cards(built: Callable[[int, str], Printed]) -> Printed:
    """The cards of a dish that is mostly made in one pot."""
    return built(2, "table-cards-en.pdf")
