"""Running a command, bringing a recipe in, and what is in a folder after it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from click.testing import CliRunner, Result

from spoonfold.author.bring.bring import found_in
from spoonfold.author.bring.found import FoundRecipe
from spoonfold.author.written import Refused
from spoonfold.cli import main
from tiny_class import write_class


def run(*arguments: str | Path) -> Result:
    """A command in the same process."""
    result = CliRunner().invoke(main, [str(each) for each in arguments], prog_name="spoonfold")
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with what it holds."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def found(text: str) -> FoundRecipe:
    """What is found of a recipe in a text."""
    result = found_in(text.encode(), "page.html")
    assert not isinstance(result, Refused), result
    return result[0]


def linked(**properties: Any) -> FoundRecipe:
    """What is found in the data of a recipe with these properties."""
    recipe = {"@context": "https://schema.org", "@type": "Recipe", **properties}
    return found(json.dumps(recipe))


def brought(tmp_path: Path, text: str) -> str:
    """The file that a text becomes."""
    folder = write_class(tmp_path / "class", {"recipes/rice.md": None})
    (tmp_path / "x").write_text(text, encoding="utf-8")
    assert run("bring", tmp_path / "x", "--folder", folder).exit_code == 0
    (made,) = (folder / "content" / "recipes").iterdir()
    return made.read_text("utf-8")
