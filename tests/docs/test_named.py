"""What the README, the guide and the notes for developers name is there."""

from __future__ import annotations

import json
import re
import shutil
import tomllib
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from written import (
    COMMANDS,
    DEVELOPERS,
    GUIDE,
    README,
    ROOT,
    TEXTS,
    codes,
    command_lines,
    fences,
    options,
)

from spoonfold.author.guide import chapters_about
from spoonfold.check import examine
from spoonfold.cli import main
from spoonfold.knowledge.reasons import reasons

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
SOURCE = ROOT / "src" / "spoonfold"


def named(line: str) -> tuple[str, click.Command]:
    """The command of a line that is typed."""
    words = line.split()[1:]
    if not words or words[0].startswith("-"):
        return "", main
    for count in (2, 1):
        name = " ".join(words[:count])
        if name in COMMANDS:
            return name, COMMANDS[name]
    raise AssertionError(f"no such command: {line}")


def lines() -> list[str]:
    return [
        line for text in TEXTS.values() for line in command_lines(text) if line != "spoonfold new"
    ]


def test_every_command_that_is_named_is_there() -> None:
    """With the options that are named with it."""
    assert lines()
    for line in lines():
        _, command = named(line)
        for option in re.findall(r"--[\w-]+", line):
            assert option in options(command) | {"--help"}, line


def test_every_option_that_is_named_is_there() -> None:
    """Also where it stands without its command."""
    known = {name for command in COMMANDS.values() for name in options(command)} | {"--help"}
    told = {
        option
        for text in (README, GUIDE)
        for code in codes(text)
        for option in re.findall(r"^--[\w-]+", code)
    }
    assert told <= known


def test_every_code_and_chapter_that_is_named_is_there() -> None:
    """`spoonfold why` and `spoonfold guide` answer what they are asked in the texts."""
    for line in lines():
        name, _ = named(line)
        words = [word for word in line.split()[2:] if not word.startswith("-")]
        if name == "why" and words and words != ["CODE"]:
            assert words[0] in reasons(), line
        elif name == "guide" and words:
            assert len(chapters_about(" ".join(words))) == 1, line
    for code in re.findall(r"\bwarning: ([\w-]+)", README + GUIDE):
        assert code in reasons(), code


def test_one_table_of_the_readme_has_every_command() -> None:
    """Each in the first column, as it is typed."""
    rows = re.findall(r"^\| (`spoonfold .*?) \|", README, re.MULTILINE)
    assert {named(code)[0] for row in rows for code in codes(row)} == set(COMMANDS)


@pytest.mark.parametrize("name", TEXTS)
def test_every_link_leads_somewhere(name: str) -> None:
    """Files and pictures are there, and a picture says what it shows."""
    text = TEXTS[name]
    beside = SOURCE / "author" if name == "guide" else ROOT
    shown = re.sub(r"^```.*?^```$", "", text, flags=re.MULTILINE | re.DOTALL)
    for picture, words, address in re.findall(r"(!?)\[([^\]]*)\]\(([^)\s]+)", shown):
        if not address.startswith(("https://", "#")):
            assert (beside / address).exists(), address
        assert words, address
        if picture:
            assert len(words.split()) > 3, address
    for address in re.findall(r"\.pictures/\S+?\.png", text):
        assert (ROOT / address).stat().st_size < 150_000, address


def test_the_recipe_of_the_readme_is_right(tmp_path: Path) -> None:
    """In the place of the demo's own it has nothing to mend but its translation, which is gone."""
    (recipe,) = (each.text for each in fences(README) if each.kind == "markdown")
    shutil.copytree(ROOT / "content", tmp_path / "content")
    there = tmp_path / "content" / "recipes"
    assert recipe.split("\n")[1] in (there / "red-lentil-soup.md").read_text("utf-8")
    (there / "red-lentil-soup.md").write_text(recipe, encoding="utf-8")
    (there / "red-lentil-soup.es.md").unlink()
    assert [each.code for each in examine(tmp_path).problems] == ["untranslated"]


def test_every_dependency_is_accounted_for() -> None:
    """What it is for stands in its row, for those of the tests and their tools too."""
    rows = re.findall(r"^\| ([^|]+) \| [^|]+ \|$", DEVELOPERS, re.MULTILINE)
    told = set(re.findall(r"[a-z][a-z0-9-]*", " ".join(rows).casefold()))
    lists = (
        PROJECT["dependencies"],
        PROJECT["optional-dependencies"]["test"],
        json.loads((ROOT / "tests/tools/package.json").read_text("utf-8"))["dependencies"],
    )
    needed = {re.split(r"[>=<~;]", each)[0].strip().casefold() for named in lists for each in named}
    assert needed - told == set()


def test_every_room_is_on_the_plan_of_the_house() -> None:
    """Each folder and front file of the package, by its name."""
    told = set(re.findall(r"[\w.]+/?", DEVELOPERS))
    rooms = {
        f"{each.name}/"
        for each in SOURCE.iterdir()
        if each.is_dir() and any(each.iterdir()) and each.name != "__pycache__"
    }
    front = {each.name for each in SOURCE.glob("[!_]*.py")}
    assert rooms | front <= told


def test_every_file_on_the_plan_is_there() -> None:
    """In the table of the larger rooms, each name or pattern is of a file of its room."""
    table = DEVELOPERS.partition("The larger rooms")[2].partition("\n\n")[2].partition("\n\n")[0]
    room, told = SOURCE, []
    for row in table.split("\n")[2:]:
        first, files, about = (cell.strip() for cell in row.strip("|").split("|"))
        room = SOURCE / codes(first)[0] if first else room
        for code in codes(files) + codes(about):
            told.append(code)
            found = (
                (room / code).is_dir()
                if code.endswith("/")
                else [*room.rglob(f"{code}.py"), *room.glob(code)]
            )
            assert found, f"{room.name}/{code}"
    assert told


def test_the_guide_is_shown_in_the_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its chapters are listed, and every line of one keeps within 80 columns."""
    contents = CliRunner().invoke(main, ["guide"]).output
    assert "\n- Foods and prices: content/pantry.yaml\n" in contents
    shown = CliRunner().invoke(main, ["guide", "first", "recipe"]).output
    assert shown.startswith("A first recipe in five minutes\n-----")
    assert "\n  $ spoonfold start my-class\n" in shown
    # Examples stay as they are; only words are wrapped.
    assert max(len(line) for line in shown.split("\n") if not line.startswith("  ")) <= 80


def test_asking_the_guide_for_what_it_lacks_or_has_twice() -> None:
    """Each is a wrong use, and says what to ask for instead."""
    for word, told in (
        ("nothing-like-it", "spoonfold guide lists the chapters."),
        ("content", "- Words: content/words.yaml"),
        ("gelatin", "under:\n- What a child must not eat, and swaps\n"),
    ):
        result = CliRunner().invoke(main, ["guide", word])
        assert result.exit_code == 2
        assert told in result.output
