"""The guide's first recipe, followed word for word from an empty folder."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from written import Fence, chapter, fences

from spoonfold.cli import main


def typed(text: str) -> Iterator[tuple[str, str]]:
    """Each command behind a prompt, with what stands below it."""
    for part in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]:
        command, _, answer = part.partition("\n")
        yield command, answer


def answered(command: str) -> str:
    """What a command prints."""
    name, *arguments = (each.strip('"') for each in re.findall(r'"[^"]*"|\S+', command))
    assert name == "spoonfold"
    result = CliRunner().invoke(main, arguments, prog_name="spoonfold")
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result.output


def write(fence: Fence) -> None:
    """Writes a whole file, or the one line that the words above name."""
    path = Path(re.findall(r"`(content/\S+\.md)`", fence.before)[-1])
    assert path.exists()
    if fence.text.startswith("---\n"):
        path.write_text(fence.text, encoding="utf-8")
        return
    number = int(re.findall(r"line (\d+)", fence.before)[-1])
    lines = path.read_text("utf-8").split("\n")
    assert lines[number - 1] != fence.text.rstrip("\n")
    lines[number - 1] = fence.text.rstrip("\n")
    path.write_text("\n".join(lines), encoding="utf-8")


@pytest.mark.slow
def test_a_first_recipe(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every command answers what the guide says, and in the end the card and the page are there."""
    monkeypatch.chdir(tmp_path)
    told = chapter("A first recipe")
    shown = fences(told.text)
    assert {each.kind for each in shown} == {"console", "markdown"}
    for fence in shown:
        if fence.kind == "markdown":
            write(fence)
            continue
        for command, answer in typed(fence.text):
            if command.startswith("cd "):
                monkeypatch.chdir(tmp_path / command.removeprefix("cd "))
            else:
                assert answered(command) == answer
    (card,) = re.findall(r"`(build/\S+\.pdf)`", told.text)
    assert Path(card).read_bytes().startswith(b"%PDF")
    answered("spoonfold build --only site")
    (recipe,) = {each.name for each in Path("content/recipes").iterdir()} & {
        Path(name).name for name in re.findall(r"`(content/\S+\.md)`", told.text)
    }
    (title,) = re.findall(r"^title: (.+)$", told.text, re.MULTILINE)
    page = Path("build/site/recipes") / recipe.replace(".md", ".html")
    assert title in page.read_text("utf-8")
