"""`pantry NAME`: what is known and from where, and the lines that change it."""

from __future__ import annotations

from pathlib import Path

import pytest
from authoring import run

from spoonfold.author.known import lines_of
from spoonfold.problem import Problem
from spoonfold.read.files import Source
from spoonfold.read.folder import read_folder
from spoonfold.read.pantry import lines_to_add, read_pantry
from tiny_class import write_class

PANTRY = """\
# Our shop.
onion: {packages: [{size: 3 lb, price: "2.60"}]}
oats:
  also: rolled porridge
"""

ONION = """\
onion

  several        onions
  also called    yellow onion, brown onion, white onion, sweet onion
  in es          cebolla, cebollas
  in vi          hành tây
  in ar          بصل
  contains       none that Spoonfold knows of (by what the food is; brands
                   differ, so read every label)
  is             plant
  weighs         1 cup, chopped: 160 g (USDA SR26 11282: 1 cup, chopped)
                 1 cup, sliced: 115 g (USDA SR26 11282: 1 cup, sliced)
                 1 tbsp, chopped: 10 g (USDA SR26 11282: 1 tbsp chopped)
                 1 small: 70 g (USDA SR26 11282: 1 small)
                 1 medium: 110 g (USDA SR26 11282: 1 medium (2-1/2" dia))
                 1 large: 150 g (USDA SR26 11282: 1 large)
                 1 of it: 110 g (common practice: one without a size is medium)
  edible         90 % of what is bought (USDA SR26 11282: refuse 10 %)
  keeps          30 days in the cupboard (from memory)
  opened, keeps  5 days in the fridge (from memory)
  is sold as     3 lb for 2.60 (your own)
  in the shop    vegetables
  food group     other vegetable
  colour         white-brown
  measured       forgiving
  divided into   quarter
  processing     1 of 4 (after NOVA, Monteiro et al. 2016)

Your own entry begins on line 2 of content/pantry.yaml; what it names counts
before what ships with Spoonfold.

To see all of it as lines that you can change:

  spoonfold pantry onion --lines
"""


def test_a_known_one_is_shown_with_every_source(tmp_path: Path) -> None:
    """The whole text; what is her own is told apart."""
    folder = write_class(tmp_path, {"pantry.yaml": PANTRY})
    result = run("pantry", "Onions", "--folder", folder)
    assert (result.exit_code, result.output) == (0, ONION)


def test_without_an_entry_of_her_own_she_is_shown_how_to_make_one(tmp_path: Path) -> None:
    """Its example is refused until its size and price are put in."""
    output = run("pantry", "rice vinegar", "--folder", write_class(tmp_path)).output
    example = output[output.index("  rice vinegar:") :].split("\n")[:2]
    text = "\n".join(line[2:] for line in example)
    found: list[Problem] = []
    read_pantry(Source("content/pantry.yaml", text), found)
    assert [each.code for each in found] == ["not-a-price"]
    found.clear()
    read_pantry(Source("content/pantry.yaml", text.replace("price: 0", "price: 1.20")), found)
    assert found == []


def test_an_unknown_one_names_the_nearest_and_the_lines_to_paste(tmp_path: Path) -> None:
    """The whole text."""
    result = run("pantry", "chick peas flower", "--folder", write_class(tmp_path))
    assert (result.exit_code, result.output) == (
        2,
        """\
Nothing is known of “chick peas flower”. The nearest names are: chickpea flour.

If it is none of these, paste these lines at the end of content/pantry.yaml, and
finish the first one; until then they are refused:

chick peas flower:
  allergens: read the label   # then what it contains: [milk, wheat], or []
  check label: []             # what only some brands contain
  section: dry goods          # where the shop has it
  tags: [plant]               # or animal, meat, perishable, choking ...
  # So that cups can be weighed: how many grams one cup of it has.
  # weights: [{measure: 1 cup, grams: 90, source: weighed by me}]
  # packages: [{size: 1 lb, price: 2.40}]
""",
    )


@pytest.mark.parametrize(
    "name", ["quinoa flakes", "Grandma's mix: the red one", "#1 spice", "ナス"]
)
def test_nothing_is_assumed_of_allergens(tmp_path: Path, name: str) -> None:
    """Pasted as they are, the lines are refused at the allergens alone; answered, with every
    line that waits behind a #, they are right and the ingredient is known."""
    text = "\n".join([*lines_to_add(name), ""])
    found = read_folder(write_class(tmp_path, {"pantry.yaml": text})).problems
    assert [(each.code, each.place.line) for each in found] == [("unknown-choice", 2)]
    text = text.replace("read the label", "[sesame]").replace("  # weights", "  weights")
    text = text.replace("  # packages", "  packages")
    read = read_folder(write_class(tmp_path, {"pantry.yaml": text}))
    assert read.problems == []
    item = read.folder.pantry.find(name)
    assert item is not None and item.allergens == ("sesame",)
    assert len(item.weights) == len(item.packages) == 1


def test_the_lines_say_just_what_is_known() -> None:
    """For every ingredient that ships: pasted into her file, nothing at all changes."""
    shipped = read_pantry(None, [])
    lines = []
    for name in shipped.names:
        item = shipped.find(name)
        assert item is not None
        lines.extend(lines_of(item))
    found: list[Problem] = []
    pasted = read_pantry(Source("content/pantry.yaml", "\n".join(lines)), found)
    assert found == []
    assert [name for name in shipped.names if pasted.find(name) != shipped.find(name)] == []


def test_the_lines_alone_can_be_sent_to_the_file(tmp_path: Path) -> None:
    """With the packages of her own, and a word on the entry that they replace."""
    folder = write_class(tmp_path, {"pantry.yaml": PANTRY})
    output = run("pantry", "onion", "--lines", "--folder", folder).output
    assert output.startswith(
        "# These take the place of your entry on line 2 of content/pantry.yaml.\nonion:\n"
    )
    before = read_folder(folder).folder.pantry.find("onion")
    write_class(tmp_path, {"pantry.yaml": output})
    assert read_folder(folder).folder.pantry.find("onion") == before


def test_no_line_is_wider_than_the_terminal(tmp_path: Path) -> None:
    """For every ingredient that ships."""
    from spoonfold.author.known import Known, known
    from spoonfold.cli.pantry import table

    shipped = read_pantry(None, [])
    for name in shipped.names:
        found = known(shipped, name)
        assert isinstance(found, Known)
        assert max(map(len, table(found.facts).split("\n"))) <= 80
