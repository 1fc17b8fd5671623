"""`bring` from the data of schema.org/Recipe in a page or a file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from authoring import brought, found, linked, run

from demo_class import demo_folder
from spoonfold.author.bring.found import Heading
from spoonfold.author.bring.line import brought_line
from spoonfold.language.texts import Texts
from spoonfold.model.prose import plain
from spoonfold.quantity.grammar import Line, read_line
from spoonfold.read.pantry import read_pantry
from spoonfold.sheets.site.pages import recipe_data
from tiny_class import write_class

ROOT = Path(__file__).resolve().parents[2]
DEMO = demo_folder()
PUBLISHED = Path(__file__).parent / "published"

PANTRY = read_pantry(None, [])


class TestPublishedExample:
    """The example of the type Recipe as schema.org publishes it."""

    def test_the_data_in_the_page(self, tmp_path: Path) -> None:
        """The whole file: source, guesses, each line by our grammar, one sentence a step."""
        folder = write_class(tmp_path)
        result = run("bring", PUBLISHED / "banana-bread.html", "--folder", folder)
        assert result.exit_code == 0
        made = (folder / "content/recipes/moms-world-famous-banana-bread.md").read_text("utf-8")
        assert (
            made
            == """\
---
# source: the recipe data (schema.org/Recipe) in banana-bread.html
# source: by John Smith
# The words are still the source's own. Say them in your own before you hand them out.
# the source says: preparation: 15 min
# the source says: cooking: 1 h
# the source says of how much it makes: 1 loaf
# guess: the source has one paragraph; each of its sentences is a step here
# guess: serves 4: the source doesn't say how many it feeds
# look: step 1 says “350 degrees”: is that °F or °C?
title: Mom's World Famous Banana Bread
serves: 4
ingredients:
  # guess: it was “3 or 4 ripe bananas, smashed”. Write a range with a hyphen.
  - 3-4 ripe bananas, smashed
  - 1 egg
  - 3/4 cup of sugar
---

This classic banana bread recipe comes from my mom -- the walnuts add a nice texture and flavor \
to the banana bread.

## Steps

1. Preheat the oven to 350 degrees.
2. Mix in the ingredients in a bowl.
3. Add the flour last.
4. Pour the mixture into a loaf pan and bake for one hour.
"""
        )

    def test_what_is_printed(self, tmp_path: Path) -> None:
        """The whole text, with the problems that the usual reader finds in the new file."""
        folder = write_class(tmp_path)
        output = run("bring", PUBLISHED / "banana-bread.html", "--folder", folder).output
        path = "content/recipes/moms-world-famous-banana-bread.md"
        assert output.startswith(f"""\
Made {path} from the recipe data
(schema.org/Recipe) in banana-bread.html.

Guessed, and marked in the file:
- the source has one paragraph; each of its sentences is a step here
- serves 4: the source doesn't say how many it feeds
- “3 or 4 ripe bananas, smashed”: Write a range with a hyphen.

To look up in the source:
- step 1 says “350 degrees”: is that °F or °C?

What is still to be mended or weighed in it:

{folder.as_posix()}/{path}:20:1: hint:
""")
        assert output.endswith(f"""\

{path}: 1 error, 1 warning, 1 hint.

Next, open it in a text editor, go through every line with a #, and compare each
amount and each temperature with the source. Then:

  spoonfold check
