"""`bring` from pasted text; what it refuses, and what it asks."""

from __future__ import annotations

from pathlib import Path

import pytest
from authoring import brought, found, run, tree

from spoonfold.author.bring.bring import found_in
from spoonfold.author.bring.found import MOST_BYTES, Heading
from spoonfold.author.written import Refused
from tiny_class import write_class


class TestPastedText:
    def test_by_headings(self) -> None:
        """Parts of the list, groups of steps, a step over several lines, and a note at the end."""
        recipe = found("""\
Bread with seeds
from Invented Village

Our bread for the market. It keeps a week.
Makes 12 people happy

INGREDIENTS
For the dough:
• 500 g flour
• 2 tsp salt
On top:
- 3 tbsp seeds

How to make it
The dough:
1. Mix everything
   for 5 minutes.

   It will be sticky.
2) Knead it.
To bake:
3. Bake at 400 °F for 30 min.

Notes
Keeps a week.
""")
        assert recipe.title == "Bread with seeds"
        assert (recipe.author, recipe.origin) == ("", ("from Invented Village",))
        assert recipe.description == "Our bread for the market. It keeps a week."
        assert recipe.makes == ("Makes 12 people happy",)
        assert recipe.ingredients == (
            Heading("For the dough"),
            "500 g flour",
            "2 tsp salt",
            Heading("On top"),
            "3 tbsp seeds",
        )
        assert recipe.steps == (
            Heading("The dough"),
            "Mix everything for 5 minutes. It will be sticky.",
            "Knead it.",
            Heading("To bake"),
            "Bake at 400 °F for 30 min.",
        )
        assert recipe.left_out == ("Notes", "Keeps a week.")

    @pytest.mark.parametrize(
        ("steps", "read"),
        [
            ("Boil the peas\nin water.\nMash them.", ("Boil the peas in water.", "Mash them.")),
            ("Boil the peas.\nAdd salt.\n\nMash them.", ("Boil the peas. Add salt.", "Mash them.")),
            ("- Boil the peas.\n- Mash them.", ("Boil the peas.", "Mash them.")),
            (
                "Go to 350 degrees and add o to 5 x - 3.",
                ("Go to 350 degrees and add o to 5 x - 3.",),
            ),
        ],
    )
    def test_steps_without_numbers(self, steps: str, read: tuple[str, ...]) -> None:
        """By paragraphs where there are some, else by lines that end a sentence."""
        text = f"Peas\nIngredients\n1 cup peas\nDirections:\n{steps}\n"
        assert found(text).steps == read

    def test_without_any_heading(self) -> None:
        """The title stands first, amounts begin ingredients, and what follows them are steps."""
        recipe = found(
            "Pea soup\n\n1 cup peas\n2 cups water\n½ tsp salt\n\n"
            "Boil the peas in the water for 20 minutes.\n\nSalt it.\n"
        )
        assert recipe.title == "Pea soup"
        assert recipe.ingredients == ("1 cup peas", "2 cups water", "½ tsp salt")
        assert recipe.steps == ("Boil the peas in the water for 20 minutes.", "Salt it.")
        assert "without headings" in recipe.guesses[0]

    @pytest.mark.parametrize(
        ("line", "author", "origin", "description"),
        [
            ("From Oaxaca", "", ("From Oaxaca",), ""),
            ("From: Aunt Ana", "", ("From: Aunt Ana",), ""),
            ("Recipe from the Harbour Hall", "", ("Recipe from the Harbour Hall",), ""),
            ("Source: The Invented Cookbook", "", ("Source: The Invented Cookbook",), ""),
            ("Source: https://example.org/s", "", (), ""),
            ("By Ana Invented", "Ana Invented", (), ""),
            ("Recipe by: Ana Invented", "Ana Invented", (), ""),
            (
                "From the first rain on we cook it every week.",
                "",
                (),
                "From the first rain on we cook it every week.",
            ),
            ("Fromage blanc will do", "", (), "Fromage blanc will do"),
        ],
    )
    def test_from_is_no_person(
        self, line: str, author: str, origin: tuple[str, ...], description: str
    ) -> None:
        """“From” may name a place, a book or somebody: it is kept as it stands."""
        recipe = found(f"Peas\n{line}\nIngredients\n1 cup peas\nDirections:\nBoil them.\n")
        assert (recipe.author, recipe.origin, recipe.description) == (author, origin, description)

    def test_where_it_is_from_is_shown_and_not_guessed(self, tmp_path: Path) -> None:
        """She reads the line beside the other words of the source, and fills in the place."""
        made = brought(tmp_path, "Peas\nFrom Oaxaca\nIngredients\n1 cup peas\nSteps\nBoil them.\n")
        assert "\n# the source says: From Oaxaca\n" in made
        assert "\nplace:" not in made
        assert "# source: by" not in made

    @pytest.mark.parametrize(
        ("raw", "title"),
        [
            ("Crème\nIngredients\n1 egg".encode("cp1252"), "Crème"),
            ("Crème\r\nIngredients\r\n1 egg".encode("utf-16"), "Crème"),
            ("\ufeffCrème\rIngredients\r1 egg".encode(), "Crème"),
        ],
    )
    def test_in_whatever_encoding(self, raw: bytes, title: str) -> None:
        """As older word processors save it, too."""
        result = found_in(raw, "x.txt")
        assert not isinstance(result, Refused)
        assert (result[0].title, result[0].ingredients) == (title, ("1 egg",))


