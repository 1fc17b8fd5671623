"""A lock file that keeps two builds of one output folder apart.

The system drops the lock when its holder ends, however it ends, so a killed build never leaves
a lock that has to be broken by hand.
"""

from __future__ import annotations

import os
import sys
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

if sys.platform == "win32":
    import msvcrt
else:
    import fcntl

# How often a waiting build looks again, in seconds: short enough not to be felt.
PAUSE = 0.05

_RELEASED = -1

_held: dict[int, Lock] = {}
"""The locks of this process, by descriptor."""


@dataclass(slots=True)
class Lock:
    """A held lock. `release` may be called more than once."""

    path: Path
    _descriptor: int

    @property
    def held(self) -> bool:
        return self._descriptor != _RELEASED

    def release(self) -> None:
        """Let the next build in, and leave no lock file behind where the system allows that."""
        if not self.held:
            return
        if sys.platform == "win32":
            # An open file can't be removed there, and once closed it may be another build's.
            os.lseek(self._descriptor, 0, os.SEEK_SET)
            msvcrt.locking(self._descriptor, msvcrt.LK_UNLCK, 1)
        else:
            # Removed while still held; `take` notices when the file it locked is gone.
            with suppress(OSError):
                self.path.unlink()
            # Closing alone would leave the lock with a forked child that inherited it.
            fcntl.flock(self._descriptor, fcntl.LOCK_UN)
        del _held[self._descriptor]
        os.close(self._descriptor)
        self._descriptor = _RELEASED


def _let_go_in_copy() -> None:
    """A copy of this process lets the locks go: with its own descriptors it would keep them
    after the first process was killed, and the next build would wait for it for ever."""
    for descriptor, lock in _held.items():
        os.close(descriptor)
        lock._descriptor = _RELEASED
    _held.clear()


if hasattr(os, "register_at_fork"):
    os.register_at_fork(after_in_child=_let_go_in_copy)


def take(path: Path, wait_seconds: float = 0) -> Lock | None:
    """Lock the file at `path`, making it if need be; None if another holder keeps it.

    `wait_seconds` is how long to keep trying, to the nearest `PAUSE`; 0 tries once. Raises
    OSError when the file can't be made or the disk can't lock files.
    """
    left = wait_seconds
    while True:
        descriptor = os.open(path, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            taken = _try_to_lock(descriptor)
            if taken and _is_still_at(path, descriptor):
                lock = _held[descriptor] = Lock(path, descriptor)
                return lock
        except BaseException:
            os.close(descriptor)
            raise
        os.close(descriptor)
        if taken:
            # The last holder removed this file between our opening it and our locking it.
            continue
        if left <= 0:
            return None
        time.sleep(min(PAUSE, left))
        left -= PAUSE


def _try_to_lock(descriptor: int) -> bool:
    if sys.platform == "win32":
        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
    else:
        try:
            # flock, not lockf: it also keeps apart two stages of one process.
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
    return True


def _is_still_at(path: Path, descriptor: int) -> bool:
    try:
        return os.path.samestat(path.stat(), os.fstat(descriptor))
    except FileNotFoundError:
        return False
