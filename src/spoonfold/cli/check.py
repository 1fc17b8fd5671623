"""`spoonfold check`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from spoonfold.cli.common import (
    DONE,
    EXIT_CODES,
    PROBLEMS,
    WRONG_USE,
    Progress,
    examined_folder,
    folder_option,
    line_of,
    need_content,
    print_problems,
    say,
    stop,
    summary,
)


@click.command(
    epilog="\b\nExamples:\n  spoonfold check\n  spoonfold check --json > problems.json\n"
    f"  spoonfold check --sarif > problems.sarif\n\n{EXIT_CODES}"
)
@folder_option
@click.option("--json", "as_json", is_flag=True, help="Print the problems as JSON for programs.")
@click.option(
    "--sarif",
    "as_sarif",
    is_flag=True,
    help="Print them as SARIF 2.1.0, for notes beside the lines of a change.",
)
@click.option(
    "--errors-only", is_flag=True, help="Show only what keeps the sheets from being made."
)
@click.option("--all", "everything", is_flag=True, help="Show hints too where worse is wrong.")
def check(folder: Path, as_json: bool, as_sarif: bool, errors_only: bool, everything: bool) -> None:
    """Read everything and say what is wrong, without making anything.

    An error keeps the sheets from being made, a warning is likely a mistake, a hint would make the
    sheets better. Errors are shown last, so that they aren't scrolled away; hints only where
    nothing worse is wrong, unless --all is given. Each begins with file, line and column.
    """
    from spoonfold.problem import Level, has_errors

    if errors_only and everything:
        stop(WRONG_USE, "Only errors and everything can't both be shown.", "Choose one of them.")
    if as_json and as_sarif:
        stop(WRONG_USE, "JSON and SARIF can't both be printed at once.", "Choose one of them.")
    need_content(folder)
    progress = Progress()
    examined = examined_folder(folder, progress)
    progress.done()
    read, problems = examined.read, examined.problems
    asked = tuple(each for each in problems if not errors_only or each.level is Level.ERROR)
    if as_json:
        from spoonfold.cli.for_programs import as_json as for_editors

        click.echo(for_editors(asked, line_of(read)))
    elif as_sarif:
        from spoonfold.cli.for_programs import as_sarif as for_reviews

        click.echo(for_reviews(asked, line_of(read), folder))
    else:
        print_problems(problems, read, folder, everything, errors_only)
        # Also those that could only be read in part: she wrote them.
        count = len(read.folder.recipes) + len(read.folder.unread)
        files = len({each.place.path for each in problems})
        say(
            f"Read {count} recipe{'' if count == 1 else 's'}: {summary(problems)}"
            + (f" in {files} files." if files > 1 else ".")
        )
        mendable = sum(each.is_mendable for each in problems)
        if mendable:
            say(f"{mendable} of them can be mended for you: spoonfold mend")
    sys.exit(PROBLEMS if has_errors(problems) else DONE)
