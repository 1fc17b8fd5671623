"""Two builds of one output folder at once."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from output_trees import NEEDS_FORK, build, code_of, names_in, stage_of

from forked import in_fork
from spoonfold.press import swap
from spoonfold.press.output import commit, discard, open_stage, recover
from spoonfold.problem import Failure


class TestTwoBuilds:
    def test_second_is_refused(self, output: Path) -> None:
        """While one build runs, a second is refused, and doesn't disturb it."""
        build(output, "plum")
        first = stage_of(output)
        first.write("index.html", b"first")
        assert open_stage(output) == Failure(
            "locked",
            f"Another build is making {output} at this moment.",
            "Wait until it has finished, then try again.",
        )
        recover(output)
        assert commit(first) is None
        assert (output / "index.html").read_bytes() == b"first"

    def test_waits_no_longer_than_told(self, output: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        """A second build gives up after the wait that its caller allows."""
        first = stage_of(output)
        waited: list[float] = []
        monkeypatch.setattr(swap.time, "sleep", waited.append)
        assert code_of(open_stage(output, 0.22)) == "locked"
        assert waited == pytest.approx([swap.PAUSE] * 4 + [0.02])
        discard(first)

    def test_second_waits(self, output: Path) -> None:
        """A second build that waits starts from what the first one made."""
        script = (
            "import sys; from pathlib import Path\n"
            "from spoonfold.press.output import open_stage, commit\n"
            "stage = open_stage(Path(sys.argv[1])); stage.write('index.html', b'first')\n"
            "print('open', flush=True); sys.stdin.readline(); assert commit(stage) is None\n"
        )
        first = subprocess.Popen(
            [sys.executable, "-c", script, str(output)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        assert first.stdout is not None and first.stdin is not None
        assert first.stdout.readline() == "open\n"
        assert code_of(open_stage(output)) == "locked"
        threading.Timer(0.2, lambda: first.communicate("go\n")).start()
        second = stage_of(output, wait_seconds=20)
        assert (output / "index.html").read_bytes() == b"first"
        second.keep("index.html")
        assert commit(second) is None
        assert first.wait() == 0
        assert (output / "index.html").read_bytes() == b"first"
        assert names_in(output.parent) == ["build"]

    @NEEDS_FORK
    def test_crowd(self, output: Path) -> None:
        """Of many builds started together, each gets its turn and no two mix."""
        children = []
        for child in range(4):
            if (pid := os.fork()) == 0:
                code = 1
                try:
                    for turn in range(5):
                        stage = stage_of(output, wait_seconds=20)
                        kept = len(list((output / "turns").glob("*")))
                        stage.keep("turns")
                        stage.write(f"turns/{child}-{turn}", str(kept).encode())
                        assert commit(stage) is None
                    code = 0
                finally:
                    os._exit(code)
            children.append(pid)
        assert [os.waitpid(pid, 0)[1] for pid in children] == [0] * 4
        counts = sorted(int(path.read_text()) for path in (output / "turns").iterdir())
        assert counts == list(range(20))
        assert names_in(output.parent) == ["build"]

    @pytest.mark.skipif(os.name == "nt", reason="Windows leaves the lock file where it is")
    def test_lock_file_removed_while_opening(
        self, output: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        """A build never holds a lock file that the build before it has already removed."""
        locking = swap._try_to_lock
        removals = [output.with_name(".build-lock")]

        def lock_late(descriptor: int) -> bool:
            while removals:
                removals.pop().unlink()
            return locking(descriptor)

        monkeypatch.setattr(swap, "_try_to_lock", lock_late)
        first = stage_of(output)
        assert code_of(open_stage(output)) == "locked"
        assert commit(first) is None

    @pytest.mark.parametrize("number", [errno.ENOSPC, errno.EIO])
    def test_lock_of_a_failed_opening(
        self, output: Path, monkeypatch: pytest.MonkeyPatch, number: int
    ) -> None:
        """An opening that fails halfway, expectedly or not, lets go of the lock."""

        def fail(*_: object) -> None:
            raise OSError(number, os.strerror(number))

        with monkeypatch.context() as patch:
            patch.setattr(swap, "write_file", fail)
            if number == errno.EIO:
                with pytest.raises(OSError, match=os.strerror(number)):
                    open_stage(output)
            else:
                assert code_of(open_stage(output)) == "disk-full"
        assert names_in(output.parent) == []
        build(output, "plum")

    @NEEDS_FORK
    def test_lock_of_the_dead(self, output: Path) -> None:
        """A killed build doesn't keep the next one out."""

        def die() -> None:
            stage_of(output).write("index.html", b"half")
            os.kill(os.getpid(), signal.SIGKILL)

        assert in_fork(die) == -signal.SIGKILL
        assert names_in(output.parent) == [".build-lock", ".build-staging-0001"]
        build(output, "plum")
        assert names_in(output.parent) == ["build"]
