"""Why each problem matters: one paragraph for a cook, for every code there is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from spoonfold.check.all import RULES
from spoonfold.check.reasons.amounts import AMOUNTS
from spoonfold.check.reasons.files import FILES
from spoonfold.check.reasons.output import OUTPUT
from spoonfold.check.reasons.pages import PAGES
from spoonfold.check.reasons.values import VALUES


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something is a problem."""

    why: str
    source: str | None = None
    """Where that is published; None: common practice, or how Spoonfold works."""


_SOURCES = {
    "key-twice": "YAML 1.2.2, section 3.2.1.3 (keys of a mapping are unique)",
    "tab": "YAML 1.2.2, section 6.1 (indentation is spaces alone)",
    "not-utf-8": "RFC 3629 (UTF-8)",
    "turned-text": "Unicode Standard Annex 9, section 2; Unicode Technical Report 36 "
    "(bidirectional text spoofing)",
    "unreadable-country": "ISO 3166-1 (two-letter country codes)",
    "unreadable-position": "ISO 6709 (latitude before longitude, north and east positive)",
    "not-a-language": "RFC 5646 (language tags)",
    "not-a-date": "ISO 8601 (year, month, day)",
    "no-scale": "FoodSafety.gov / USDA FSIS, Safe Minimum Internal Temperature chart",
    "bare-unit-letter": "NIST Handbook 44, Appendix C: 1 tablespoon is 3 teaspoons",
}

REASONS: Mapping[str, Reason] = {
    **{
        code: Reason(why, _SOURCES.get(code))
        for reasons in (FILES, PAGES, VALUES, AMOUNTS, OUTPUT)
        for code, why in reasons.items()
    },
    **{rule.code: Reason(rule.why, rule.source) for rule in RULES},
}
"""Every code that reading or checking can give."""
