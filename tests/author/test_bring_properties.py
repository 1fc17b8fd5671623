"""Whatever is brought in: nothing raises, the new file is read, and no number is lost."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from in_full import sampled
from spoonfold.author.bring.bring import found_in
from spoonfold.author.bring.file import Origin, recipe_text
from spoonfold.author.bring.found import FoundRecipe
from spoonfold.author.bring.line import brought_line
from spoonfold.author.written import Refused
from spoonfold.problem import Problem
from spoonfold.quantity.grammar import Line, read_line
from spoonfold.read.files import Source
from spoonfold.read.header import split_header
from spoonfold.read.pantry import read_pantry
from spoonfold.read.recipe import HEADER, read_recipe

PANTRY = read_pantry(None, [])
# Problems of what a cook still has to say. Any other would be a file that was written wrongly.
OPEN = {"nothing-given", "not-a-list", "empty-list", "empty-part", "no-steps", "ingredient-twice"}
# What a step may hold that the reader of Markdown has a word on.
IN_STEPS = {"strange-step", "empty-step", "set-as-code", "note-without-colon", "step-number"}


def written(raw: bytes) -> str | None:
    """The text of the file that some bytes become, read back by the usual reader."""
    found = found_in(raw, "x")
    if isinstance(found, Refused):
        return None
    text = recipe_text(found[0], PANTRY, found[1], Origin("Lima, Peru", "PE")).text
    problems: list[Problem] = []
    source = Source("content/recipes/x.md", text)
    split = split_header(source, problems)
    assert split is not None and problems == []
    HEADER.read(split.header, problems)
    assert {each.code for each in problems} <= OPEN, (problems, text)
    problems.clear()
    read_recipe(source, "x", problems)
    assert {each.code for each in problems} <= OPEN | IN_STEPS, (problems, text)
    return text


@given(st.binary(max_size=300))
def test_any_bytes(raw: bytes) -> None:
    """Of a picture, a program, anything."""
    written(raw)


@given(st.text(max_size=300))
def test_any_text(text: str) -> None:
    """Of any script, with any signs."""
    written(text.encode("utf-8", "replace"))


WORDS = st.sampled_from(
    [
        "Ingredients",
        "Ingredients:",
        "Method",
        "Steps:",
        "Notes",
        "Serves 4",
        "1 cup rice",
        "1.",
        "2) Boil it.",
        "- salt and pepper",
        "1 c oil",
        "For the top:",
        "",
        "Boil 5 min at 350 °F.",
        "[a](#b)",
        "![x](y)",
        "<b>no</b>",
        "# x",
        "---",
        "* * *",
        "    code",
        "a: b: c",
        "{",
        "'\"",
        "| t |",
        "&amp;",
        "\u2028",
        "½",
        "10-20",
        "by Ana",
        "https://example.org/x",
        "Prep: 5 min",
        "```",
        "> q",
        "1 can (15 oz beans",
        "2 T or 1 tsp",
        "\\",
        "%a",
        "@b",
        "`c`",
        "!d",
        "- - -",
    ]
)


@given(st.lists(WORDS, max_size=25))
@settings(max_examples=sampled(60, 300))
def test_lines_that_recipes_are_made_of(lines: list[str]) -> None:
    """In any order, with signs between them that YAML and Markdown have a use for."""
    written("\n".join(lines).encode())


TEXTS = st.one_of(WORDS, st.text(max_size=20))
LEAVES = st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), TEXTS)
KEYS = st.sampled_from(
    [
        "@type",
        "@graph",
        "@id",
        "name",
        "recipeIngredient",
        "recipeInstructions",
        "recipeYield",
        "text",
        "itemListElement",
        "item",
        "value",
        "author",
        "description",
        "prepTime",
        "url",
        "mainEntityOfPage",
        "ingredients",
        "step",
    ]
)
JSON = st.recursive(
    LEAVES,
    lambda inner: st.one_of(st.lists(inner, max_size=5), st.dictionaries(KEYS, inner, max_size=6)),
    max_leaves=20,
)
RECIPES = st.fixed_dictionaries(
    {"@type": st.just("Recipe"), "name": TEXTS},
    optional={
        "recipeIngredient": JSON,
        "recipeInstructions": JSON,
        "recipeYield": JSON,
        "author": JSON,
        "description": JSON,
        "prepTime": JSON,
        "cookTime": JSON,
        "url": JSON,
    },
)


@given(st.one_of(JSON, RECIPES))
@settings(max_examples=sampled(60, 300))
def test_any_json(value: Any) -> None:
    """With any value under any key of a recipe."""
    written(json.dumps(value).encode())


@given(RECIPES, st.text(alphabet="<>/!-ab \"'=[]&;", max_size=60))
def test_any_page(recipe: Any, mess: str) -> None:
    """With broken tags around the data."""
    page = f"<html>{mess}<script type=application/ld+json>{json.dumps(recipe)}</script>{mess}"
    written(page.encode("utf-8", "replace"))


TAGS = st.sampled_from(
    [
        '<div itemscope itemtype="https://schema.org/Recipe">',
        "<p itemprop=name>",
        "</p>",
        "</div>",
        "<li itemprop=recipeIngredient>",
        "1 cup rice",
        "<meta itemprop=url content=x>",
        "</li>",
        '<div property="recipeInstructions" typeof="HowToStep">',
        "<span itemprop=text>",
        "</span>",
        "Stir 5 min.",
        "<br>",
        "<script>",
        "</script>",
        "<b itemscope>",
        "</b>",
        "&lt;b&gt;",
    ]
)


@given(st.lists(TAGS, max_size=20))
@settings(max_examples=sampled(60, 300))
def test_any_tags(tags: list[str]) -> None:
    """Opened, closed and nested in any order."""
    written("".join(["<html>", *tags]).encode())


@pytest.mark.parametrize(
    "text",
    [
        "<b itemscope itemtype=Recipe itemprop=x>y" * 20_000,
        "[" * 100_000,
        '{"@type":' * 50_000,
        "<div>" * 50_000,
        "<ol><li>" * 20_000,
        "<![" * 1_000,
        '{"@type": "Recipe", "recipeInstructions": ' + "[" * 900 + "]" * 900 + "}",
        '{"@type": "Recipe", "recipeYield": ' + "9" * 5_000 + ', "recipeIngredient": ["1 egg"]}',
        "Ingredients\n" + "1 cup rice\n" * 20_000,
        "Steps\n" + "a" * 400_000,
        "1 " * 200_000,
        "\n" * 200_000,
        "- " * 100_000,
        "<p>" + "&" * 100_000,
        "Serves " * 20_000,
        "<script type='application/ld+json'>" * 2_000,
    ],
    ids=lambda text: text[:20],
)
def test_too_much_of_anything(text: str) -> None:
    """Deep, long or endless: an answer all the same."""
    written(text.encode())


@given(
    st.lists(
        st.text(alphabet="Boil the 123 peas 45 o-x.,°F½()", min_size=1, max_size=60),
        min_size=2,
        max_size=6,
    )
)
def test_no_number_of_a_step_is_lost(steps: list[str]) -> None:
    """Every figure stands in the file as it stood in the source, in order."""
    found = FoundRecipe("x", ingredients=("1 egg",), steps=tuple(steps))
    text = recipe_text(found, PANTRY, "x", Origin()).text
    body = text.split("## Steps\n\n", 1)[1]
    shown = "".join(re.sub(r"(?m)^[0-9]+\. ?", "", body).split())
    wanted = "".join("".join(each.split()) for each in steps)
    digits = re.compile(r"[0-9½]")
    assert digits.findall(shown.replace("\\", "")) == digits.findall(wanted)


NUMBERED = st.sampled_from(
    [
        "{} cups rice",
        "Boil for {} min.",
        "Serves {}",
        "For frying, {} tbsp oil",
        "Note {}",
        "Prep time: {} min",
        "by Ana {}",
        "From {} Oak Street",
        "{} lg onions",
        "- {} g flour",
        "1. Mix {} times.",
        "Makes {} loaves",
        "{} comments",
        "{}",
        "for {} people",
        "Ingredients",
        "Method",
        "",
        "For the top ({}):",
        "Heat to {} degrees. Wait {} min.",
        "• {} eggs",
        "https://example.org/{}",
        "Notes",
        "* {}",
        "Yield: {} buns",
        "{} c milk",
        "Stir {}",
        "and {} more",
    ]
)


@given(st.lists(NUMBERED, max_size=20))
@settings(max_examples=sampled(60, 300))
def test_no_number_of_a_text_is_lost(lines: list[str]) -> None:
    """Wherever a line is sorted, its figures stand in the file, in a comment at the least."""
    numbers = iter(range(1001, 2000))
    used = []

    def numbered(line: str) -> str:
        while "{}" in line:
            used.append(str(next(numbers)))
            line = line.replace("{}", used[-1], 1)
        return line

    made = written("\n".join(map(numbered, lines)).encode())
    if made is not None:
        assert [number for number in used if number not in made] == []


@given(st.text(alphabet="1234 ½/-cupsTtblorandof(),.salt oil egg", max_size=40))
def test_a_line_is_ours_or_left_as_it_was(text: str) -> None:
    """Each line that comes out is read; what can't be stays word for word, with the reason, and
    gives no amount."""
    line = brought_line(text)
    for ours, name in line.lines:
        read = read_line(ours)
        assert isinstance(read, Line) and read.name == name
        assert not line.problem or (read.amount is None and read.as_needed == "as needed")
    assert line.lines or line.problem
    assert line.was.split() == text.split()


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("3 or 4 ripe bananas, smashed", ["3-4 ripe bananas, smashed"]),
        ("1 (15 oz) can black beans, drained", ["1 can (15 oz) black beans, drained"]),
        ("a pinch of salt", ["1 pinch of salt"]),
        ("Salt and pepper", ["Salt, to taste", "pepper, to taste"]),
        ("Salt to taste", ["Salt, to taste"]),
        ("1 cup flour, plus more for dusting", ["1 cup flour, plus more for dusting"]),
        ("2 cloves garlic (minced)", ["2 cloves garlic, minced"]),
        ("1 lb. boneless, skinless chicken thighs.", ["1 lb. boneless skinless chicken thighs"]),
        ("1 cup butter or margarine", ["1 cup butter"]),
        ("• ½ tsp salt", ["½ tsp salt"]),
        ("1 lg onion", ["1 large onion"]),
        ("Juice of 1 lemon", ["1 lemon, juiced"]),
        ("2 med. carrots, diced", ["2 medium carrots, diced"]),
        ("½ sm onion", ["½ small onion"]),
        ("2-3 Lge eggs", ["2-3 large eggs"]),
        ("1 xl egg", ["1 extra large egg"]),
        ("one lg. can tomatoes", ["1 large can tomatoes"]),
        ("1½ sm onions and 1 lrg carrot", ["1½ small onions", "1 large carrot"]),
        ("1 lg (8 oz) potato", ["1 large (8 oz) potato"]),
        # Two sizes are hers to choose from, and a food may begin with the same letters.
        ("1 med to lg onion", ["1 med to lg onion"]),
        ("1 med-lg onion", ["1 med-lg onion"]),
        ("2 medlars", ["2 medlars"]),
        ("2 cups sm shells", ["2 cups sm shells"]),
        # Between two readings only the cook can choose; so between two amounts.
        ("1 c sugar", []),
        ("2 T oil", []),
        ("1 t salt", []),
        ("2 t butter or oil", []),
        ("2 cans (15 oz) beans", []),
        ("1,500 g flour", []),
        ("1 cup plus 2 tbsp flour", []),
        ("the good oil that we brought from the market", []),
    ],
)
def test_slips_are_mended_only_where_there_is_one_way(text: str, lines: list[str]) -> None:
    """An amount is never chosen for her; of a line that is left to her only its foods are."""
    line = brought_line(text)
    assert ([] if line.problem else [ours for ours, _ in line.lines]) == lines


def test_a_short_size_is_a_guess_that_says_so() -> None:
    """What it was stands beside what it was taken for."""
    assert brought_line("1 lg. onion").guess == "“lg.” is short for “large”."
    assert brought_line("a lg onion").guess == "Write 1, not “a”. “lg” is short for “large”."
