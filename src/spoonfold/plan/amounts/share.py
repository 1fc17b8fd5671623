"""What each of some children takes of an amount that they cut or count together.

Said only where a child can do it with a knife or a scoop and understand it at once: whole ones,
halves, a quarter, or the same number of scoops. Anything else isn't said at all. Which shares
are easily said is common practice.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.model.pantry import Item
from spoonfold.plan.amounts.measure import PARTS, Measured, Way, in_scoops
from spoonfold.plan.amounts.scoop import Scoops
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import PIECE

_SINGLE = frozenset((Fraction(1, 4), Fraction(1, 3), Fraction(2, 3)))
"""Parts that are said by themselves, and not beside whole ones."""


@dataclass(frozen=True, slots=True)
class Share:
    """The same for each child, and a little more for some where it doesn't come out even."""

    children: int
    each: Amount
    more_for: int = 0
    """So many of the children take `more` besides."""
    more: Amount | None = None

    @property
    def whole(self) -> Fraction:
        """All shares together, in the unit of `each`."""
        more = Fraction(0) if self.more is None else self.more.low * self.more_for
        return self.each.low * self.children + more


def share_of(measured: Measured, item: Item | None, children: int) -> Share | None:
    """What each of so many children takes; None where it can't be said simply.

    The shares always add up to exactly what is measured.
    """
    if children < 2 or len(measured.shown) != 1 or measured.beaten:
        return None
    amount = measured.shown[0]
    if amount.high is not None:
        return None
    if measured.way is Way.COUNT:
        return _counted(replace(amount, each=None), _parts(amount, item), children)
    if measured.way is Way.SCOOPS and measured.scoops is not None:
        return _scooped(measured.scoops, children)
    return None


def _parts(amount: Amount, item: Item | None) -> tuple[int, ...]:
    """Into how many parts children cut one; thirds are hard to see, so they are left out, but
    where the amount is in thirds: then an adult has cut them."""
    known = PARTS[item.divides] if item is not None and item.divides else PARTS["whole"]
    if amount.unit != PIECE:
        return PARTS["whole"]
    thirds = amount.low.denominator == 3
    return (1, 3) if thirds else tuple(part for part in known if part != 3)


def _counted(amount: Amount, parts: tuple[int, ...], children: int) -> Share | None:
    even = amount.low / children
    if even.denominator in parts and _is_said(even):
        return Share(children, replace(amount, low=even))
    # What is on the table is dealt out piece by piece: whole ones, or halves that were cut.
    piece = Fraction(1, amount.low.denominator)
    each, over = divmod(amount.low / piece, children)
    if piece.denominator not in parts or not each or not _is_said(each * piece):
        return None
    return Share(children, replace(amount, low=each * piece), int(over), replace(amount, low=piece))


def _is_said(number: Fraction) -> bool:
    """Whole ones and halves; a quarter or thirds by themselves."""
    return number.denominator in (1, 2) or number in _SINGLE


def _scooped(scoops: Scoops, children: int) -> Share | None:
    """The same scoop for everyone, the same number of times."""
    if len(scoops.counts) != 1:
        return None
    ((tool, count),) = scoops.counts
    each, over = divmod(count, children)
    if over or not each:
        return None
    own = Scoops(((tool, each),), tool.tsp * each, tool.tsp * each, Fraction(0))
    amounts = in_scoops(own)
    return Share(children, amounts[0]) if len(amounts) == 1 else None
