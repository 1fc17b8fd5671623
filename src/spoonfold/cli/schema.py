"""`spoonfold schema`."""

from __future__ import annotations

from pathlib import Path

import click

from spoonfold.cli.common import EXIT_CODES, WRONG_USE, stop
from spoonfold.cli.wrapped import refuse, tell


@click.command(
    epilog="\b\nExamples:\n  spoonfold schema --out schemas\n  spoonfold schema > schemas.json\n\n"
    + EXIT_CODES
)
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=None,
    show_default="printed, all in one object",
    help="A folder for one file for each kind; made where it isn't there.",
)
@click.option(
    "--problems", is_flag=True, help="Print the schema of what spoonfold check --json prints."
)
def schema(out: Path | None, problems: bool) -> None:
    """Make JSON Schemas for your editor.

    By them it knows every key that may be written, and what it is for. They are made from the
    same tables by which your files are read: one for the header of a recipe, one for each YAML
    file, and so on. JSON Schema is an open standard, draft 2020-12.
    """
    import json

    from spoonfold.author.schema import FILES, schema_of, write_schemas
    from spoonfold.author.written import Refused
    from spoonfold.cli.for_programs import schema_text

    if problems:
        if out is not None:
            stop(
                WRONG_USE,
                "The schema of the problems is printed, not put into a folder.",
                "For example: spoonfold schema --problems > problems.schema.json",
            )
        click.echo(schema_text(), nl=False)
        return
    if out is None:
        click.echo(
            json.dumps({each.name: schema_of(each) for each in FILES}, ensure_ascii=False, indent=2)
        )
        return
    made = write_schemas(out)
    if isinstance(made, Refused):
        refuse(WRONG_USE, made)
    longest = max(len(each.name) for each in FILES)
    tell(
        f"Made {len(made)} schemas in {out}:",
        "\n".join(
            f"  {f'{each.name}.schema.json':<{longest + 12}}  {each.files}"
            + (" (its header)" if each.header else "")
            for each in FILES
        ),
        "Next, tell your editor which schema belongs to which file. Many editors read it from the "
        "first line of a YAML file; in content/class.yaml, for example:",
        f"  # yaml-language-server: $schema=../{out.name}/class.schema.json",
    )
