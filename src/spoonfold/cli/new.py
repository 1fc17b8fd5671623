"""`spoonfold new`: recipe, session, word."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from spoonfold.cli.common import EXIT_CODES, WRONG_USE, folder_option, need_content, stop
from spoonfold.cli.wrapped import refuse, tell


@click.group(
    epilog='\b\nExamples:\n  spoonfold new recipe "Red lentil soup"\n'
    "  spoonfold new session red-lentil-soup\n  spoonfold new word simmer\n\n" + EXIT_CODES
)
def new() -> None:
    """Begin a recipe, a session or a word. Nothing is ever written over."""


@new.command(epilog=f'\b\nExample:\n  spoonfold new recipe "Red lentil soup"\n\n{EXIT_CODES}')
@click.argument("title")
@click.option(
    "--name", default=None, show_default="from the title", help="The new file's name, without .md."
)
@folder_option
def recipe(title: str, name: str | None, folder: Path) -> None:
    """Begin the recipe called TITLE, in a file of its own."""
    from spoonfold.author.new import new_recipe
    from spoonfold.author.written import Refused

    need_content(folder)
    made = new_recipe(folder, title, name)
    if isinstance(made, Refused):
        refuse(WRONG_USE, made)
    key = made.path.rsplit("/", 1)[-1].removesuffix(".md")
    tell(
        f"Made {made.path}.",
        "Next, open it in a text editor and fill in what is missing; behind each # it says what "
        "goes there. Until then spoonfold build leaves the sheets as they are.",
        "See what is still missing:",
        "  spoonfold check",
        "Put it on a day:",
        f"  spoonfold new session {key}",
    )


@new.command(epilog=f"\b\nExample:\n  spoonfold new session red-lentil-soup\n\n{EXIT_CODES}")
@click.argument("dishes", nargs=-1, required=True)
@click.option("--lesson", default=None, help="A file of content/lessons/, without .md.")
@folder_option
def session(dishes: Sequence[str], lesson: str | None, folder: Path) -> None:
    """Add a session that cooks DISHES.

    It comes after the last one in content/class.yaml; all other lines there stay as they are. A
    dish is a file's name in content/recipes/ without its ending.
    """
    from spoonfold.author.new import new_session
    from spoonfold.author.written import Refused
    from spoonfold.language.calendar import date_text

    need_content(folder)
    names = [each.removesuffix(".md").rsplit("/", 1)[-1] for each in dishes]
    need_files(folder, "recipes", names, "recipe", 'spoonfold new recipe "A title"')
    if lesson is not None:
        lesson = lesson.removesuffix(".md").rsplit("/", 1)[-1]
        need_files(folder, "lessons", [lesson], "lesson", "Leave --lesson out.")
    made = new_session(folder, names, lesson)
    if isinstance(made, Refused):
        refuse(WRONG_USE, made)
    tell(
        f"Added session {made.number} on line {made.written.line} of {made.written.path}. By the "
        f"rhythm of the class it is on {date_text(made.date, 'en')}.",
        "Next, see whether it fits into the time:",
        f"  spoonfold clock {made.number}",
    )


@new.command(epilog=f"\b\nExample:\n  spoonfold new word simmer\n\n{EXIT_CODES}")
@click.argument("term")
@click.option("--meaning", default="", help="What it means, in words that a child knows.")
@folder_option
def word(term: str, meaning: str, folder: Path) -> None:
    """Add TERM at the end of content/words.yaml."""
    from spoonfold.author.new import new_word
    from spoonfold.author.written import Refused
    from spoonfold.read.yaml_text import clean

    need_content(folder)
    made = new_word(folder, term, meaning)
    if isinstance(made, Refused):
        refuse(WRONG_USE, made)
    write = "" if clean(meaning) else "write what it means behind “meaning:”, and "
    tell(
        f"Added “{clean(term)}” on line {made.line} of {made.path}.",
        f"Next, {write}list it under “words:” in the recipe that teaches it:",
        f"  words: [{clean(term)}]",
    )


def need_files(folder: Path, where: str, names: Sequence[str], what: str, otherwise: str) -> None:
    """Stops the command where one of the names is no file of that folder."""
    from spoonfold.read.shape import nearest

    there = sorted(
        path.stem for path in (folder / "content" / where).glob("*.md") if "." not in path.stem
    )
    for name in names:
        if name not in there:
            close = nearest(name, there)
            stop(
                WRONG_USE,
                f"There is no {what} called {name}.",
                f"Did you mean {close}?" if close else otherwise,
            )
