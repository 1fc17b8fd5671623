"""Whether anything was saved: names, times and sizes, looked at again and again.

Every system tells of changes in its own way, and network disks in none; looking works on all.
"""

from __future__ import annotations

import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from spoonfold.press.memo import NAME

WATCHED = ("content", "layouts")
LOOK_SECONDS = 0.3
"""From one look to the next: sooner than anyone waits for."""
SETTLE_SECONDS = 0.2
"""Nothing has changed for so long: an editor that writes a new file, moves the old one away and
the new one into its place is finished."""

Snapshot = frozenset[tuple[str, int, int, int]]
"""Each file's path, time of writing in nanoseconds, size in bytes, and number on its disk."""
Pause = Callable[[float], None]


def snapshot(folder: Path) -> Snapshot:
    """What there is at this moment; what vanishes meanwhile is left out."""
    return frozenset(each for top in WATCHED for each in _below(str(folder / top)))


def settled(folder: Path, pause: Pause = time.sleep) -> Snapshot:
    """What there is, once it has stopped changing."""
    seen = snapshot(folder)
    while True:
        pause(SETTLE_SECONDS)
        now = snapshot(folder)
        if now == seen:
            return now
        seen = now


def memo_mark(output: Path) -> tuple[int, int] | None:
    """What tells one build of an output from the next; None where there is none."""
    try:
        stat = (output / NAME).stat()
    except OSError:
        return None
    return stat.st_mtime_ns, stat.st_ino


def _below(folder: str) -> Iterator[tuple[str, int, int, int]]:
    try:
        with os.scandir(folder) as entries:
            found = list(entries)
    except OSError:
        return
    for entry in found:
        if _is_aside(entry.name):
            continue
        try:
            if entry.is_dir(follow_symlinks=False):
                yield from _below(entry.path)
            else:
                # Of a link, what it leads to is what was saved.
                stat = entry.stat()
                yield entry.path, stat.st_mtime_ns, stat.st_size, stat.st_ino
        except OSError:
            continue


def _is_aside(name: str) -> bool:
    """Whether a file is an editor's own, kept beside the one that is written."""
    return name.startswith((".", "#")) or name.endswith(("~", ".tmp"))
