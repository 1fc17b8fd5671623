"""`new recipe`, `new session`, `new word`: begun where they belong, nothing written over."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from authoring import run, tree
from hypothesis import given
from hypothesis import strategies as st

from spoonfold.author.grow import Grown, with_entry, with_session
from spoonfold.author.words import file_name
from spoonfold.problem import Problem
from spoonfold.read.folder import read_folder
from spoonfold.read.nodes import Mapping, Scalar, node_from_yaml
from spoonfold.read.yaml_text import clean, yaml_text
from tiny_class import CLASS, write_class


class TestRecipe:
    def test_it_says_what_is_missing_until_it_is_filled_in(self, tmp_path: Path) -> None:
        """Nothing in it could be printed by mistake: each open key is an error of its own."""
        folder = write_class(tmp_path)
        result = run("new", "recipe", "Çılbır: eggs with yoghurt", "--folder", folder)
        assert result.exit_code == 0
        path = "content/recipes/cilbir-eggs-with-yoghurt.md"
        assert result.output.startswith(f"Made {path}.\n")
        codes = sorted((each.place.line, each.code) for each in read_folder(folder).problems)
        assert codes == [(5, "nothing-given"), (7, "nothing-given"), (15, "empty-step")]
        result = run("check", "--folder", folder)
        assert (result.exit_code, result.output.split("\n")[-2]) == (1, "Read 2 recipes: 3 errors.")

    def test_filled_in_it_is_right(self, tmp_path: Path) -> None:
        """With an answer behind each key, nothing is left to mend."""
        folder = write_class(tmp_path)
        run("new", "recipe", "Cold tea", "--folder", folder)
        path = folder / "content" / "recipes" / "cold-tea.md"
        text = path.read_text("utf-8")
        for key, value in (("serves:", "4"), ("  -", "4 cups water"), ("1.", "Pour the water.")):
            lines = text.split("\n")
            at = next(n for n, line in enumerate(lines) if line.startswith(key))
            lines[at] = f"{key} {value}"
            text = "\n".join(lines)
        path.write_text(text, encoding="utf-8")
        assert read_folder(folder).problems == []

    def test_it_is_never_written_over(self, tmp_path: Path) -> None:
        """The same title again leaves the file as it is, and suggests another name."""
        folder = write_class(tmp_path)
        before = tree(folder)
        result = run("new", "recipe", "Rice!", "--folder", folder)
        assert (result.exit_code, result.output) == (
            2,
            "content/recipes/rice.md is there already; nothing is written over it.\n"
            "Give the new file another name: --name rice-2\n",
        )
        assert tree(folder) == before

    @pytest.mark.parametrize(
        ("title", "name"),
        [
            ("Red Lentil Soup", "red-lentil-soup"),
            ("Çılbır", "cilbir"),
            ("Œufs à l’aïl", "oeufs-a-lail"),
            ("Smørrebrød", "smorrebrod"),
            ("Phở gà", "pho-ga"),
            ("麻婆豆腐", "dish"),
            ("../../etc/passwd", "etc-passwd"),
            ("a" * 300, "a" * 60),
            ("½ & ½", "1-2-1-2"),
            ("", "dish"),
        ],
    )
    def test_the_file_is_named_after_the_title(self, title: str, name: str) -> None:
        """In small plain letters, digits and hyphens."""
        assert file_name(title) == name

    @given(st.text())
    def test_every_title_gives_a_name_that_is_accepted(self, title: str) -> None:
        """Whatever the script it is written in."""
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", file_name(title))

    @given(st.text())
    def test_every_title_is_read_back(self, title: str) -> None:
        """As YAML it says what it said, but for signs that nobody sees."""
        found: list[Problem] = []
        node = node_from_yaml(f"title: {yaml_text(title)}", "x", found)
        assert not found and isinstance(node, Mapping)
        value = node.entries["title"]
        assert isinstance(value, Scalar)
        assert value.text == clean(title)


class TestSession:
    def test_it_is_added_with_its_date(self, tmp_path: Path) -> None:
        """The whole text, and every other byte as it was."""
        folder = write_class(tmp_path)
        result = run("new", "session", "rice", "--folder", folder)
        assert (result.exit_code, result.output) == (
            0,
            (
                "Added session 2 on line 16 of content/class.yaml. By the rhythm of the class it\n"
                "is on Saturday, September 25, 2027.\n"
                "\n"
                "Next, see whether it fits into the time:\n"
                "\n"
                "  spoonfold clock 2\n"
            ),
        )
        assert (folder / "content" / "class.yaml").read_text("utf-8") == (
            CLASS + "  - {dishes: [rice]}\n"
        )

    def test_a_dish_that_is_not_right_yet_may_have_its_day(self, tmp_path: Path) -> None:
        """She plans the day while she still writes the recipe."""
        folder = write_class(tmp_path)
        run("new", "recipe", "Cold tea", "--folder", folder)
        assert run("new", "session", "cold-tea", "--folder", folder).exit_code == 0
        assert (folder / "content" / "class.yaml").read_text("utf-8") == (
            CLASS + "  - {dishes: [cold-tea]}\n"
        )

    def test_a_dish_that_is_not_there_names_the_nearest(self, tmp_path: Path) -> None:
        """And nothing is added."""
        folder = write_class(tmp_path)
        before = tree(folder)
        result = run("new", "session", "rise", "--folder", folder)
        assert (result.exit_code, result.output) == (
            2,
            "There is no recipe called rise.\nDid you mean rice?\n",
        )
        assert run("new", "session", "rice", "--lesson", "x", "--folder", folder).exit_code == 2
        assert tree(folder) == before

    def test_a_class_that_cannot_be_read_stays(self, tmp_path: Path) -> None:
        """First it must be mended."""
        folder = write_class(tmp_path, {"class.yaml": CLASS.replace("ages: 9-12\n", "")})
        before = tree(folder)
        assert run("new", "session", "rice", "--folder", folder).exit_code == 2
        assert tree(folder) == before

    @pytest.mark.parametrize(
        ("before", "after"),
        [
            ("sessions:\n  - {dishes: [a]}\n", "sessions:\n  - {dishes: [a]}\n  - {dishes: [b]}\n"),
            ("sessions:\n- {dishes: [a]}\n", "sessions:\n- {dishes: [a]}\n- {dishes: [b]}\n"),
            ("sessions:\n  - {dishes: [a]}", "sessions:\n  - {dishes: [a]}\n  - {dishes: [b]}\n"),
            (
                "sessions:\n    - dishes: [a]\n      note: x\n\n# Below.\naccept: []\n",
                "sessions:\n    - dishes: [a]\n      note: x\n    - {dishes: [b]}\n\n# Below.\n"
                "accept: []\n",
            ),
            (
                "sessions:\n  - {dishes: [a]}  # first\n  # the next is not fixed\nname: x\n",
                "sessions:\n  - {dishes: [a]}  # first\n  # the next is not fixed\n"
                "  - {dishes: [b]}\nname: x\n",
            ),
            (
                "sessions: [{dishes: [a]}]   # all [of them]\nname: x\n",
                "sessions: [{dishes: [a]}, {dishes: [b]}]   # all [of them]\nname: x\n",
            ),
            (
                "sessions: [\n  {dishes: [a]}\n]\n",
                "sessions: [\n  {dishes: [a]}\n, {dishes: [b]}]\n",
            ),
            ("sessions: []\n", "sessions: [{dishes: [b]}]\n"),
            ("sessions:\n", "sessions:\n  - {dishes: [b]}\n"),
            (
                "sessions:\r\n  - {dishes: [a]}\r\nname: x\r\n",
                "sessions:\r\n  - {dishes: [a]}\r\n  - {dishes: [b]}\r\nname: x\r\n",
            ),
            (
                "\ufeffsessions:\n  - {dishes: [a]}\n",
                "\ufeffsessions:\n  - {dishes: [a]}\n  - {dishes: [b]}\n",
            ),
        ],
    )
    def test_every_way_to_write_the_list_is_kept(self, before: str, after: str) -> None:
        """Comments, line ends, indentation and what follows stay byte for byte."""
        grown = with_session(before, "x", "dishes: [b]")
        assert isinstance(grown, Grown)
        assert grown.text == after
        assert "dishes: [b]" in after.split("\n")[grown.line - 1]

    @pytest.mark.parametrize(
        "text",
        [
            "{sessions: [{dishes: [a]}]}\nx",
            "sessions: soup\n",
            "name: x\n",
            "- a\n",
            "",
            "sessions:\n  - a\n  - b: [\n",
            "sessions: [a] # ]\n  ]\n",
        ],
    )
    def test_what_cannot_be_followed_is_left_to_her(self, text: str) -> None:
        """She is told the line to add."""
        refused = with_session(text, "x", "dishes: [b]")
        assert not isinstance(refused, Grown)
        assert "{dishes: [b]}" in refused.instead

    @given(st.text(alphabet="sesions:[]{}-# \n\tab,\"'|>&*", max_size=80))
    def test_nothing_that_was_there_is_ever_lost(self, rest: str) -> None:
        """Whatever stands in the file: it is refused, or the old text is all in the new one."""
        text = "sessions:\n  - {dishes: [a]}\n" + rest
        grown = with_session(text, "x", "dishes: [b]")
        if isinstance(grown, Grown):
            added = [line for line in grown.text.split("\n") if line not in text.split("\n")]
            assert len(grown.text) > len(text)
            assert grown.text.count("[b]") == text.count("[b]") + 1
            assert len(added) <= 2


class TestWord:
    def test_it_is_added_at_the_end(self, tmp_path: Path) -> None:
        """Behind what is there, which stays; without a meaning it isn't right yet."""
        words = "boil: {meaning: to cook in bubbles}   # first\n"
        folder = write_class(tmp_path, {"words.yaml": words})
        result = run("new", "word", "simmer", "--folder", folder)
        assert (result.exit_code, result.output) == (
            0,
            (
                "Added “simmer” on line 2 of content/words.yaml.\n"
                "\n"
                "Next, write what it means behind “meaning:”, and list it under “words:” in the\n"
                "recipe that teaches it:\n"
                "\n"
                "  words: [simmer]\n"
            ),
        )
        text = (folder / "content" / "words.yaml").read_text("utf-8")
        assert text == words + (
            "simmer:\n  meaning:     # what it means, in words that a child knows\n"
        )
        (problem,) = read_folder(folder).problems
        assert (problem.code, problem.place.line) == ("nothing-given", 3)

    def test_with_its_meaning_it_is_right(self, tmp_path: Path) -> None:
        """Also where there was no list of words, and with signs that YAML has a use for."""
        folder = write_class(tmp_path)
        result = run(
            "new", "word", "al dente", "--meaning", 'firm: "to the tooth"', "--folder", folder
        )
        assert result.exit_code == 0
        read = read_folder(folder)
        assert (read.problems, read.folder.words["al dente"].meaning) == (
            [],
            'firm: "to the tooth"',
        )

    def test_a_word_that_is_there_is_not_added(self, tmp_path: Path) -> None:
        """In capitals or not."""
        folder = write_class(tmp_path, {"words.yaml": "\nboil: {meaning: to cook}\n"})
        before = tree(folder)
        result = run("new", "word", "Boil", "--folder", folder)
        assert (result.exit_code, result.output) == (
            2,
            "“boil” is already explained, on line 2 of content/words.yaml.\n",
        )
        assert tree(folder) == before

    @pytest.mark.parametrize(
        ("text", "after"),
        [
            ("", "w:\n"),
            ("# only a note\n", "# only a note\nw:\n"),
            ("a: {meaning: x}", "a: {meaning: x}\nw:\n"),
            ("a: {meaning: x}\r\n", "a: {meaning: x}\r\nw:\r\n"),
        ],
    )
    def test_line_ends_are_kept(self, text: str, after: str) -> None:
        """One is added where the last line has none."""
        grown = with_entry(text, "x", "w", ["w:"])
        assert isinstance(grown, Grown)
        assert grown.text == after

    @pytest.mark.parametrize("text", ["{a: {meaning: x}}\n", "- a\n", "a: [\n", "a\n"])
    def test_what_cannot_be_followed_is_left_to_her(self, text: str) -> None:
        """Nothing is added where it would break the file."""
        grown = with_entry(text, "x", "w", ["w:"])
        assert not isinstance(grown, Grown)
