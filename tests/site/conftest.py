"""One build of the demo class and of every odd class, for all tests of the site."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from odd_classes import ODD
from site_checkers import ROOT, made

from spoonfold.sheets import SITE
from tiny_class import write_class


@pytest.fixture(scope="session")
def demo_site(demo_with: Callable[[str], Path]) -> Path:
    """The demo class's site."""
    return demo_with(SITE) / "site"


@pytest.fixture(scope="session")
def odd_sites(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """A site for every odd class, by name; the smallest has its booklets too."""
    top = tmp_path_factory.mktemp("odd")
    return {
        name: made(
            write_class(top / name, files),
            top / name / "build",
            SITE,
            *(["booklet"] if name == "bare" else []),
        )
        for name, files in ODD.items()
    }


@pytest.fixture(scope="session")
def tongues_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site in English, Arabic, Vietnamese and Spanish."""
    return made(
        ROOT / "tests" / "language" / "class", tmp_path_factory.mktemp("tongues") / "build", SITE
    )


@pytest.fixture(scope="session")
def all_sites(demo_site: Path, tongues_site: Path, odd_sites: dict[str, Path]) -> dict[str, Path]:
    return {"demo": demo_site, "tongues": tongues_site, **odd_sites}