class TestRefusals:
    @pytest.mark.parametrize(
        ("raw", "why"),
        [
            (b"", "No recipe was found"),
            (b"{}", "No recipe was found"),
            (b"[1, 2]", "No recipe was found"),
            (b'{"@type": "Recipe", "name": "Empty"}', "No recipe was found"),
            (b"just one line", "No recipe was found"),
            (b"%PDF-1.7\x00\x01", "is no text"),
            (b"a" * (MOST_BYTES + 1), "is larger than 5 MB"),
        ],
    )
    def test_what_is_no_recipe_makes_no_file(self, tmp_path: Path, raw: bytes, why: str) -> None:
        """She is told why and what to do."""
        folder = write_class(tmp_path / "class")
        (tmp_path / "x").write_bytes(raw)
        before = tree(folder)
        result = run("bring", tmp_path / "x", "--folder", folder)
        assert result.exit_code == 2
        assert why in result.output
        assert tree(folder) == before

    def test_a_recipe_that_is_there_is_never_written_over(self, tmp_path: Path) -> None:
        """It may be brought in again under another name."""
        folder = write_class(tmp_path / "class")
        before = tree(folder)
        (tmp_path / "x.txt").write_text("Rice\nIngredients\n1 cup rice\n", encoding="utf-8")
        result = run("bring", tmp_path / "x.txt", "--folder", folder)
        assert (result.exit_code, result.output) == (
            2,
            (
                "content/recipes/rice.md is there already; nothing is written over it.\n"
                "Give the new file another name: --name rice-2\n"
            ),
        )
        assert tree(folder) == before
        assert (
            run("bring", tmp_path / "x.txt", "--name", "rice-2", "--folder", folder).exit_code == 0
        )
        assert tree(folder).keys() - before.keys() == {"content/recipes/rice-2.md"}

    def test_a_missing_file_is_wrong_use(self, tmp_path: Path) -> None:
        """A folder is none either."""
        folder = write_class(tmp_path)
        assert run("bring", "nowhere.txt", "--folder", folder).exit_code == 2
        assert run("bring", tmp_path, "--folder", folder).exit_code == 2


@pytest.mark.parametrize(
    ("step", "asked"),
    [
        ("Bake at 350 degrees for 5 min.", True),
        ("Bake at 180° until done.", True),
        ("Bake at 350 degrees F.", False),
        ("Bake at 180 °C (350 °F).", False),
        ("Bake at 350°F.", False),
        ("Turn it by 90 degrees.", True),
        ("Bake 30 min.", False),
    ],
)
def test_a_temperature_without_its_scale_is_asked_for(
    tmp_path: Path, step: str, asked: bool
) -> None:
    """Nobody guesses between the two: one of them burns, or leaves it raw."""
    text = brought(tmp_path, f"Bread\nIngredients\n1 egg\nSteps\n1. Wait.\n2. {step}\n")
    assert ("\n# look: step 2 says “" in text) == asked


def test_what_the_pantry_does_not_know_is_listed(tmp_path: Path) -> None:
    """With the nearest names, in the file and on the screen; and what can't be read is kept."""
    folder = write_class(tmp_path / "class")
    (tmp_path / "x.txt").write_text(
        "Odd rice\nIngredients\n1 cup long grained rices\n2 c moonberries\n1 cup moonberry fog\n"
        "Steps\n1. Boil the rice.\n",
        encoding="utf-8",
    )
    result = run("bring", tmp_path / "x.txt", "--folder", folder)
    text = (folder / "content/recipes/odd-rice.md").read_text("utf-8")
    assert "  # not in the pantry: moonberry fog; nearest: none\n  - 1 cup moonberry fog\n" in text
    assert (
        "  # not read: 2 c moonberries\n"
        "  # why: c could be cups or cans. Write it out. For example: 2 cups moonberries or 2 "
        "cans moonberries\n"
    ) in text
    assert "- moonberry fog (nearest: none)\n" in result.output
    assert "- “2 c moonberries”: c could be cups or cans." in result.output
    assert "(nearest: long-grain rice" in result.output


def test_place_and_country_may_be_said_at_once(tmp_path: Path) -> None:
    """Nobody guesses where a dish comes from."""
    folder = write_class(tmp_path / "class")
    (tmp_path / "x.txt").write_text(
        "Warm rice\nServes 4\nIngredients\n1 cup rice\n2 cups water\nSteps\n1. Boil the rice in "
        "the water.\n",
        encoding="utf-8",
    )
    run("bring", tmp_path / "x.txt", "--place", "Lima, Peru", "--country", "PE", "--folder", folder)
    text = (folder / "content/recipes/warm-rice.md").read_text("utf-8")
    assert "\nplace: Lima, Peru\ncountry: PE\nserves: 4\n" in text
