"""Writing what a day changes, one line a change, and taking it back byte by byte.

Beside the file of a day lies, out of sight of every reader, what it was before each time that lines
were written: a stack of `.DATE.N.json`, the last one on top.
"""

from __future__ import annotations

import contextlib
import datetime
import hashlib
import json
import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path

from spoonfold.author.written import Refused, write_new, write_over
from spoonfold.read.folder import CHANGES


def changes_path(date: datetime.date) -> str:
    """The file of a planned day, relative to the class folder."""
    return f"{CHANGES}{date}.txt"


@dataclass(frozen=True, slots=True)
class Draft:
    """The file of a day as it would be."""

    path: str
    before: str | None
    """As it is; None: there is none yet."""
    after: str


def drafted(
    folder: Path, date: datetime.date, lines: Sequence[str], replaced: Collection[int] = ()
) -> Draft | Refused:
    """The file with these lines below what it says, without the ones by these numbers."""
    path = changes_path(date)
    before = _text(folder / path)
    if isinstance(before, Refused):
        return before
    said = re.findall(r"[^\n]*\n|[^\n]+", before or "")
    kept = "".join(line for number, line in enumerate(said, 1) if number not in replaced)
    if kept and not kept.endswith("\n"):
        kept += "\n"
    return Draft(path, before, kept + "".join(f"{line}\n" for line in lines))


def write(folder: Path, draft: Draft) -> Refused | None:
    """Writes the draft, after keeping what was there."""
    record = json.dumps({"before": draft.before, "after": _digest(draft.after)})
    kept = write_new(folder, _kept(draft.path, _depth(folder, draft.path)), record)
    if isinstance(kept, Refused):
        return kept
    if draft.before is None:
        made = write_new(folder, draft.path, draft.after)
        failed = made if isinstance(made, Refused) else None
    else:
        failed = write_over(folder, draft.path, draft.after)
    if failed is not None:
        (folder / kept.path).unlink(missing_ok=True)
    return failed


def take_back(folder: Path, date: datetime.date) -> str | Refused:
    """Puts the file back as it was before the last lines were written, and gives its path."""
    path = changes_path(date)
    depth = _depth(folder, path)
    if not depth:
        return Refused(
            f"No change of {date} was written by this command, so there is none to take back.",
            f"Take lines out of {path} by hand.",
        )
    record = folder / _kept(path, depth - 1)
    try:
        said = json.loads(record.read_text("utf-8"))
        before, after = said["before"], said["after"]
    except (OSError, ValueError, KeyError, TypeError):
        return Refused(f"{record.name} can't be read.", f"Take lines out of {path} by hand.")
    there = _text(folder / path)
    if isinstance(there, Refused):
        return there
    if there is None or _digest(there) != after:
        return Refused(
            f"{path} was changed by hand since, and what you wrote would be lost.",
            f"Take lines out of it by hand; then delete {record.relative_to(folder).as_posix()}.",
        )
    if before is not None:
        failed = write_over(folder, path, before)
        if failed is not None:
            return failed
    try:
        if before is None:
            (folder / path).unlink()
        record.unlink()
    except OSError as error:
        return Refused(f"{path} can't be taken away: {error.strerror or 'the disk refused'}.")
    with contextlib.suppress(OSError):
        # Only an empty folder goes.
        record.parent.rmdir()
    return path


def _text(path: Path) -> str | Refused | None:
    try:
        with path.open(encoding="utf-8", newline="") as file:
            return file.read()
    except FileNotFoundError:
        return None
    except (OSError, UnicodeDecodeError):
        return Refused(f"{path.name} can't be read.", "Look at it in a text editor first.")


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _depth(folder: Path, path: str) -> int:
    """How many times lines were written and not taken back."""
    depth = 0
    while (folder / _kept(path, depth)).is_file():
        depth += 1
    return depth


def _kept(path: str, depth: int) -> str:
    return f"{CHANGES}.{Path(path).stem}.{depth}.json"
