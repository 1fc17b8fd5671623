"""Tools of any size: jugs, metric cups and spoons, ladles, and amounts that they can't hit."""

from __future__ import annotations

from fractions import Fraction as F
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.check import examine
from spoonfold.model.classroom import HOME_MEASURING, Measuring
from spoonfold.plan.amounts.convert import CUP, TBSP, TSP
from spoonfold.plan.amounts.measure import Measured, measure
from spoonfold.plan.amounts.tools import disher_size, household, kitchen_of
from spoonfold.plan.amounts.total import added
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.grammar import Refusal, read_amount
from spoonfold.quantity.show import show_amount
from spoonfold.quantity.unit import Unit, size_in
from spoonfold.read.pantry import read_pantry
from tiny_class import CLASS, write_class

PANTRY = read_pantry(None, [])


def measuring_of(tmp_path: Path, line: str) -> Measuring:
    """As `class.yaml` says it, which must be right."""
    usual = "{cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]}"
    assert usual in CLASS
    examined = examine(write_class(tmp_path, {"class.yaml": CLASS.replace(usual, line)}))
    assert examined.problems == ()
    assert examined.read.folder.classroom is not None
    return examined.read.folder.classroom.setting.measuring


def amount(text: str) -> Amount:
    read = read_amount(text)
    assert not isinstance(read, Refusal), read
    return read


def words(amounts: tuple[Amount, ...]) -> str:
    return " + ".join(show_amount(each) for each in amounts)


def scoops(measured: Measured) -> str:
    assert measured.scoops is not None
    return ", ".join(f"{count} x {tool.name}" for tool, count in measured.scoops.counts)


US = "cups: [1, 1/2, 1/3, 1/4], tablespoon: 1, teaspoons: [1, 1/2, 1/4]"
METRIC = "cups: [250 ml, 125 ml], tablespoon: 15 ml, teaspoons: [5 ml, 2.5 ml]"


@pytest.mark.parametrize(
    ("line", "text", "name", "shown", "counted"),
    [
        (f"{{{US}, jug: 1 l}}", "9 cups", "water", "2 l + ½ cup", "2 x jug 1 l, 1 x cup ½ cup"),
        (f"{{{US}, jug: 500 ml}}", "1 l", "milk", "1 l", "2 x jug 500 ml"),
        (f"{{{US}, jug: 500 ml}}", "750 ml", "milk", "750 ml", "1 x jug 500 ml, 1 x half jug 500"),
        (f"{{{US}, jug: 4 cups}}", "6 cups", "water", "6 cups", "1 x jug 4 cups, 1 x half jug 4"),
        # A cup holds what half of this jug does: nobody fills a jug for it.
        (f"{{{US}, jug: 2 cups}}", "3 cups", "water", "3 cups", "1 x jug 2 cups, 1 x cup 1 cup"),
        (f"{{{METRIC}}}", "375 ml", "milk", "375 ml", "1 x cup 250 ml, 1 x cup 125 ml"),
        (f"{{{METRIC}}}", "2 tbsp", "olive oil", "2 tbsp", "2 x tbsp 15 ml"),
        # 60 ml is a quarter cup, but nobody with cups of 250 ml looks for one.
        (
            "{cups: [250 ml, 60 ml], tablespoon: 15 ml, teaspoons: [5 ml]}",
            "15 tsp",
            "ground cumin",
            "75 ml",
            "1 x cup 60 ml, 1 x tbsp 15 ml",
        ),
        (f"{{{METRIC}}}", "1/2 tsp", "salt", "½ tsp", "1 x tsp 2½ ml"),
        (f"{{{US}, ladle: [1/2 cup]}}", "2 cups", "water", "2 cups", "2 x cup 1 cup"),
        ("{cups: 1/4, tablespoon: 1, teaspoons: 1, ladle: 4 fl oz}", "2 cups", "water", "2 cups",
         "4 x ladle 4 fl oz"),
        ("{cups: 1/4, tablespoon: 1, teaspoons: 1, ladle: 4 fl oz}", "1 cup", "rice", "1 cup",
         "4 x cup ¼ cup"),
    ],
)  # fmt: skip
def test_worked(tmp_path: Path, line: str, text: str, name: str, shown: str, counted: str) -> None:
    """What is measured is said in the units of the tools that measure it."""
    kitchen = kitchen_of(measuring_of(tmp_path, line))
    got = measure(amount(text), PANTRY.find(name), None, kitchen)
    assert words(got.shown) == shown
    assert scoops(got).startswith(counted)


