"""`start`: a class of her own that builds at once, and never over what is there."""

from __future__ import annotations

from pathlib import Path

import pytest
from authoring import run, tree


class TestStart:
    def test_it_builds_at_once_with_nothing_to_mend(self, tmp_path: Path) -> None:
        """Not one hint in it, and the site is made."""
        folder = tmp_path / "my-class"
        assert run("start", folder).exit_code == 0
        result = run("check", "--folder", folder)
        assert (result.exit_code, result.output) == (0, "Read 1 recipe: no problems.\n")
        result = run("build", "--only", "site", "--folder", folder)
        assert result.exit_code == 0
        assert (folder / "build" / "site" / "index.html").is_file()

    def test_it_says_what_was_made_and_what_is_next(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """The whole text."""
        monkeypatch.chdir(tmp_path)
        assert run("start", "my class").output == (
            "Made a small class in my class:\n"
            "\n"
            "  content/class.yaml\n"
            "  content/recipes/chickpea-salad.md\n"
            "  content/skills.yaml\n"
            "  content/words.yaml\n"
            "  .gitignore\n"
            "\n"
            "Next, go there and make its sheets:\n"
            "\n"
            "  cd 'my class'\n"
            "  spoonfold build\n"
            "\n"
            "Then open content/class.yaml in a text editor: every line of it says what it is\n"
            "for.\n"
        )

    def test_git_keeps_neither_names_nor_what_is_made(self, tmp_path: Path) -> None:
        """Both folders stand in .gitignore from the first day."""
        run("start", tmp_path / "class")
        lines = (tmp_path / "class" / ".gitignore").read_text("utf-8").split("\n")
        assert {"/content/private/", "/build/"} <= set(lines)

    def test_an_empty_folder_will_do(self, tmp_path: Path) -> None:
        """She may have made it herself."""
        assert run("start", tmp_path).exit_code == 0

    @pytest.mark.parametrize("hers", ["letter.txt", ".hidden", "content/class.yaml"])
    def test_what_is_there_stays_as_it_is(self, tmp_path: Path, hers: str) -> None:
        """Any file at all in the folder, and nothing is made."""
        path = tmp_path / "class" / hers
        path.parent.mkdir(parents=True)
        path.write_text("mine", encoding="utf-8")
        before = tree(tmp_path)
        result = run("start", tmp_path / "class")
        assert result.exit_code == 2
        assert "nothing is written over it" in result.output.replace("\n", " ")
        assert tree(tmp_path) == before

    def test_a_file_of_that_name_stays(self, tmp_path: Path) -> None:
        """Neither is a file taken for a folder."""
        (tmp_path / "class").write_text("mine", encoding="utf-8")
        assert run("start", tmp_path / "class").exit_code == 2
        assert (tmp_path / "class").read_text("utf-8") == "mine"

    def test_every_key_that_a_class_needs_is_explained(self) -> None:
        """Each block of class.yaml has a comment of its own or on its line."""
        from spoonfold.author.start import starter_files

        blocks = starter_files()["content/class.yaml"].strip().split("\n\n")
        assert all("#" in block for block in blocks)
