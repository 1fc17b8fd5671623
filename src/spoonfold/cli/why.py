"""`spoonfold why`."""

from __future__ import annotations

import click

from spoonfold.cli.common import EXIT_CODES, WRONG_USE, say, stop, width


@click.command(
    short_help="Explain CODE, the word behind a problem.",
    epilog="\b\nExamples:\n  spoonfold why heat-too-low\n  spoonfold why never-used\n\n"
    + EXIT_CODES,
)
@click.argument("code")
def why(code: str) -> None:
    """Explain CODE: what is looked for, why, its published source, how to satisfy it.

    CODE is the word that check prints behind error, warning or hint.
    """
    from spoonfold.cli import report
    from spoonfold.knowledge.reasons import near_codes, reasons

    found = reasons().get(code.casefold())
    if found is None:
        near = near_codes(code)
        stop(
            WRONG_USE,
            f"No problem has the code {code}.",
            f"Did you mean {' or '.join(near)}?"
            if near
            else "spoonfold check prints the code of each problem behind its level.",
        )
    say(found.code)
    say("")
    say(
        report.explained(
            (
                ("What is looked for", found.looks_for),
                ("Why", found.why),
                ("Source", found.source),
                ("How to satisfy it", found.mend),
            ),
            width(),
        )
    )
