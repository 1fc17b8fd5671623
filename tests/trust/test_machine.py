"""What a machine refuses: told in a sentence with exit code 3, or done without."""

from __future__ import annotations

import errno

import pytest

from spoonfold.cli.clock_list import _cells
from spoonfold.cli.common import NOT_HERE
from spoonfold.cli.ending import machine_faults_told


@pytest.mark.parametrize(
    "fault",
    [
        OSError(errno.ENOSPC, "No space left on device"),
        OSError(errno.EROFS, "Read-only file system", "x"),
        OSError(errno.EMFILE, "Too many open files"),
        OSError(errno.ENAMETOOLONG, "File name too long", "x" * 300),
        MemoryError(),
        RuntimeError("can't start new thread"),
    ],
    ids=repr,
)
def test_a_fault_of_the_machine_is_a_sentence(
    fault: Exception, capfd: pytest.CaptureFixture[str]
) -> None:
    """No traceback, and the exit code for what can't be made here."""
    with pytest.raises(SystemExit) as ended, machine_faults_told():
        raise fault
    assert ended.value.code == NOT_HERE
    assert len(capfd.readouterr().err.strip().splitlines()) == 2


def test_a_bug_is_no_fault_of_the_machine() -> None:
    """What isn't the machine's stays what it is."""
    with pytest.raises(RuntimeError, match="a bug"), machine_faults_told():
        raise RuntimeError("a bug")


@pytest.mark.parametrize("width", [*range(40, 80), 200])
def test_a_line_of_the_clock_fits(width: int) -> None:
    """Nothing is wider than the terminal, and every word is there."""
    words = "Chop the onions and the peppers"
    lines = list(_cells("10:05-10:12", "R3", words, ["knife", "board"], width))
    assert all(len(each) <= width for each in lines)
    assert set(words.split()) <= set(" ".join(lines).split())
