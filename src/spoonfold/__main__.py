"""`python -m spoonfold`."""

from spoonfold.cli import main

main(prog_name="spoonfold")
