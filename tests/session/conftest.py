"""The demo class's sheets, made once for all tests of this folder."""

from __future__ import annotations

import pytest
from session_sheets import ROOT, Office, Printed


@pytest.fixture(scope="session")
def office() -> Office:
    """The demo class."""
    return Office(ROOT)


@pytest.fixture(scope="session")
def kofta_cards(office: Office) -> Printed:
    """The cards of the longest dish, with raw meat and two tables that swap."""
    return office.printed_cards(6)


@pytest.fixture(scope="session")
def soup_cards(office: Office) -> Printed:
    """The cards of a dish that is mostly made in one pot."""
    return office.printed_cards(2)
