"""Whether git keeps what lies in `content/private/`, asked of git's own list of files.

The list is the index, as its format is published with git (`gitformat-index(5)`): a head of 12
bytes, then one entry a file, sorted by path. Read here without running git, which may not be
there, and would run what a repository tells it to.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from spoonfold.problem import Level, Place, Problem

PRIVATE = "content/private/"
MOST_BYTES = 100_000_000
"""An index of half a million files; a class folder has hundreds."""

_HEAD = 12
_BEFORE_HASH = 40
"""Times, device, inode, mode, owner and size."""
_SHA1, _SHA256 = 20, 32
_HAS_MORE_FLAGS = 0x4000


def private_tracked(folder: Path) -> Problem | None:
    """A warning where git keeps a private file of this class folder.

    None also where there is no git, or its list can't be read. Files that an index shares with
    another one (`core.splitIndex`) aren't seen.
    """
    try:
        top = folder.resolve()
        root = next(each for each in (top, *top.parents) if (each / ".git").exists())
        git = _git_folder(root / ".git")
        with (git / "index").open("rb") as file:
            data = file.read(MOST_BYTES)
        wanted = f"{(top / PRIVATE).relative_to(root).as_posix()}/".encode()
        tracked = next(path for path in _paths(data, _hash_length(git)) if path.startswith(wanted))
    except (StopIteration, OSError, ValueError, IndexError):
        return None
    name = tracked[len(wanted) :].decode("utf-8", "replace")
    return Problem(
        "private-tracked",
        Level.WARNING,
        Place(f"{PRIVATE}{name}"),
        "git keeps this file, so it goes wherever the repository goes, with the children's names.",
        "Run git rm --cached -r content/private, and write /content/private/ into .gitignore. "
        "What was committed before stays in the history.",
    )


def _git_folder(path: Path) -> Path:
    """Where git keeps its things; in a second working tree `.git` is a file that says where."""
    if path.is_dir():
        return path
    says, _, where = path.read_text(encoding="utf-8").partition(": ")
    if says != "gitdir":
        raise ValueError(says)
    return path.parent / where.strip()


def _hash_length(git: Path) -> int:
    """Bytes of an object's name; a second working tree shares the settings of the first."""
    common = git / "commondir"
    shared = git / common.read_text(encoding="utf-8").strip() if common.is_file() else git
    settings = (shared / "config").read_text(encoding="utf-8", errors="replace")
    is_new = "objectformat=sha256" in "".join(settings.lower().split())
    return _SHA256 if is_new else _SHA1


def _paths(data: bytes, hash_length: int) -> Iterator[bytes]:
    """The path of every entry. Raises ValueError or IndexError for what is no index."""
    version = int.from_bytes(data[4:8], "big")
    if data[:4] != b"DIRC" or version not in (2, 3, 4):
        raise ValueError("no index")
    at, path = _HEAD, b""
    for _ in range(int.from_bytes(data[8:_HEAD], "big")):
        start = at
        at += _BEFORE_HASH + hash_length
        flags = int.from_bytes(data[at : at + 2], "big")
        at += 4 if flags & _HAS_MORE_FLAGS else 2
        if version == 4:
            # Only how much of the path before is dropped, and what is put in its place.
            dropped, at = _number(data, at)
            path = path[: len(path) - dropped]
        else:
            path = b""
        end = data.index(b"\0", at)
        path += data[at:end]
        yield path
        # Before version 4, one to eight zero bytes fill an entry up to a multiple of eight.
        at = end + 1 if version == 4 else start + (end - start) // 8 * 8 + 8


def _number(data: bytes, at: int) -> tuple[int, int]:
    """A number of seven bits a byte, as git writes offsets, and where it ends."""
    value = data[at] & 0x7F
    while data[at] & 0x80:
        at += 1
        value = ((value + 1) << 7) | (data[at] & 0x7F)
    return value, at + 1