@pytest.mark.parametrize(
    ("size", "unit", "known"),
    [
        # 21 CFR 101.9(b)(5)(viii): a teaspoon is 5 ml, a tablespoon 15 ml, a cup 240 ml.
        ("5 ml", TSP, F(1)),
        ("2.5 ml", TSP, F(1, 2)),
        ("15 ml", TBSP, F(1)),
        ("240 ml", CUP, F(1)),
        ("120 ml", CUP, F(1, 2)),
        ("80 ml", CUP, F(1, 3)),
        ("60 ml", CUP, F(1, 4)),
        # NIST Special Publication 430 rounds 2 cups to 470 ml, 4 to 950 ml.
        ("470 ml", CUP, F(2)),
        ("950 ml", CUP, F(4)),
        # Other measures: the metric cup, a tablespoon of four teaspoons, jugs.
        ("250 ml", CUP, None),
        ("20 ml", TBSP, None),
        ("1 l", CUP, None),
        ("500 ml", CUP, None),
    ],
)
def test_household_measures_in_millilitres(size: str, unit: Unit, known: F | None) -> None:
    """What the published household measures round to is that measure; anything else isn't."""
    assert household(amount(size), unit) == known


@pytest.mark.parametrize(
    ("text", "name", "shown", "off"),
    [
        # An eighth of a teaspoon is two pinches (common practice).
        ("3/8 tsp", "salt", "¼ tsp + 2 pinches", F(0)),
        ("7/8 tsp", "baking powder", "¾ tsp + 2 pinches", F(0)),
        ("1 11/12 tsp", "salt", "1¾ tsp + 3 pinches", F(93, 92) - 1),
        ("5/9 tbsp", "olive oil", "1¾ tsp", F(1, 20)),
        ("1/56 cup", "olive oil", "¾ tsp", F(-1, 8)),
        # What pours isn't pinched: 60 drops are a teaspoon (ICN, "Basics at a Glance").
        ("1/10 tsp", "olive oil", "6 drops", F(0)),
    ],
)
def test_what_no_spoon_holds(text: str, name: str, shown: str, off: F) -> None:
    """The nearest that the spoons and two fingers measure, and how far off that is."""
    got = measure(amount(text), PANTRY.find(name), None, kitchen_of(HOME_MEASURING))
    assert (words(got.shown), got.off) == (shown, off)


def test_few_tools_come_as_near_as_they_can() -> None:
    """Third cups without a third cup, with one tablespoon and one teaspoon: 16 teaspoons are 5
    tablespoons and a teaspoon; what is between two spoons goes to the nearer one."""
    few = Measuring(*((Amount(F(1), unit),) for unit in (CUP, TBSP, TSP)))
    oil = PANTRY.find("olive oil")
    assert words(measure(amount("1/3 cup"), oil, None, kitchen_of(few)).shown) in (
        "5 tbsp + 1 tsp",
        "5 tbsp",
    )
    got = measure(amount("1 2/5 tsp"), oil, None, kitchen_of(few))
    assert (words(got.shown), got.off) == ("1 tsp", F(5, 7) - 1)


@pytest.mark.parametrize(
    ("cups", "shown"),
    [
        # The guide (Measuring Success with Standardized Recipes, 2002) rounds 2 to 10 gallons to
        # a full quart, and to a full cup what needs its ratios; 1 gal = 16 c (NIST HB 44, App. C).
        (F(32), "32 cups"),
        (F(100), "6¼ gallons"),
        (F(101), "6¼ gallons"),
        (F(34), "2 gallons + 2 cups"),
        (F(331, 10), "2 gallons + 1 cup"),
        (F(400), "25 gallons"),
    ],
)
def test_large_amounts_by_the_guide(cups: F, shown: str) -> None:
    """In gallons and quarts; never more than 3 % off, which a quart may be of so little."""
    got = measure(Amount(cups, CUP), PANTRY.find("water"), None, kitchen_of(HOME_MEASURING))
    assert words(got.shown) == shown
    assert abs(got.off) <= F(3, 100)


