"""Writing into a class folder: a new file, or a few lines more; never over what is there."""

from __future__ import annotations

import contextlib
from dataclasses import dataclass
from pathlib import Path

_MANY = 1_000_000
"""Characters; what `read` accepts of one file."""


@dataclass(frozen=True, slots=True)
class Refused:
    """Why nothing was written, and what to do instead. A value; never raised."""

    why: str
    instead: str = ""


@dataclass(frozen=True, slots=True)
class Written:
    """What was written."""

    path: str
    """Relative to the class folder, with forward slashes."""
    line: int = 0
    """Where the new lines begin, from 1; 0: the whole file is new."""


def write_new(folder: Path, path: str, text: str) -> Written | Refused:
    """Writes a file that isn't there yet."""
    target = folder / path
    if len(text) > _MANY:
        return Refused(f"{path} would be larger than what Spoonfold reads of one file.")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        # Opened as a new one: between looking and writing somebody else might make it.
        with target.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        return Refused(f"{path} is there already; nothing is written over it.")
    except OSError as error:
        return Refused(f"{path} can't be written: {error.strerror or 'the disk refused'}.")
    return Written(path)


def move_text(folder: Path, path: str, to: str, text: str) -> Refused | None:
    """Puts a text into a file that isn't there yet, and takes away the one that it comes from.
    Line ends stay as given."""
    target = folder / to
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        with target.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
        # The new one is whole: only now may the old one go.
        (folder / path).unlink()
    except FileExistsError:
        return Refused(f"{to} is there already, so {path} stays.", "Put both into one file.")
    except OSError as error:
        return Refused(f"{path} can't be moved: {error.strerror or 'the disk refused'}.")
    return None


def write_over(folder: Path, path: str, text: str) -> Refused | None:
    """Puts a changed text in the place of a file, whole or not at all. Line ends stay as given."""
    # A link keeps leading to the file that it led to.
    target = (folder / path).resolve()
    fresh = target.with_name(f".{target.name}.new")
    try:
        with fresh.open("x", encoding="utf-8", newline="") as file:
            file.write(text)
        fresh.chmod(target.stat().st_mode & 0o777)
        fresh.replace(target)
    except FileExistsError:
        return Refused(f"{fresh.name} is in the way beside {path}.", "Remove it and try again.")
    except OSError as error:
        with contextlib.suppress(OSError):
            fresh.unlink(missing_ok=True)
        return Refused(f"{path} can't be written: {error.strerror or 'the disk refused'}.")
    return None
