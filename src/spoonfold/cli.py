"""The commands: arguments, printing, exit codes; nothing else.

Imports are inside the commands, so that `--help` costs no more than click itself.
"""

from __future__ import annotations

import gc
import shutil
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from spoonfold import __version__

if TYPE_CHECKING:
    from spoonfold.problem import Level, Problem
    from spoonfold.read.folder import Read

DONE, PROBLEMS, WRONG_USE, NOT_HERE = 0, 1, 2, 3

_EXIT_CODES = """\b
Exit codes:
  0  done (there may be warnings)
  1  something in the content must be mended; nothing was changed
  2  the command was used wrongly
  3  something could not be made on this machine; the rest was
"""
_WRONG_USE = frozenset({"not-ours", "output-is-file", "output-is-link", "inside-content"})
_QUIET_SECONDS = 1.0
_EVERY_SECONDS = 0.1


def _folder_option(command: Callable[..., None]) -> Callable[..., None]:
    return click.option(
        "--folder",
        type=click.Path(path_type=Path, file_okay=False),
        default=Path(),
        show_default="the folder you are in",
        help="The class folder: the one that holds content/.",
    )(command)


@click.group(
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    epilog=_EXIT_CODES,
)
@click.version_option(__version__, prog_name="spoonfold")
def main() -> None:
    """Turn one folder of recipes into every sheet that a cooking class needs."""
    # Nearly nothing that a command makes is garbage before it ends: looking for it in vain
    # took a sixth of the time of `check`.
    gc.set_threshold(500_000, 50, 1_000)


@main.command(epilog=f"\b\nExample:\n  spoonfold check\n\n{_EXIT_CODES}")
@_folder_option
@click.option("--json", "as_json", is_flag=True, help="Print the problems as JSON.")
def check(folder: Path, as_json: bool) -> None:
    """Read everything and say what is wrong, without making anything."""
    from spoonfold.check import examine
    from spoonfold.problem import has_errors

    _need_content(folder)
    progress = _Progress()
    examined = examine(folder, progress)
    progress.done()
    read, problems = examined.read, examined.problems
    if as_json:
        from spoonfold import report

        click.echo(report.as_json(problems))
    else:
        _print_problems(problems, read)
        count = len(read.folder.recipes)
        _say(f"Read {count} recipe{'' if count == 1 else 's'}: {_summary(problems)}.")
    sys.exit(PROBLEMS if has_errors(problems) else DONE)


@main.command(
    epilog="\b\nExamples:\n  spoonfold build\n  spoonfold build --only site\n"
    "  spoonfold build --out ~/Desktop/class-sheets\n\n" + _EXIT_CODES
)
@_folder_option
@click.option(
    "--only",
    type=click.Choice(["site", "booklet", "card", "notice", "safety", "shopping", "jobs",
                       "prep", "season", "table-cards", "brief", "lesson-card",
                       "print-pack"]),
    multiple=True,
    help="Make only this; the rest stays as it was. May be given twice.",
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=None,
    show_default="build/ in the class folder",
    help="Where everything goes.",
)
def build(folder: Path, only: Sequence[str], out: Path | None) -> None:
    """Make the website, the booklets, the cards, the families' notice and the safety sheet."""
    from spoonfold.build import build as run
    from spoonfold.problem import has_errors

    _need_content(folder)
    progress = _Progress()
    output = out if out is not None else folder / "build"
    outcome = run(folder, output, only, wait_seconds=10, progress=progress)
    progress.done()
    _print_problems(outcome.problems, outcome.read)
    if has_errors(outcome.problems) or outcome.read.folder.classroom is None:
        _stop(PROBLEMS, f"Nothing was made: {_summary(outcome.problems)}.",
              "Mend the errors above and run the command again; what was made before is still "
              "there.")
    if outcome.trouble is not None:
        code = WRONG_USE if outcome.trouble.code in _WRONG_USE else NOT_HERE
        _stop(code, outcome.trouble.message, outcome.trouble.hint)
    _say(f"Made {outcome.made} files in {output} ({_summary(outcome.problems)}).")
    if outcome.missing is not None:
        _stop(NOT_HERE, f"No booklets, cards and notice were made: {outcome.missing.message}",
              outcome.missing.hint)
    if not only or "site" in only:
        _say(f"Open {output / 'site' / 'index.html'} in a browser.")


