"""`spoonfold mend`."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    NOT_HERE,
    coloured,
    folder_option,
    has_colours,
    is_watched,
    need_content,
    say,
    summary,
)
from spoonfold.cli.report import printable
from spoonfold.cli.wrapped import refuse, tell

if TYPE_CHECKING:
    from spoonfold.author.mend import Mended

_AROUND = 1
"""Lines that are shown above and below what changes."""


@click.command(
    epilog="\b\nExamples:\n  spoonfold mend\n  spoonfold mend red-lentil-soup --yes\n\n"
    + EXIT_CODES
)
@click.argument("recipe", required=False)
@click.option("--yes", is_flag=True, help="Write it without asking.")
@folder_option
def mend(recipe: str | None, yes: bool, folder: Path) -> None:
    """Write what `check` says to write, where nothing is chosen by it.

    RECIPE is a file's name in content/recipes/ without its ending; without it, every file is
    mended. What would change is shown first. A temperature, a wash, an allergen, what is accepted
    and whatever you have to choose or to say stays as it is.
    """
    from spoonfold.author.mend import mend as mended_of
    from spoonfold.author.mend import write_mended
    from spoonfold.author.written import Refused

    need_content(folder)
    is_wanted = _files_of(folder, recipe)
    mended, left = mended_of(folder, is_wanted)
    told = [each for each in left if is_wanted(each.place.path)]
    if not mended:
        tell(f"Nothing can be mended without you: {summary(told)}.")
        return
    for each in mended:
        say("\n".join(_difference(each)))
        say("")
    count = sum(each.problems for each in mended)
    what = f"{count} problem{'' if count == 1 else 's'}"
    if not yes and not (is_watched() and click.confirm(f"Mend {what}?")):
        command = " ".join(filter(None, ("spoonfold mend", recipe, "--yes")))
        tell("Nothing was written. This writes it:", f"  {command}")
        return
    written = write_mended(folder, mended)
    if isinstance(written, Refused):
        refuse(NOT_HERE, written)
    files = f" in {len(mended)} files" if len(mended) > 1 else f" in {mended[0].path}"
    tell(f"Mended {what}{files}. What is left: {summary(told)}.")


def _files_of(folder: Path, recipe: str | None) -> Callable[[str], bool]:
    """Which files are asked for."""
    from spoonfold.cli.new import need_files

    if recipe is None:
        return lambda path: True
    key = recipe.removesuffix(".md").rsplit("/", 1)[-1]
    need_files(folder, "recipes", [key], "recipe", "Leave the name out to mend every file.")
    beginning = f"content/recipes/{key}."
    return lambda path: path.startswith(beginning)


def _difference(mended: Mended) -> Iterator[str]:
    """The lines that change, as unified differences are written everywhere."""
    before, after = (text.splitlines() for text in (mended.before, mended.after))
    roles = {"-": "error", "+": "mend", "@": "beside"}
    if mended.move:
        # It says what is moved also where not a line changes.
        yield printable(f"{mended.path} is named {mended.move}")
    for line in difflib.unified_diff(before, after, mended.path, mended.path, "", "", _AROUND, ""):
        shown = printable(line.rstrip())
        if has_colours() and line[:1] in roles:
            shown = coloured(shown, roles[line[0]])
        yield shown