""")

    @pytest.mark.parametrize("form", ["microdata", "rdfa"])
    def test_the_same_data_in_the_tags_of_the_page(self, form: str) -> None:
        """Microdata and RDFa Lite say just what JSON-LD says."""
        data = found((PUBLISHED / "banana-bread.html").read_text("utf-8"))
        assert found((PUBLISHED / f"banana-bread-{form}.html").read_text("utf-8")) == data

    def test_the_same_page_as_pasted_text(self) -> None:
        """What is a note on it stays out of the dish, and nothing of the dish is lost."""
        data = found((PUBLISHED / "banana-bread.html").read_text("utf-8"))
        text = found((PUBLISHED / "banana-bread.txt").read_text("utf-8"))
        assert text.title == data.title
        assert text.description == data.description
        assert text.ingredients == data.ingredients
        assert text.steps == data.steps
        assert text.makes == ("Yield: 1 loaf",)
        assert text.times == ("prep: 15 minutes", "cook: 1 hour")
        assert text.left_out == (
            "Nutrition facts:",
            "240 calories, 9 grams fat",
            "140 comments:",
            "From Janel, May 5 -- thank you, great recipe!",
        )


class TestLinkedData:
    @pytest.mark.parametrize(
        "wrap",
        [
            lambda recipe: recipe,
            lambda recipe: [recipe],
            lambda recipe: {"@graph": [{"@type": "WebPage", "name": "A page"}, recipe]},
            lambda recipe: {"@type": "WebPage", "mainEntity": recipe},
            lambda recipe: [{"@type": "BreadcrumbList"}, [[{"@graph": {"x": recipe}}]]],
        ],
    )
    def test_it_is_found_wherever_it_stands(self, wrap: Any) -> None:
        """In a list, in a graph, inside another thing."""
        recipe = {"@type": "Recipe", "name": "Soup", "recipeIngredient": ["1 cup peas"]}
        assert found(json.dumps(wrap(recipe))).ingredients == ("1 cup peas",)

    @pytest.mark.parametrize(
        "kind", ["Recipe", ["Thing", "Recipe"], "http://schema.org/Recipe", "schema:Recipe"]
    )
    def test_its_type_may_be_one_of_several(self, kind: Any) -> None:
        """And may be a whole address."""
        assert linked(**{"@type": kind, "recipeIngredient": ["1 egg"]}).ingredients == ("1 egg",)

    @pytest.mark.parametrize(
        "listed",
        [
            ["1 cup peas", "2 cups water"],
            "1 cup peas\n2 cups water\n",
            "<ul><li>1 cup <b>peas</b><li>2&nbsp;cups water</ul>",
            [{"@type": "HowToSupply", "name": "1 cup peas"}, {"@value": "2 cups water"}, None],
        ],
    )
    def test_ingredients_in_every_form(self, listed: Any) -> None:
        """A list, lines, tags, things with a name; what says nothing is passed over."""
        assert linked(recipeIngredient=listed).ingredients == ("1 cup peas", "2 cups water")

    @pytest.mark.parametrize(
        ("instructions", "steps"),
        [
            ("Stir. Boil.", ("Stir. Boil.",)),
            ("Stir.\nBoil.\n", ("Stir.", "Boil.")),
            ("Stir the soup\nuntil it boils.", ("Stir the soup until it boils.",)),
            ("1. Stir\n2. Boil 10 min", ("Stir", "Boil 10 min")),
            ("<ol><li>Stir.</li><li>Boil &amp; cool.</li></ol>", ("Stir.", "Boil & cool.")),
            ("<ul><li>Stir.<li>Boil.</ul>", ("Stir.", "Boil.")),
            (["Stir.", "Boil."], ("Stir.", "Boil.")),
            (
                [
                    {"@type": "HowToStep", "text": "Stir.", "name": "S"},
                    {"@type": "HowToStep", "name": "B"},
                ],
                ("Stir.", "B"),
            ),
            (
                [
                    {
                        "@type": "HowToSection",
                        "name": "The dough",
                        "itemListElement": [
                            {"@type": "HowToStep", "text": "Knead."},
                            {
                                "@type": "HowToStep",
                                "itemListElement": [
                                    {"@type": "HowToDirection", "text": "Rest 1 h."},
                                    {"@type": "HowToTip", "text": "Cover it."},
                                ],
                            },
                        ],
                    },
                    {"@type": "HowToSection", "name": "To bake", "itemListElement": "Bake."},
                ],
                (
                    Heading("The dough"),
                    "Knead.",
                    "Rest 1 h.",
                    "Cover it.",
                    Heading("To bake"),
                    "Bake.",
                ),
            ),
            (
                {
                    "@type": "ItemList",
                    "itemListElement": [
                        {"@type": "ListItem", "item": {"@type": "HowToStep", "text": "Stir."}}
                    ],
                },
                ("Stir.",),
            ),
        ],
    )
    def test_steps_in_every_form(self, instructions: Any, steps: tuple[Any, ...]) -> None:
        """Text, lists, HowToStep, HowToSection, with or without tags."""
        assert linked(recipeInstructions=instructions, recipeIngredient=["1 egg"]).steps == steps

    @pytest.mark.parametrize(
        ("written", "serves", "guessed"),
        [
            ("4 servings", "4", False),
            (["6", "6 servings"], "6", False),
            (6, "6", True),
            ("Serves 8", "8", False),
            ("4-6 people", "4", True),
            ("4.5 servings", "4", True),
            ("1200 people", "1200", False),
            ("4 servings (12 rolls)", "4", True),
            ("99999", "4", True),
            ("1 loaf", "4", True),
            ({"@type": "QuantitativeValue", "value": 12, "unitText": "portions"}, "12", False),
            (None, "4", True),
            ("0 servings", "4", True),
        ],
    )
    def test_how_many_it_feeds(
        self, tmp_path: Path, written: Any, serves: str, guessed: bool
    ) -> None:
        """Taken where it is said, else guessed and marked."""
        recipe = {
            "@type": "Recipe",
            "name": "S",
            "recipeYield": written,
            "recipeIngredient": ["1 egg"],
        }
        text = brought(tmp_path, json.dumps(recipe))
        assert f"\nserves: {serves}\n" in text
        assert ("# guess: serves" in text) == guessed

    def test_source_author_and_times_are_noted(self, tmp_path: Path) -> None:
        """In words, whatever their form in the data."""
        text = brought(
            tmp_path,
            json.dumps(
                {
                    "@type": "Recipe",
                    "name": "S",
                    "recipeIngredient": ["1 egg"],
                    "author": [{"@type": "Person", "name": "Ana Invented"}, "B. Made-Up"],
                    "mainEntityOfPage": {"@id": "https://example.org/s"},
                    "prepTime": "PT90M",
                    "cookTime": "P1DT2H5M",
                    "totalTime": "an hour",
                }
            ),
        )
        for line in (
            "# source: https://example.org/s",
            "# source: by Ana Invented, B. Made-Up",
            "# the source says: preparation: 90 min",
            "# the source says: cooking: 1 d 2 h 5 min",
            "# the source says: all of it: an hour",
        ):
            assert f"\n{line}\n" in text

    def test_a_page_around_it_gives_what_it_lacks(self) -> None:
        """The page's own title and address; broken data beside it does no harm."""
        page = (
            "<!doctype html><html><head><title>Pea soup</title>"
            '<link rel="canonical" href="https://example.org/pea">'
            '<script type="application/ld+json">{"broken"</script>'
            '<script type="application/ld+json; charset=utf-8">'
            '{"@type": "Recipe", "recipeIngredient": "1 cup peas"}</script></head>'
            "<body><p>Buy more!</body></html>"
        )
        recipe = found(page)
        assert (recipe.title, recipe.address, recipe.ingredients) == (
            "Pea soup",
            "https://example.org/pea",
            ("1 cup peas",),
        )

    def test_things_inside_things_in_the_tags(self) -> None:
        """Sections with steps, an author, and items that are never closed."""
        recipe = found("""
            <section itemscope itemtype="https://schema.org/Recipe"><h1 itemprop=name>Soup</h1>
            <p itemprop=author itemscope itemtype="https://schema.org/Person">by
            <b itemprop=name>Ana</b></p>
            <ul><li itemprop=recipeIngredient>1 cup <i>peas</i>
            <li itemprop=recipeIngredient>2 cups
            water</ul>
            <div itemprop=recipeInstructions itemscope itemtype="https://schema.org/HowToSection">
            <h3 itemprop=name>First</h3>
            <p itemprop=itemListElement itemscope itemtype="https://schema.org/HowToStep">
            <span itemprop=text>Stir.</span></p></div>
            <div itemprop=recipeInstructions><p>Boil.</p><p>Cool.</p></div></section>""")
        assert (recipe.title, recipe.author) == ("Soup", "Ana")
        assert recipe.ingredients == ("1 cup peas", "2 cups water")
        assert recipe.steps == (Heading("First"), "Stir.", "Boil.", "Cool.")

    def test_a_page_without_it_is_read_by_its_words(self) -> None:
        """Lists keep their items apart, and scripts and styles are not words."""
        page = (
            "<html><head><style>p {}</style></head><body><nav>Home</nav><h1>Pea soup</h1>"
            "<p>Serves 6</p><h2>Ingredients</h2><ul><li>1 cup <b>peas</b><li>2 cups water</ul>"
            "<h2>Method</h2><ol><li>Boil the peas.<li>Mash.</ol><script>x()</script>"
            "<h3>Comments</h3><p>Lovely!</body></html>"
        )
        recipe = found(page)
        assert (recipe.title, recipe.makes) == ("Pea soup", ("Serves 6",))
        assert recipe.ingredients == ("1 cup peas", "2 cups water")
        assert recipe.steps == ("Boil the peas.", "Mash.")
        assert recipe.guesses[0] == "the page has no recipe data"