@main.command(
    epilog="\b\nExamples:\n  spoonfold scale red-lentil-soup --serves 15\n"
    "  spoonfold scale red-lentil-soup --serves 1/2\n\n" + _EXIT_CODES
)
@click.argument("recipe")
@click.option("--serves", required=True, help="How many people it should feed.")
@_folder_option
def scale(recipe: str, serves: str, folder: Path) -> None:
    """Show RECIPE worked out for another number of people.

    RECIPE is the file's name in content/recipes/ without its ending.
    """
    from spoonfold.check import examine
    from spoonfold.problem import Level
    from spoonfold.quantity.grammar import Refusal, read_number
    from spoonfold.read.shape import nearest
    from spoonfold.table import scale_table

    _need_content(folder)
    portions = read_number(serves)
    if isinstance(portions, Refusal):
        _stop(WRONG_USE, f"--serves {serves}: {portions.why}", "For example: --serves 15")
    examined = examine(folder)
    read, facts = examined.read, examined.facts
    name = recipe.removesuffix(".md").rsplit("/", 1)[-1]
    path = f"content/recipes/{name}.md"
    problems = [
        each for each in examined.problems
        if each.place.path == path and each.level is Level.ERROR
    ]
    _print_problems(problems, read)
    if problems:
        _stop(PROBLEMS, f"{name} can't be worked out yet.", "Mend the errors above first.")
    if name not in read.folder.recipes:
        close = nearest(name, read.folder.recipes)
        _stop(WRONG_USE, f"There is no recipe {name} in content/recipes/.",
              f"Did you mean {close}?" if close else "spoonfold check lists what is there.")
    found = read.folder.recipes[name]
    click.echo(scale_table(found, facts.uses[name], read.folder, portions, _width()))


@main.command(
    epilog="\b\nExamples:\n  spoonfold why heat-too-low\n  spoonfold why never-used\n\n"
    + _EXIT_CODES
)
@click.argument("code")
def why(code: str) -> None:
    """Explain CODE: what is looked for, why, its published source, how to satisfy it.

    CODE is the word that check prints behind error, warning or hint.
    """
    from spoonfold import report
    from spoonfold.check.reasons.explain import explain, near_codes

    found = explain(code.casefold())
    if found is None:
        near = near_codes(code)
        _stop(WRONG_USE, f"No problem has the code {code}.",
              f"Did you mean {' or '.join(near)}?" if near else
              "spoonfold check prints the code of each problem behind its level.")
    _say(found.code)
    _say("")
    _say(report.explained((
        ("What is looked for", found.looks_for), ("Why", found.why),
        ("Source", found.source), ("How to satisfy it", found.mend)), _width()))


@main.command(
    epilog="\b\nExamples:\n  spoonfold shop              the season: costs, and what to buy once\n"
    "  spoonfold shop 3            the list for session 3\n"
    "  spoonfold shop 3 --corner   what a small shop has instead\n"
    "  spoonfold shop 3 --children 9 --csv > list.csv\n\n" + _EXIT_CODES
)
@click.argument("session", required=False, type=click.IntRange(min=1))
@click.option("--corner", is_flag=True, help="What is canned, frozen or dried instead.")
@click.option("--csv", "as_csv", is_flag=True, help="Print a table for a spreadsheet.")
@click.option("--children", type=click.IntRange(min=1),
              help="So many children come, spread over the tables; needs SESSION.")
