"""What a session needs from the shop, and what is left of it for the next."""

from __future__ import annotations

import csv
import datetime
import io
import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction as F
from pathlib import Path

import pytest
from shop_class import CLASS, FILES, PANTRY, ROLLS

from demo_class import demo_examined
from spoonfold.check import Examined, examine
from spoonfold.language.texts import Texts
from spoonfold.model.classroom import Classroom
from spoonfold.model.pantry import Package
from spoonfold.plan.amounts.convert import GRAM, known_unit
from spoonfold.plan.shop.corner import others_of, stand_ins_of
from spoonfold.plan.shop.left import SeasonLine, Trip, stock_of, trips_of, with_children
from spoonfold.plan.shop.portion import Kind, Scale
from spoonfold.plan.shop.shop import SPARES, Line, Need, Purchase, purchase_for
from spoonfold.press.rows import comma_separated
from spoonfold.quantity.amount import Amount
from spoonfold.quantity.show import show_amount
from spoonfold.read.pantry import SECTIONS, read_pantry
from spoonfold.sheets.shopping import HEADINGS, shopping_of, shopping_table

MakeClass = Callable[..., Path]
POUND = F("453.59237")
"""In grams: NIST Handbook 44, appendix C."""


def _examined(make_class: MakeClass, changes: Mapping[str, str | None] | None = None) -> Examined:
    return examine(make_class({**FILES, **(changes or {})}))


def _classroom(examined: Examined) -> Classroom:
    classroom = examined.read.folder.classroom
    assert classroom is not None, examined.problems
    return classroom


def _trips(examined: Examined) -> tuple[Trip, ...]:
    folder = examined.read.folder
    return trips_of(
        _classroom(examined).sessions, folder.recipes, examined.facts.uses, folder.pantry
    )


def _found(trip: Trip, name: str) -> SeasonLine:
    (line,) = (each for each in trip.lines if each.line.name == name)
    return line


def _bought(line: Line) -> list[tuple[int, str]]:
    assert line.purchase is not None
    return [(count, show_amount(package.size)) for count, package in line.purchase.packages]


@pytest.fixture(scope="module")
def demo() -> Examined:
    return demo_examined()


