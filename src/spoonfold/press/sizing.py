"""At which size of type to begin, so that few sheets are laid out twice.

Laying a sheet out is most of the work of printing it. A sheet is tried in ever smaller type
until it fits; where its text is so long that a size has never held so much, that size isn't
tried. A guess too large costs a try; it is never too small by more than what these numbers say.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

_UNREAD = re.compile(r"<(head|style|svg)\b.*?</\1>|<[^>]*>", re.DOTALL)
_SHEET = '<article class="sheet'

_MOST_LETTERS = {
    "brief.html": (4500, 4800, 5450, 6050, 6500),
    "card.html": (3000, 4100, 4480),
    "jobs.html": (1200, 1700, 2050),
    "lesson-card.html": (4000, 5100, 5400, 5800, 6600),
    "prep.html": (2580, 2800),
    "season-sheet.html": (1900, 2200),
    "shopping.html": (2600, 2650),
    "story.html": (1350, 1440, 1500, 1560, 1870, 2200),
    "table-card.html": (2500, 3300, 3800),
}
"""The most letters that a sheet was seen to hold in each size but the last, and a little more;
`tests/speed/sizes.py` prints what was seen."""


def letters_of(html: bytes) -> int:
    """Letters and single spaces in the text of the longest sheet of a document."""
    return max(
        len(" ".join(_UNREAD.sub(" ", part).split())) for part in html.decode().split(_SHEET)
    )


def sizes_to_try(template: str, sizes: Sequence[str], html: bytes) -> Sequence[str]:
    """The sizes from which on the text may fit; the last one in any case."""
    letters = letters_of(html)
    most = _MOST_LETTERS.get(template, ())
    start = next((number for number, held in enumerate(most) if letters <= held), len(most))
    return sizes[min(start, len(sizes) - 1) :]
