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


def digests(output: Path) -> dict[str, str]:
    return {
        path.relative_to(output).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(output.rglob("*.pdf"))
    }


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_small_class(tmp_path_factory.mktemp("class"))


def test_bytes_are_the_same_in_every_process(folder: Path, tmp_path: Path) -> None:
    """Neither a second run nor another hash seed, time zone or locale changes a byte."""
    seen = []
    for seed, zone, locale in (("0", "UTC", "C.UTF-8"), ("4242", "Asia/Tokyo", "C")):
        output = tmp_path / f"build-{seed}"
        subprocess.run(
            [
                sys.executable,
                "-m",
                "spoonfold",
                "build",
                "--folder",
                str(folder),
                "--out",
                str(output),
            ],
            check=True,
            capture_output=True,
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "LC_ALL": locale},
        )
        seen.append(digests(output))
    assert seen[0] == seen[1]
    assert "families/card-rice-en-4.pdf" in seen[0]


def test_bytes_are_the_same_whatever_was_printed_before(folder: Path, tmp_path: Path) -> None:
    """One printer makes many sheets; what it made first leaves no trace in the next."""
    build(folder, tmp_path / "all")
    build(folder, tmp_path / "cards", ["card"])
    cards = digests(tmp_path / "cards")
    assert list(cards) == ["families/card-rice-en-4.pdf"]
    assert cards.items() <= digests(tmp_path / "all").items()


def test_only_cards_keeps_booklets_and_drops_old_cards(folder: Path, tmp_path: Path) -> None:
    """`--only card` carries booklets over, and no card stays whose dish has gone."""
    output = tmp_path / "build"
    build(folder, output)
    before = digests(output)
    stale = output / "families" / "card-gone-en-4.pdf"
    stale.write_bytes(b"%PDF-1.7")
    build(folder, output, ["card"])
    assert digests(output) == before
    build(folder, output, ["booklet"])
    assert digests(output) == before
