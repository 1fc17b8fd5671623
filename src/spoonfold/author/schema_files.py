"""The schemas as files in a folder; over older ones of their kind, never over anything else."""

from __future__ import annotations

import json
from pathlib import Path

from spoonfold.author.schema import FILES, ID, schema_of
from spoonfold.author.written import Refused, Written, write_new, write_over


def write_schemas(folder: Path) -> tuple[Written, ...] | Refused:
    """Writes one file for each kind of file that an author writes."""
    texts = {
        f"{each.name}.schema.json": json.dumps(schema_of(each), ensure_ascii=False, indent=2) + "\n"
        for each in FILES
    }
    # Looked at before the first is written: a folder never holds half of them.
    for name in texts:
        if (folder / name).exists() and not _is_ours(folder / name):
            return Refused(
                f"{folder / name} is there already and is none of these schemas; "
                "nothing is written over it.",
                "Choose another folder.",
            )
    written = []
    for name, text in texts.items():
        there = (folder / name).exists()
        made = (
            (write_over(folder, name, text) or Written(name))
            if there
            else write_new(folder, name, text)
        )
        if isinstance(made, Refused):
            return made
        written.append(made)
    return tuple(written)


def _is_ours(path: Path) -> bool:
    try:
        held = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return False
    return isinstance(held, dict) and str(held.get("$id", "")).startswith(ID)
