"""`spoonfold shop`: what it prints, how wide, and its exit codes."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from shop_class import CLASS, FILES, PANTRY, ROLLS

from spoonfold.cli import DONE, PROBLEMS, WRONG_USE, main

DEMO = Path(__file__).resolve().parents[2]
MakeClass = Callable[..., Path]


def run(folder: Path, *arguments: str) -> Result:
    result = CliRunner().invoke(main, ["shop", *arguments, "--folder", str(folder)])
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


class TestShop:
    def test_a_session(self, make_class: MakeClass) -> None:
        """The whole list: for whom, what it costs, every section with its boxes to tick."""
        result = run(make_class(FILES), "2")
        assert result.exit_code == DONE
        assert (
            result.output
            == """\
Session 2, Saturday, September 25, 2027: Rolls; Salad. 8 children.
Everything on this list: $17.20, which is $2.15 a child.
If all that should be left is there: $11.20, $1.40 a child.
Budget: $3.00 a child. $0.85 a child is left.
Without a price, and not in the sum: moon dust.

VEGETABLES
[ ] 1 × 3 lb              onions: 4 large                                   1.70

DAIRY AND EGGS
[ ] 1 × 24 oz             coconut yogurt: ½ cup (table 2, instead of        4.00
                          plain yogurt)
                          Label must not name milk (table 2).
                          Some brands contain tree nut, soy.
[ ] 1 × 32 oz             plain yogurt: ½ cup                               3.00
                          Not for everyone: milk (table 2).

DRY GOODS
[ ] 1 pack of 25          rice papers: 20 + 2 spare                         2.50
                          Some brands contain wheat, gluten.

OILS AND SAUCES
[ ] 1 × 16 fl oz          olive oil: ½ cup (Rolls) + ¼ cup (Salad)          6.00
                          Look first: about ¾ of 16 fl oz, since Sep 18, in the
                          cupboard. Found: buy nothing.
                          Will do for the price: sunflower oil, 1 × 8 fl oz.

OTHER
[ ] some                  moon dust: as needed
"""
        )

    def test_an_unknown_food(self, make_class: MakeClass) -> None:
        """Where nobody avoids anything it is listed, and its label is to be read."""
        needs = "needs:\n  - {table: 2, avoid: [milk]}\n"
        pantry = PANTRY.replace("moon dust: {allergens: [], check label: []}\n", "")
        files = {**FILES, "class.yaml": CLASS.replace(needs, ""), "pantry.yaml": pantry}
        assert (
            "The pantry doesn't know it: read its whole label."
            in run(make_class(files), "2").output
        )

    def test_the_season(self, make_class: MakeClass) -> None:
        """Without a number: each session's cost, and what to buy once."""
        result = run(make_class(FILES))
        assert result.exit_code == DONE
        assert "      2  Sep 25     2.15      1.40  rolls, salad\n" in result.output
        assert "[ ] 1 × 16 fl oz          olive oil: 1¾ cups in sessions 1, 2, 3" in result.output

    @pytest.mark.parametrize("options", [(), ("3",), ("6",), ("5", "--corner"), ("--corner",)])
    def test_eighty_columns(self, options: tuple[str, ...]) -> None:
        """Nothing is wider than a terminal."""
        result = run(DEMO, *options)
        assert result.exit_code == DONE
        assert max(map(len, result.output.splitlines())) <= 80

    def test_late_change(self, make_class: MakeClass) -> None:
        """Fewer children measure less, and the list says for how many it is."""
        result = run(make_class(FILES), "1", "--children", "5")
        assert "Rolls. 5 children." in result.output
        assert "rice papers: 13 + 2 spare" in result.output

    def test_csv(self) -> None:
        """The table has one row for each line of every session, under its headings."""
        result = run(DEMO, "--csv")
        rows = list(csv.DictReader(io.StringIO(result.output, newline="")))
        assert result.exit_code == DONE
        assert {row["session"] for row in rows} == set("12345678")
        assert all(row["item"] and row["buy"] and row["paid"] == "" for row in rows)

    def test_corner_csv(self) -> None:
        """The list for a small shop is a table too."""
        rows = list(csv.DictReader(io.StringIO(run(DEMO, "5", "--corner", "--csv").output)))
        assert ("dried chickpeas", "chickpeas") in {
            (row["instead of"], row["item"]) for row in rows
        }

    @pytest.mark.parametrize(
        ("options", "said"),
        [
            (("9",), "There is no session 9.\nThe sessions are 1 to 3.\n"),
            (
                ("--children", "4"),
                "--children is for one session.\nFor example: spoonfold shop 3 --children 4\n",
            ),
        ],
    )
    def test_wrong_use(self, make_class: MakeClass, options: tuple[str, ...], said: str) -> None:
        """A session that isn't there, or a change of none, is wrong use with a way out."""
        result = run(make_class(FILES), *options)
        assert (result.exit_code, result.output) == (WRONG_USE, said)

    @pytest.mark.parametrize("option", ["0", "-3", "three"])
    def test_odd_numbers(self, make_class: MakeClass, option: str) -> None:
        """Children are counted from one."""
        assert run(make_class(FILES), "1", "--children", option).exit_code == WRONG_USE

    def test_an_error_makes_no_list(self, make_class: MakeClass) -> None:
        """With an error in the content no list is made: it might lack something."""
        bent = ROLLS.replace("4 tbsp olive oil", "4 t olive oil", 1)
        result = run(make_class({**FILES, "recipes/rolls.md": bent}), "1")
        assert result.exit_code == PROBLEMS
        assert "bare-unit-letter" in result.output
        assert "No list was made." in result.output
