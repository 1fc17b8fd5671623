"""The codes of countries that a header may give."""

from __future__ import annotations

from babel import Locale

from spoonfold.read.grammar import COUNTRIES

NOT_OFFICIAL = {"AC", "CP", "CQ", "DG", "EA", "EU", "EZ", "IC", "QO", "TA", "UN", "XA", "XB", "ZZ"}
"""Codes of CLDR that ISO 3166-1 keeps free, or gives to no country."""


def test_the_codes_are_those_of_the_standard() -> None:
    """As Unicode CLDR has them."""
    named = {code for code in Locale("en").territories if len(code) == 2 and code.isalpha()}
    assert named - NOT_OFFICIAL == COUNTRIES
    assert len(COUNTRIES) == 250
