"""`start`: a class of her own that builds at once, and never over what is there."""

from __future__ import annotations

from pathlib import Path
from typing import ClassVar

import pytest
from authoring import run, tree

from tiny_class import CLASS, RICE, write_class


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


class TestNextSeason:
    """What is the class's goes along; what was its days' and its children's stays behind."""

    CLASS = CLASS.replace(
        "sessions:\n  - {dishes: [rice]}\n",
        "# Who comes:\nneeds: [{table: 1, avoid: [milk]}]\n\n"
        "not on: [2027-09-25]\n"
        "sessions:\n"
        "  # Ada's cousin comes\n"
        "  - {dishes: [rice], note: bring the big pot, guests: 3}\n"
        "  - dishes: [rice]\n"
        "    portion: 1/2\n"
        "\n"
        "# Paper of the library.\npaper: a4   # as it is there\n",
    )
    FILES: ClassVar[dict[str, str | bytes]] = {
        "class.yaml": CLASS,
        "private/children.yaml": "[Ada, Bo]\n",
        "after/2027-09-18.md": "---\ncame: 4\nminutes: {rice: 24 min}\n"
        "keep: [The small bowls., What Ada said.]\n---\n\nBo burnt a finger.\n",
        "pictures/bowl.svg": b"<svg xmlns='http://www.w3.org/2000/svg'/>",
    }

    def begun(self, folder: Path, *more: str) -> tuple[Path, str]:
        write_class(folder / "last", self.FILES)
        result = run("start", folder / "next", "--from", folder / "last", *more)
        assert result.exit_code == 0, result.output
        return folder / "next" / "content", result.output

    def test_dates_dishes_and_every_other_line(self, tmp_path: Path) -> None:
        """The season goes on a week after the last one; what is said of the class stays, byte for
        byte, and of a session what it is about."""
        content, _ = self.begun(tmp_path)
        assert (content / "class.yaml").read_text("utf-8") == self.CLASS.replace(
            "2027-09-18", "2027-10-09"
        ).replace("not on: [2027-09-25]\n", "").replace(
            "  # Ada's cousin comes\n"
            "  - {dishes: [rice], note: bring the big pot, guests: 3}\n"
            "  - dishes: [rice]\n"
            "    portion: 1/2\n"
            "\n",
            "  - {dishes: [rice]}\n  - {dishes: [rice], portion: 1/2}\n",
        )
        assert (content / "recipes" / "rice.md").read_text("utf-8") == RICE
        assert (content / "pictures" / "bowl.svg").read_bytes() == self.FILES["pictures/bowl.svg"]

    def test_what_was_learned_without_names_and_stories(self, tmp_path: Path) -> None:
        """No file of the new folder says who was there."""
        content, output = self.begun(tmp_path)
        assert (content / "after" / "2027-09-18.md").read_text("utf-8") == (
            "---\ndishes: [rice]\nminutes:\n  rice: 24 min\nkeep:\n  - The small bowls.\n---\n"
        )
        said = b"".join(path.read_bytes() for path in content.rglob("*") if path.is_file())
        assert not any(each in said for each in (b"Ada", b"Bo ", b"big pot", b"finger"))
        assert "`needs`, which are those of last season's" in " ".join(output.split())
        assert run("check", "--folder", content.parent).exit_code == 0

    def test_a_day_of_her_own_and_no_dishes(self, tmp_path: Path) -> None:
        """She plans the sessions herself, and the first one can be added."""
        content, _ = self.begun(tmp_path, "--first-day", "2028-02-05", "--without-dishes")
        text = (content / "class.yaml").read_text("utf-8")
        assert "first day: 2028-02-05\n" in text and "sessions: []\n" in text
        assert run("new", "session", "rice", "--folder", content.parent).exit_code == 0

    @pytest.mark.parametrize(
        ("changes", "said"),
        [
            ({"class.yaml": "name: [\n"}, "can't be read yet"),
            ({"class.yaml": "{" + CLASS.split("\n")[0] + "}\n"}, "can't be read yet"),
        ],
    )
    def test_a_class_that_cant_be_read(
        self, tmp_path: Path, changes: dict[str, str | bytes], said: str
    ) -> None:
        """Nothing is made of half a class, and nothing in the old one changes."""
        write_class(tmp_path / "last", {**self.FILES, **changes})
        before = tree(tmp_path / "last")
        result = run("start", tmp_path / "next", "--from", tmp_path / "last")
        assert result.exit_code == 2 and said in result.output
        assert not (tmp_path / "next").exists() and tree(tmp_path / "last") == before

    def test_options_of_a_next_season_alone(self, tmp_path: Path) -> None:
        """A first class has its own first day."""
        result = run("start", tmp_path / "new", "--first-day", "2028-02-05")
        assert result.exit_code == 2 and "need --from" in result.output
