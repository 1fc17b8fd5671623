"""Small trees to build, and ways to look at them, for the tests of the output folder."""

from __future__ import annotations

import hashlib
import os
import sys
from pathlib import Path

import pytest

from spoonfold.press import swap
from spoonfold.press.output import Stage, commit, open_stage
from spoonfold.problem import Failure

MODES = pytest.mark.parametrize("journal", [False, True], ids=["exchange", "journal"])
NEEDS_FORK = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system can't fork")
NOBODY = 65534
NAMES = ("index.html", "site/soup.html", "site/pictures/pan.svg", "families/list.pdf")


def stage_of(output: Path, wait_seconds: float = 0) -> Stage:
    stage = open_stage(output, wait_seconds)
    assert isinstance(stage, Stage), stage
    return stage


def build(output: Path, word: str, *, journal: bool = False) -> None:
    stage = stage_of(output)
    for name in NAMES:
        stage.write(name, content_of(word, name))
    assert commit(stage, journal=journal) is None


def content_of(word: str, name: str) -> bytes:
    return f"{word} in {name}\n".encode() * 50


def read_tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def tree_of(word: str) -> dict[str, bytes]:
    return {swap.MARKER: swap.MARKER_TEXT} | {name: content_of(word, name) for name in NAMES}


def hash_tree(tree: dict[str, bytes]) -> str:
    digest = hashlib.sha256()
    for name, data in sorted(tree.items()):
        digest.update(f"{name}\0{len(data)}\0".encode() + data)
    return digest.hexdigest()


def names_in(folder: Path) -> list[str]:
    """The names in a folder, without the lock file that Windows leaves there."""
    windows_lock = ".build-lock" if sys.platform == "win32" else None
    return sorted(entry.name for entry in folder.iterdir() if entry.name != windows_lock)


def code_of(result: Stage | Failure | None) -> str | None:
    return result.code if isinstance(result, Failure) else None
