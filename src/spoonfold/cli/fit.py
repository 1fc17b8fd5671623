"""`spoonfold fit`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

from spoonfold.cli.common import EXIT_CODES, examined_class, folder_option, say, session_of, width

if TYPE_CHECKING:
    from spoonfold.check.fit import Fit
    from spoonfold.model.classroom import Classroom, Session
    from spoonfold.problem import Problem

_MOST_REASONS = 3


@click.command(
    short_help="Show which recipes fit a day, and why the others don't.",
    epilog="\b\nExamples:\n  spoonfold fit               one more day, as the class usually is\n"
    "  spoonfold fit --session 6   the sixth session's kitchen, tables and needs\n\n" + EXIT_CODES,
)
@click.option(
    "--session",
    "number",
    type=click.IntRange(min=1),
    show_default="one more, as the class usually is",
    help="The session whose kitchen, minutes, tables, needs and helpers count.",
)
@folder_option
def fit(number: int | None, folder: Path) -> None:
    """Hold every recipe against a day: its minutes and tools, needs, helpers and money.

    Each is tried as the only dish of the day. Of what doesn't fit, it says why, and what would do.
    """
    from spoonfold.check.fit import day_for, fits_of

    examined, classroom = examined_class(folder, "Nothing was tried.")
    if number is not None:
        session_of(classroom, number)
    day = day_for(classroom, number)
    say("\n".join(_lines(list(fits_of(examined.facts, classroom, day)), classroom, day)))


def _lines(found: list[Fit], classroom: Classroom, day: Session) -> Iterator[str]:
    from spoonfold.plan.clock.clock import cooking_minutes

    setting = day.setting
    children = sum(setting.tables)
    yield from textwrap.wrap(
        f"As session {day.number}: {children} {'child' if children == 1 else 'children'} at "
        f"tables of {', '.join(map(str, setting.tables))}, {setting.helpers} "
        f"helper{'' if setting.helpers == 1 else 's'}, {cooking_minutes(setting)} minutes for "
        f"cooking{'' if setting.budget is None else f', {_money(setting.budget)} a child'}.",
        width(),
    )
    groups = (
        ("FITS", [each for each in found if each.fits and not each.only_if]),
        ("FITS, IF", [each for each in found if each.fits and each.only_if]),
        ("DOES NOT FIT", [each for each in found if not each.fits]),
    )
    for title, group in groups:
        if group:
            yield ""
            yield f"{title} ({len(group)})"
        for each in group:
            yield from _dish(each)


def _dish(fit: Fit) -> Iterator[str]:
    facts = [f"{fit.minutes} minutes"] if fit.minutes is not None else []
    facts += [f"{_money(fit.cost)} a child"] if fit.cost is not None else []
    facts += [f"new: {', '.join(fit.new_skills)}"] if fit.new_skills else []
    yield from _hung(f"- {fit.recipe.key}: {', '.join(facts)}", "  ")
    reasons = (*fit.against, *fit.only_if)
    for each in reasons[:_MOST_REASONS]:
        yield from _reason(each)
    if len(reasons) > _MOST_REASONS:
        more = len(reasons) - _MOST_REASONS
        yield f"    and {more} more, which spoonfold check tells once it is planned"


def _reason(problem: Problem) -> Iterator[str]:
    yield from _hung(f"    {problem.message}", "    ")
    for line in problem.hint.split("\n"):
        yield from _hung(f"      {line.strip()}", "      ")


def _hung(text: str, indent: str) -> list[str]:
    return textwrap.wrap(
        text, width(), subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )


def _money(amount: Fraction) -> str:
    return f"{round(amount * 100) / 100:.2f}"
