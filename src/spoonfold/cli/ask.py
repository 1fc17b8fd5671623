"""`spoonfold ask`."""

from __future__ import annotations

from pathlib import Path

import click

from spoonfold.cli.common import (
    EXIT_CODES,
    NOT_HERE,
    coloured,
    examined_folder,
    folder_option,
    has_colours,
    is_watched,
    line_of,
    need_content,
    say,
    summary,
    width,
)
from spoonfold.cli.new import need_files
from spoonfold.cli.wrapped import refuse, tell


@click.command(epilog=f"\b\nExample:\n  spoonfold ask red-lentil-soup\n\n{EXIT_CODES}")
@click.argument("recipe")
@folder_option
def ask(recipe: str, folder: Path) -> None:
    """Ask what the words of RECIPE leave open, and write the answers into it.

    RECIPE is a file's name in content/recipes/ without its ending. Each question says why it is
    asked and what could be answered; your own words do too, and Enter leaves it open.
    """
    from spoonfold.author.ask import questions, write_answer
    from spoonfold.author.written import Refused
    from spoonfold.cli import report

    need_content(folder)
    key = recipe.removesuffix(".md").rsplit("/", 1)[-1]
    need_files(folder, "recipes", [key], "recipe", 'spoonfold new recipe "A title"')
    path = f"content/recipes/{key}.md"
    style = coloured if has_colours() else report.plain_style
    passed: set[tuple[str, str]] = set()
    while True:
        examined = examined_folder(folder)
        texts = {**examined.read.unread, **examined.read.sources}
        text = texts[path].text if path in texts else ""
        open_ones = questions(examined.problems, path, text)
        asked = [
            each for each in open_ones if (each.problem.code, each.problem.message) not in passed
        ]
        if not asked:
            break
        question = asked[0]
        say(report.told(question.problem, line_of(examined.read), width(), style))
        for number, way in enumerate(question.ways, 1):
            say(f"  {number}) {question.shown(way)}")
        passed.add((question.problem.code, question.problem.message))
        if not is_watched():
            say("")
            continue
        answer = click.prompt(
            "Number, your own words, or Enter to leave it", default="", show_default=False
        ).strip()
        say("")
        if not answer:
            continue
        chosen = answer.isdigit() and 1 <= int(answer) <= len(question.ways)
        edit = question.ways[int(answer) - 1] if chosen else question.own(answer)
        refused = write_answer(folder, path, edit)
        if isinstance(refused, Refused):
            refuse(NOT_HERE, refused)
        # What comes of an answer may be asked again.
        passed.discard((question.problem.code, question.problem.message))
    left = [each for each in examined.problems if each.place.path == path]
    if not is_watched() and open_ones:
        tell(f"{len(open_ones)} open. They are answered at a terminal; nothing was written.")
        return
    tell(f"{path}: {summary(left)}.")
    mendable = sum(each.is_mendable for each in left)
    if mendable:
        say(f"{mendable} of them can be mended for you: spoonfold mend {key}")
