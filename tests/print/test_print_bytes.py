"""The same folder gives the same bytes, and `--only` leaves the rest alone."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest
from small_class import write_small_class

from spoonfold.build import build

pytestmark = pytest.mark.slow


def digests(output: Path) -> dict[str, str]:
    return {
        path.relative_to(output).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(output.rglob("*"))
        if path.is_file()
    }


def test_bytes_depend_on_nothing_but_the_folder(small_built: Path, tmp_path: Path) -> None:
    """Two paths, hash seeds, time zones and locales, one process that prints or two: the same
    bytes, PDFs too."""
    folder = write_small_class(tmp_path / "a folder" / "deep")
    command = [sys.executable, "-m", "spoonfold", "build", "--folder", str(folder)]
    subprocess.run(
        [*command, "--workers", "2"],
        check=True,
        capture_output=True,
        env={**os.environ, "PYTHONHASHSEED": "4711", "TZ": "Asia/Tokyo", "LC_ALL": "POSIX"},
    )
    made = digests(folder / "build")
    assert made == digests(small_built / "build")
    assert "families/card-rice-en-4.pdf" in made and "site/index.html" in made


def test_bytes_are_the_same_whatever_was_printed_before(small_built: Path, tmp_path: Path) -> None:
    """One printer makes many sheets; what it made first leaves no trace in the next."""
    build(small_built, tmp_path / "cards", ["card"])
    (name,) = (path.name for path in (tmp_path / "cards").rglob("*.pdf"))
    assert name == "card-rice-en-4.pdf"
    card = Path("families") / name
    assert (tmp_path / "cards" / card).read_bytes() == (small_built / "build" / card).read_bytes()


@pytest.mark.parametrize(
    ("stale", "parts"),
    [
        ("families/card-gone-en-4.pdf", ("card", "booklet")),
        ("class/session-09/jobs-en.pdf", ("jobs", "prep", "season")),
    ],
)
def test_only_some_parts_keeps_the_others_and_drops_what_is_gone(
    small_folder: Path, stale: str, parts: tuple[str, ...]
) -> None:
    """`--only` carries over what isn't asked for, and nothing stays of a dish or a session that
    has gone."""
    output = small_folder / "build"
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
        build(small_folder, output, [part])
        assert digests(output) == before
