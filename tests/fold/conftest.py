"""The tiny class with a site, built once with all that families can fold, read large or scan."""

from __future__ import annotations

from pathlib import Path

import pytest

from spoonfold.build import Outcome, build
from tiny_class import CLASS, write_class

SITE = "https://example.org/tiny-table/"


@pytest.fixture(scope="session")
def outcome(tmp_path_factory: pytest.TempPathFactory) -> tuple[Outcome, Path]:
    """What became of the build, and where it lies."""
    folder = tmp_path_factory.mktemp("fold")
    text = CLASS.replace("first day", f"site: {SITE}\nfirst day").replace("[2, 4]", "[2]")
    made = build(
        write_class(folder, {"class.yaml": text}),
        folder / "build",
        ["booklet", "large-print", "mini-book", "card", "home-labels"],
    )
    if made.print_failure is not None:
        pytest.skip(made.print_failure.message)
    assert made.made, made.problems
    return made, folder / "build"


@pytest.fixture(scope="session")
def families(outcome: tuple[Outcome, Path]) -> Path:
    """The folder that families are given."""
    return outcome[1] / "families"
