"""`spoonfold change`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    PROBLEMS,
    WRONG_USE,
    cache_folder,
    examined_folder,
    folder_option,
    need_content,
    print_problems,
    say,
    stop,
    width,
)
from spoonfold.cli.wrapped import refuse, tell, wrapped

if TYPE_CHECKING:
    from spoonfold.author.change import Draft
    from spoonfold.check import Examined
    from spoonfold.model.classroom import Session
    from spoonfold.problem import Problem
    from spoonfold.sheets.shared.follows import Follows


@click.command(
    short_help="Say what is different on the day of SESSION.",
    epilog='\b\nExamples:\n  spoonfold change 6 "table 2: 3 children" "no cilantro"\n'
    "  spoonfold change 6 oven broken\n"
    '  spoonfold change 6 20 minutes less --as-of "Friday evening"\n'
    "  spoonfold change 6          what the changes of that day do\n"
    "  spoonfold change 6 --back   takes back what was written last\n\n" + EXIT_CODES,
)
@click.argument("session", type=click.IntRange(min=1))
@click.argument("words", nargs=-1)
@click.option("--as-of", default=None, metavar="WHEN", help="Since when, in your own words.")
@click.option("--back", is_flag=True, help="Take back what was written last, every byte.")
@folder_option
def change(
    session: int, words: tuple[str, ...], as_of: str | None, back: bool, folder: Path
) -> None:
    """Say what is different on the day of SESSION, and see what follows.

    SESSION is the session's number. WORDS are one change, or several with quotes around each:
    "table 2: 3 children", "1 helper less", "oven broken"; the guide has them all. They are written
    into content/changes/, for that day alone. What is unsafe or can't be is refused, and nothing
    is written.
    """
    from spoonfold.author.change import drafted, take_back, write
    from spoonfold.author.written import Refused

    need_content(folder)
    lines = _lines(words, as_of)
    if back and lines:
        stop(WRONG_USE, "--back takes no words.", f"For example: spoonfold change {session} --back")
    before = examined_folder(folder)
    planned = _planned(before, session, folder)
    if back:
        path = take_back(folder, planned.date)
        if isinstance(path, Refused):
            refuse(WRONG_USE, path)
        tell(f"{path} is as it was before.", f"Next:\n  spoonfold build --session {session}")
        return
    draft = drafted(folder, planned.date, lines, _said_again(before, planned, lines))
    if isinstance(draft, Refused):
        refuse(PROBLEMS, draft)
    after = before
    if lines:
        after = _examined(folder, draft)
        _need_sound(before, after, draft, folder)
        failed = write(folder, draft)
        if failed is not None:
            refuse(PROBLEMS, failed)
        tell(f"Wrote into {draft.path}: {'; '.join(lines)}.")
    _show(after, session, planned)


def _lines(words: Sequence[str], as_of: str | None) -> list[str]:
    """Words with a space in them were quoted: each is a line. Without, all are one."""
    lines = list(words) if any(" " in word.strip() for word in words) else [" ".join(words)]
    lines += [f"as of {as_of}"] if as_of else []
    return [" ".join(line.split()) for line in lines if line.strip()]


def _planned(examined: Examined, number: int, folder: Path) -> Session:
    classroom = examined.read.planned
    if classroom is None:
        print_problems(examined.problems, examined.read, folder)
        stop(PROBLEMS, "class.yaml can't be read.", "Mend the errors above first.")
    for session in classroom.sessions:
        if session.number == number:
            return session
    stop(WRONG_USE, f"There is no session {number}.", f"There are {len(classroom.sessions)}.")


def _said_again(examined: Examined, planned: Session, lines: Sequence[str]) -> set[int]:
    """The lines of the file that a new one takes the place of."""
    from spoonfold.author.change import changes_path
    from spoonfold.read.changes import read_changes
    from spoonfold.read.files import Source

    path = changes_path(planned.date)
    there = examined.read.sources.get(path)
    if there is None:
        return set()
    old = read_changes(there, planned.date, [])
    new = read_changes(Source(path, "\n".join(lines)), planned.date, [])
    subjects = {each.subject for each in new.lines}
    return {each.place.line for each in old.lines if each.subject in subjects}


def _examined(folder: Path, draft: Draft) -> Examined:
    from spoonfold.check import examine

    return examine(folder, cache=cache_folder(), instead={draft.path: draft.after})


def _need_sound(before: Examined, after: Examined, draft: Draft, folder: Path) -> None:
    """Stops the command where the change brings an error: what was wrong before isn't its fault."""
    from spoonfold.problem import Level

    known = {(each.code, each.message) for each in before.problems}
    new = [
        each
        for each in after.problems
        if each.level is Level.ERROR and (each.code, each.message) not in known
    ]
    if not new:
        return
    print_problems(new, after.read, folder, errors_only=True)
    stop(PROBLEMS, f"Nothing was written into {draft.path}.", wrapped(_instead(new)))


def _instead(problems: Iterable[Problem]) -> str:
    """What would do, for what no line of the file can mend."""
    codes = {each.code for each in problems}
    if "few-helpers" in codes:
        return (
            "What would do: as many adults as tables, the lead cook among them. Leave a table "
            "empty (`table 3: no children`, with its children at the others), or call it off."
        )
    if "no-cooker" in codes:
        return (
            "What would do: borrow one and say so in the same breath (`1 burner borrowed`), or "
            "cook another dish on that day (`dishes` of the session in class.yaml)."
        )
    return "Write it as shown above."


def _show(examined: Examined, number: int, planned: Session) -> None:
    from spoonfold.language.texts import Texts
    from spoonfold.sheets.shared.follows import follows_of

    folder = examined.read.folder
    classroom, plan = folder.classroom, examined.read.planned
    assert classroom is not None and plan is not None
    session = next((each for each in classroom.sessions if each.number == number), None)
    if session is None:
        tell(
            f"Session {number} of {planned.date} is called off. The calendar says so; the other "
            "sessions keep their numbers.",
            "Next:\n  spoonfold build",
        )
        return
    if session.changed is None:
        tell(f"Nothing is different on the day of session {number}, {planned.date}.")
        return
    follows = follows_of(folder, plan, session, examined.facts.uses, Texts("en"))
    say("")
    for line in _shown(follows, width()):
        say(line)
    own = [each for each in examined.problems if _is_of(each, session)]
    say("")
    for problem in own[:_MOST_TOLD]:
        tell(f"To weigh: {problem.message}")
    tell(f"Next:\n  spoonfold build --session {number}")


_MOST_TOLD = 4


def _is_of(problem: Problem, session: Session) -> bool:
    from spoonfold.problem import Level

    changed = session.changed
    return problem.level is Level.WARNING and (
        problem.place == session.place
        or (changed is not None and problem.place.path == changed.place.path)
    )


def _shown(follows: Follows, room: int) -> Iterator[str]:
    """What follows, a heading beside its lines."""
    clock = (
        [f"{follows.clock}; planned: {follows.planned_clock}"]
        if follows.clock != follows.planned_clock
        else [f"as planned: {follows.clock}"]
    )
    for title, lines in (
        ("Changed", follows.written),
        ("Buy more", follows.more),
        ("Buy less", follows.less),
        ("Seats", follows.seats),
        ("Swaps", follows.swaps),
        ("Clock", clock),
        ("Ways", follows.ways),
    ):
        for at, line in enumerate(lines):
            yield from textwrap.wrap(
                line,
                room,
                initial_indent=f"{title if not at else '':<{_TITLE}}",
                subsequent_indent=" " * (_TITLE + 2),
            )


_TITLE = 10