class TestLines:
    def test_what_tables_measure(self, make_class: MakeClass) -> None:
        """Each table's own amounts are added up, dish by dish, before packages are counted."""
        line = _found(_trips(_examined(make_class))[1], "olive oil").line
        assert [taking.dish for taking in line.takings] == ["rolls", "salad"]
        assert [show_amount(each) for each in line.measured] == ["¾ cup"]
        assert _bought(line) == [(1, "16 fl oz")]

    def test_spare(self, make_class: MakeClass) -> None:
        """Of what tears there is a spare: two for twenty rice papers."""
        line = _found(_trips(_examined(make_class))[0], "rice papers").line
        assert SPARES["rice paper"] == F(1, 10)
        assert line.spare is not None and line.spare.low == 2
        assert line.need is not None and line.need.size == 22
        assert _bought(line) == [(1, "25")]

    def test_no_spare_of_a_package(self, make_class: MakeClass) -> None:
        """A package is no piece that tears: nobody buys another for it."""
        rolls = ROLLS.replace("10 rice papers", "1 package rice papers")
        trip = _trips(_examined(make_class, {"recipes/rolls.md": rolls}))[0]
        assert _found(trip, "rice papers").line.spare is None

    def test_what_a_table_cooks_apart_isnt_bought_for_the_pot(self, make_class: MakeClass) -> None:
        """Of two tables one cooks without yogurt, beside the pot: the pot is for the other."""
        rolls = ROLLS.replace("    - time: 5 min", "    - for: class\n    - time: 5 min")
        table_1 = CLASS.replace("table: 2", "table: 1")
        trip = _trips(_examined(make_class, {"recipes/rolls.md": rolls, "class.yaml": table_1}))[0]
        plain, swap = _found(trip, "plain yogurt").line, _found(trip, "coconut yogurt").line
        assert [show_amount(each) for each in plain.measured] == ["½ cup"]
        assert [show_amount(each) for each in swap.measured] == ["½ cup"]

    def test_the_largest_package_first(self) -> None:
        """Six and a half pounds are five and twice one: what is left is told of the large one."""
        flour = read_pantry(None, []).find("all-purpose flour")
        assert flour is not None
        pound = known_unit("lb")
        one, five = Package(Amount(F(1), pound), F(1)), Package(Amount(F(5), pound), F(3))
        need = Need(Scale(Kind.WEIGHT), F(13, 2) * POUND)
        found = purchase_for(need, replace(flour, packages=(one, five)))
        assert found == Purchase(((1, five), (2, one)), F(5), F(1, 2) / 5)

    def test_to_taste_the_cheapest_package(self, make_class: MakeClass) -> None:
        """Of what nobody measures; where a price is missing, the first that is listed."""
        sizes = 'check label: [], packages: [{size: 1 lb, price: "2"}, {size: 4 oz, price: "0.9"}]'
        for listed, wanted in ((sizes, "4 oz"), (sizes.replace(', price: "0.9"', ""), "1 lb")):
            own = PANTRY.replace("check label: []", listed)
            trip = _trips(examine(make_class({**FILES, "pantry.yaml": own})))[0]
            assert _bought(_found(trip, "moon dust").line) == [(1, wanted)]

    def test_swap_at_a_table(self, make_class: MakeClass) -> None:
        """A table that swaps buys the swap, and the original is bought for the others alone."""
        trip = _trips(_examined(make_class))[0]
        plain, swap = _found(trip, "plain yogurt").line, _found(trip, "coconut yogurt").line
        assert [show_amount(each) for each in plain.measured] == ["½ cup"]
        assert [show_amount(each) for each in swap.measured] == ["½ cup"]
        assert swap.takings[0].tables == (2,)
        assert swap.takings[0].instead_of == ("plain yogurt",)
        assert {each.avoided for each in plain.findings} == {"milk"}

    def test_unknown_food(self, make_class: MakeClass) -> None:
        """What the pantry doesn't know stands on the list as it is, in the last section."""
        own = PANTRY.replace("moon dust: {allergens: [], check label: []}\n", "")
        examined = _examined(make_class, {"pantry.yaml": own})
        line = _found(_trips(examined)[0], "moon dust").line
        assert (line.item, line.section, line.as_needed) == (None, "other", True)
        assert line.purchase is None and line.need is None

    def test_water_is_not_bought(self, demo: Examined) -> None:
        """Water comes from the tap."""
        assert not any(
            each.line.item and each.line.item.name == "water"
            for trip in _trips(demo)
            for each in trip.lines
        )

    def test_no_guess(self, make_class: MakeClass) -> None:
        """A package that nobody weighed is not counted: the line is bought as measured."""
        own = PANTRY.replace("size: 16 fl oz", "size: 1 bottle")
        line = _found(_trips(_examined(make_class, {"pantry.yaml": own}))[0], "olive oil").line
        assert line.purchase is None
        assert [show_amount(each) for each in line.measured] == ["½ cup"]

    def test_range_by_its_upper_end(self, make_class: MakeClass) -> None:
        """Of two to three as much is bought as the larger number takes."""
        rolls = ROLLS.replace("10 rice papers", "8-12 rice papers")
        trip = _trips(_examined(make_class, {"recipes/rolls.md": rolls}))[0]
        line = _found(trip, "rice papers").line
        assert line.need is not None and line.need.size == 24 + 3


