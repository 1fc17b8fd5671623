"""`spoonfold check`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from spoonfold.cli.common import (
    DONE,
    EXIT_CODES,
    PROBLEMS,
    Progress,
    folder_option,
    need_content,
    print_problems,
    say,
    summary,
)


@click.command(epilog=f"\b\nExample:\n  spoonfold check\n\n{EXIT_CODES}")
@folder_option
@click.option("--json", "as_json", is_flag=True, help="Print the problems as JSON.")
def check(folder: Path, as_json: bool) -> None:
    """Read everything and say what is wrong, without making anything."""
    from spoonfold.check import examine
    from spoonfold.problem import has_errors

    need_content(folder)
    progress = Progress()
    examined = examine(folder, progress)
    progress.done()
    read, problems = examined.read, examined.problems
    if as_json:
        from spoonfold.cli import report

        click.echo(report.as_json(problems))
    else:
        print_problems(problems, read)
        count = len(read.folder.recipes)
        say(f"Read {count} recipe{'' if count == 1 else 's'}: {summary(problems)}.")
    sys.exit(PROBLEMS if has_errors(problems) else DONE)
