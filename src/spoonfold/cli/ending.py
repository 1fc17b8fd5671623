"""How a command ends where it can't go on: stopped by a person, or failed by the machine."""

from __future__ import annotations

import errno
import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from types import FrameType

import click

from spoonfold.cli.common import NOT_HERE, STOPPED

_PATIENCE_SECONDS = 1.0
"""So long a command that was stopped may tidy up; the output is whole at any moment."""
_NO_THREAD = "can't start new thread"
"""What CPython says where the system gives no more threads: it has no error of its own."""


@contextmanager
def stoppable() -> Iterator[None]:
    """Ctrl-C stops what runs here, also where the interrupt is lost: Python drops one that comes
    while it clears an object away. Workers end by themselves when this process has ended."""
    is_main = threading.current_thread() is threading.main_thread()
    before = signal.getsignal(signal.SIGINT)
    if not is_main or before not in (signal.SIG_DFL, signal.default_int_handler):
        yield
        return
    signal.signal(signal.SIGINT, _interrupt)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _interrupt(number: int, frame: FrameType | None) -> None:
    # A second Ctrl-C doesn't disturb the tidying up after the first.
    signal.signal(number, signal.SIG_IGN)
    last = threading.Timer(_PATIENCE_SECONDS, os._exit, [STOPPED])
    last.daemon = True
    try:
        last.start()
    except RuntimeError:
        signal.signal(number, signal.SIG_DFL)
    raise KeyboardInterrupt


@contextmanager
def machine_faults_told() -> Iterator[None]:
    """Says in a sentence what the system refused, with exit code 3, and writes to nobody where a
    standard stream is closed."""
    _open_streams()
    try:
        try:
            yield
        finally:
            # Otherwise it fails when Python ends, where nothing can be said any more.
            sys.stdout.flush()
    except BrokenPipeError:
        _forget_output()
        sys.exit(NOT_HERE)
    except MemoryError:
        _end(
            "This machine hasn't enough memory for that.",
            "Close other programs, or make less at a time: spoonfold build --workers 1 --only site",
        )
    except OSError as error:
        # The output's own reason would come again at the end.
        _forget_output()
        _end(_refused(error), _instead(error))
    except RuntimeError as error:
        if str(error) != _NO_THREAD:
            raise
        _end("This machine allows no more threads.", "Close other programs and try again.")


def _open_streams() -> None:
    """Gives each closed standard stream an end that swallows everything: the next file that is
    opened would take its number, and be written to."""
    for number, name in enumerate(("stdin", "stdout", "stderr")):
        if getattr(sys, name) is None:
            opened = os.open(os.devnull, os.O_RDWR)
            if opened != number:
                os.dup2(opened, number)
                os.close(opened)
            mode = "r" if name == "stdin" else "w"
            setattr(sys, name, os.fdopen(number, mode, encoding="utf-8"))


def _forget_output() -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.close(nowhere)


def _refused(error: OSError) -> str:
    where = f" ({error.filename})" if error.filename else ""
    reason = (error.strerror or str(error)).rstrip(".")
    return f"The system refused something that is needed here: {reason}{where}."


def _instead(error: OSError) -> str:
    said = {
        errno.ENOSPC: "Make room on the disk and try again.",
        errno.EROFS: "Copy the class folder to a place that can be written to.",
        errno.EACCES: "Check that you may read and write there.",
        errno.EMFILE: "Allow more open files: ulimit -n 1024",
        errno.ENAMETOOLONG: "Give it a shorter name, or move the class folder further up.",
    }
    return said.get(error.errno or 0, "What was there before is still there; try again.")


def _end(message: str, hint: str) -> None:
    try:
        click.echo(message, err=True)
        click.echo(hint, err=True)
    except OSError:
        # Nobody listens.
        pass
    sys.exit(NOT_HERE)
