"""Building a site, and asking the outside checkers about it."""

from __future__ import annotations

import json
import shutil
import subprocess
import tempfile
import threading
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import quote, unquote

import pytest

from browser_tools import HOW, MODULES, TOOLS, chromium_for
from spoonfold.build import build

ROOT = Path(__file__).resolve().parents[2]


def made(folder: Path, output: Path, *only: str) -> Path:
    """The site of a class folder that must build; warnings are allowed."""
    outcome = build(folder, output, only)
    errors = [each for each in outcome.problems if each.level.name == "ERROR"]
    assert not errors and outcome.write_failure is None and outcome.made, errors
    return output / "site"


def pages(site: Path) -> list[Path]:
    """Every page of a site."""
    found = sorted(site.rglob("*.html"))
    assert found
    return found


def browser() -> str:
    """A real browser that Node.js can drive; skips where there is none."""
    return chromium_for("puppeteer-core", "axe-core")


def audited(files: Sequence[Path]) -> list[dict[str, Any]]:
    """What a real browser finds on the pages; skips where there is no browser."""
    chromium = browser()
    halves = [files[::2], files[1::2]]
    # Two browsers at once: there are many pages, and most machines have two cores.
    runs = [
        subprocess.Popen(
            ["node", "audit.mjs", chromium, *map(str, half)],
            cwd=TOOLS,
            text=True,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        for half in halves
        if half
    ]
    report: list[dict[str, Any]] = []
    try:
        for run in runs:
            said, complained = run.communicate(timeout=300)
            assert run.returncode == 0, complained
            report += json.loads(said)
    finally:
        for run in runs:
            run.kill()
    assert len(report) == len(files)
    return report


@contextmanager
def served(folder: Path) -> Iterator[str]:
    """The folder on this machine's own web server, for as long as it takes."""
    handler = partial(QuietHandler, directory=str(folder))
    server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
    with answering(server):
        yield f"http://127.0.0.1:{server.server_port}"


@contextmanager
def answering(server: ThreadingHTTPServer) -> Iterator[None]:
    """The server at work beside the test, for as long as it takes."""
    thread = threading.Thread(target=server.serve_forever)
    thread.start()
    try:
        yield
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


class QuietHandler(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        pass


def checked_html(folders: Mapping[str, Path]) -> dict[str, list[str]]:
    """Every message of the Nu HTML checker about the pages of each folder, by the folder's name;
    skips where it can't run. All in one run: Java takes seconds to begin."""
    jar = MODULES / "vnu-jar" / "build" / "dist" / "vnu.jar"
    if shutil.which("java") is None:
        pytest.skip("no Java on this machine")
    if not jar.is_file():
        pytest.skip(f"no vnu-jar: {HOW}")
    # Served, not read from the disk: only then does the checker know what 'self' is.
    with tempfile.TemporaryDirectory() as top, served(Path(top)) as address:
        for name, folder in folders.items():
            shutil.copytree(folder, Path(top) / name, ignore=shutil.ignore_patterns("*.pdf"))
        run = subprocess.run(
            [
                "java",
                "-Dnu.validator.servlet.allow-forbidden-hosts=true",
                "-Dnu.validator.servlet.allowed-address-type=all",
                "-jar",
                str(jar),
                "--format",
                "json",
                *(
                    f"{address}/{quote(file.relative_to(top).as_posix())}"
                    for name in folders
                    for file in pages(Path(top) / name)
                ),
            ],
            capture_output=True,
            text=True,
            timeout=300,
            check=False,
        )
    found: dict[str, list[str]] = {name: [] for name in folders}
    for each in json.loads(run.stderr or run.stdout)["messages"]:
        place = each["url"].removeprefix(f"{address}/")
        found[unquote(place).split("/")[0]].append(f"{place}: {each['message']}")
    return found


def broken_links(site: Path) -> tuple[int, list[str]]:
    """How many links an outside checker followed, and those that lead nowhere; the world
    outside the site isn't asked. Skips where it can't run."""
    if shutil.which("node") is None:
        pytest.skip("no Node.js on this machine")
    program = MODULES / ".bin" / "linkinator"
    if not program.exists():
        pytest.skip(f"no linkinator: {HOW}")
    run = subprocess.run(
        [str(program), str(site), "--recurse", "--format", "json", "--skip", "example.org"],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    links = json.loads(run.stdout[run.stdout.index("{") :])["links"]
    return len(links), [each["url"] for each in links if each["state"] == "BROKEN"]
