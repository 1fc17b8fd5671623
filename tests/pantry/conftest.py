"""The shipped pantry as plain JSON, and the published rows that it is checked against.

`usda-sr26-rows.tsv` holds rows of the USDA National Nutrient Database for Standard Reference,
release 26 (U.S. Department of Agriculture, Agricultural Research Service, 2013; public domain):
every measure of each food that the pantry names, as published. The tests read the JSON with
`json` alone, so that a fault of the reader can't hide a fault of the data.
"""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

HERE = Path(__file__).parent
PANTRY = HERE.parents[1] / "src" / "spoonfold" / "knowledge" / "foods"

Entry = dict[str, Any]
Sections = dict[str, list[tuple[str, list[tuple[str, Any]]]]]


@pytest.fixture(scope="session")
def sections() -> Sections:
    """Every entry as written, in order, by file name without its suffix."""
    return {
        path.stem: json.loads(path.read_text("utf-8"), object_pairs_hook=list)
        for path in sorted(PANTRY.glob("*.json"))
    }


@pytest.fixture(scope="session")
def pantry() -> dict[str, Entry]:
    """Every entry of every file by its name."""
    entries: dict[str, Entry] = {}
    for path in sorted(PANTRY.glob("*.json")):
        entries.update(json.loads(path.read_text("utf-8")))
    return entries


@pytest.fixture(scope="session")
def published() -> dict[str, list[dict[str, str]]]:
    """Rows of the USDA release by NDB number."""
    foods: dict[str, list[dict[str, str]]] = {}
    with (HERE / "usda-sr26-rows.tsv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file, delimiter="\t", quoting=csv.QUOTE_NONE):
            foods.setdefault(row["ndb"], []).append(row)
    return foods
