"""How the program is called: by name, by module, and finished by a shell."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from spoonfold import __version__
from spoonfold.author.guide import guide_text

MODULE = [sys.executable, "-m", "spoonfold"]
SHELLS = re.findall(r"_SPOONFOLD_COMPLETE=(\w+)_source spoonfold", guide_text())


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*MODULE, *arguments],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONUTF8": "1", **environment},
    )


def completed(shell: str, line: str, at: str) -> list[str]:
    done = run(_SPOONFOLD_COMPLETE=f"{shell}_complete", COMP_WORDS=line, COMP_CWORD=at)
    assert done.returncode == 0, done.stderr
    return done.stdout.split()


def test_the_version_is_said() -> None:
    """By its own name, also where it runs as a module."""
    done = run("--version")
    assert (done.returncode, done.stdout) == (0, f"spoonfold, version {__version__}\n")


def test_as_a_module_it_is_the_same() -> None:
    """Its help, its exit codes."""
    assert run("--help").stdout.startswith("Usage: spoonfold ")
    assert run("no-such-command").returncode == 2


def test_the_guide_tells_of_three_shells() -> None:
    assert SHELLS == ["bash", "zsh", "fish"]


@pytest.mark.parametrize("shell", SHELLS)
def test_the_line_of_the_guide_gives_a_shell_its_completion(shell: str) -> None:
    """A script for that shell, which knows the program by its name."""
    done = run(_SPOONFOLD_COMPLETE=f"{shell}_source")
    assert done.returncode == 0 and "_spoonfold_completion" in done.stdout
    assert f"_SPOONFOLD_COMPLETE={shell}_complete" in done.stdout
    program = shutil.which(shell)
    if program is not None:
        read = subprocess.run(
            [program, "-n"], input=done.stdout, capture_output=True, text=True, check=False
        )
        assert (read.returncode, read.stderr) == (0, "")


def test_commands_options_and_parts_are_finished() -> None:
    """From their beginning."""
    assert completed("bash", "spoonfold bu", "1") == ["plain,build"]
    assert "plain,--household" in completed("bash", "spoonfold build --", "2")
    assert completed("bash", "spoonfold new se", "2") == ["plain,session"]
    assert completed("zsh", "spoonfold sca", "1")[:2] == ["plain", "scale"]
    assert completed("fish", "spoonfold wor", "wor")[0].startswith("plain,worksheet")


@pytest.mark.skipif(os.name == "nt" or shutil.which("bash") is None, reason="there is no bash")
def test_bash_itself_finishes_a_command(tmp_path: Path) -> None:
    """With the line of the guide, and the program on its path."""
    program = tmp_path / "spoonfold"
    program.write_text(f'#!/bin/sh\nexec {shlex.join(MODULE)} "$@"\n')
    program.chmod(0o755)
    (line,) = re.findall(r"^echo '(eval .*bash_source.*)' >>", guide_text(), re.MULTILINE)
    script = (
        f"{line}\nCOMP_WORDS=(spoonfold pre) COMP_CWORD=1\n"
        '_spoonfold_completion spoonfold\necho "${COMPREPLY[@]}"\n'
        "complete -p spoonfold"
    )
    done = subprocess.run(
        ["bash", "--norc", "-c", script],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PATH": f"{tmp_path}{os.pathsep}{os.environ['PATH']}"},
    )
    if "4.4" in done.stderr:
        pytest.skip("this bash is too old to be helped, as the guide says")
    assert done.stdout.split("\n")[0] == "preview", done.stderr
    assert "_spoonfold_completion spoonfold" in done.stdout
