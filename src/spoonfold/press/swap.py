"""Putting one whole folder in the place of another, and finishing what a killed run began.

Every function here expects its caller to hold the lock of the output folder.

Three kinds of name lie beside an output folder called `build`, told apart by a number:

    .build-staging-0001   a tree being made; after an exchange, the tree that was replaced
    .build-old-0001       the replaced tree, where two folders can't be exchanged in one step
    .build-journal-0001   says that staging-0001 is whole and is being put in place

The journal carries its facts in its name, so a torn write can't make it unreadable.

A lock file that keeps two builds of one output folder apart.

The system drops the lock when its holder ends, however it ends, so a killed build never leaves
a lock that has to be broken by hand."""

from __future__ import annotations

import ctypes
import errno
import itertools
import os
import re
import shutil
import stat
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


MARKER = ".made-by-spoonfold"
"""The file that says a folder may be replaced; it holds the version of its own format."""

MARKER_TEXT = b"format 1\nSpoonfold makes this folder anew each time. Keep nothing of yours here.\n"

GITKEEP = ".gitkeep"
"""The file that makes git keep an otherwise empty folder."""

_JOURNAL_TEXT = b"A new folder is being put in place. The next build finishes this.\n"

# From renameat2(2) and <linux/fs.h>, and from renamex_np(2) and <sys/stdio.h> on macOS.
_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
_RENAME_SWAP = 2

# Virus scanners hold freshly written files open for a moment; Windows then refuses to rename
# the folder around them. Forty tries of 0.05 s are two seconds.
_RENAME_TRIES = 40
_RENAME_PAUSE = 0.05


@dataclass(frozen=True, slots=True)
class Places:
    """Where one run keeps its things, all in the folder that holds the output folder."""

    output: Path
    staging: Path
    old: Path
    journal: Path


def is_ours(folder: Path) -> bool:
    """Say whether a folder may be replaced: Spoonfold made it, or there is nothing in it.

    Raises OSError when the folder can't be read.
    """
    if _is_plain_file(folder / MARKER):
        return True
    return all(entry.name == GITKEEP and _is_plain_file(entry) for entry in folder.iterdir())


def make_staging(output: Path) -> Places:
    """Make an empty staging folder under the lowest free number. Raises OSError."""
    for number in itertools.count(1):
        places = _places(output, number)
        if os.path.lexists(places.old) or os.path.lexists(places.journal):
            continue
        with suppress(FileExistsError):
            places.staging.mkdir()
            break
    # Before anything is in it: whoever may not look into the old folder may not look in here.
    _give_permissions(output, places.staging)
    return places


def _give_permissions(old: Path, new: Path) -> None:
    """Lets those into a folder whom its owner lets into the old one; nobody else.

    The owner may always write: the next build has to. On Windows a folder takes its permissions
    from the one around it.
    """
    if sys.platform == "win32" or not _is_plain_folder(old):
        return
    before, now = old.stat(), new.stat()
    mode = stat.S_IMODE(before.st_mode) | stat.S_IRWXU
    if before.st_gid != now.st_gid:
        try:
            os.chown(new, -1, before.st_gid)
        except OSError:
            # The same bits would let another group in.
            mode &= ~stat.S_IRWXG
    if mode != stat.S_IMODE(now.st_mode):
        new.chmod(mode)


def _give_all_permissions(places: Places) -> None:
    for folder, names, _ in os.walk(places.staging):
        for name in names:
            new = Path(folder) / name
            _give_permissions(places.output / new.relative_to(places.staging), new)


def swap_in(places: Places, *, journal: bool = False) -> None:
    """Put the staging folder in the place of the output folder, which need not exist.

    Whoever looks sees the old folder or the new one, each whole; with the journal there is an
    instant in which neither has the name. `journal` asks for that way even where the system can
    exchange two folders in one step. The replaced folder is left for `recover` to remove.
    Raises OSError, with the old folder in place.
    """
    _give_all_permissions(places)
    _sync_folders(places.staging)
    parent = places.output.parent
    if not os.path.lexists(places.output):
        _rename(places.staging, places.output)
    elif journal or not _exchange(places.staging, places.output):
        _swap_with_journal(places)
    # Before anything of the old folder is removed, the new one must be on the disk.
    _sync_folder(parent)


def recover(output: Path) -> None:
    """Finish what killed runs left beside `output`, and remove what they no longer need.

    What isn't recognisably Spoonfold's is left alone. Raises OSError when an interrupted swap
    can't be finished; the journal is then still there for the next attempt.
    """
    parent = output.parent
    for number in _numbers(output, "journal"):
        places = _places(output, number)
        if not os.path.lexists(output):
            # Both trees are whole as long as the journal is there; the newer one is wanted.
            for whole in (places.staging, places.old):
                if _is_our_folder(whole):
                    _rename(whole, output)
                    break
        _sync_folder(parent)
        places.journal.unlink()
        _sync_folder(parent)
    for kind in ("staging", "old"):
        for number in _numbers(output, kind):
            places = _places(output, number)
            folder = places.staging if kind == "staging" else places.old
            # A file that someone still has open may keep it; the next build tries again.
            with suppress(OSError):
                if _is_our_folder(folder):
                    _remove(folder)


