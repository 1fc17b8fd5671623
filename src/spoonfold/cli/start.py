"""`spoonfold start`."""

from __future__ import annotations

from pathlib import Path

import click

from spoonfold.cli.common import EXIT_CODES, WRONG_USE
from spoonfold.cli.wrapped import refuse, tell


@click.command(epilog=f"\b\nExample:\n  spoonfold start my-class\n\n{EXIT_CODES}")
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Begin a class of your own in FOLDER.

    It has one session and one recipe, and explains itself line by line. FOLDER must be empty,
    or not there yet. What is in it builds at once.
    """
    from spoonfold.author.start import start as begin
    from spoonfold.author.words import shell_word
    from spoonfold.author.written import Refused

    made = begin(folder)
    if isinstance(made, Refused):
        refuse(WRONG_USE, made)
    tell(
        f"Made a small class in {folder}:",
        "\n".join(f"  {each.path}" for each in made),
        "Next, go there and make its sheets:",
        f"  cd {shell_word(str(folder))}\n  spoonfold build",
        "Then open content/class.yaml in a text editor: every line of it says what it is for.",
    )
