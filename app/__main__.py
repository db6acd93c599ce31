"""The command `gantrywright`: the window, or one of the commands that do their work in the terminal."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence

from app.cli.arguments import parser
from core.errors import GantrywrightError

GOOD, OVER_LIMIT, BAD_INPUT = 0, 1, 2


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command.

    Returns:
        0 when all is good, 1 when findings break a limit, 2 for bad input (said on standard error).
    """
    _tolerant_output()
    try:
        arguments = parser().parse_args(argv)
    except SystemExit as ended:  # argparse has said what it had to say
        return ended.code if isinstance(ended.code, int) else BAD_INPUT
    try:
        code = int(arguments.run(arguments))
        sys.stdout.flush()
        return code
    except GantrywrightError as error:
        print(f"gantrywright: {error}", file=sys.stderr)
        return BAD_INPUT
    except BrokenPipeError:
        # Whoever read the output has had enough (as `head` does); what is still buffered goes nowhere.
        _forget_output()
        return GOOD
    except KeyboardInterrupt:
        print("gantrywright: stopped.", file=sys.stderr)
        return 130


def _tolerant_output() -> None:
    """A terminal that lacks a character shows a stand-in for it instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def _forget_output() -> None:
    try:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except (OSError, ValueError):
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115  # stays open until the program ends


if __name__ == "__main__":
    sys.exit(main())
