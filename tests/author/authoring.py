"""Running a command, and what every file that a command leaves must be."""

from __future__ import annotations

from pathlib import Path

from click.testing import CliRunner, Result

from spoonfold.cli import main


def run(*arguments: str | Path) -> Result:
    """A command in the same process."""
    result = CliRunner().invoke(main, [str(each) for each in arguments], prog_name="spoonfold")
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with what it holds."""
    return {path.relative_to(folder).as_posix(): path.read_bytes()
            for path in sorted(folder.rglob("*")) if path.is_file()}
