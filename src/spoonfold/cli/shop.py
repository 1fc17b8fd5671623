"""`spoonfold shop`.

What it prints is imported only when it is printed: `--help` costs no more than click.
"""

from __future__ import annotations

from pathlib import Path

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    WRONG_USE,
    examined_class,
    folder_option,
    need_content,
    session_of,
    stop,
    width,
)


@click.command(
    epilog="\b\nExamples:\n  spoonfold shop              the season: costs, and what to buy once\n"
    "  spoonfold shop 3            the list for session 3\n"
    "  spoonfold shop 3 --corner   what a small shop has instead\n"
    "  spoonfold shop 3 --children 9 --csv > list.csv\n\n" + EXIT_CODES
)
@click.argument("session", required=False, type=click.IntRange(min=1))
@click.option("--corner", is_flag=True, help="What is canned, frozen or dried instead.")
@click.option("--csv", "as_csv", is_flag=True, help="Print a table for a spreadsheet.")
@click.option(
    "--children",
    type=click.IntRange(min=1),
    help="So many children come, spread over the tables; needs SESSION.",
)
@folder_option
def shop(
    session: int | None, corner: bool, as_csv: bool, children: int | None, folder: Path
) -> None:
    """Show what to buy for SESSION, or for the whole season.

    SESSION is the session's number. What should be left from earlier sessions is something to
    look for first; it is never taken off the list in silence.
    """
    from spoonfold.cli.shop_list import shop_text

    need_content(folder)
    if children is not None and session is None:
        stop(
            WRONG_USE,
            "--children is for one session.",
            f"For example: spoonfold shop 3 --children {children}",
        )
    examined, classroom = examined_class(folder, "No list was made.")
    if session is not None:
        session_of(classroom, session)
    click.echo(
        shop_text(
            examined.read.folder,
            classroom,
            examined.facts.uses,
            session,
            children,
            corner=corner,
            as_csv=as_csv,
            width=width(),
        ),
        nl=not as_csv,
    )
