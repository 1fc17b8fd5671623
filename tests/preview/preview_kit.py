"""A preview that runs beside the tests, and a browser to look at it."""

from __future__ import annotations

import json
import signal
import subprocess
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from browser_tools import TOOLS

PATIENCE = 60.0
"""Seconds that a busy machine is given."""
_DRIVE = Path(__file__).with_name("drive.mjs")


@dataclass
class Running:
    """`spoonfold preview` in a process of its own."""

    folder: Path
    process: subprocess.Popen[str]
    address: str

    def write(self, name: str, text: str) -> None:
        """Saves as some editors do: beside, then moved into its place."""
        path = self.folder / "content" / name
        beside = path.with_name(f".{path.name}.new")
        beside.write_text(text, encoding="utf-8")
        beside.replace(path)

    def interrupted(self) -> tuple[int, str, str]:
        """Presses Ctrl-C; the exit code, and all that was printed since the address."""
        self.process.send_signal(signal.SIGINT)
        out, err = self.process.communicate(timeout=PATIENCE)
        return self.process.returncode, out, err


class Browser:
    """Does one thing at a time in a real browser."""

    def __init__(self, chromium: str) -> None:
        self.process = subprocess.Popen(
            ["node", str(_DRIVE), chromium],
            cwd=TOOLS,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
            encoding="utf-8",
            bufsize=1,
        )
        self.broken: list[str] = []

    def ask(self, **asked: str) -> Any:
        assert self.process.stdin is not None and self.process.stdout is not None
        self.process.stdin.write(json.dumps(asked) + "\n")
        answer = json.loads(self.process.stdout.readline())
        self.broken = answer["broken"]
        assert "failed" not in answer, (asked, answer)
        return answer["answer"]

    def open(self, address: str) -> None:
        self.ask(open=address)

    def wait(self, expression: str) -> None:
        """Until a script's expression is true."""
        self.ask(wait=expression)

    def get(self, expression: str) -> Any:
        return self.ask(get=expression)


def until(condition: Callable[[], object]) -> None:
    """Waits until something is so, and fails where it never is."""
    end = time.monotonic() + PATIENCE
    while not condition():
        assert time.monotonic() < end
        time.sleep(0.05)
