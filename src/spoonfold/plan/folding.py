"""Which page stands where on a sheet that is folded into a book.

The rule of saddle stitching is the print trade's: the pages are a multiple of four, two that
stand on one side of a sheet add up to one more than there are pages, and the odd one stands on
the right, so that sheet k of all carries N - 2k + 2 and 2k - 1 in front, 2k and N - 2k + 1 behind.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

LEAF = Fraction(1, 10)
"""How thick a sheet of copier paper is, in millimetres (75 to 80 grams a square metre; from
memory)."""

BLANK = 0
"""In the place of a page number: nothing is printed there."""

PANELS = 8
"""Pages of a book that is folded from one side of one sheet."""


@dataclass(frozen=True, slots=True)
class Panel:
    """A page's place on a sheet that is folded both ways."""

    page: int
    column: int
    """From the left, counted from 0."""
    row: int
    """From the bottom, counted from 0."""
    is_turned: bool
    """Upside down."""


def padded(count: int) -> tuple[int, ...]:
    """Pages 1 to `count` and as many blanks as make it a multiple of four, before the last page:
    the back stays outside. A single page is a front."""
    blanks = (BLANK,) * (-count % 4)
    pages = tuple(range(1, count + 1))
    return (*pages, *blanks) if count == 1 else (*pages[:-1], *blanks, *pages[-1:])


def saddle_sides(count: int) -> tuple[tuple[int, int], ...]:
    """Left and right page of each side of each sheet, front then back, the outermost first."""
    pages = padded(count)
    n = len(pages)
    sides: list[tuple[int, int]] = []
    for sheet in range(1, n // 4 + 1):
        for left, right in ((n - 2 * sheet + 2, 2 * sheet - 1), (2 * sheet, n - 2 * sheet + 1)):
            sides.append((pages[left - 1], pages[right - 1]))
    return tuple(sides)


def sheets_to_fold(count: int) -> int:
    """How many sheets of paper so many pages take."""
    return -(-count // 4)


def creep(sheet: int) -> Fraction:
    """How far the pages of a sheet move toward the fold, in millimetres.

    `sheet` is counted from 0 at the outside. Each sheet is pushed out by the ones around it, by
    the thickness of one each (common practice).
    """
    return sheet * LEAF


def mini_panels() -> tuple[Panel, ...]:
    """The eight pages of a book folded from one side of a sheet, four beside each other and two
    over each other, with one cut between the rows of the two middle columns.

    Going round the sheet (the lower row to the right, the upper one back) the pages follow each
    other; the upper row is upside down.
    """
    lower = [Panel(page, column, 0, False) for column, page in enumerate((6, 7, 8, 1))]
    upper = [Panel(page, column, 1, True) for column, page in enumerate((5, 4, 3, 2))]
    return (*lower, *upper)