@pytest.mark.parametrize(
    "name",
    sorted(
        path.stem for path in (ROOT / "content" / "recipes").glob("*.md") if "." not in path.stem
    ),
)
def test_the_data_of_our_own_pages_comes_back(name: str) -> None:
    """Each dish of the demo, as its page tells machines: the same amounts of the same foods, the
    same steps, in their words for home."""
    recipe = DEMO.recipes[name]
    data = recipe_data(recipe, PANTRY, Texts("en"), "", ())
    again = found(json.dumps(data))
    lines = [brought_line(each) for each in again.ingredients if isinstance(each, str)]
    assert [each.guess for each in lines if each.guess] == []
    read = [read_line(line) for each in lines for line, _ in each.lines]
    assert [each.amount for each in read if isinstance(each, Line)] == [
        each.amount for each in recipe.ingredients
    ]
    assert again.steps == tuple(step.home or plain(step.text) for step in recipe.steps)
    assert again.title == recipe.title
    assert again.place == (recipe.origin or "")
    tips = "\n".join(again.tips)
    for swap in recipe.swaps:
        assert f"{swap.instead_of.text}: " in tips and swap.use.name in tips
    for step in recipe.steps:
        for caution in (*step.watch, *step.adult):
            assert f"step {step.number}: {caution.text}" in tips
        assert not step.time or f"step {step.number}: " in tips