def write_file(target: Path, data: bytes) -> None:
    """Write a new file that is on the disk when this returns. Raises OSError."""
    with target.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def carry(source: Path, target: Path) -> None:
    """Give the files at and under `source` a second place, sparing what is at `target` already.

    Links are not carried, for they may lead out of the tree. Raises OSError.
    """
    if source.is_symlink():
        return
    if source.is_dir():
        target.mkdir(parents=True, exist_ok=True)
        for entry in sorted(source.iterdir()):
            carry(entry, target / entry.name)
    elif source.is_file() and not target.exists():
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            target.hardlink_to(source)
        except OSError:
            # Memory sticks and some network disks have no hard links.
            write_file(target, source.read_bytes())


def _sync_folder(folder: Path) -> None:
    """Wait until the names in a folder are on the disk. Windows has no such call."""
    if sys.platform != "win32":
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        except OSError as error:
            # Some network disks take files only.
            if error.errno not in (errno.EINVAL, errno.ENOTSUP):
                raise
        finally:
            os.close(descriptor)


def _swap_with_journal(places: Places) -> None:
    parent = places.output.parent
    write_file(places.journal, _JOURNAL_TEXT)
    _sync_folder(parent)
    try:
        _rename(places.output, places.old)
        try:
            _rename(places.staging, places.output)
        except OSError:
            _rename(places.old, places.output)
            raise
    except OSError:
        # With the output folder missing, the journal must stay: recovery needs it.
        if os.path.lexists(places.output):
            places.journal.unlink()
        raise
    _sync_folder(parent)
    # From here on the old folder may go: without a journal nothing is ever put back.
    places.journal.unlink()


def _exchange(one: Path, other: Path) -> bool:
    """Exchange two folders in one step; False where system or disk can't, with nothing done."""
    if sys.platform == "linux":
        renameat2 = getattr(ctypes.CDLL(None), "renameat2", None)
        if renameat2 is None:
            return False
        renameat2.argtypes = (
            ctypes.c_int,
            ctypes.c_char_p,
            ctypes.c_int,
            ctypes.c_char_p,
            ctypes.c_uint,
        )
        names = os.fsencode(one), os.fsencode(other)
        done = renameat2(_AT_FDCWD, names[0], _AT_FDCWD, names[1], _RENAME_EXCHANGE)
        return bool(done == 0)
    if sys.platform == "darwin":
        renamex_np = getattr(ctypes.CDLL(None), "renamex_np", None)
        if renamex_np is None:
            return False
        renamex_np.argtypes = (ctypes.c_char_p, ctypes.c_char_p, ctypes.c_uint)
        return bool(renamex_np(os.fsencode(one), os.fsencode(other), _RENAME_SWAP) == 0)
    return False


def _rename(one: Path, other: Path) -> None:
    tries = _RENAME_TRIES if sys.platform == "win32" else 1
    for _ in range(tries - 1):
        with suppress(PermissionError):
            one.rename(other)
            return
        time.sleep(_RENAME_PAUSE)
    one.rename(other)


def _remove(folder: Path) -> None:
    """Remove a folder with its marker last, so that what a kill leaves is still known as ours."""
    for entry in sorted(folder.iterdir()):
        if entry.name == MARKER:
            continue
        if entry.is_dir() and not entry.is_symlink():
            shutil.rmtree(entry)
        else:
            entry.unlink()
    (folder / MARKER).unlink(missing_ok=True)
    folder.rmdir()


def _sync_folders(top: Path) -> None:
    for folder, _, _ in os.walk(top, topdown=False):
        _sync_folder(Path(folder))


def _places(output: Path, number: int) -> Places:
    kinds = ("staging", "old", "journal")
    return Places(output, *(output.with_name(f".{output.name}-{k}-{number:04}") for k in kinds))


def _numbers(output: Path, kind: str) -> list[int]:
    pattern = re.compile(rf"\.{re.escape(output.name)}-{kind}-(\d{{4,}})", re.ASCII)
    found = (pattern.fullmatch(entry.name) for entry in output.parent.iterdir())
    return sorted(int(match[1]) for match in found if match)


def _is_our_folder(path: Path) -> bool:
    return _is_plain_folder(path) and is_ours(path)


def _is_plain_folder(path: Path) -> bool:
    return path.is_dir() and not path.is_symlink()


def _is_plain_file(path: Path) -> bool:
    return path.is_file() and not path.is_symlink()
