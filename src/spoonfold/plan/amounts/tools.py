"""What a kitchen measures with: level cups and spoons, a jug, ladles, dishers, a scale.

Cups and spoons in millilitres that stand for a household measure are that measure: 15 ml is a
tablespoon, 5 ml a teaspoon, 240 ml a cup (21 CFR 101.9(b)(5)(viii)). A cup of 250 ml isn't.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from spoonfold.knowledge.equipment import Kind
from spoonfold.model.classroom import Measuring, Setting
from spoonfold.plan.amounts.convert import CUP, TBSP, TSP
from spoonfold.plan.amounts.scoop import Tool, ToolKind
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import Unit

HOUSEHOLD_WITHIN = Fraction(2, 100)
"""15 ml is 1.4 % more than a tablespoon of 1/2 fl oz (NIST Handbook 44, Appendix C)."""

_HOUSEHOLD_PARTS = {CUP: (1, 2, 3, 4), TBSP: (1, 2, 4), TSP: (1, 2, 4, 8)}
"""Into how many parts each is divided in sets of measures; what holds more than one of them, into
halves at most (common practice)."""

HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Kitchen:
    """What there is to measure with."""

    tools: tuple[Tool, ...]
    """The largest first; never none."""
    scale: bool = False
    """A kitchen scale: weights stay weights."""
    by_eye: bool = False
    """No scale where children divide what is bought: weights become parts of a package. A family
    buys so much and cooks all of it."""

    def __hash__(self) -> int:
        """Every use at every size is looked up by its kitchen, and a class has a few of them."""
        return hash((len(self.tools), self.scale, self.by_eye))

    @property
    def smallest(self) -> Fraction:
        """What the smallest tool holds, in teaspoons."""
        return self.tools[-1].tsp


def household(size: Amount, unit: Unit) -> Fraction | None:
    """How many cups, tablespoons or teaspoons a measure is; None for another metric one."""
    exact = size.to(unit).low
    if size.unit.system != "metric":
        return exact
    parts = _HOUSEHOLD_PARTS[unit] if exact < 1 else (1, 2)
    candidates = (Fraction(round(exact * part), part) for part in parts)
    near = (each for each in candidates if abs(exact - each) <= HOUSEHOLD_WITHIN * each)
    return next(near, None)


@lru_cache(maxsize=64)
def kitchen_of(measuring: Measuring, scale: bool = False, by_eye: bool = False) -> Kitchen:
    """The tools of a set of measures."""
    kinds: tuple[tuple[ToolKind, tuple[Amount, ...], Unit], ...] = (
        ("cup", measuring.cups, CUP),
        ("tbsp", measuring.tablespoons, TBSP),
        ("tsp", measuring.teaspoons, TSP),
        ("ladle", measuring.ladles, CUP),
        ("disher", _dishers(measuring), CUP),
    )
    # Where one cup of a set is no part of a cup, all of them are called by what is engraved.
    metric = any(household(size, CUP) is None for size in measuring.cups)
    tools = [
        _tool(kind, size, unit, kind == "cup" and metric)
        for kind, sizes, unit in kinds
        for size in sizes
    ]
    if measuring.jug is not None:
        tools += _jug(measuring.jug, {tool.tsp for tool in tools})
    return Kitchen(tuple(sorted(tools, key=lambda tool: -tool.tsp)), scale, by_eye)


def disher_size(number: int) -> Amount:
    """What a disher holds: its number is how many level ones make a quart, which is four cups
    (USDA, Food Buying Guide for Child Nutrition Programs)."""
    return Amount(Fraction(4, number), CUP)


def _dishers(measuring: Measuring) -> tuple[Amount, ...]:
    """Those that hold a part of a cup that cooks say: two fifths are said by nobody."""
    sizes = (disher_size(each) for each in measuring.dishers)
    return tuple(size for size in sizes if size.low.denominator in _HOUSEHOLD_PARTS[CUP])


def class_kitchen(setting: Setting) -> Kitchen:
    """What the class measures with."""
    scale = bool(setting.listed(Kind.SCALE))
    return kitchen_of(setting.measuring, scale, by_eye=not scale)


def _tool(kind: ToolKind, size: Amount, unit: Unit, as_engraved: bool = False) -> Tool:
    engraved = as_engraved and size.unit.system == "metric"
    known = None if engraved else household(size, unit)
    exact = size if known is None else Amount(known, unit)
    return Tool(f"{kind} {show_amount(size)}", exact.to(TSP).low, kind, size, known is None)


def _jug(size: Amount, others: set[Fraction]) -> Iterator[Tool]:
    """Full, and filled to half, which is marked on every jug (common practice); but for what
    another tool holds just so."""
    full = _tool("jug", size, CUP)
    yield full
    if full.tsp * HALF not in others:
        yield Tool(f"half {full.name}", full.tsp * HALF, "jug", size, full.metric, HALF)
