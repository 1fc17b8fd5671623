"""How names are compared: of foods, of tools, of everything that an author may write anyhow."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

_SPACES = re.compile(r"\s+")


@lru_cache(maxsize=1 << 14)
def fold(name: str) -> str:
    """A name as it is compared: case, spaces and hyphens don't count."""
    return _SPACES.sub(" ", name.casefold().replace("-", " ").replace("’", "'")).strip()


def singulars(name: str) -> Iterable[str]:
    """The name itself, then what it may be the regular plural of."""
    yield name
    if name.endswith("ies") and len(name) > 4:
        yield name[:-3] + "y"
    if name.endswith("ves") and len(name) > 4:
        yield name[:-3] + "f"
    if name.endswith("es") and len(name) > 3:
        yield name[:-2]
    if name.endswith("s") and len(name) > 2 and not name.endswith("ss"):
        yield name[:-1]
