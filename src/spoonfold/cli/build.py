"""`spoonfold build`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    NOT_HERE,
    PROBLEMS,
    WRONG_USE,
    Progress,
    cache_folder,
    cores,
    folder_option,
    need_content,
    print_problems,
    say,
    stop,
    summary,
)
from spoonfold.cli.wrapped import wrapped
from spoonfold.sheets import NAMES

_WRONG_USE = frozenset(
    {
        "not-ours",
        "output-is-file",
        "output-is-link",
        "inside-content",
        "not-a-language",
        "no-such-session",
    }
)
"""Failures that another way to call the command mends."""


@click.command(
    short_help="Make the website and every sheet.",
    epilog="\b\nExamples:\n  spoonfold build\n  spoonfold build --only site\n"
    "  spoonfold build --only booklet --household 5 --language es\n"
    "  spoonfold build --out ~/Desktop/class-sheets\n\n" + EXIT_CODES,
)
@folder_option
@click.option(
    "--only",
    multiple=True,
    metavar="PART",
    shell_complete=lambda _, __, begun: [part for part in NAMES if part.startswith(begun)],
    help="Make only this part; the rest stays as it was. May be given twice. "
    f"PART is one of: {', '.join(NAMES)}.",
)
@click.option(
    "--household",
    "households",
    type=click.IntRange(1, 24),
    multiple=True,
    help="Make booklets for so many people; the rest stays. May be given twice.",
)
@click.option(
    "--language",
    "languages",
    multiple=True,
    help="Make families' sheets in this language of the class; the rest stays.",
)
@click.option(
    "--session",
    "sessions",
    type=click.IntRange(1),
    multiple=True,
    help="Make only the sheets of this session; the rest stays. May be given twice.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=None,
    show_default="build/ in the class folder",
    help="Where everything goes.",
)
@click.option(
    "--workers",
    type=click.IntRange(1, 64),
    default=None,
    show_default="one a core",
    help="How many sheets are printed at once.",
)
def build(
    folder: Path,
    only: Sequence[str],
    households: Sequence[int],
    languages: Sequence[str],
    sessions: Sequence[int],
    out: Path | None,
    workers: int | None,
) -> None:
    """Make the website, and every sheet for families and for the adults of the class."""
    from spoonfold.build import build as run
    from spoonfold.problem import has_errors

    _need_parts(only)
    need_content(folder)
    progress = Progress()
    output = out if out is not None else folder / "build"
    outcome = run(
        folder,
        output,
        only,
        10,
        progress,
        households,
        languages,
        workers or cores(),
        sessions,
        cache_folder(),
    )
    progress.done()
    print_problems(outcome.problems, outcome.read, folder)
    if outcome.is_stopped:
        stop(
            PROBLEMS,
            f"Nothing was made: {summary(outcome.problems)}.",
            "Mend the errors above and run the command again; what was made before is still there.",
        )
    if outcome.write_failure is not None:
        code = WRONG_USE if outcome.write_failure.code in _WRONG_USE else NOT_HERE
        stop(code, outcome.write_failure.message, outcome.write_failure.hint)
    if outcome.made == outcome.files:
        say(f"Made {outcome.files} files in {output} ({summary(outcome.problems)}).")
    elif outcome.made:
        say(
            f"Made {outcome.made} of {outcome.files} files in {output}; the others are as they "
            f"were ({summary(outcome.problems)})."
        )
    else:
        say(
            f"Nothing has changed: the {outcome.files} files in {output} stand "
            f"({summary(outcome.problems)})."
        )
    if has_errors(outcome.problems):
        say("The errors above are in what these sessions don't read; mend them before their turn.")
    if outcome.print_failure is not None:
        stop(
            NOT_HERE,
            f"No booklets, cards and notice were made: {outcome.print_failure.message}",
            outcome.print_failure.hint,
        )
    if "site" in only or not (only or sessions):
        say(f"Open {output / 'site' / 'index.html'} in a browser.")


def _need_parts(only: Sequence[str]) -> None:
    """Stops the command at a part that there isn't. Not by `click.Choice`, whose refusal is one
    line as long as the list."""
    from spoonfold.read.shape import nearest

    for name in only:
        if name not in NAMES:
            close = nearest(name, NAMES)
            there = f"The parts are {', '.join(NAMES)}."
            stop(
                WRONG_USE,
                wrapped(f"There is no part {name}."),
                wrapped(f"Did you mean {close}?\n{there}" if close else there),
            )
