"""A first class of one's own, which builds as it is."""

from __future__ import annotations

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from spoonfold.author.written import Refused, Written, write_new

# A file of this name inside the package would hide the rest of it from git.
_NAMES = {"gitignore.txt": ".gitignore"}


def starter_files() -> dict[str, str]:
    """Every file of the first class, by its path in the class folder."""
    texts: dict[str, str] = {}

    def gather(folder: Traversable, above: str) -> None:
        for each in sorted(folder.iterdir(), key=lambda one: one.name):
            if each.is_dir():
                gather(each, f"{above}{each.name}/")
            else:
                texts[above + _NAMES.get(each.name, each.name)] = each.read_text("utf-8")

    gather(files("spoonfold") / "author" / "starter", "")
    return texts


def is_free(folder: Path) -> Refused | None:
    """Why a class can't be begun in a folder; None: it is empty, or isn't there yet."""
    try:
        if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
            return Refused(
                f"{folder} is there already and isn't empty; nothing is written over it.",
                "Choose another name: spoonfold start my-class",
            )
    except OSError as error:
        return Refused(f"{folder} can't be opened: {error.strerror or 'the disk refused'}.")
    return None


def start(folder: Path) -> tuple[Written, ...] | Refused:
    """Writes the first class into a folder that is empty, or isn't there yet."""
    refused = is_free(folder)
    if refused is not None:
        return refused
    written = []
    for path, text in starter_files().items():
        made = write_new(folder, path, text)
        if isinstance(made, Refused):
            return made
        written.append(made)
    return tuple(written)
