"""What drives a real browser, where it is installed."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

TOOLS = Path(__file__).parent / "tools"
MODULES = TOOLS / "node_modules"
HOW = "run `npm install` in tests/tools"


def chromium_for(*packages: str) -> str:
    """A browser that Node.js can drive with these packages; skips where one of them is missing."""
    chromium = next(
        (
            found
            for name in ("chromium", "chromium-browser", "google-chrome")
            if (found := shutil.which(name))
        ),
        None,
    )
    if chromium is None:
        pytest.skip("no Chromium on this machine")
    if shutil.which("node") is None:
        pytest.skip("no Node.js on this machine")
    missing = [each for each in packages if not (MODULES / each).is_dir()]
    if missing:
        pytest.skip(f"no {' or '.join(missing)}: {HOW}")
    return chromium
