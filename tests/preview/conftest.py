"""The preview in a process of its own, in this one, and a browser."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from preview_kit import PATIENCE, Browser, Running

from browser_tools import chromium_for
from spoonfold.press.layouts import Layouts, shipped_layouts
from spoonfold.preview.board import Board, State
from spoonfold.preview.server import PreviewServer, Served, policy, shell_files
from tiny_class import CLASS, write_class


@pytest.fixture
def running(tmp_path: Path) -> Iterator[Running]:
    # One household: others have the same sheets once more.
    one = CLASS.replace("[2, 4]", "[2]")
    folder = write_class(tmp_path / "class", {"class.yaml": one})
    process = subprocess.Popen(
        [sys.executable, "-m", "spoonfold", "preview", "--folder", str(folder)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        bufsize=1,
    )
    try:
        assert process.stdout is not None
        address = ""
        while not (found := re.search(r"http://127\.0\.0\.1:\d+/", address)):
            address = process.stdout.readline()
            assert address, process.communicate()
        yield Running(folder, process, found[0])
    finally:
        if process.poll() is None:
            process.kill()
            process.communicate()


@pytest.fixture
def browser() -> Iterator[Browser]:
    made = Browser(chromium_for("puppeteer-core"))
    try:
        yield made
    finally:
        assert made.process.stdin is not None
        made.process.stdin.close()
        made.process.wait(PATIENCE)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[PreviewServer]:
    """A server on any free port, with one page and one sheet."""
    for name, text in {
        "site/index.html": "<p>home",
        "families/card.pdf": "%PDF",
        ".made-of.json": "{}",
        "class/list.csv": "a,b",
    }.items():
        path = tmp_path / "build" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    (tmp_path / "private.txt").write_text("secret")
    board = Board(State("Tiny Table"), "begun")
    server = PreviewServer(
        0, Served(tmp_path / "build", board, shell_files(Layouts((shipped_layouts(),))), policy())
    )
    server.begin()
    try:
        yield server
    finally:
        server.end()