class TestMoney:
    def test_cost_of_a_child(self, make_class: MakeClass) -> None:
        """The cost is that at the till, whole packages, over the children."""
        trip = _trips(_examined(make_class))[0]
        assert trip.cost == F("15.5") and trip.children == 8 and trip.over == 0
        assert [line.name for line in trip.unpriced] == ["moon dust"]

    def test_over_the_budget(self, make_class: MakeClass) -> None:
        """A session above its budget is a warning that names what is dear."""
        own = CLASS.replace("budget: 3", "budget: 1.50")
        (problem,) = (
            each
            for each in _examined(make_class, {"class.yaml": own}).problems
            if each.code == "over-budget"
        )
        assert problem.place.line == 16
        assert problem.message == (
            "Session 2 costs 2.15 a child at the till, and the budget is 1.50: 5.20 too much for "
            "8. Over it too: sessions 1, 3."
        )
        assert "Dearest: olive oil 6.00, coconut yogurt 4.00, plain yogurt 3.00." in problem.hint
        assert "it comes to 1.40 a child" in problem.hint

    def test_price_missing(self, make_class: MakeClass) -> None:
        """A line without a price is named, and not in the sum."""
        own = PANTRY.replace('{size: 16 fl oz, price: "6.00"}', "{size: 16 fl oz}")
        trip = _trips(_examined(make_class, {"pantry.yaml": own}))[0]
        assert trip.cost == F("9.5")
        assert {line.name for line in trip.unpriced} == {"moon dust", "olive oil"}

    def test_swap_for_the_price(self, make_class: MakeClass) -> None:
        """A recipe's own swap for the price is named with its packages for the whole class."""
        examined = _examined(make_class)
        folder, classroom = examined.read.folder, _classroom(examined)
        line = _found(_trips(examined)[0], "olive oil").line
        (swap,) = stand_ins_of(line, folder.recipes, classroom.setting, folder.pantry, ("milk",))
        assert swap.name == "sunflower oil" and swap.findings == ()
        assert swap.amount is not None and show_amount(swap.amount) == "8 tbsp"
        assert swap.purchase is not None and swap.purchase.cost == 1


class TestSeason:
    def test_look_first(self, make_class: MakeClass) -> None:
        """What should be left is looked for; what to buy without it stays on the list."""
        second = _found(_trips(_examined(make_class))[1], "olive oil")
        (lot,) = second.at_hand
        assert (lot.share, lot.since) == (F(3, 4), datetime.date(2027, 9, 18))
        assert second.instead is not None and second.instead.packages == ()
        assert _bought(second.line) == [(1, "16 fl oz")]

    def test_cost_is_never_less_by_it(self, make_class: MakeClass) -> None:
        """The cost counts everything as bought; what it may be less stands beside it."""
        second = _trips(_examined(make_class))[1]
        assert second.cost == F("15.5") + F("1.7")
        # The oil; opened yogurt doesn't keep for a week.
        assert second.least == second.cost - 6

    def test_used_up(self, make_class: MakeClass) -> None:
        """Session by session less is left: 16, then 12, then 6 fluid ounces of oil."""
        trips = _trips(_examined(make_class))
        shares = [[lot.share for lot in _found(trip, "olive oil").at_hand] for trip in trips]
        assert shares == [[], [F(3, 4)], [F(3, 8)]]

    def test_spoils(self, make_class: MakeClass) -> None:
        """What no longer keeps is nothing to look for."""
        own = PANTRY.replace("plain yogurt: {", "plain yogurt: {opened: {fridge: 6 days}, ")
        trips = _trips(_examined(make_class, {"pantry.yaml": own}))
        assert _found(trips[1], "plain yogurt").at_hand == ()
        longer = own.replace("6 days", "7 days")
        trips = _trips(examine(make_class({**FILES, "pantry.yaml": longer})))
        assert _found(trips[1], "plain yogurt").at_hand != ()

    def test_pieces_are_whole(self, make_class: MakeClass) -> None:
        """Three rice papers that are left don't change what to buy, and aren't mentioned."""
        second = _found(_trips(_examined(make_class))[1], "rice papers")
        assert second.at_hand == () and _bought(second.line) == [(1, "25")]

    def test_once_for_the_season(self, make_class: MakeClass) -> None:
        """What keeps can be bought once: the sum of the sessions, in the best packages."""
        (oil,) = (
            each for each in stock_of(_trips(_examined(make_class))) if each.name == "olive oil"
        )
        assert oil.sessions == (1, 2, 3) and oil.apart == 3
        assert oil.purchase.packages[0][0] == 1
        assert [show_amount(each) for each in oil.measured] == ["1¾ cups"]

    def test_unknown_food_is_not_for_the_season(self, make_class: MakeClass) -> None:
        """Whether it keeps is not known, however often it is measured."""
        own = PANTRY.replace("moon dust: {allergens: [], check label: []}\n", "")
        rolls = ROLLS.replace("moon dust, to taste", "1 tsp moon dust")
        examined = _examined(make_class, {"pantry.yaml": own, "recipes/rolls.md": rolls})
        assert {each.name for each in stock_of(_trips(examined))} == {"olive oil", "rice papers"}

    def test_half_is_left_after_tasting(self, make_class: MakeClass) -> None:
        """Of what nobody measured, half of the package (common practice)."""
        known = "keeps: {cupboard: 90 days, source: from memory}, packages: [{size: 1 lb}]"
        own = PANTRY.replace("check label: []", f"check label: [], {known}")
        second = _found(_trips(_examined(make_class, {"pantry.yaml": own}))[1], "moon dust")
        assert [lot.share for lot in second.at_hand] == [F(1, 2)]

    def test_late_change(self, make_class: MakeClass) -> None:
        """Children who come instead are spread over the tables as evenly as they go."""
        session = _classroom(_examined(make_class)).sessions[0]
        assert with_children(session, 5).setting.tables == (3, 2)
        assert with_children(session, 1).setting.tables == (1, 0)


