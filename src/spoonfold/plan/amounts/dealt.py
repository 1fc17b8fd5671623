"""What is bought whole and divided between tables, dealt out so that the shares add up.

Rounded for itself, each of three tables would take 1¼ peppers of a sum that no shop sells. So the
sum comes to whole ones where that is near enough, and the lead cook cuts the odd one: 4 for three
tables are 1⅓ each. Whole ones and halves stay as each table counts them: half of one is left.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from spoonfold.model.pantry import Item
from spoonfold.plan.amounts.convert import known_unit
from spoonfold.plan.amounts.measure import WITHIN, Measured, Way, parts_of
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.unit import PIECE

WHOLE_WITHIN = Fraction(15, 100)
"""So far off the sum or a share may be for the sake of whole ones: 4 for 3½, not 3 for 2½ (common
practice)."""

BY_EYE = (1, 2, 3, 4)
"""Into how many parts a package, a bunch or a head is parted by eye (common practice)."""
_PARTED = frozenset(map(known_unit, ("package", "bunch", "head")))


@dataclass(frozen=True, slots=True)
class Share:
    """What one step takes at one table."""

    table: int
    measured: Measured

    @property
    def exact(self) -> Fraction:
        """Before rounding, in the unit that is shown."""
        return self.measured.shown[0].low / (1 + self.measured.off)


def dealt(shares: Sequence[Share], item: Item | None) -> tuple[Measured, ...] | None:
    """What each share becomes, in their order; None where they stay as they are."""
    parts = _parts(shares, item)
    if parts is None:
        return None
    asked = sum((each.exact for each in shares), Fraction(0))
    shown = sum((each.measured.shown[0].low for each in shares), Fraction(0))
    halves = all(each.measured.shown[0].low.denominator <= 2 for each in shares)
    if halves or (shown.denominator == 1 and abs(shown / asked - 1) <= WITHIN):
        return None
    total = _bought(asked) if parts else None
    of_table: dict[int, list[int]] = defaultdict(list)
    for at, each in enumerate(shares):
        of_table[each.table].append(at)
    wanted = [sum((shares[at].exact for at in own), Fraction(0)) for own in of_table.values()]
    tables = None if total is None else apportioned(total, wanted, parts)
    found: dict[int, Fraction] = {}
    for amount, own in zip(tables or (), of_table.values(), strict=False):
        steps = apportioned(amount, [shares[at].exact for at in own], BY_EYE)
        found.update(zip(own, steps or (), strict=False))
    if total is None or len(found) < len(shares):
        return _in_quarters(shares) if shown.denominator not in BY_EYE else None
    return tuple(_taking(each, found[at], total) for at, each in enumerate(shares))


def _in_quarters(shares: Sequence[Share]) -> tuple[Measured, ...]:
    """Each for itself, so that nobody adds thirds to quarters; at least one."""
    taken = (max(Fraction(round(each.exact * 4), 4), Fraction(1, 4)) for each in shares)
    return tuple(_taking(each, own, None) for each, own in zip(shares, taken, strict=True))


def _parts(shares: Sequence[Share], item: Item | None) -> tuple[int, ...] | None:
    """Into how many parts one of it is divided between tables; empty where each table divides its
    own; None where it isn't divided, or there is no sum."""
    kinds = set()
    for each in shares:
        if len(each.measured.shown) != 1:
            return None
        shown = each.measured.shown[0]
        kinds.add((shown.unit, shown.size, shown.each, each.measured.way, shown.high is None))
    if len(kinds) != 1:
        return None
    ((unit, _, _, way, is_one),) = kinds
    if not is_one or way is not Way.COUNT:
        return None
    if unit == PIECE:
        parts = parts_of(unit, item)
        return None if parts == (1,) else parts
    return BY_EYE if unit in _PARTED else ()


def _bought(asked: Fraction) -> Fraction | None:
    """The sum as whole ones, else as halves, where it is near enough; None where it isn't."""
    for step in (Fraction(1), Fraction(1, 2)):
        total = math.floor(asked / step + Fraction(1, 2)) * step
        if total and abs(total / asked - 1) <= WHOLE_WITHIN:
            return total
    return None


def apportioned(
    total: Fraction, wanted: Sequence[Fraction], parts: Sequence[int]
) -> tuple[Fraction, ...] | None:
    """A total divided as nearly as wanted, in parts that a knife makes; None where somebody would
    get nothing.

    Who wants the same gets the same where that can be cut. Else it is the coarsest of these parts
    that come within a tenth for everyone, or those that come nearest; where that is far off, the
    lead cook cuts finer. Parts that are left over go to whoever lacks the largest (the method of
    largest remainders).
    """
    if len(set(wanted)) == 1:
        each = total / len(wanted)
        if each.denominator in parts:
            return (each,) * len(wanted)
    best: tuple[Fraction, tuple[Fraction, ...]] | None = None
    for part in (*parts, *(each for each in BY_EYE if each not in parts)):
        if part not in parts and best is not None and best[0] <= WHOLE_WITHIN:
            break
        pieces = total * part
        if pieces.denominator != 1:
            continue
        fair = [pieces * each / sum(wanted) for each in wanted]
        counts = [math.floor(each) for each in fair]
        lacking = sorted(range(len(fair)), key=lambda at: (counts[at] - fair[at], at))
        for at in lacking[: int(pieces) - sum(counts)]:
            counts[at] += 1
        worst = max(abs(count / each - 1) for count, each in zip(counts, fair, strict=True))
        if all(counts) and (best is None or worst < best[0]):
            best = worst, tuple(Fraction(count, part) for count in counts)
            if worst <= WITHIN:
                break
    return None if best is None else best[1]


def _taking(share: Share, taken: Fraction, total: Fraction | None) -> Measured:
    measured = share.measured
    shown: Amount = replace(measured.shown[0], low=taken)
    of_all = total if taken.denominator != 1 else None
    return replace(measured, shown=(shown,), off=taken / share.exact - 1, of_all=of_all)
