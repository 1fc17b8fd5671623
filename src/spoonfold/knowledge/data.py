"""The files of this room as plain values."""

from __future__ import annotations

import json
from importlib.resources import files
from typing import Any


def data(name: str) -> Any:
    """What a JSON file of this room says, by its name."""
    return json.loads((files("spoonfold") / "knowledge" / name).read_text(encoding="utf-8"))
