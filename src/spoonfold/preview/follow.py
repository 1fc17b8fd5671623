"""Builds again after every save: first the sheet that is looked at, then the site, then the rest.

Whether anything was saved: names, times and sizes, looked at again and again.

Every system tells of changes in its own way, and network disks in none; looking works on all."""

from __future__ import annotations

import gc
import os
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path, PurePosixPath
from typing import NoReturn

from spoonfold.build import Outcome, build
from spoonfold.press.memo import NAME, read_memo
from spoonfold.preview.board import SESSION, Board, State, groups_of, revisions_of, told_of
from spoonfold.problem import has_errors

WATCHED = ("content", "layouts")
LOOK_SECONDS = 0.3
"""From one look to the next: sooner than anyone waits for."""
SETTLE_SECONDS = 0.2
"""Nothing has changed for so long: an editor that writes a new file, moves the old one away and
the new one into its place is finished."""

Snapshot = frozenset[tuple[str, int, int, int]]
"""Each file's path, time of writing in nanoseconds, size in bytes, and number on its disk."""
Pause = Callable[[float], None]


def snapshot(folder: Path) -> Snapshot:
    """What there is at this moment; what vanishes meanwhile is left out."""
    return frozenset(each for top in WATCHED for each in _below(str(folder / top)))


def settled(folder: Path, pause: Pause = time.sleep) -> Snapshot:
    """What there is, once it has stopped changing."""
    seen = snapshot(folder)
    while True:
        pause(SETTLE_SECONDS)
        now = snapshot(folder)
        if now == seen:
            return now
        seen = now


def memo_mark(output: Path) -> tuple[int, int] | None:
    """What tells one build of an output from the next; None where there is none."""
    try:
        stat = (output / NAME).stat()
    except OSError:
        return None
    return stat.st_mtime_ns, stat.st_ino


def _below(folder: str) -> Iterator[tuple[str, int, int, int]]:
    try:
        with os.scandir(folder) as entries:
            found = list(entries)
    except OSError:
        return
    for entry in found:
        if _is_aside(entry.name):
            continue
        try:
            if entry.is_dir(follow_symlinks=False):
                yield from _below(entry.path)
            else:
                # Of a link, what it leads to is what was saved.
                stat = entry.stat()
                yield entry.path, stat.st_mtime_ns, stat.st_size, stat.st_ino
        except OSError:
            continue


def _is_aside(name: str) -> bool:
    """Whether a file is an editor's own, kept beside the one that is written."""
    return name.startswith((".", "#")) or name.endswith(("~", ".tmp"))


_WAIT_SECONDS = 1.0
"""For another build of the same folder."""
_AGAIN_SECONDS = 5.0
"""After this time what could not be written is tried again: the disk may have room by then."""


@dataclass(frozen=True, slots=True)
class Round:
    """What became of one save."""

    outcome: Outcome
    made: int
    """Files that are new or other than before."""
    is_overtaken: bool
    """Whether something was saved again before all sheets were made."""

    @property
    def is_refused(self) -> bool:
        """Whether nothing was made because something has to be mended."""
        return has_errors(self.outcome.problems) or self.outcome.read.folder.classroom is None


class _OvertakenError(Exception):
    """Something was saved while sheets were being printed that nobody waits for any more."""


def first_state(folder: Path, output: Path) -> State:
    """How things stand before anything was looked at: what was made some other day is shown."""
    return State(folder.resolve().name, revisions=revisions_of(read_memo(output)))


def _looked_at(path: str) -> Iterator[tuple[str, tuple[int, ...]]]:
    """The part that makes a sheet of one session, and the session; nothing for any other file: what
    families get takes longer than the site."""
    # Imported here, as a build imports it: where nothing has changed, nothing of it is needed.
    from spoonfold.sheets import parts

    session = SESSION.fullmatch(path)
    for name, part in parts().items() if session else ():
        if session and any(PurePosixPath(path).match(pattern) for pattern in part.owns):
            yield name, (int(session[1]),)


@dataclass(slots=True)
class Follower:
    """Keeps an output as new as its class folder."""

    folder: Path
    output: Path
    board: Board
    now: Callable[[], str]
    """The time of day, as it is told."""
    progress: Callable[[str], None]
    pause: Pause = time.sleep
    seconds: Callable[[], float] = time.monotonic
    cache: Path | None = None
    """The folder that keeps what follows from recipes, if any."""
    looked_at: float = 0.0

    def follow(self, tell: Callable[[Round], None]) -> NoReturn:
        """Builds, and builds again after every save, for ever; `tell` hears of each round."""
        while True:
            seen = settled(self.folder, self.pause)
            done = self.round(seen)
            tell(done)
            # Printing leaves rings of values behind that only a collection of all finds; it is
            # far rarer otherwise than a program that runs all day can bear.
            gc.collect()
            self.wait(seen, _AGAIN_SECONDS if done.outcome.write_failure else None)

    def wait(self, seen: Snapshot, longest: float | None) -> None:
        """Until something is saved, or somebody else makes or removes the output."""
        until = None if longest is None else self.seconds() + longest
        output = memo_mark(self.output)
        while (
            snapshot(self.folder) == seen
            and memo_mark(self.output) == output
            and (until is None or self.seconds() < until)
        ):
            self.pause(LOOK_SECONDS)

    def round(self, seen: Snapshot) -> Round:
        """The sheet that is looked at, if it is one, the site, then everything; a save while the
        rest is printed ends the round, and what is looked at comes before it again."""
        made = 0
        for only, sessions in (*_looked_at(self.board.looked_at), ("site", ())):
            site = self.built([only], self.said, sessions)
            made += site.made
            if self.is_over(site):
                return Round(site, made, False)

        def said(step: str) -> None:
            if self.seconds() - self.looked_at > LOOK_SECONDS:
                self.looked_at = self.seconds()
                if snapshot(self.folder) != seen:
                    raise _OvertakenError
            self.said(step)

        try:
            everything = self.built([], said)
        except _OvertakenError:
            return Round(site, made, True)
        return Round(everything, made + everything.made, False)

    def is_over(self, outcome: Outcome) -> bool:
        return Round(outcome, 0, False).is_refused or outcome.write_failure is not None

    def built(
        self, only: Sequence[str], said: Callable[[str], None], sessions: Sequence[int] = ()
    ) -> Outcome:
        outcome = build(
            self.folder, self.output, only, _WAIT_SECONDS, said, sessions=sessions, cache=self.cache
        )
        self.put_up(outcome, is_last=not only or self.is_over(outcome))
        return outcome

    def said(self, step: str) -> None:
        self.board.doing(step)
        self.progress(step)

    def put_up(self, outcome: Outcome, is_last: bool) -> None:
        """Tells the page how things stand."""
        state = self.board.state
        memo, classroom = read_memo(self.output), outcome.read.folder.classroom
        found = outcome.write_failure or outcome.print_failure
        state = replace(
            state,
            class_name=classroom.name if classroom else state.class_name,
            doing="" if is_last else "Working out the sheets",
            told=told_of(outcome.problems, outcome.read),
            trouble=(found.message, found.hint) if found else (),
            groups=groups_of(memo, classroom.languages) if classroom else state.groups,
            revisions=revisions_of(memo),
        )
        if not self.is_over(outcome):
            state = replace(state, made_at=self.now())
        self.board.show(state)
