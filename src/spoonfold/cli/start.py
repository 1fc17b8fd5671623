"""`spoonfold start`."""

from __future__ import annotations

import datetime
from pathlib import Path

import click

from spoonfold.cli.common import EXIT_CODES, WRONG_USE
from spoonfold.cli.wrapped import refuse, tell


@click.command(
    epilog="\b\nExamples:\n  spoonfold start my-class\n"
    "  spoonfold start spring --from autumn --first-day 2028-02-05\n\n" + EXIT_CODES
)
@click.argument("folder", type=click.Path(path_type=Path))
@click.option(
    "--from",
    "last",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    help="The class folder whose next season this is.",
)
@click.option(
    "--first-day",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    show_default="by the rhythm of the last season",
    help="With --from: the day of the first session.",
)
@click.option("--without-dishes", is_flag=True, help="With --from: begin with no session planned.")
def start(
    folder: Path, last: Path | None, first_day: datetime.datetime | None, without_dishes: bool
) -> None:
    """Begin a class of your own in FOLDER, or the next season of one.

    A new class has one session and one recipe, and explains itself line by line; what is in it
    builds at once. The next season of a class has its recipes, words, skills, lessons, pictures
    and dishes, on new dates, and what was noted of its dishes. Names, stories, changes and
    whatever a session had of its own stay behind. FOLDER must be empty, or not there yet.
    """
    from spoonfold.author.start import start as begin
    from spoonfold.author.words import shell_word
    from spoonfold.author.written import Refused

    go = f"  cd {shell_word(str(folder))}\n  spoonfold build"
    if last is not None:
        _next(folder, last, first_day.date() if first_day else None, without_dishes)
        return
    if first_day or without_dishes:
        raise click.UsageError("--first-day and --without-dishes need --from.")
    made = begin(folder)
    if isinstance(made, Refused):
        refuse(WRONG_USE, made)
    tell(
        f"Made a small class in {folder}:",
        "\n".join(f"  {each.path}" for each in made),
        "Next, go there and make its sheets:",
        go,
        "Then open content/class.yaml in a text editor: every line of it says what it is for.",
    )


def _next(folder: Path, last: Path, first_day: datetime.date | None, without_dishes: bool) -> None:
    from spoonfold.author.next_season import next_season
    from spoonfold.author.words import shell_word
    from spoonfold.author.written import Refused
    from spoonfold.language.calendar import date_text

    made = next_season(folder, last, first_day, not without_dishes)
    if isinstance(made, Refused):
        refuse(WRONG_USE, made)
    sessions = made.classroom.sessions
    days = (
        f"{len(sessions)} session{'' if len(sessions) == 1 else 's'}, from "
        f"{date_text(sessions[0].date, 'en')} to {date_text(sessions[-1].date, 'en')}."
        if sessions
        else "No session is planned yet: spoonfold new session DISH"
    )
    tell(
        f"Made the next season of {last} in {folder}: {len(made.files)} files. {days}",
        f"What was noted of {made.learned} day{'' if made.learned == 1 else 's'} came along; "
        "names, stories, changes, days off and what single sessions had of their own did not.",
        "Next, go through content/class.yaml: the days off (`not on`), how many children and "
        "helpers come, and above all `needs`, which are those of last season's children.",
        f"  cd {shell_word(str(folder))}\n  spoonfold check",
    )
