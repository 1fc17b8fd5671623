"""A class folder to bend, for every room's tests."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from tiny_class import write_class

Changes = Mapping[str, "str | bytes | None"]
MakeClass = Callable[..., Path]


@pytest.fixture
def make_class(tmp_path: Path) -> MakeClass:
    """`make_class({"recipes/soup.md": text, ...})` writes the tiny class, changed, and gives its
    folder. None leaves a file of the tiny class out."""

    def make(changes: Changes | None = None) -> Path:
        return write_class(tmp_path / "class", changes)

    return make
