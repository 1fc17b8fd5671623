"""The files of a class folder, read safely: nothing outside it, nothing huge, UTF-8 alone."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from spoonfold.problem import Level, Place, Problem

# A recipe is about 4 kB; a hundred times that is a mistake, not a recipe.
MOST_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class Source:
    """One text file."""

    path: str
    """Relative to the class folder, with forward slashes."""
    text: str
    """With `\\n` line ends and without a byte order mark."""


def files_inside(folder: Path) -> Iterator[str]:
    """Every regular file below `content/` that really lies inside the class folder, in order.

    Links are followed only when they stay inside; names that begin with a dot are passed over.
    """
    root = folder.resolve()
    top = root / "content"
    if not top.is_dir() or not top.resolve().is_relative_to(root):
        return
    for where, folders, names in os.walk(top):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            path = Path(where) / name
            if name.startswith(".") or not _is_inside(path, root):
                continue
            yield path.relative_to(root).as_posix()


def _is_inside(path: Path, root: Path) -> bool:
    if not path.is_symlink():
        return True
    try:
        return path.resolve(strict=True).is_relative_to(root)
    except (OSError, RuntimeError):
        return False


def read_source(folder: Path, path: str) -> Source | Problem:
    """The text of one file, or why it can't be read."""

    def refuse(code: str, message: str, hint: str, line: int = 0, column: int = 0) -> Problem:
        return Problem(code, Level.ERROR, Place(path, line, column), message, hint)

    try:
        with (folder / path).open("rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                return refuse("not-a-file", "This isn't a file that can be read.", "Remove it.")
            raw = file.read(MOST_BYTES + 1)
    except OSError as error:
        return refuse(
            "unreadable-file",
            f"This file can't be opened: {error.strerror or 'the disk refused'}.",
            "Check that it is there and that you may read it.",
        )
    if len(raw) > MOST_BYTES:
        return refuse(
            "file-too-large",
            "This file is larger than 1 MB; what an educator writes is a few pages.",
            "Is it perhaps a picture or a document saved under the wrong name?",
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[: error.start]
        line = before.count(b"\n") + 1
        column = len(before.rsplit(b"\n", 1)[-1].decode("utf-8", "replace")) + 1
        return refuse(
            "not-utf-8",
            "This file isn't saved as UTF-8 text, so a letter here can't be read.",
            "In the text editor choose “Save as” and the encoding UTF-8.",
            line,
            column,
        )
    if "\0" in text:
        return refuse(
            "not-text",
            "This file holds a zero byte: it isn't plain text.",
            "Save it as plain text (UTF-8).",
        )
    return Source(path, text.replace("\r\n", "\n").replace("\r", "\n"))