def test_a_sum_keeps_to_the_tools() -> None:
    """A litre is no number of cups: each is added up in its own tools, exactly."""
    parts = ["1 l", "500 ml", "1/2 cup", "1/3 cup", "5 pinches"]
    sum_of = added((amount(each),) for each in parts)
    assert words(sum_of) == "1½ l + ¾ cup + 1 tbsp + 1¼ tsp + 1 pinch"
    exact = sum((each.to(TSP).low for each in map(amount, parts)), F(0))
    assert sum((each.to(TSP).low for each in sum_of), F(0)) == exact


@given(
    cups=st.sets(st.sampled_from(["1 cup", "1/2 cup", "1/3 cup", "1/4 cup", "250 ml", "100 ml"]),
                 min_size=1),
    spoons=st.sets(st.sampled_from(["1 tsp", "1/2 tsp", "1/4 tsp", "5 ml", "2.5 ml"]), min_size=1),
    jug=st.sampled_from([None, "2 cups", "1 l", "500 ml"]),
    name=st.sampled_from(["water", "milk", "rice", "salt", "onion", "olive oil"]),
    tsp=st.fractions(F(1, 24), 1200, max_denominator=24),
)  # fmt: skip
def test_every_amount_is_made_of_scoops(
    cups: set[str], spoons: set[str], jug: str | None, name: str, tsp: F
) -> None:
    """What is said is exactly what the scoops and pinches hold, and as far off as is said."""
    kitchen = kitchen_of(
        Measuring(
            tuple(map(amount, sorted(cups))),
            (Amount(F(1), TBSP),),
            tuple(map(amount, sorted(spoons))),
            None if jug is None else amount(jug),
        )
    )
    got = measure(Amount(tsp, TSP), PANTRY.find(name), None, kitchen)
    pinches = [each for each in got.shown if each.unit.name in ("pinch", "drop")]
    held = sum((each.to(TSP).low for each in pinches), F(0))
    if got.scoops is not None:
        held += sum((tool.tsp * count for tool, count in got.scoops.counts), F(0))
    assert sum((each.low * size_in(each.unit, TSP) for each in got.shown), F(0)) == held
    assert got.off == held / tsp - 1


ICN_DISHERS = {6: F(2, 3), 8: F(1, 2), 12: F(1, 3), 16: F(1, 4)}
"""Number of a disher and its level measure in cups: Institute of Child Nutrition, Basics at a
Glance, the rows that are no rounded values."""


@pytest.mark.parametrize(("number", "cups"), ICN_DISHERS.items())
def test_a_disher_holds_what_its_number_says(number: int, cups: F) -> None:
    """So many level ones make a quart."""
    assert disher_size(number).to(CUP).low == cups


def test_a_disher_measures_what_is_thick(tmp_path: Path) -> None:
    """Where the smallest cup is a whole one, three quarters of flour are three of number 16; water
    isn't scooped with it, and number 20, which is a fifth of a cup, measures nothing."""
    line = "{cups: [1], tablespoon: 1, teaspoons: [1, 1/2, 1/4], disher: [16, 20]}"
    measuring = measuring_of(tmp_path, line)
    assert measuring.dishers == (16, 20)
    kitchen = kitchen_of(measuring)
    assert [tool.tsp for tool in kitchen.tools if tool.kind == "disher"] == [12]
    flour = measure(amount("3/4 cup"), PANTRY.find("all-purpose flour"), None, kitchen)
    assert flour.scoops is not None and words(flour.shown) == "¾ cup"
    assert [(tool.kind, count) for tool, count in flour.scoops.counts] == [("disher", 3)]
    water = measure(amount("3/4 cup"), PANTRY.find("water"), None, kitchen)
    assert water.scoops is not None
    assert all(tool.kind != "disher" for tool, _ in water.scoops.counts)
