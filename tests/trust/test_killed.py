"""A build that is killed: the output is the old tree or the new one, whole, and the next build
goes on as if nothing had been."""

from __future__ import annotations

import hashlib
import os
import select
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from forked import in_fork
from in_full import sampled
from spoonfold.build import build
from spoonfold.press import swap
from spoonfold.press.output import recover
from tiny_class import RICE, write_class

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not hasattr(os, "fork"), reason="this system can't fork"),
]

OLD, NEW = RICE, RICE.replace("Plain rice", "Fancy rice")
EVENTS = (
    "open",
    "os.rename",
    "os.remove",
    "os.rmdir",
    "os.mkdir",
    "os.link",
    "ctypes.dlsym",
    "os.scandir",
    "shutil.rmtree",
)
LIMIT = 60.0
"""Seconds: many times what any step here needs."""


def digest(tree: Path) -> str | None:
    """One hash of all names and bytes; None where there is no tree."""
    if not tree.exists():
        return None
    total = hashlib.sha256()
    for path in sorted(tree.rglob("*")):
        if path.is_file():
            data = path.read_bytes()
            total.update(f"{path.relative_to(tree).as_posix()}\0{len(data)}\0".encode() + data)
    return total.hexdigest()


def kill_at(moment: int, folder: Path, counted: list[int] | None = None) -> None:
    """Has this process killed the `moment`-th time that it touches what lies in `folder`;
    `counted` counts instead."""
    top, left = str(folder), moment

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        nonlocal left
        if event not in EVENTS:
            return
        # The exchange of two folders goes by no path; the look for the call comes before it.
        if event != "ctypes.dlsym" and not str(arguments[0]).startswith(top):
            return
        if counted is not None:
            counted[0] += 1
            return
        left -= 1
        if left == 0:
            os.kill(os.getpid(), signal.SIGKILL)

    sys.addaudithook(watch)


class Killed:
    """A tiny class whose old output stands, and a build of the new one to kill."""

    def __init__(self, folder: Path, only: tuple[str, ...], *, journal: bool) -> None:
        self.only, self.journal = only, journal
        self.folder = write_class(folder, {"recipes/rice.md": NEW})
        self.output = folder / "build"
        self.make()
        self.new = digest(self.output)
        write_class(folder, {"recipes/rice.md": OLD})
        self.make()
        self.old = digest(self.output)
        self.kept = folder.with_name("kept")
        shutil.copytree(self.output, self.kept)
        write_class(folder, {"recipes/rice.md": NEW})
        assert self.old != self.new

    def make(self) -> None:
        outcome = build(self.folder, self.output, self.only)
        assert (
            outcome.problems == ()
            and outcome.write_failure is None
            and outcome.print_failure is None
        )

    def restored(self) -> None:
        if digest(self.output) != self.old:
            shutil.rmtree(self.output, ignore_errors=True)
            shutil.copytree(self.kept, self.output)

    def run(self, moment: int, counted: list[int] | None = None) -> int:
        """One build of the new class, killed at that moment."""

        def act() -> None:
            if self.journal:
                swap._exchange = lambda one, other: False
            kill_at(moment, self.folder, counted)
            self.make()
            if counted is not None:
                (self.folder / "count").write_text(str(counted[0]))

        return in_fork(act)

    def moments(self) -> int:
        """How many there are in one build."""
        self.restored()
        assert self.run(0, [0]) == 0
        count = int((self.folder / "count").read_text())
        (self.folder / "count").unlink()
        return count


def evenly(total: int, most: int) -> Sequence[int]:
    """Moments from the first to the last, both among them, and no more than so many."""
    return sorted({1 + number * (total - 1) // (most - 1) for number in range(most)})


@pytest.mark.parametrize(
    ("only", "journal", "most"),
    [
        (("site",), False, sampled(12, 100)),
        (("site",), True, sampled(12, 70)),
        (("site", "safety"), False, sampled(6, 40)),
    ],
    ids=["site", "site-by-journal", "site-and-a-pdf"],
)
def test_killed_at_any_moment(
    tmp_path: Path, only: tuple[str, ...], journal: bool, most: int
) -> None:
    """Whenever the kill comes, the tree is the old or the new one, and nothing is left over."""
    killed = Killed(tmp_path / "class", only, journal=journal)
    seen = set()
    for moment in evenly(killed.moments(), most):
        killed.restored()
        assert killed.run(moment) == -signal.SIGKILL, moment
        found = digest(killed.output)
        # Between its two renames the journal's way has neither tree; recovery knows.
        assert found in (killed.old, killed.new) or (journal and found is None), moment
        recover(killed.output)
        after = digest(killed.output)
        assert after in (killed.old, killed.new) and found in (after, None), moment
        assert {each.name for each in killed.folder.iterdir()} == {"build", "content"}, moment
        seen.add("old" if after == killed.old else "new")
    assert seen == {"old", "new"}


def _children(process: int) -> list[str]:
    return Path(f"/proc/{process}/task/{process}/children").read_text().split()


@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="this system has no /proc")
def test_killed_while_workers_print(tmp_path: Path) -> None:
    """The workers of a killed build end too, and the next build doesn't wait for them."""
    folder = write_class(tmp_path / "class")
    command = [sys.executable, "-m", "spoonfold", "build", "--folder", str(folder)]
    first = subprocess.Popen([*command, "--workers", "2"], stdout=subprocess.PIPE)
    assert first.stdout is not None
    until = time.monotonic() + LIMIT
    while len(_children(first.pid)) < 2:
        assert time.monotonic() < until and first.poll() is None
        time.sleep(0.01)
    first.kill()
    first.wait()
    # The workers hold the other end of this pipe; it closes when the last has ended.
    ready, _, _ = select.select([first.stdout], [], [], LIMIT)
    assert ready and first.stdout.read() == b""
    assert not (folder / "build").exists()
    outcome = build(folder, folder / "build", ["site"])
    assert outcome.write_failure is None and outcome.made
    assert {each.name for each in folder.iterdir()} == {"build", "content"}
