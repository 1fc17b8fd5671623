"""The demo class, read and checked once by each process, for tests that only look at it."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from spoonfold.check import Examined, Facts, examine, facts_of
from spoonfold.model.folder import ClassFolder
from spoonfold.read.folder import Read, read_folder

ROOT = Path(__file__).resolve().parents[1]


@cache
def demo_read() -> Read:
    """With the sources."""
    return read_folder(ROOT)


def demo_folder() -> ClassFolder:
    return demo_read().folder


@cache
def demo_facts() -> Facts:
    """What rules ask of it."""
    return facts_of(demo_folder())


def demo_facts_with(folder: ClassFolder) -> Facts:
    """The same where some recipes are others: of the rest nothing is worked out again."""
    demo = demo_folder()
    assert folder.classroom is demo.classroom and folder.pantry is demo.pantry
    understood = demo_facts().folder.recipes
    same = (name for name, each in folder.recipes.items() if each is demo.recipes.get(name))
    return facts_of(folder, understood_before={name: understood[name] for name in same})


@cache
def demo_examined() -> Examined:
    """With all that the rules say."""
    return examine(ROOT)
