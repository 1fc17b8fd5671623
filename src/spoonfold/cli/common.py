"""What every command shares: exit codes, the folder option, progress, printing problems.

Imports of the rooms are inside the functions, so that `--help` costs no more than click itself.

The terminal: how wide it is, and whether it shows colours."""

from __future__ import annotations

import os
import shutil
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

if TYPE_CHECKING:
    from spoonfold.check import Examined
    from spoonfold.cli.report import LineOf
    from spoonfold.model.classroom import Classroom, Session
    from spoonfold.problem import Problem
    from spoonfold.read.folder import Read


NARROWEST, WIDEST = 40, 100
PIPED = 80
"""Columns where nobody watches, so that the same text comes out everywhere."""

_LOOKS: Mapping[str, Callable[[str], str]] = {
    "error": partial(click.style, fg="red", bold=True),
    "warning": partial(click.style, fg="yellow", bold=True),
    "hint": partial(click.style, fg="cyan", bold=True),
    "file": partial(click.style, bold=True),
    "beside": partial(click.style, dim=True),
    "mend": partial(click.style, fg="green", bold=True),
}


def width() -> int:
    """Columns to fill."""
    if not sys.stdout.isatty():
        return PIPED
    return max(NARROWEST, min(shutil.get_terminal_size((PIPED, 24)).columns, WIDEST))


def has_colours() -> bool:
    """Whether colours may be printed: on a terminal that has them, unless `NO_COLOR` is set to
    anything (an open convention, no-color.org)."""
    return (
        sys.stdout.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
    )


def coloured(text: str, role: str) -> str:
    """The text as its role looks: a level, `file`, `beside` or `mend`."""
    return _LOOKS[role](text)


DONE, PROBLEMS, WRONG_USE, NOT_HERE = 0, 1, 2, 3
STOPPED = 130
"""128 and the number of the signal, as shells count (POSIX, Shell and Utilities, 2.8.2)."""

EXIT_CODES = """\b
Exit codes:
  0  done (there may be warnings)
  1  something in the content must be mended; nothing was changed
  2  the command was used wrongly
  3  something could not be made on this machine; the rest was
  130  stopped by Ctrl-C; what was made before is still there
"""
_QUIET_SECONDS = 1.0
_EVERY_SECONDS = 0.1


def folder_option(command: Callable[..., None]) -> Callable[..., None]:
    return click.option(
        "--folder",
        type=click.Path(path_type=Path, file_okay=False),
        default=Path(),
        show_default="the one you are in",
        callback=lambda _, __, value: class_folder(value),
        help="The class folder: the one that holds content/.",
    )(command)


def class_folder(folder: Path) -> Path:
    """A folder that was named, or the class folder that the current one is or lies in."""
    if folder != Path() or Path("content").is_dir():
        return folder
    here = Path.cwd()
    for steps, above in enumerate(here.parents, 1):
        if (above / "content" / "class.yaml").is_file():
            return Path(*[".."] * steps)
    return folder


class Progress:
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


def need_content(folder: Path) -> None:
    if not (folder / "content").is_dir():
        where = "here" if folder == Path() else f"in {folder}"
        stop(
            WRONG_USE,
            f"There is no folder content/ {where}.",
            "Go to your class folder first (cd), or name it: --folder my-class",
        )


def stop(code: int, message: str, hint: str = "") -> NoReturn:
    click.echo(message, err=True)
    if hint:
        click.echo(hint, err=True)
    sys.exit(code)


def say(message: str) -> None:
    click.echo(message)


def is_watched() -> bool:
    """Whether somebody is there to answer."""
    return sys.stdin.isatty()


def cores() -> int:
    """How many cores this process may use."""
    return (
        len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else (os.cpu_count() or 1)
    )


def summary(problems: Sequence[Problem]) -> str:
    from spoonfold.cli import report

    return report.summary(problems)


def line_of(read: Read) -> LineOf:
    """Looks up the line at a place in what was read."""
    from spoonfold.cli import report

    texts = {**read.unread, **read.sources}
    return report.lines_of({path: source.text for path, source in texts.items()})


def print_problems(
    problems: Sequence[Problem],
    read: Read,
    folder: Path,
    everything: bool = False,
    errors_only: bool = False,
) -> None:
    """Sets out what is wrong: hints only where nothing worse is, unless everything is asked for."""
    from spoonfold.cli import report
    from spoonfold.problem import Level

    if problems:
        style = coloured if has_colours() else report.plain_style
        before = "" if folder == Path() else f"{folder.as_posix()}/"
        named = "" if folder == Path() or folder.parts[0] == ".." else f" --folder {folder}"
        told = report.Told(
            Level.HINT if everything else Level.ERROR if errors_only else Level.WARNING,
            f"spoonfold check --all{named}",
        )
        click.echo(report.listing(problems, line_of(read), width(), style, before, told))
        click.echo()


def cache_folder() -> Path | None:
    """Where this account keeps what can be made again: as the XDG Base Directory Specification
    says, or as is usual on macOS and Windows. None: it has no such place."""
    named = Path(os.environ.get("XDG_CACHE_HOME", ""))
    if not named.is_absolute() and sys.platform == "win32":
        named = Path(os.environ.get("LOCALAPPDATA", ""))
    if not named.is_absolute():
        try:
            home = Path.home()
        except RuntimeError:
            return None
        named = home / ("Library/Caches" if sys.platform == "darwin" else ".cache")
    return named / "spoonfold" if named.is_absolute() else None


def examined_folder(folder: Path, progress: Callable[[str], None] = lambda step: None) -> Examined:
    """A class folder, read and checked, with what is kept of it from before."""
    from spoonfold.build import examined_with_layouts

    return examined_with_layouts(folder, progress, cache_folder())


def examined_class(folder: Path, refusal: str) -> tuple[Examined, Classroom]:
    """The class folder, read and checked; stops the command where it has errors."""
    from spoonfold.problem import has_errors

    need_content(folder)
    examined = examined_folder(folder)
    classroom = examined.read.folder.classroom
    if classroom is None or has_errors(examined.problems):
        print_problems(examined.problems, examined.read, folder)
        stop(PROBLEMS, refusal, "Mend the errors above first.")
    return examined, classroom


def session_of(classroom: Classroom, number: int) -> Session:
    """The session of that number; stops the command where there is none."""
    for session in classroom.sessions:
        if session.number == number:
            return session
    stop(
        WRONG_USE,
        f"There is no session {number}.",
        f"The sessions are 1 to {len(classroom.sessions)}."
        if classroom.sessions
        else "class.yaml lists no sessions.",
    )
