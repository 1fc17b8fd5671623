"""`spoonfold worksheet`."""

from __future__ import annotations

from pathlib import Path

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    NOT_HERE,
    PROBLEMS,
    Progress,
    examined_class,
    folder_option,
    say,
    session_of,
    stop,
)


@click.command(
    short_help="Make a worksheet on fractions, and its key.",
    epilog="\b\nExamples:\n  spoonfold worksheet 5                     the class's own grade\n"
    "  spoonfold worksheet 5 --grade 4 --long    nine questions for a lesson\n"
    "  spoonfold worksheet 5 --seed 12           other questions\n\n" + EXIT_CODES,
)
@click.argument("session", type=click.IntRange(min=1))
@click.option(
    "--grade",
    type=click.IntRange(3, 6),
    default=None,
    show_default="by the ages in class.yaml",
    help="The grade of the questions.",
)
@click.option(
    "--seed",
    type=click.IntRange(min=0),
    default=None,
    show_default="the session's number",
    help="Other numbers give other questions; the same number gives the same sheet.",
)
@click.option(
    "--long/--short",
    "is_long",
    default=False,
    show_default=True,
    help="Nine questions for a lesson, or three while a pot simmers.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    show_default="worksheets/ in the class folder",
    help="Where the two files go.",
)
@folder_option
def worksheet(
    session: int, grade: int | None, seed: int | None, is_long: bool, out: Path | None, folder: Path
) -> None:
    """Make a worksheet on fractions from the dishes of SESSION, and its key.

    SESSION is the session's number. A build makes the short form for every session; this makes
    any other, in a folder that a build leaves alone.
    """
    from spoonfold.language.texts import load_texts
    from spoonfold.press.layouts import layouts_for
    from spoonfold.press.render import render_context_for
    from spoonfold.problem import Failure
    from spoonfold.sheets.worksheet.sheet import grade_for, worksheet_pair

    examined, classroom = examined_class(folder, "No worksheet was made.")
    found = session_of(classroom, session)
    texts = load_texts(classroom.languages[0], *layouts_for(folder).folders)
    sheets = list(
        worksheet_pair(
            examined.read.folder,
            classroom,
            found,
            grade or grade_for(found.setting),
            session if seed is None else seed,
            is_long,
            texts,
        )
    )
    if not sheets:
        stop(
            PROBLEMS,
            f"The dishes of session {session} have no amounts to ask about.",
            "A worksheet needs a recipe that serves a whole number and lists some amounts.",
        )
    context = render_context_for(folder)
    if isinstance(context.printer, Failure):
        stop(NOT_HERE, f"No worksheet was made: {context.printer.message}", context.printer.hint)
    progress = Progress()
    place = out if out is not None else folder / "worksheets"
    for sheet in sheets:
        progress(sheet.doing)
        printed = context.printed(sheet, context.largest(sheet))
        if not isinstance(printed, bytes):
            letters = " ".join(sorted({each.letter for each in printed}))
            stop(
                PROBLEMS,
                f"No worksheet was made: the sheets' letters lack {letters}",
                "Write it another way, or add a font that has it to layouts/.",
            )
        path = place / f"session-{session:02}-{sheet.paths[0].rpartition('/')[2]}"
        try:
            place.mkdir(parents=True, exist_ok=True)
            path.write_bytes(printed)
        except OSError as error:
            stop(
                NOT_HERE,
                f"{path} could not be written: {error.strerror}.",
                "Name another folder: --out my-folder",
            )
        say(f"Made {path}")
    progress.done()
