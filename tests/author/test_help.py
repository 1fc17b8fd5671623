"""What each command for the author says of itself, whole."""

from __future__ import annotations

from pathlib import Path

import pytest
from authoring import run

TEXTS = Path(__file__).parent / "help"
COMMANDS = ("start", "new", "new recipe", "new session", "new word", "schema", "bring", "pantry")


@pytest.mark.parametrize("command", COMMANDS)
def test_the_help(command: str) -> None:
    """Word for word, within 80 columns."""
    text = (TEXTS / f"{command.replace(' ', '-')}.txt").read_text("utf-8")
    assert run(*command.split(), "--help").output == text
    assert max(map(len, text.split("\n"))) <= 80


def test_every_command_for_the_author_is_listed() -> None:
    """Under the help of the whole."""
    output = run("--help").output
    for command in {each.split()[0] for each in COMMANDS}:
        assert f"\n  {command} " in output
