"""`spoonfold clock`.

What it prints is imported only when it is printed: `--help` costs no more than click.
"""

from __future__ import annotations

from pathlib import Path

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    PROBLEMS,
    examined_class,
    folder_option,
    session_of,
    stop,
    width,
)


@click.command(
    short_help="Show SESSION in time, and whether it fits.",
    epilog="\b\nExamples:\n  spoonfold clock 6               every table's steps in time\n"
    "  spoonfold clock 6 --children 9  nine come instead\n\n" + EXIT_CODES,
)
@click.argument("session", type=click.IntRange(min=1))
@click.option(
    "--children", type=click.IntRange(min=1), help="So many children come, spread over the tables."
)
@folder_option
def clock(session: int, children: int | None, folder: Path) -> None:
    """Show SESSION in time: what happens when at each table, and whether it fits.

    SESSION is the session's number. Says what holds it up and what would save time, what to
    take over when it runs late, and whose hands are free.
    """
    from spoonfold.cli.clock_list import clock_text

    examined, classroom = examined_class(folder, "No clock was made.")
    found = session_of(classroom, session)
    text = clock_text(examined.read.folder, examined.facts.uses, found, children, width())
    if not isinstance(text, str):
        stop(PROBLEMS, "Steps wait for each other in a circle.", "spoonfold check says which.")
    click.echo(text)