class TestCorner:
    def test_beans(self, demo: Examined) -> None:
        """Dry beans and canned ones lead to each other by the cups that a pound gives."""
        pantry = demo.read.folder.pantry
        stew = _found(_trips(demo)[4], "dried chickpeas").line
        (canned,) = others_of(stew, pantry, ())
        # 750 g dry are 6.15 cups a pound, each 152 g drained, and 253 g are drained from a can.
        grams = 750 / POUND * F("6.15") * 152
        assert canned.amount is not None and canned.amount.low - grams < 1
        assert canned.purchase is not None and canned.purchase.packages[0][0] == 7
        assert canned.purchase.left == 7 - grams / 253

    @pytest.mark.parametrize(
        ("listed", "named", "grams"),
        [
            ("2 cups dry pinto beans", "dry pinto beans", 386 / POUND * F("21.0") / 4 * 169),
            ("5 1/4 cups pinto beans, drained", "pinto beans", POUND),
            ("2 cups dry white beans", "dry white beans", 404 / POUND * F("25.5") / 4 * 170),
            ("3 cups white beans, drained", "white beans", POUND * 3 * 4 / F("25.5")),
        ],
    )
    def test_published_bean_yields(
        self, make_class: MakeClass, listed: str, named: str, grams: F
    ) -> None:
        """A pound of dry beans is as many quarter-cups of cooked ones as is published, and back
        again: 21.0 of pinto, 25.5 of Great Northern beans (Texas Department of Agriculture,
        "Helper Sheets", excerpts from the USDA Food Buying Guide, April 2007). A cup of pinto
        beans is 193 g dry and 169 g drained, of white ones 202 g dry (USDA SR26 16042, 16345,
        16049) and 170 g drained (from memory)."""
        rolls = ROLLS.replace("10 rice papers", listed).replace("rice papers", named)
        one_table = CLASS.replace("[4, 4]", "[4]").replace("table: 2", "table: 1")
        examined = _examined(make_class, {"recipes/rolls.md": rolls, "class.yaml": one_table})
        line = _found(_trips(examined)[0], named).line
        (other,) = others_of(line, examined.read.folder.pantry, ())
        assert other.amount == Amount(F(math.ceil(grams)), GRAM)

    def test_the_cans_that_the_author_lists(self, make_class: MakeClass) -> None:
        """At her price, not the usual can that nobody priced."""
        own = PANTRY + 'pinto beans: {packages: [{size: 1 can (15 oz), price: "0.95"}]}\n'
        examined = self._of(make_class, "2 cups dry pinto beans", own)
        line = _found(_trips(examined)[0], "dry pinto beans").line
        (other,) = others_of(line, examined.read.folder.pantry, ())
        assert other.purchase is not None
        ((count, can),) = other.purchase.packages
        assert show_amount(can.size) == "1 can (15 oz)"
        assert other.purchase.cost == count * F("0.95")

    @pytest.mark.parametrize(
        ("listed", "name", "other"),
        [
            ("1 bunch basil", "basil", "dried basil"),
            ("2 tbsp lemon, juiced", "lemon", "lemon juice"),
        ],
    )
    def test_a_name_where_no_spoon_is_published(
        self, make_class: MakeClass, listed: str, name: str, other: str
    ) -> None:
        """A bunch has no number of spoons, and a spoon of lemons no number of fruits."""
        examined = self._of(make_class, listed)
        found = others_of(_found(_trips(examined)[0], name).line, examined.read.folder.pantry, ())
        assert [(each.item.name, each.amount) for each in found] == [(other, None)]

    @staticmethod
    def _of(make_class: MakeClass, listed: str, own: str = PANTRY) -> Examined:
        """A class whose one dish has the line in place of its rice papers."""
        name = listed.split(",")[0].split(maxsplit=2)[2]
        rolls = ROLLS.replace("10 rice papers", listed).replace("rice papers", name)
        return _examined(make_class, {"recipes/rolls.md": rolls, "pantry.yaml": own})

    def test_same_edible_portion(self, demo: Examined) -> None:
        """Canned corn for frozen corn: as many grams drained as the cups of frozen corn weigh."""
        corn = _found(_trips(demo)[2], "frozen corn").line
        (canned,) = others_of(corn, demo.read.folder.pantry, ())
        assert canned.drained and canned.amount is not None
        assert canned.amount.low == F(15, 4) * 136
        assert canned.purchase is not None and canned.purchase.packages[0][0] == 2

    def test_name_without_a_number(self, demo: Examined) -> None:
        """Where no published can leads to dry beans there is a name and no amount."""
        beans = _found(_trips(demo)[5], "white beans").line
        (dry,) = others_of(beans, demo.read.folder.pantry, ())
        assert (dry.item.name, dry.amount, dry.purchase) == ("dry white bean", None, None)


