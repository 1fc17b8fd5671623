"""The order of pages on sheets to fold, against folding paper and against the published table."""

from __future__ import annotations

import pytest

from spoonfold.plan.folding import (
    BLANK,
    LEAF,
    PANELS,
    creep,
    mini_panels,
    padded,
    saddle_sides,
    sheets_to_fold,
)

Side = tuple[int, int]
every_count = pytest.mark.parametrize("count", range(1, 65))


def read_folded(sides: tuple[Side, ...]) -> list[int]:
    """Stacks the sheets, the first at the bottom with its front down, folds the pile in the
    middle, and turns the leaves.

    A sheet that lies on its front shows its back. Every sheet is two leaves; of a pile that is
    folded toward the reader, the right-hand leaves follow each other from the top sheet down,
    and the left-hand ones come before them from the bottom sheet up.
    """
    pile = [(sides[at], sides[at + 1]) for at in range(0, len(sides), 2)]
    before: list[int] = []
    after: list[int] = []
    for front, back in pile:
        # Turned over its short edge, the front's right page lies behind the back's left one.
        before += [front[1], back[0]]
        after = [back[1], front[0], *after]
    return before + after


@every_count
def test_folded_sheets_read_in_order(count: int) -> None:
    """Whoever turns the leaves meets every page once, in order, and blanks only before the back."""
    read = read_folded(saddle_sides(count))
    assert [page for page in read if page != BLANK] == list(range(1, count + 1))
    assert len(read) % 4 == 0 and len(read) - count < 4
    assert read[-1] == (count if count > 1 else BLANK)
    assert read[: max(1, count - 1)] == list(range(1, max(1, count - 1) + 1))


@every_count
def test_two_pages_of_a_side_add_up(count: int) -> None:
    """With a full number of pages, both of one side add up to one more, the odd one on the
    right; front and back of each sheet are as the trade's table has them."""
    if count % 4:
        assert len(padded(count)) == count + -count % 4
        return
    sides = saddle_sides(count)
    for left, right in sides:
        assert left + right == count + 1 and right % 2 == 1
    for k in range(1, count // 4 + 1):
        assert sides[2 * k - 2 : 2 * k] == (
            (count - 2 * k + 2, 2 * k - 1),
            (2 * k, count - 2 * k + 1),
        )


def test_the_published_eight() -> None:
    """Eight pages stand on two sheets as every handbook prints them."""
    assert saddle_sides(8) == ((8, 1), (2, 7), (6, 3), (4, 5))


def test_fourteen_pages_take_four_sheets_with_two_blanks() -> None:
    """The blanks stand before the back, which stays outside."""
    assert padded(14) == (*range(1, 14), BLANK, BLANK, 14)
    assert sheets_to_fold(14) == 4 and saddle_sides(14)[0] == (14, 1)


def test_creep_grows_by_one_leaf_a_sheet() -> None:
    """The outer sheet stays; the twelfth has eleven thicknesses of paper around it."""
    assert [creep(sheet) for sheet in (0, 1, 11)] == [0, LEAF, 11 * LEAF]


def test_eight_panels_read_in_order() -> None:
    """Folded lengthwise and pushed together at the ends, the panels follow each other round the
    sheet; facing pages lie beside each other, and a leaf's two sides back on each other."""
    at = {(panel.column, panel.row): panel for panel in mini_panels()}
    assert len(at) == PANELS == len({panel.page for panel in at.values()})
    ring = [
        at[column, row].page
        for row, columns in ((0, (0, 1, 2, 3)), (1, (3, 2, 1, 0)))
        for column in columns
    ]
    start = ring.index(1)
    assert ring[start:] + ring[:start] == list(range(1, 9))
    # The row that is folded to the back stands on its head while the sheet is flat.
    assert all(panel.is_turned == (panel.row == 1) for panel in at.values())
    # The cut frees the middle columns, so pages 2|3 ... face each other on either side of it, and
    # each outer column folds to one leaf: its upper panel is the back of its lower one.
    for column in (0, 3):
        low, high = sorted((at[column, 0].page, at[column, 1].page))
        assert (low % 2, high) == (1, low + 1) or {low, high} == {1, 2}
