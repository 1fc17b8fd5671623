"""Amounts and texts for property tests."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from spoonfold.quantity.amount import SIZES, Amount
from spoonfold.quantity.unit import UNITS, Dimension, Unit

MEASURES = [unit for unit in UNITS if unit.dimension is not Dimension.COUNT]
COUNTS = [unit for unit in UNITS if unit.dimension is Dimension.COUNT]

# Twelve digits in all is what a line may hold for one number.
NUMBERS = st.one_of(
    st.builds(Fraction, st.integers(1, 5000), st.sampled_from([1, 2, 3, 4, 5, 6, 7, 8, 9, 12])),
    st.builds(Fraction, st.integers(1, 99_999), st.integers(1, 9_999)),
)


@st.composite
def amounts(draw: st.DrawFn) -> Amount:
    """Every kind of amount that the ingredient line allows."""
    unit = draw(st.sampled_from(UNITS))
    if unit.dimension is not Dimension.COUNT:
        return _plain(draw, unit)
    size = draw(st.one_of(st.none(), st.sampled_from(SIZES)))
    each = _plain(draw, draw(st.sampled_from(MEASURES))) if draw(st.booleans()) else None
    plain = _plain(draw, unit)
    return Amount(plain.low, unit, plain.high, size, each)


def _plain(draw: st.DrawFn, unit: Unit) -> Amount:
    ends = sorted(draw(st.sets(NUMBERS, min_size=1, max_size=2)))
    return Amount(ends[0], unit, ends[1] if len(ends) == 2 else None)


PIECES = """
0 1 2 3 / - – . , ( ) ½ ⅓ + & x " ' % ~ * ⁄ ² ٣ 1e9 1/2 1-1/2 T t c C G g oz lb cup cups tbsp can
cans fl in an a one half dozen some and or to of each total about plus more extra for dusting taste
optional large small boneless chopped salt pepper flour onion half-and-half Ärger 豆
"""

# Pieces of what people really write, in any order, are a harder test than random letters.
_GLUED = st.lists(
    st.sampled_from([*PIECES.split(), "(optional)", " ", "\t", "\n", "\u200b", ", to taste"]),
    max_size=14,
).map("".join)
_SPACED = st.lists(
    st.sampled_from([*PIECES.split(), "(15 oz)", "(2 cups)", "(optional)", ", to taste"]),
    max_size=14,
).map(" ".join)

TEXTS = st.one_of(st.text(max_size=60), _GLUED, _SPACED)
LINES = _SPACED
