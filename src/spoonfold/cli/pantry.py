"""`spoonfold pantry`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from spoonfold.cli.common import EXIT_CODES, WRONG_USE, folder_option, need_content, say, width
from spoonfold.cli.wrapped import tell

if TYPE_CHECKING:
    from spoonfold.author.known import Fact

_NARROWEST = 40


@click.command(
    epilog='\b\nExamples:\n  spoonfold pantry onion\n  spoonfold pantry "coconut milk"\n'
    "  spoonfold pantry onion --lines\n\n" + EXIT_CODES
)
@click.argument("name")
@click.option(
    "--lines",
    "as_lines",
    is_flag=True,
    help="Print only the lines that say it in content/pantry.yaml.",
)
@folder_option
def pantry(name: str, as_lines: bool, folder: Path) -> None:
    """Show what is known of an ingredient.

    With every source: of each weight, of how long it keeps, and so on.

    What your content/pantry.yaml says of it counts before what ships with Spoonfold, key by key.
    """
    from spoonfold.author.known import Unknown, known, lines_of
    from spoonfold.author.words import shell_word
    from spoonfold.read.files import Source, read_source
    from spoonfold.read.folder import PANTRY_FILE
    from spoonfold.read.pantry import lines_to_add, read_pantry

    need_content(folder)
    source = read_source(folder, PANTRY_FILE) if (folder / PANTRY_FILE).exists() else None
    hers = source if isinstance(source, Source) else None
    found = known(read_pantry(hers, []), name, hers)
    if isinstance(found, Unknown):
        if not as_lines:
            near = (
                f"The nearest names are: {', '.join(found.nearest)}."
                if found.nearest
                else ("No name is near it.")
            )
            tell(
                f"Nothing is known of “{name}”. {near}",
                "If it is none of these, paste these lines at the end of content/pantry.yaml, and "
                "finish the first one; until then they are refused:",
            )
            say("")
        say("\n".join(lines_to_add(name)))
        raise SystemExit(WRONG_USE)
    own = "" if found.own is None else f"line {found.own.line} of {found.own.path}"
    lines = lines_of(found.item)
    if as_lines:
        if own:
            say(f"# These take the place of your entry on {own}.")
        say("\n".join(lines))
        return
    say(found.item.name)
    say("")
    say(table(found.facts))
    say("")
    if own:
        tell(
            f"Your own entry begins on {own}; what it names counts before what ships with "
            "Spoonfold."
        )
    else:
        tell(
            "All of this ships with Spoonfold. To correct it, or to say what your shop sells, put "
            "an entry of your own into content/pantry.yaml; only what it names changes. With the "
            "right size and price, for example:",
            f"  {lines[0]}\n    packages: [{{size: 1 lb, price: 0}}]",
        )
    say("")
    tell(
        "To see all of it as lines that you can change:",
        f"  spoonfold pantry {shell_word(found.item.name)} --lines",
    )


def table(facts: Iterable[Fact]) -> str:
    """One fact on a line, wrapped below itself; what is about the same is named once."""
    rows, before = [], ""
    listed = list(facts)
    room = max(len(each.about) for each in listed) + 4
    for fact in listed:
        lead = "  " + ("" if fact.about == before else fact.about)
        text = f"{fact.says} ({fact.source})" if fact.source else fact.says
        rows.append(
            textwrap.fill(
                text,
                max(width(), _NARROWEST),
                initial_indent=lead.ljust(room),
                subsequent_indent=" " * (room + 2),
                break_long_words=False,
                break_on_hyphens=False,
            )
        )
        before = fact.about
    return "\n".join(rows)
