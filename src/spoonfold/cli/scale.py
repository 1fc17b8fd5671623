"""`spoonfold scale`.

What it prints is imported only when it is printed: `--help` costs no more than click.
"""

from __future__ import annotations

from pathlib import Path

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    PROBLEMS,
    WRONG_USE,
    examined_folder,
    folder_option,
    need_content,
    print_problems,
    stop,
    width,
)


@click.command(
    epilog="\b\nExamples:\n  spoonfold scale red-lentil-soup --serves 15\n"
    "  spoonfold scale red-lentil-soup --serves 1/2\n\n" + EXIT_CODES
)
@click.argument("recipe")
@click.option("--serves", required=True, help="How many people it should feed.")
@folder_option
def scale(recipe: str, serves: str, folder: Path) -> None:
    """Show RECIPE worked out for another number of people.

    RECIPE is the file's name in content/recipes/ without its ending.
    """
    from spoonfold.cli.scale_table import scale_table
    from spoonfold.problem import Level
    from spoonfold.quantity.grammar import Refusal, read_number
    from spoonfold.read.shape import nearest

    need_content(folder)
    portions = read_number(serves)
    if isinstance(portions, Refusal):
        stop(WRONG_USE, f"--serves {serves}: {portions.why}", "For example: --serves 15")
    examined = examined_folder(folder)
    read, facts = examined.read, examined.facts
    name = recipe.removesuffix(".md").rsplit("/", 1)[-1]
    path = f"content/recipes/{name}.md"
    problems = [
        each for each in examined.problems if each.place.path == path and each.level is Level.ERROR
    ]
    print_problems(problems, read, folder)
    if problems:
        stop(PROBLEMS, f"{name} can't be worked out yet.", "Mend the errors above first.")
    if name not in read.folder.recipes:
        there = sorted(read.folder.recipes)
        close = nearest(name, there)
        stop(
            WRONG_USE,
            f"There is no recipe {name} in content/recipes/.",
            f"Did you mean {close}?"
            if close
            else f"There are: {', '.join(there)}."
            if there
            else 'Begin one: spoonfold new recipe "A title"',
        )
    found = read.folder.recipes[name]
    click.echo(scale_table(found, facts.uses[name], read.folder, portions, width()))
