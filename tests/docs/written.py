"""The texts that are held: what they name, and what they show as an example."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import click

from spoonfold.author.guide import Chapter, chapters, guide_text
from spoonfold.author.schema import FILES, Described
from spoonfold.cli import main

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text("utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text("utf-8")
GUIDE = guide_text()
TEXTS = {"README": README, "DEVELOPERS": DEVELOPERS, "guide": GUIDE}

_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_CODE = re.compile(r"`([^`\n]+)`")
_BULLET = re.compile(r"^ *- ((?:`[^`\n]+`, )*`[^`\n]+`)", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Fence:
    """One example."""

    kind: str
    text: str
    before: str
    """Everything above it."""


def fences(text: str) -> list[Fence]:
    """Every example of a text."""
    return [Fence(each[1], each[2], text[: each.start()]) for each in _FENCE.finditer(text)]


def prose(text: str) -> str:
    """The text without its examples."""
    return _FENCE.sub("", text)


def codes(text: str) -> list[str]:
    """What stands in backquotes, outside examples."""
    return _CODE.findall(prose(text))


def listed(text: str) -> list[str]:
    """What stands in backquotes at the beginning of an item of a list."""
    return [code for each in _BULLET.findall(prose(text)) for code in _CODE.findall(each)]


def chapter(title: str) -> Chapter:
    """The chapter whose heading has these words."""
    (found,) = (each for each in chapters() if title in each.title)
    return found


def file_chapters() -> dict[str, tuple[Described, Chapter]]:
    """The chapter of every kind of file that an author writes."""
    return {each.name: (each, chapter(each.files)) for each in FILES}


def commands(group: click.Group = main, above: str = "") -> Iterator[tuple[str, click.Command]]:
    """Every command that does something, by what is typed."""
    for name, command in group.commands.items():
        if isinstance(command, click.Group):
            yield from commands(command, f"{above}{name} ")
        else:
            yield above + name, command


COMMANDS = dict(commands())


def options(command: click.Command) -> set[str]:
    """The long names of a command's options."""
    return {
        name
        for each in command.params
        for name in (*each.opts, *each.secondary_opts)
        if name.startswith("--")
    }


def command_lines(text: str) -> list[str]:
    """What is to be typed, wherever it stands; prompts and what comes before the name left out.

    What a shell is to do each time that it starts isn't typed.
    """
    typed = codes(text) + [line for each in fences(text) for line in each.text.split("\n")]
    return [
        each[1]
        for line in typed
        if "_SPOONFOLD_COMPLETE" not in line
        and (each := re.match(r"(?:\$ |.*[/\\ ])?(spoonfold(?: .*)?)$", line.strip()))
    ]
