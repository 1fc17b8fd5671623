"""`spoonfold bring`."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    WRONG_USE,
    examined_folder,
    folder_option,
    need_content,
    print_problems,
    say,
    stop,
    summary,
)
from spoonfold.cli.wrapped import refuse, tell, wrapped


@click.command(
    epilog="\b\nExamples:\n  spoonfold bring banana-bread.html\n"
    '  spoonfold bring soup.txt --place "Oaxaca, Mexico" --country MX\n\n' + EXIT_CODES
)
@click.argument("file", type=click.Path(path_type=Path, allow_dash=True))
@click.option(
    "--name", default=None, show_default="from the title", help="The new file's name, without .md."
)
@click.option("--place", default=None, help="Where the dish is from, town or region and country.")
@click.option("--country", default=None, help="That country in two letters (ISO 3166-1).")
@folder_option
def bring(
    file: Path, name: str | None, place: str | None, country: str | None, folder: Path
) -> None:
    """Bring in a recipe that you have elsewhere.

    FILE is a saved web page, JSON, or plain text; a hyphen in its place reads what is piped in.
    In a page and in JSON the data of schema.org/Recipe is read, an open standard that many pages
    carry (JSON-LD, Microdata, RDFa). Plain text is read as people keep it: with headings or
    without, as a letter, a table or one paragraph, with the measures of other languages. Nothing
    is fetched from the web. Every guess is marked with a # in the new file, and nothing is ever
    written over.
    """
    from spoonfold.author.bring.bring import bring as bring_in
    from spoonfold.author.bring.file import Origin
    from spoonfold.author.bring.found import MOST_BYTES
    from spoonfold.author.written import Refused
    from spoonfold.read.folder import read_folder

    need_content(folder)
    piped = str(file) == "-"
    try:
        if not piped and not file.is_file():
            stop(WRONG_USE, f"There is no file {file}.")
        if piped:
            raw = sys.stdin.buffer.read(MOST_BYTES + 1)
        else:
            with file.open("rb") as opened:
                raw = opened.read(MOST_BYTES + 1)
    except OSError as error:
        stop(WRONG_USE, f"{file} can't be opened: {error.strerror or 'the disk refused'}.")
    pantry = read_folder(folder).folder.pantry
    made = bring_in(
        folder, raw, "the piped text" if piped else file.name, pantry, Origin(place, country), name
    )
    if isinstance(made, Refused):
        refuse(WRONG_USE, made)
    content, path = made.content, made.written.path
    tell(f"Made {path} from {made.source}.")
    _list("Guessed, and marked in the file:", content.guesses)
    _list("To look up in the source:", content.looks)
    _list(
        "Not read, and kept as comments, their foods without an amount:",
        [f"“{each.was}”: {each.problem}" for each in content.unread],
    )
    _list(
        "Not in the pantry:",
        [f"{each.name} (nearest: {', '.join(each.nearest) or 'none'})" for each in content.strange],
    )
    examined = examined_folder(folder)
    problems = [each for each in examined.problems if each.place.path == path]
    say("")
    if problems:
        tell("What is still to be mended or weighed in it:")
        say("")
        print_problems(problems, examined.read, folder, everything=True)
    say(f"{path}: {summary(problems)}.")
    say("")
    tell(
        "Next, open it in a text editor, go through every line with a #, and compare each amount "
        "and each temperature with the source. Then:",
        "  spoonfold check",
    )


def _list(title: str, lines: tuple[str, ...] | list[str]) -> None:
    if not lines:
        return
    say("")
    say(title)
    for line in lines:
        say(wrapped(f"- {line}").replace("\n", "\n  "))