@_folder_option
def shop(
    session: int | None, corner: bool, as_csv: bool, children: int | None, folder: Path
) -> None:
    """Show what to buy for SESSION, or for the whole season.

    SESSION is the session's number. What should be left from earlier sessions is something to
    look for first; it is never taken off the list in silence.
    """
    from spoonfold.check import examine
    from spoonfold.problem import has_errors
    from spoonfold.shop_list import shop_text

    _need_content(folder)
    if children is not None and session is None:
        _stop(WRONG_USE, "--children is for one session.",
              f"For example: spoonfold shop 3 --children {children}")
    examined = examine(folder)
    classroom = examined.read.folder.classroom
    if classroom is None or has_errors(examined.problems):
        _print_problems(examined.problems, examined.read)
        _stop(PROBLEMS, "No list was made.", "Mend the errors above first.")
    numbers = [each.number for each in classroom.sessions]
    if session is not None and session not in numbers:
        _stop(WRONG_USE, f"There is no session {session}.",
              f"The sessions are 1 to {len(numbers)}." if numbers else
              "class.yaml lists no sessions.")
    click.echo(shop_text(
        examined.read.folder, classroom, examined.facts.uses, session, children,
        corner=corner, as_csv=as_csv, width=_width()), nl=not as_csv)


@main.command(
    epilog="\b\nExamples:\n  spoonfold clock 6               every table's steps in time\n"
    "  spoonfold clock 6 --children 9  nine come instead\n\n" + _EXIT_CODES
)
@click.argument("session", type=click.IntRange(min=1))
@click.option("--children", type=click.IntRange(min=1),
              help="So many children come, spread over the tables.")
@_folder_option
def clock(session: int, children: int | None, folder: Path) -> None:
    """Show SESSION in time: what happens when at each table, and whether it fits.

    SESSION is the session's number. Says what holds it up and what would save time, what to
    take over when it runs late, and whose hands are free.
    """
    from spoonfold.check import examine
    from spoonfold.clock_list import clock_text
    from spoonfold.problem import has_errors

    _need_content(folder)
    examined = examine(folder)
    classroom = examined.read.folder.classroom
    if classroom is None or has_errors(examined.problems):
        _print_problems(examined.problems, examined.read)
        _stop(PROBLEMS, "No clock was made.", "Mend the errors above first.")
    found = next((each for each in classroom.sessions if each.number == session), None)
    if found is None:
        _stop(WRONG_USE, f"There is no session {session}.",
              f"The sessions are 1 to {len(classroom.sessions)}." if classroom.sessions else
              "class.yaml lists no sessions.")
    text = clock_text(examined.read.folder, examined.facts.uses, found, children, _width())
    if not isinstance(text, str):
        _stop(PROBLEMS, "Steps wait for each other in a circle.", "spoonfold check says which.")
    click.echo(text)


class _Progress:
    """One line on a terminal, once a command has taken a second; silent when piped."""

    def __init__(self) -> None:
        self.due = time.monotonic() + _QUIET_SECONDS
        self.shown = False

    def __call__(self, step: str) -> None:
        now = time.monotonic()
        if sys.stderr.isatty() and now > self.due:
            self.shown = True
            self.due = now + _EVERY_SECONDS
            click.echo(f"\r\x1b[K{step} …", nl=False, err=True)

    def done(self) -> None:
        """Wipes the line."""
        if self.shown:
            click.echo("\r\x1b[K", nl=False, err=True)


def _need_content(folder: Path) -> None:
    if not (folder / "content").is_dir():
        where = "here" if folder == Path() else f"in {folder}"
        _stop(WRONG_USE, f"There is no folder content/ {where}.",
              "Go to your class folder first (cd), or name it: --folder my-class")


def _stop(code: int, message: str, hint: str = "") -> NoReturn:
    click.echo(message, err=True)
    if hint:
        click.echo(hint, err=True)
    sys.exit(code)


def _say(message: str) -> None:
    click.echo(message)


def _width() -> int:
    return min(shutil.get_terminal_size((80, 24)).columns, 100) if sys.stdout.isatty() else 80


def _summary(problems: Sequence[Problem]) -> str:
    from spoonfold import report

    return report.summary(problems)


def _print_problems(problems: Sequence[Problem], read: Read) -> None:
    from spoonfold import report

    line_of = report.lines_of({path: source.text for path, source in read.sources.items()})
    for problem in problems:
        click.echo(report.shown(problem, line_of(problem.place), _width(), _style))
        click.echo()


def _style(text: str, level: Level) -> str:
    colours = {"error": "red", "warning": "yellow", "hint": "cyan"}
    return click.style(text, fg=colours[level.value], bold=True)
