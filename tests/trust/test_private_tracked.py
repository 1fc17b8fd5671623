"""`check` warns where git keeps what is private."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from spoonfold.check import examine
from tiny_class import write_class

pytestmark = pytest.mark.skipif(shutil.which("git") is None, reason="git isn't here")
CHILDREN = {"private/children.yaml": "[Ada, Bo, Cem, Dee]\n"}


def git(folder: Path, *words: str) -> None:
    subprocess.run(
        ["git", "-c", "user.name=A", "-c", "user.email=a@example.org", *words],
        cwd=folder,
        check=True,
        capture_output=True,
    )


def told(folder: Path) -> list[str]:
    return [each.place.path for each in examine(folder).problems if each.code == "private-tracked"]


@pytest.mark.parametrize("version", ["2", "4"])
@pytest.mark.parametrize("format_", ["sha1", "sha256"])
@pytest.mark.parametrize("inner", ["", "deep/er"])
def test_tracked(tmp_path: Path, version: str, format_: str, inner: str) -> None:
    """In every form of git's list, and in a folder below the repository's top."""
    folder = write_class(tmp_path / inner, CHILDREN)
    git(tmp_path, "init", f"--object-format={format_}")
    assert told(folder) == []
    git(tmp_path, "add", f"{inner or '.'}/content/recipes", f"{inner or '.'}/content/class.yaml")
    git(tmp_path, "update-index", "--index-version", version)
    assert told(folder) == []
    git(tmp_path, "add", "--all")
    git(tmp_path, "update-index", "--index-version", version)
    assert told(folder) == ["content/private/children.yaml"]
    git(tmp_path, "rm", "-r", "--cached", f"{inner or '.'}/content/private")
    assert told(folder) == []


def test_marked_for_later(tmp_path: Path) -> None:
    """An entry with flags of its own (version 3) doesn't hide those after it."""
    folder = write_class(tmp_path, CHILDREN)
    git(tmp_path, "init")
    git(tmp_path, "add", "content/class.yaml")
    git(tmp_path, "update-index", "--skip-worktree", "content/class.yaml")
    git(tmp_path, "add", "content/private")
    assert (tmp_path / ".git/index").read_bytes()[7] == 3
    assert told(folder) == ["content/private/children.yaml"]


def test_second_working_tree(tmp_path: Path) -> None:
    """Where `.git` is a file that points elsewhere, that is followed."""
    first, second = tmp_path / "first", tmp_path / "second"
    write_class(first, CHILDREN)
    git(first, "init")
    git(first, "add", "--all")
    git(first, "commit", "-m", "All")
    git(first, "worktree", "add", str(second))
    assert told(second) == ["content/private/children.yaml"]


@pytest.mark.parametrize(
    "index",
    [
        b"",
        b"DIRC",
        b"DIRC\0\0\0\2\xff\xff\xff\xff",
        b"x" * 5000,
        b"DIRC\0\0\0\4\0\0\0\2" + b"\xff" * 200,
    ],
)
def test_damaged(tmp_path: Path, index: bytes) -> None:
    """What is no list of git's is passed over."""
    folder = write_class(tmp_path, CHILDREN)
    (folder / ".git").mkdir()
    (folder / ".git/config").touch()
    (folder / ".git/index").write_bytes(index)
    assert told(folder) == []


@pytest.mark.parametrize("points", ["gitdir: nowhere\n", "nonsense", ""])
def test_damaged_pointer(tmp_path: Path, points: str) -> None:
    """A `.git` that leads nowhere is passed over."""
    folder = write_class(tmp_path, CHILDREN)
    (folder / ".git").write_text(points)
    assert told(folder) == []
