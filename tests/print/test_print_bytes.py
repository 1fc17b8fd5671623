"""The same folder gives the same bytes, and `--only` leaves the rest alone."""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from spoonfold.build import build

pytestmark = pytest.mark.slow


def digests(output: Path) -> dict[str, str]:
    return {
        path.relative_to(output).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(output.rglob("*"))
        if path.is_file()
    }


def test_bytes_depend_on_nothing_but_the_folder(whole_class: Path, tmp_path: Path) -> None:
    """Two paths, hash seeds, time zones and locales, one process that prints or two: the same
    bytes, PDFs too."""
    folder = tmp_path / "a folder" / "deep"
    shutil.copytree(whole_class / "content", folder / "content")
    command = [sys.executable, "-m", "spoonfold", "build", "--folder", str(folder)]
    subprocess.run(
        [*command, "--workers", "2"],
        check=True,
        capture_output=True,
        env={**os.environ, "PYTHONHASHSEED": "4711", "TZ": "Asia/Tokyo", "LC_ALL": "POSIX"},
    )
    made = digests(folder / "build")
    assert made == digests(whole_class / "build")
    assert "families/card-rice-en-2.pdf" in made and "site/index.html" in made


def test_bytes_are_the_same_whatever_was_printed_before(whole_class: Path, tmp_path: Path) -> None:
    """One printer makes many sheets; what it made first leaves no trace in the next."""
    build(whole_class, tmp_path / "cards", ["card"])
    cards = {
        name: digest for name, digest in digests(tmp_path / "cards").items() if name.endswith("pdf")
    }
    assert "families/card-rice-en-2.pdf" in cards
    assert cards.items() <= digests(whole_class / "build").items()


@pytest.mark.parametrize(
    ("stale", "parts"),
    [
        ("families/card-gone-en-4.pdf", ("card", "booklet")),
        ("class/session-09/jobs-en.pdf", ("jobs", "prep", "season")),
    ],
)
def test_only_some_parts_keeps_the_others_and_drops_what_is_gone(
    built_class: Path, stale: str, parts: tuple[str, ...]
) -> None:
    """`--only` carries over what isn't asked for, and nothing stays of a dish or a session that
    has gone."""
    output = built_class / "build"
    before = digests(output)
    assert {
        "class/season.ics",
        "class/season-en.pdf",
        "class/session-01/jobs-en.pdf",
        "class/session-01/prep-en.pdf",
        "families/booklet-en-4.pdf",
    } <= before.keys()
    (output / stale).parent.mkdir(exist_ok=True)
    (output / stale).write_bytes(b"%PDF-1.7")
    for part in parts:
        build(built_class, output, [part])
        assert digests(output) == before
