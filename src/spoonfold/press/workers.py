"""Printing on several cores at once, whole sheets at a time, the longest first."""

from __future__ import annotations

import multiprocessing
import os
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from spoonfold.press.desk import Desk, Printed, desk_for
from spoonfold.press.memo import digest_of
from spoonfold.sheets.sheet import Sheet

_FEW = 2
"""Fewer sheets than this are printed where we are: starting others costs more than it saves."""


@dataclass(frozen=True, slots=True)
class Due:
    """A sheet that may have to be printed."""

    sheet: Sheet
    key: str
    """What it is made of."""
    page: bytes
    """In the largest type, as HTML; the longer it is, the more there is to print."""


def due_of(desk: Desk, sheet: Sheet) -> Due:
    """A sheet, known by its page in the largest type: layouts and tools are known besides."""
    page = desk.largest(sheet)
    return Due(sheet, digest_of(page, repr(sheet.sizes), repr(sheet.sides)), page)


@dataclass(slots=True)
class Hands:
    """Prints sheets, here or in other processes."""

    desk: Desk
    pool: ProcessPoolExecutor | None

    def printed(self, due: Sequence[Due]) -> Iterator[tuple[Due, Printed]]:
        """Each sheet with its PDF, in the order in which they are ready. Others begin at once;
        here each is printed when it is asked for."""
        longest_first = sorted(due, key=lambda each: -len(each.page))
        if self.pool is None or len(due) < _FEW:
            return ((each, self.desk.printed(each.sheet, each.page)) for each in longest_first)
        waiting: dict[Future[Printed], Due] = {
            self.pool.submit(_print, each.sheet, each.page): each for each in longest_first
        }
        return ((waiting[done], done.result()) for done in as_completed(waiting))


@contextmanager
def hands_for(desk: Desk, workers: int) -> Iterator[Hands]:
    """So many workers, each with the desk of the same class folder; one is no one else."""
    if workers < 2:
        yield Hands(desk, None)
        return
    pool = ProcessPoolExecutor(
        workers, mp_context=_way_to_start(), initializer=_sit_down, initargs=(desk.folder,)
    )
    try:
        yield Hands(desk, pool)
    finally:
        pool.shutdown(cancel_futures=True)


def _way_to_start() -> multiprocessing.context.BaseContext:
    """A copy of this process has the printer loaded already, but may be made only where there
    is a single thread."""
    can_copy = "fork" in multiprocessing.get_all_start_methods() and threading.active_count() == 1
    return multiprocessing.get_context("fork" if can_copy else "spawn")


_desk: Desk | None = None
"""The desk of this worker, where this process is one."""


def _sit_down(folder: Path) -> None:
    global _desk
    threading.Thread(target=_leave_with_the_first, daemon=True).start()
    _desk = desk_for(folder)


def _leave_with_the_first() -> None:
    """Ends this worker when the process that started it has ended, which may have been killed:
    nobody else would, and it would wait for work for ever."""
    first = multiprocessing.parent_process()
    if first is not None:
        first.join()
        os._exit(1)


def _print(sheet: Sheet, page: bytes) -> Printed:
    assert _desk is not None
    return _desk.printed(sheet, page)
