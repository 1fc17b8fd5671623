"""`spoonfold preview`."""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from spoonfold.cli.common import (
    DONE,
    EXIT_CODES,
    NOT_HERE,
    Progress,
    cache_folder,
    folder_option,
    need_content,
    say,
    stop,
    summary,
)
from spoonfold.cli.wrapped import tell, wrapped
from spoonfold.problem import by_file

if TYPE_CHECKING:
    from spoonfold.preview.follow import Round
    from spoonfold.preview.server import Taken

_AT_ONCE = b"\nStopping when this sheet is made; Ctrl-C again stops at once.\n"


@click.command(
    epilog="\b\nExamples:\n  spoonfold preview\n  spoonfold preview --folder my-class\n"
    "  spoonfold preview --port 9000\n\n" + EXIT_CODES
)
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    default=None,
    show_default="8420, or the next that is free",
    help="The number at the end of the address.",
)
@folder_option
def preview(port: int | None, folder: Path) -> None:
    """Show the class in a browser, and follow every save.

    Open the address that is printed. The page shows the site and every sheet, with what has to
    be mended at the top; what was last made well stays under it. Only this computer can open it.
    What is made goes to build/ in the class folder. Ctrl-C stops it.
    """
    from spoonfold.press.layouts import Layouts, shipped_layouts
    from spoonfold.preview.board import Board
    from spoonfold.preview.follow import Follower, first_state
    from spoonfold.preview.server import Served, Taken, open_server, policy, shell_files

    need_content(folder)
    output = folder / "build"
    board = Board(first_state(folder, output), str(time.time_ns()))
    served = Served(output, board, shell_files(Layouts((shipped_layouts(),))), policy())
    progress = Progress()
    stopping = _Stopping(lambda: bool(board.state.doing))

    def said(step: str) -> None:
        stopping.look()
        progress(step)

    with _told_by_signals(stopping):
        opened = open_server(port, served)
        if isinstance(opened, Taken):
            _refuse(opened, port)
        try:
            opened.server.begin()
            _begin(opened.passed, opened.server.server_port)
            follower = Follower(
                folder, output, board, _time_of_day, said, stopping.pause, cache=cache_folder()
            )
            follower.follow(_teller(progress))
        except _StopError:
            progress.done()
        finally:
            opened.server.end()
    say(f"\nStopped. What was made last is in {output}.")


class _StopError(Exception):
    """The author wants the preview to end."""


@dataclass(slots=True)
class _Stopping:
    """Whether the author wants the preview to end: asked for between two sheets and while
    nothing is done. An exception in the midst of printing would be swallowed there, or end the
    program from within a library."""

    is_busy: Callable[[], bool]
    is_wanted: bool = False

    def look(self) -> None:
        if self.is_wanted:
            raise _StopError

    def pause(self, seconds: float) -> None:
        time.sleep(seconds)
        self.look()

    def want(self, number: int, _: object) -> None:
        """Ctrl-C, or being told to end; the second time at once. A build that is cut short
        leaves the last output whole, and the next one cleans up."""
        if self.is_wanted:
            os._exit(DONE)
        self.is_wanted = True
        if self.is_busy():
            # Not printed: the program may be in the midst of printing a line.
            os.write(sys.stdout.fileno(), _AT_ONCE)


@contextmanager
def _told_by_signals(stopping: _Stopping) -> Iterator[None]:
    signals = (signal.SIGINT, signal.SIGTERM)
    before = [signal.signal(each, stopping.want) for each in signals]
    try:
        yield
    finally:
        for each, was in zip(signals, before, strict=True):
            signal.signal(each, was)


def _refuse(taken: Taken, port: int | None) -> NoReturn:
    stop(
        NOT_HERE,
        wrapped(f"{taken.holder} is using port {taken.port}."),
        wrapped(
            "Choose another, such as --port 9000, or leave --port out: then a free one is found."
            if port is not None
            else f"The ports before it are taken too. Choose one yourself, such as --port {9000}."
        ),
    )


def _begin(passed: tuple[Taken, ...], port: int) -> None:
    notes = [f"{each.holder} is using port {each.port}: the next is tried." for each in passed]
    tell(
        *notes,
        "Open this address in a browser on this computer:",
        f"  http://127.0.0.1:{port}/",
        "It follows every save. Press Ctrl-C to stop.",
    )
    say("")


def _teller(progress: Progress) -> Callable[[Round], None]:
    """Says one line a round; one that would be said again is left out."""
    last = ""

    def tell_round(done: Round) -> None:
        nonlocal last
        progress.done()
        line = _line(done)
        if done.outcome.write_failure is None or line != last:
            say(wrapped(f"{_time_of_day()}  {line}"))
        last = line

    return tell_round


def _line(done: Round) -> str:
    outcome = done.outcome
    if done.is_refused:
        first = by_file(outcome.problems)[0]
        place = first.problems[0].place
        return (
            f"{summary(outcome.problems)}: {first.path}"
            + (f":{place.line}" if place.line else "")
            + "; nothing new is made."
        )
    if outcome.write_failure is not None:
        return f"{outcome.write_failure.message} {outcome.write_failure.hint}"
    found = f"{summary(outcome.problems)}."
    if done.is_overtaken:
        return f"Site made, sheets not yet: something was saved again; {found}"
    if outcome.print_failure is not None:
        return f"The site is made, but no sheets: {outcome.print_failure.message} {found}"
    if not done.made:
        return f"Nothing had to be made; {found}"
    return f"Made {done.made} {'file' if done.made == 1 else 'files'}; {found}"


def _time_of_day() -> str:
    return time.strftime("%H:%M:%S")
