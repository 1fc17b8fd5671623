"""What an output was made of, so that nothing is made twice.

The memo lies in the output itself and is swapped in with it: it is always as old as what it
tells of. It is only believed about a file that still has the bytes that it tells of.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from spoonfold.digest import digest_of, folders_digest, libraries, program_digest
from spoonfold.press import swap

NAME = ".made-of.json"
"""The memo's file, at the top of the output."""

_BESIDES = frozenset({NAME, swap.MARKER, swap.GITKEEP})
"""Files of the output that are none of its sheets."""
_PRINTED_WITH = (
    "weasyprint",
    "pydyf",
    "tinyhtml5",
    "tinycss2",
    "pikepdf",
    "fonttools",
    "jinja2",
    "babel",
    "pillow",
    "markdown-it-py",
)
"""Libraries whose version shows in what is made."""


@dataclass(frozen=True, slots=True)
class Record:
    """One file of the output."""

    key: str
    """What it was made of; empty for what is made anew each time."""
    digest: str
    """SHA-256 of its bytes."""


@dataclass(frozen=True, slots=True)
class Memo:
    """All that is remembered of an output."""

    tools: str = ""
    """What everything was made with."""
    whole: str = ""
    """What all of it was made of; empty where parts are older than others."""
    files: Mapping[str, Record] = field(default_factory=dict)
    """By path below the output."""

    def of(self, tools: str) -> Memo:
        """What of it still holds with these tools: all or nothing."""
        return self if self.tools == tools else Memo()

    def has(self, output: Path, path: str, key: str) -> bool:
        """Whether a file was made of just this and has not been touched since."""
        record = self.files.get(path)
        return record is not None and record.key == key and _is_intact(output / path, record)

    def is_whole(self, output: Path, whole: str) -> bool:
        """Whether everything was made of just this, has not been touched since, and nothing
        else lies there."""
        if not whole or self.whole != whole:
            return False
        found = {
            path.relative_to(output).as_posix() for path in output.rglob("*") if path.is_file()
        }
        return found - self.files.keys() <= _BESIDES and all(
            _is_intact(output / path, record) for path, record in self.files.items()
        )


def read_memo(output: Path) -> Memo:
    """The memo of an output; an empty one where there is none, or it is damaged."""
    try:
        data = json.loads((output / NAME).read_text(encoding="utf-8"))
        return Memo(
            str(data["tools"]),
            str(data["whole"]),
            {
                str(path): Record(str(key), str(digest))
                for path, (key, digest) in data["files"].items()
            },
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return Memo()


def memo_bytes(memo: Memo) -> bytes:
    """The memo as it is kept."""
    return json.dumps(
        {
            "tools": memo.tools,
            "whole": memo.whole,
            "files": {
                path: [record.key, record.digest] for path, record in sorted(memo.files.items())
            },
        },
        indent=0,
    ).encode()


def tools_digest(layouts: Iterable[Path]) -> str:
    """The program, its layouts and the libraries that it prints with."""
    return digest_of(program_digest(), folders_digest(layouts), *libraries(_PRINTED_WITH))


def _is_intact(path: Path, record: Record) -> bool:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest() == record.digest
    except OSError:
        return False
