"""What something was made of, as one number: so that nothing is made twice."""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Iterable
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

_PACKAGE = Path(__file__).parent
_CODE = (".py", ".json", ".yaml", ".tsv", ".txt")
_MOST_BYTES = 100_000_000
"""What is larger, a film or a file with holes, is told by its size and time: nothing reads it."""
_READ_WITH = ("markdown-it-py", "pyyaml", "pint")
"""Libraries on which it depends what is read and worked out."""


def digest_of(*pieces: str | bytes) -> str:
    """One digest of several pieces, each kept apart from the next."""
    total = hashlib.sha256()
    for piece in pieces:
        data = piece.encode() if isinstance(piece, str) else piece
        total.update(len(data).to_bytes(8, "big"))
        total.update(data)
    return total.hexdigest()


def folders_digest(folders: Iterable[Path], endings: tuple[str, ...] = ("",)) -> str:
    """Every file below these folders whose name ends so, by name and content; what vanishes
    meanwhile is left out."""
    pieces: list[str | bytes] = []
    for folder in folders:
        for path in sorted(folder.rglob("*")):
            if "__pycache__" in path.parts or not path.name.endswith(endings) or not path.is_file():
                continue
            try:
                pieces += [path.relative_to(folder).as_posix(), _content(path)]
            except OSError:
                continue
        pieces.append("")
    return digest_of(*pieces)


def _content(path: Path) -> bytes:
    about = path.stat()
    if about.st_size > _MOST_BYTES:
        return f"{about.st_size} {about.st_mtime_ns}".encode()
    return path.read_bytes()


@cache
def program_digest() -> str:
    """The program, what it knows, and what it reads with. Once a process, which doesn't change."""
    return digest_of(folders_digest([_PACKAGE], _CODE), *libraries(_READ_WITH), sys.version)


def libraries(names: Iterable[str]) -> list[str]:
    """Each with its version."""
    found = []
    for name in names:
        try:
            found.append(f"{name} {version(name)}")
        except PackageNotFoundError:
            found.append(name)
    return found
