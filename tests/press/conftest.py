"""The folders that the tests of the output folder build in."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest


@pytest.fixture
def output(tmp_path: Path) -> Path:
    return tmp_path / "build"


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that other accounts can reach too; pytest's own are closed to them."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        yield folder
        folder.chmod(0o755)
