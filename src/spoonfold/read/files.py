"""The files of a class folder, read safely: nothing outside it, nothing huge, UTF-8 alone."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from spoonfold.problem import Level, Place, Problem
from spoonfold.read.signs import odd_sign

# A recipe is about 4 kB; a hundred times that is a mistake, not a recipe.
MOST_BYTES = 1_000_000

_KINDS = (
    (b"PK\x03\x04", "a document of a word processor, or another packed file,"),
    (b"\xd0\xcf\x11\xe0", "a document of an old word processor"),
    (b"{\\rtf", "a document of a word processor (RTF)"),
    (b"%PDF", "a PDF"),
    (b"\xff\xd8\xff", "a picture"),
    (b"\x89PNG", "a picture"),
)
"""How files begin that an educator may rename by mistake (from memory)."""


@dataclass(frozen=True, slots=True)
class Source:
    """One text file."""

    path: str
    """Relative to the class folder, with forward slashes."""
    text: str
    """With `\\n` line ends and without a byte order mark."""


def files_inside(folder: Path) -> Iterator[str | Problem]:
    """Every regular file below `content/` that really lies inside the class folder, in order.

    Links to files are followed when they stay inside; other links are problems. Names that
    begin with a dot are passed over.
    """
    root = folder.resolve()
    top = root / "content"
    if not _is_folder(top):
        return
    if not top.resolve().is_relative_to(root):
        yield _refuse("link-outside", "content", *_OUTSIDE)
        return
    closed: list[OSError] = []
    for where, folders, names in os.walk(top, onerror=closed.append):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        linked = [name for name in folders if (Path(where) / name).is_symlink()]
        for name in sorted((*names, *linked)):
            path = Path(where) / name
            shown = path.relative_to(root).as_posix()
            if name.startswith("."):
                continue
            if not _is_text(shown):
                yield _refuse(
                    "file-name",
                    shown.encode("utf-8", "replace").decode(),
                    "The name of this file holds a sign that isn't a letter.",
                    "Give it a new name of small letters, digits and hyphens.",
                )
            elif not _is_inside(path, root):
                yield _refuse("link-outside", shown, *_OUTSIDE)
            elif name in linked:
                yield _refuse(
                    "link-to-folder",
                    shown,
                    "This is a link to another folder, and links to folders aren't followed.",
                    "Copy the files themselves to this place.",
                )
            else:
                yield shown
    for error in closed:
        # What lies there must not seem to have been deleted.
        yield _refuse(
            "unreadable-file",
            Path(error.filename).relative_to(root).as_posix(),
            f"This folder can't be opened: {_reason(error)}.",
            "Check that you may read it.",
        )


_OUTSIDE = (
    "This is a link to something outside the class folder, so whoever gets the folder doesn't "
    "get it.",
    "Copy the file itself to this place.",
)


def _refuse(
    code: str, path: str, message: str, hint: str, line: int = 0, column: int = 0
) -> Problem:
    return Problem(code, Level.ERROR, Place(path, line, column), message, hint)


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:
        # It lies in a folder that may not be entered.
        return False


def _reason(error: OSError) -> str:
    return error.strerror or "the disk refused"


def _is_text(name: str) -> bool:
    try:
        name.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def _is_inside(path: Path, root: Path) -> bool:
    if not path.is_symlink():
        return True
    try:
        return path.resolve(strict=True).is_relative_to(root)
    except (OSError, RuntimeError):
        return False


def read_source(
    folder: Path, path: str, unread: dict[str, Source] | None = None
) -> Source | Problem:
    """The text of one file, or why it can't be read: then what can be shown of it goes into
    `unread`, with a mark for what can't."""
    try:
        # Asked before it is opened: a pipe that nobody writes to would be waited for for ever.
        if not stat.S_ISREG((folder / path).stat().st_mode):
            return _refuse("not-a-file", path, "This isn't a file that can be read.", "Remove it.")
        with (folder / path).open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as error:
        return _refuse(
            "unreadable-file",
            path,
            f"This file can't be opened: {_reason(error)}.",
            "Check that it is there and that you may read it.",
        )
    if len(raw) > MOST_BYTES:
        return _refuse(
            "file-too-large",
            path,
            "This file is larger than 1 MB; what an educator writes is a few pages.",
            "Is it perhaps a picture or a document saved under the wrong name?",
        )
    kind = next((kind for start, kind in _KINDS if raw.startswith(start)), None)
    if kind is not None:
        return _refuse(
            "not-utf-8",
            path,
            f"This is {kind} under the name of a text file, so it can't be read.",
            "Open it in its own program, choose “Save as” and plain text (UTF-8), and give that "
            "file this name.",
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if unread is not None:
            unread[path] = Source(path, _line_ends(raw.decode("utf-8", "replace")))
        before = raw[: error.start]
        line = before.count(b"\n") + 1
        column = len(before.rsplit(b"\n", 1)[-1].decode("utf-8", "replace")) + 1
        return _refuse(
            "not-utf-8",
            path,
            "This file isn't saved as UTF-8 text, so a letter here can't be read.",
            "In the text editor choose “Save as” and the encoding UTF-8.",
            line,
            column,
        )
    text = _line_ends(text)
    odd = odd_sign(text, path)
    if odd is not None:
        if unread is not None:
            unread[path] = Source(path, text)
        return odd
    return Source(path, text)


def _line_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")
