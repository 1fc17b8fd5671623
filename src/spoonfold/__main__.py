"""`python -m spoonfold`, and what the command `spoonfold` begins with."""

import signal


def run() -> None:
    """Runs the command. Until it listens itself, Ctrl-C ends the process as the system does,
    without a traceback; where it is ignored, as in the background of a shell, it stays so."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    from spoonfold.cli import main

    main(prog_name="spoonfold")


if __name__ == "__main__":
    run()
