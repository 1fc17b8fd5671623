"""`spoonfold guide`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import click

from spoonfold.cli.common import EXIT_CODES, WRONG_USE, say, stop, width
from spoonfold.cli.wrapped import wrapped


@click.command(
    epilog="\b\nExamples:\n  spoonfold guide\n  spoonfold guide pantry\n  spoonfold guide a recipe"
    "\n\n" + EXIT_CODES
)
@click.argument("about", nargs=-1)
def guide(about: Sequence[str]) -> None:
    """Show a chapter of the guide.

    ABOUT is one word or more of its heading, or of a heading inside a chapter. Without any, the
    chapters are listed.
    """
    from spoonfold.author.guide import chapters, chapters_about, parts_that_say

    if not about:
        say(_contents([each.title for each in chapters()]))
        say(
            "\n" + wrapped("A word of its heading shows a chapter:") + "\n\n"
            "  spoonfold guide pantry"
        )
        return
    words = " ".join(about)
    found = chapters_about(words)
    if not found:
        said = [each.title for each in parts_that_say(words)]
        stop(
            WRONG_USE,
            f"No heading of the guide has “{words}”.",
            f"It is spoken of under:\n{_contents(said)}"
            if said
            else "spoonfold guide lists the chapters.",
        )
    if len(found) > 1:
        stop(
            WRONG_USE,
            f"More than one heading of the guide has “{words}”:",
            _contents([each.title for each in found]),
        )
    say("\n".join(_shown(found[0].title, found[0].text)))


def _contents(titles: Sequence[str]) -> str:
    return "\n".join(f"- {each}" for each in titles)


def _shown(title: str, text: str) -> Iterator[str]:
    """Markdown as it is read on a terminal: headings stand out, examples are moved in."""
    from spoonfold.cli import report

    yield from _heading(title)
    yield ""
    is_example = False
    for line in text.split("\n"):
        if line.startswith("```"):
            is_example = not is_example
        elif is_example:
            yield f"  {line}".rstrip()
        elif line.startswith("### "):
            yield from _heading(line.removeprefix("### ").replace("`", ""))
        else:
            plain = line.strip().replace("**", "")
            indent = " " * (len(line) - len(line.lstrip()))
            below = f"{indent}  " if plain.startswith("- ") else indent
            yield from report.wrapped(plain, width(), indent, below)


def _heading(words: str) -> tuple[str, str]:
    return words, "-" * len(words)