class TestOverBudget:
    @pytest.mark.parametrize(
        ("sessions", "others"), [(1, ""), (2, "Over it too: session 1."), (3, "sessions 1, 3.")]
    )
    def test_every_session_over_it_is_named(
        self, make_class: MakeClass, sessions: int, others: str
    ) -> None:
        """One warning for one budget: the dearest session in full, the others by number."""
        head, _, listed = CLASS.replace("budget: 3", 'budget: "0.10"').partition("sessions:\n")
        lines = "\n".join(listed.splitlines()[:sessions])
        examined = _examined(make_class, {"class.yaml": f"{head}sessions:\n{lines}\n"})
        (over,) = (each for each in examined.problems if each.code == "over-budget")
        assert over.message.startswith(f"Session {min(sessions, 2)} costs")
        assert over.message.endswith(others) and ("Over it too" in over.message) == bool(others)


class TestTheDemo:
    def test_within_budget(self, demo: Examined) -> None:
        """Every session can be paid with the budget, everything bought."""
        for trip in _trips(demo):
            assert trip.over == 0 and trip.cost > 0, trip.session.number
            assert not trip.unpriced, trip.session.number

    def test_every_line_in_a_section(self, demo: Examined) -> None:
        """Nothing on the sheet is lost: each line stands in a section of the shop."""
        classroom = _classroom(demo)
        for trip in _trips(demo):
            sheet = shopping_of(demo.read.folder, classroom, trip, Texts("en"))
            rows = [row.name for section in sheet.sections for row in section.rows]
            assert sorted(rows) == sorted(each.line.name for each in trip.lines)
            assert {section.title for section in sheet.sections} <= set(SECTIONS)

    def test_swaps_are_bought(self, demo: Examined) -> None:
        """What the needs of session 6 ask for is on its list, with the label to read."""
        trip = _trips(demo)[5]
        sheet = shopping_of(demo.read.folder, _classroom(demo), trip, Texts("en"))
        rows = {row.name: row for section in sheet.sections for row in section.rows}
        assert "table 3, instead of ground turkey" in rows["white beans"].need
        assert rows["plain yogurt"].label == "meat, lard or gelatin (table 3)"
        assert "Not for everyone: milk (table 2)." in rows["plain yogurt"].notes

    def test_table_reads_back(self, demo: Examined) -> None:
        """The table for a spreadsheet reads back cell by cell, with four blanks in each row."""
        classroom = _classroom(demo)
        sheets = [
            shopping_of(demo.read.folder, classroom, trip, Texts("en")) for trip in _trips(demo)
        ]
        table = shopping_table(sheets)
        text = comma_separated(table)
        assert [tuple(row) for row in csv.reader(io.StringIO(text, newline=""))] == list(table)
        assert all(len(row) == len(HEADINGS) and row[-4:] == ("",) * 4 for row in table[1:])
        assert len(table) - 1 == sum(
            len(section.rows) for sheet in sheets for section in sheet.sections
        )
        assert text.count("\r\n") == len(table)
