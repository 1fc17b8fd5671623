"""Prints the lowest version of every dependency that pyproject.toml allows, as pip's constraints.

python tests/tools/lowest.py > lowest.txt
pip install -c lowest.txt .
"""

from __future__ import annotations

import tomllib
from pathlib import Path

from packaging.requirements import Requirement

_ROOT = Path(__file__).resolve().parents[2]


def dependencies() -> list[Requirement]:
    """What the package itself needs, in the order of pyproject.toml."""
    project = tomllib.loads((_ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    return [Requirement(each) for each in project["dependencies"]]


def constraint(needed: Requirement) -> str:
    """The lowest version that is allowed, or the family of versions where one is pinned.

    Raises ValueError where nothing says which version is the lowest.
    """
    lowest = [each for each in needed.specifier if each.operator in (">=", "==")]
    if len(lowest) != 1:
        raise ValueError(f"{needed}: no lowest version")
    return f"{needed.name}=={lowest[0].version}"


if __name__ == "__main__":
    print("\n".join(constraint(each) for each in dependencies()))
