"""Writes the answers of all cases anew: `python tests/mistakes/renew.py`, then read the diff.

A new case needs only its changes and the line `$ spoonfold check`.
"""

from __future__ import annotations

import sys
import tempfile
from contextlib import chdir
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from click.testing import CliRunner
from written_mistakes import ASKED, CASES, files_of, parted, read

from spoonfold.cli import main
from tiny_class import write_class


def answered(text: str, stem: str) -> str:
    """The case with the answer that it gets now."""
    asked = text.partition(ASKED)[0]
    with tempfile.TemporaryDirectory() as folder:
        write_class(Path(folder), files_of(read(text, stem)))
        with chdir(folder):
            result = CliRunner().invoke(main, ["check"])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return f"{asked}{ASKED}\n{result.output}"


if __name__ == "__main__":
    for path in sorted(CASES.glob("*.txt")):
        cases = [answered(text, path.stem) for text in parted(path.read_text("utf-8"))]
        path.write_text("\n".join(cases), encoding="utf-8")
