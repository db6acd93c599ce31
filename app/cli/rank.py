"""The rank command: every section of the catalogue as the gantry beam, and which of them nothing beats."""

from __future__ import annotations

import json
import sys
from argparse import Namespace

from app.cli.solving import with_sections
from core.errors import GantrywrightError
from core.rank import RankAnswer, best, find_rank
from core.report import csv_text
from core.report.rank import rank_json, rank_lines, rank_table
from core.storage import load_project, write_whole


def rank(arguments: Namespace) -> int:
    """Print the verdict and the best, or write every beam. 1 when the machine's own beam breaks a limit or cannot be used."""
    project = load_project(arguments.project)
    answer = with_sections(
        lambda book: find_rank(project, book, tell=_tell if _watched() else None, ask=True)
    )
    if answer is None:  # only a ranking that may be overtaken can stop
        raise GantrywrightError("The ranking stopped.")
    units, cost = project.units, arguments.by.replace("-", "_")
    marked = best(answer, cost, None, answer.fits)
    if arguments.json:
        print(json.dumps(rank_json(answer), indent=2, allow_nan=False))
    elif arguments.csv == "-":
        sys.stdout.write(csv_text(rank_table(answer, units, marked)))
    elif arguments.csv is not None:
        write_whole(arguments.csv, csv_text(rank_table(answer, units, marked)).encode("utf-8"))
        print(f"Written: {arguments.csv}")
    else:
        print("\n".join(rank_lines(answer, units, cost)))
    return _code(answer)


def _code(answer: RankAnswer) -> int:
    return 0 if answer.fits[0] and answer.holds[0] else 1


def _watched() -> bool:
    """Whether somebody sees how far it is: a terminal, not a file."""
    return sys.stderr.isatty()


def _tell(done: int, count: int) -> None:
    end = "\n" if done == count else ""
    print(f"\rBeams tried: {done} of {count}", end=end, file=sys.stderr, flush=True)
