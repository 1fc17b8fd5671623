"""The commands: arguments, printing, exit codes; nothing else. One file a command."""

from __future__ import annotations

import gc
import sys
from typing import Any

import click

from spoonfold import __version__
from spoonfold.cli.ask import ask
from spoonfold.cli.bring import bring
from spoonfold.cli.build import build
from spoonfold.cli.change import change
from spoonfold.cli.check import check
from spoonfold.cli.clock import clock
from spoonfold.cli.common import DONE as DONE
from spoonfold.cli.common import EXIT_CODES
from spoonfold.cli.common import NOT_HERE as NOT_HERE
from spoonfold.cli.common import PROBLEMS as PROBLEMS
from spoonfold.cli.common import STOPPED as STOPPED
from spoonfold.cli.common import WRONG_USE as WRONG_USE
from spoonfold.cli.ending import machine_faults_told, stoppable
from spoonfold.cli.fit import fit
from spoonfold.cli.guide import guide
from spoonfold.cli.mend import mend
from spoonfold.cli.new import new
from spoonfold.cli.pantry import pantry
from spoonfold.cli.preview import preview
from spoonfold.cli.scale import scale
from spoonfold.cli.schema import schema
from spoonfold.cli.shop import shop
from spoonfold.cli.start import start
from spoonfold.cli.why import why
from spoonfold.cli.worksheet import worksheet


class _Commands(click.Group):
    """Commands that end in words and an exit code, whatever the machine or the terminal does."""

    def main(self, *args: Any, **named: Any) -> Any:
        """Runs the command that was typed, and ends the process."""
        with machine_faults_told():
            return super().main(*args, **named)

    def invoke(self, ctx: click.Context) -> Any:
        """Runs a command."""
        try:
            with stoppable():
                return super().invoke(ctx)
        except (KeyboardInterrupt, click.Abort):
            click.echo("\nStopped. What was there before is still there.", err=True)
            sys.exit(STOPPED)


@click.group(
    cls=_Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    epilog=EXIT_CODES,
)
@click.version_option(__version__, prog_name="spoonfold")
def main() -> None:
    """Turn one folder of recipes into every sheet that a cooking class needs."""
    # Nearly nothing that a command makes is garbage before it ends: looking for it in vain
    # took a sixth of the time of `check`.
    gc.set_threshold(500_000, 50, 1_000)


for command in (
    check,
    mend,
    ask,
    build,
    change,
    scale,
    why,
    shop,
    clock,
    fit,
    start,
    new,
    schema,
    pantry,
    bring,
    worksheet,
    preview,
    guide,
):
    main.add_command(command)
