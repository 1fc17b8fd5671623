"""Printing on several cores at once, whole sheets at a time, the longest first.

A machine may refuse other processes, threads or the memory that they share, and may end one of
them. What they leave is printed here then: it takes longer, and no sheet is missing.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import tempfile
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import ExitStack, contextmanager
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
        executor = self.executor
        if executor is None or len(due) < _FEW:
            return self._printed_here(longest_first)
        waiting: dict[Future[Printed], Due] = {}
        try:
            with _interrupt_held_back():
                for each in longest_first:
                    waiting[executor.submit(_print, each.sheet, each.page)] = each
        except (*_REFUSED, BrokenProcessPool):
            self.executor = None
            _end_workers()
            return self._printed_here(longest_first)
        return self._printed_apart(waiting)

    def _printed_here(self, due: Sequence[Due]) -> Iterator[tuple[Due, Printed]]:
        return ((each, self.context.printed(each.sheet, each.page)) for each in due)

    def _printed_apart(self, waiting: dict[Future[Printed], Due]) -> Iterator[tuple[Due, Printed]]:
        left = []
        for done in as_completed(waiting):
            try:
                printed = done.result()
            except (BrokenProcessPool, MemoryError):
                # One was ended, which ends them all, or two at a time are too many for this
                # machine's memory.
                left.append(waiting[done])
                continue
            yield waiting[done], printed
        if left:
            self.executor = None
            yield from self._printed_here(left)


_REFUSED = (OSError, RuntimeError, ImportError, NotImplementedError)
"""How a machine says that it has no more processes, threads, files or shared memory."""


@contextmanager
def worker_pool(context: RenderContext, workers: int) -> Iterator[WorkerPool]:
    """So many workers, each with a render context of the same class folder; one is no one else."""
    with ExitStack() as left_behind:
        executor = _executor(context.folder, workers, left_behind) if workers > 1 else None
        try:
            yield WorkerPool(context, executor)
        except BaseException:
            # Nobody waits for sheets that nobody wants any more.
            _end_workers()
            raise
        finally:
            if executor is not None:
                executor.shutdown(cancel_futures=True)


def _executor(folder: Path, workers: int, left_behind: ExitStack) -> ProcessPoolExecutor | None:
    """What starts the workers; None where this machine can't have any."""
    try:
        # The printer's own temporary files outlive a worker, which ends without tidying up.
        scratch = left_behind.enter_context(tempfile.TemporaryDirectory(prefix="spoonfold-"))
        return ProcessPoolExecutor(
            workers,
            mp_context=_start_method(),
            initializer=_start_worker,
            initargs=(folder, scratch),
        )
    except _REFUSED:
        return None


def _end_workers() -> None:
    for each in multiprocessing.active_children():
        each.kill()


@contextmanager
def _interrupt_held_back() -> Iterator[None]:
    """Ctrl-C waits until the workers have begun, and never reaches them: a terminal sends it to
    every process, and who started them ends them."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _start_method() -> multiprocessing.context.BaseContext:
    """A copy of this process has the printer loaded already, but may be made only where there
    is a single thread."""
    can_copy = "fork" in multiprocessing.get_all_start_methods() and threading.active_count() == 1
    return multiprocessing.get_context("fork" if can_copy else "spawn")


_context: RenderContext | None = None
"""The render context of this worker, where this process is one."""


def _start_worker(folder: Path, scratch: str) -> None:
    global _context
    tempfile.tempdir = scratch
    # Where it can't be held back.
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
