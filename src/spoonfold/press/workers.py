"""Printing on several cores at once, whole sheets at a time, the longest first."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from spoonfold.digest import digest_of
from spoonfold.press.render import Printed, RenderContext, render_context_for
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


def due_of(context: RenderContext, sheet: Sheet) -> Due:
    """A sheet, known by its page in the largest type: layouts and tools are known besides."""
    page = context.largest(sheet)
    return Due(sheet, digest_of(page, repr(sheet.layout), repr(sheet.most_pages)), page)


@dataclass(slots=True)
class WorkerPool:
    """Prints sheets, here or in other processes."""

    context: RenderContext
    executor: ProcessPoolExecutor | None

    def printed(self, due: Sequence[Due]) -> Iterator[tuple[Due, Printed]]:
        """Each sheet with its PDF, in the order in which they are ready. Others begin at once;
        here each is printed when it is asked for."""
        longest_first = sorted(due, key=lambda each: -len(each.page))
        if self.executor is None or len(due) < _FEW:
            return ((each, self.context.printed(each.sheet, each.page)) for each in longest_first)
        waiting: dict[Future[Printed], Due] = {
            self.executor.submit(_print, each.sheet, each.page): each for each in longest_first
        }
        return ((waiting[done], done.result()) for done in as_completed(waiting))


@contextmanager
def worker_pool(context: RenderContext, workers: int) -> Iterator[WorkerPool]:
    """So many workers, each with a render context of the same class folder; one is no one else."""
    if workers < 2:
        yield WorkerPool(context, None)
        return
    executor = ProcessPoolExecutor(
        workers, mp_context=_start_method(), initializer=_start_worker, initargs=(context.folder,)
    )
    try:
        yield WorkerPool(context, executor)
    except KeyboardInterrupt:
        # Nobody waits for sheets that nobody wants any more.
        for each in multiprocessing.active_children():
            each.kill()
        raise
    finally:
        executor.shutdown(cancel_futures=True)


def _start_method() -> multiprocessing.context.BaseContext:
    """A copy of this process has the printer loaded already, but may be made only where there
    is a single thread."""
    can_copy = "fork" in multiprocessing.get_all_start_methods() and threading.active_count() == 1
    return multiprocessing.get_context("fork" if can_copy else "spawn")


_context: RenderContext | None = None
"""The render context of this worker, where this process is one."""


def _start_worker(folder: Path) -> None:
    global _context
    # A terminal's Ctrl-C reaches every process; who started this one ends it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_exit_with_parent, daemon=True).start()
    _context = render_context_for(folder)


def _exit_with_parent() -> None:
    """Ends this worker when the process that started it has ended, which may have been killed:
    nobody else would, and it would wait for work for ever."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _print(sheet: Sheet, page: bytes) -> Printed:
    assert _context is not None
    return _context.printed(sheet, page)
