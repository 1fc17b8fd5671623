"""The booklet in large print: the same words and scoops, on whole sheets.

At least 18 points and an inch of margin, one column, ragged lines half as far again apart, no
slanted type (ADCET and Round Table guidelines; UKAAF G003, 2019; RNIB). The look is in
`layouts/look/paper.css`.
"""

from __future__ import annotations

SIZES = ("large-print",)
"""The one size of type: it takes as many sheets as it needs."""

LEAST_POINTS = 18
"""No letter is smaller."""


def large_print_name(language: str, people: int) -> str:
    """The file of the booklet in large print."""
    return f"large-print-booklet-{language}-{people}.pdf"
