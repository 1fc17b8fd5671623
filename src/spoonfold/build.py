"""The whole pipeline: read, check, and if anything has changed, make it and swap it in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from spoonfold.check import Examined, examine
from spoonfold.check.elsewhere import stopping, without_broken
from spoonfold.digest import digest_of, folders_digest
from spoonfold.press import memo
from spoonfold.press.faults import LayoutError
from spoonfold.press.layouts import layouts_for
from spoonfold.press.output import commit, discard, open_stage
from spoonfold.problem import Failure, Level, Problem, has_errors, in_order
from spoonfold.read.folder import Progress, Read


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of a build."""

    problems: tuple[Problem, ...]
    read: Read
    files: int = 0
    """Files in the output; 0 where there is no whole one."""
    made: int = 0
    """How many of them are new or other than before."""
    write_failure: Failure | None = None
    """Why the output could not be written."""
    print_failure: Failure | None = None
    """Why something could not be made on this machine."""
    is_stopped: bool = False
    """Whether an error kept everything from being made: one that the sessions asked for read."""


def build(
    folder: Path,
    output: Path,
    only: Sequence[str] = (),
    wait_seconds: float = 0,
    progress: Progress = lambda step: None,
    households: Sequence[int] = (),
    languages: Sequence[str] = (),
    workers: int = 1,
    sessions: Sequence[int] = (),
    cache: Path | None = None,
) -> Outcome:
    """Builds the class folder into the output folder; on errors the old output stays.

    `only` names parts; `households` and `languages` narrow what families get to these sizes and
    to these of the class's languages, and `sessions` all to the sheets of these days. What isn't
    asked for is carried over, and so is what is made of the same as before. Sheets are printed by
    so many processes at once; the bytes don't depend on their number. `cache`: the folder that
    keeps what follows from recipes, if any.
    """
    examined = examined_with_layouts(folder, progress, cache)
    read, problems = examined.read, examined.problems
    classroom = read.folder.classroom
    if classroom is None or stopping(problems, read.planned, sessions):
        return Outcome(problems, read, is_stopped=True)
    if has_errors(problems):
        whole_folder = without_broken(read.folder, problems)
        examined = replace(examined, read=replace(read, folder=whole_folder))
    numbers = [each.number for each in classroom.sessions]
    for number in sessions:
        if number not in numbers:
            return Outcome(
                problems,
                read,
                write_failure=Failure(
                    "no-such-session",
                    f"There is no session {number}.",
                    f"The sessions are {', '.join(map(str, numbers))}."
                    if classroom.called_off
                    else f"The sessions are 1 to {len(numbers)}.",
                ),
            )
    for language in languages:
        if language not in classroom.languages:
            return Outcome(
                problems,
                read,
                write_failure=Failure(
                    "not-a-language",
                    f"The class has no language {language}.",
                    f"class.yaml lists {', '.join(classroom.languages)}.",
                ),
            )
    stage = open_stage(output, wait_seconds, content=folder / "content")
    if isinstance(stage, Failure):
        return Outcome(problems, read, write_failure=stage)
    try:
        before = memo.read_memo(output)
        tools, whole = _keys(folder)
        # Another household's booklet may be none of what a whole output has.
        if not households and before.is_whole(output, whole):
            return Outcome(problems, read, len(before.files))
        # Imported here: where nothing has changed, nothing of it is needed.
        from spoonfold.press.make import Asked, make

        asked = Asked(tuple(only), tuple(households), tuple(languages), tuple(sessions))
        made = make(
            folder, output, examined, classroom, asked, before.of(tools), stage, progress, workers
        )
        if made.problems:
            return Outcome(in_order([*problems, *made.problems]), read, is_stopped=True)
        # What is told of the sheets has to be told each time, so that they are looked at again.
        is_told = made.print_failure is not None or any(
            each.level is not Level.HINT for each in made.warnings
        )
        is_whole = not is_told and (
            asked == Asked() or (before.whole == whole and before.files.keys() == made.files.keys())
        )
        after = memo.Memo(tools, whole if is_whole else "", made.files)
        stage.write(memo.NAME, memo.memo_bytes(after))
        progress("Swapping in")
        failure = commit(stage)
    except LayoutError as fault:
        return Outcome(in_order([*problems, fault.problem]), read, is_stopped=True)
    finally:
        discard(stage)
    if failure:
        return Outcome(problems, read, write_failure=failure)
    return Outcome(
        in_order([*problems, *made.warnings]),
        read,
        len(made.files),
        made.changed,
        None,
        made.print_failure,
    )


def examined_with_layouts(
    folder: Path, progress: Progress = lambda step: None, cache: Path | None = None
) -> Examined:
    """A class folder, read and checked, and its own layouts with it."""
    examined = examine(folder, progress, cache)
    if layouts_for(folder).own is None:
        return examined
    # Imported here: few classes have layouts of their own.
    from spoonfold.press.overrides import problems_of_overrides

    found = problems_of_overrides(folder, examined.read.folder)
    return replace(examined, problems=in_order([*examined.problems, *found]))


def _keys(folder: Path) -> tuple[str, str]:
    """What every sheet is made with, and what the whole output is made of."""
    tools = memo.tools_digest(layouts_for(folder).folders)
    return tools, digest_of(tools, folders_digest([folder / "content"]))
