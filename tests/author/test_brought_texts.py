"""Texts as people keep recipes, each with the lines that a careful reader would have written. All
of them are invented."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from authoring import found, linked, run
from brought_judge import Judged, judge

from tiny_class import write_class

TEXTS = sorted((Path(__file__).parent / "brought").glob("*.txt"))


@pytest.fixture(scope="module")
def judged() -> dict[str, Judged]:
    """Every text, brought in."""
    return {path.stem: judge(path) for path in TEXTS}


@pytest.mark.parametrize("name", [path.stem for path in TEXTS])
def test_nothing_is_lost(name: str, judged: dict[str, Judged]) -> None:
    """Each food of the text is a line, or stands in a comment; no line is wrong without a mark."""
    told = judged[name]
    assert not {"lost", "wrong"} & told.lines.keys(), (told.faults, told.text)


def test_how_many_are_right(judged: dict[str, Judged]) -> None:
    """Of a hundred lines at least 95, and of what stands at the head as many."""
    lines: Counter[str] = sum((each.lines for each in judged.values()), Counter())
    faults = [fault for each in judged.values() for fault in each.faults]
    assert lines["right"] >= 0.95 * (lines["right"] + lines["marked"]), faults
    assert lines["head right"] >= 0.95 * (lines["head right"] + lines["head wrong"]), faults
    assert lines["made up"] == 0, faults


def test_amounts_as_data() -> None:
    """schema.org: recipeIngredient is Text, a PropertyValue or an ItemList; unitCode takes the
    codes of UN/ECE Recommendation 20."""
    recipe = linked(
        recipeIngredient=[
            {"@type": "PropertyValue", "name": "flour", "value": 250, "unitCode": "GRM"},
            {"@type": "PropertyValue", "name": "eggs", "minValue": 2, "maxValue": 3},
            {"@type": "PropertyValue", "name": "milk", "value": "1/2", "unitText": "cup"},
            {
                "@type": "HowToSupply",
                "name": "sugar",
                "requiredQuantity": {
                    "@type": "QuantitativeValue", "value": 2, "unitText": "tablespoons",
                },
            },
            {"@type": "ItemList", "itemListElement": [{"@type": "ListItem", "item": "salt"}]},
        ]
    )  # fmt: skip
    assert recipe.ingredients == (
        "250 g flour", "2-3 eggs", "1/2 cup milk", "2 tablespoons sugar", "salt",
    )  # fmt: skip


@pytest.mark.parametrize(
    "page",
    [
        """<div itemscope itemtype="https://schema.org/Recipe"><h1 itemprop="name">Bread</h1>
<ul><li itemprop="recipeIngredient" itemscope itemtype="https://schema.org/PropertyValue">
<data itemprop="value" value="500">500</data> <span itemprop="unitText">g</span>
<span itemprop="name">flour</span></li></ul></div>""",
        """<div vocab="https://schema.org/" typeof="Recipe"><h1 property="name">Bread</h1>
<p property="recipeIngredient" typeof="PropertyValue"><span property="value">500</span>
<span property="unitText">g</span> <span property="name">flour</span></p></div>""",
    ],
)
def test_amounts_in_attributes(page: str) -> None:
    """The same as Microdata (HTML Living Standard) and as RDFa Lite (W3C)."""
    assert found(page).ingredients == ("500 g flour",)


@pytest.mark.parametrize("many", ["<a ", "<!--", "<div>", "<a x='", "Mix it well.\n", "\n"])
def test_what_is_never_closed(many: str) -> None:
    """Nothing that a page or a text repeats takes longer than its length: a few seconds for what
    took a minute. That it ends at all is the test."""
    page = f"<html><body><h1>Bread</h1><p>1 cup flour</p>{many * 30_000}"
    assert found(page).ingredients == ("1 cup flour",)


def test_the_foods_of_a_line_that_is_not_understood(tmp_path: Path) -> None:
    """Their allergens are seen all the same."""
    folder = write_class(tmp_path / "class", {"recipes/rice.md": None})
    text = "Cake\nIngredients\n1 c milk (or 2/0 eggs\n1 cup flour\nSteps\nMix the flour in.\n"
    (tmp_path / "cake.txt").write_text(text, encoding="utf-8")
    run("bring", tmp_path / "cake.txt", "--folder", folder)
    made = (folder / "content/recipes/cake.md").read_text("utf-8")
    assert "# not read: 1 c milk (or 2/0 eggs\n" in made
    assert "  - milk, as needed\n  - eggs, as needed\n" in made


def test_a_text_that_is_piped_in(tmp_path: Path) -> None:
    """With a hyphen in the place of its name."""
    from click.testing import CliRunner

    from spoonfold.cli import main

    folder = write_class(tmp_path / "class", {"recipes/rice.md": None})
    text = "Toast\n\n2 slices bread\n1 tsp butter\n\nToast the bread. Spread the butter.\n"
    result = CliRunner().invoke(main, ["bring", "-", "--folder", str(folder)], input=text)
    assert result.exit_code == 0, result.output
    assert "  - 2 slices bread\n" in (folder / "content/recipes/toast.md").read_text("utf-8")
