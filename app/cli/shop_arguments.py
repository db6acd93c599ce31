"""What can be typed behind the commands about buying, drilling, joining and cutting to length, and the help for it."""

from __future__ import annotations

from argparse import ArgumentTypeError
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from app.cli import commands

JOINT_TABLES = ("joints", "stacks", "screws", "limits", "slots", "nuts")
INTERIM_TABLES = ("rails", "order", "axes", "screws", "joints")
MOST_SECONDS = 3600.0


def add_parts(group: Any, project: Any, epilog: str) -> None:
    """The parser of `parts`; `project` adds the argument PROJECT."""
    parts = group.add_parser("parts", help="the bill of parts, with stock and money", epilog=epilog)
    project(parts)
    parts.add_argument("--csv", metavar="FILE", help="write the list as CSV; - for standard output")
    for kind in ("markdown", "html", "xlsx", "pdf"):
        parts.add_argument(f"--{kind}", metavar="FILE", help=f"write the list to share as {kind.upper()}")
    parts.set_defaults(run=commands.parts)


def add_import(group: Any, project: Any) -> None:
    """The parser of `import`."""
    into = group.add_parser(
        "import",
        help="prices or stock from a table (CSV, XLSX) into the project file",
        epilog="Exit codes: 0 every row taken or there already, 1 rows were left, 2 bad input.",
    )
    project(into)
    into.add_argument("file", metavar="FILE", type=Path, help="CSV or XLSX; columns are found by their names")
    into.add_argument("--into", choices=("prices", "stock"), required=True, help="what the table is about")
    into.add_argument("--replace", action="store_true", help="overwrite what is there and differs")
    into.add_argument(
        "--unknown", action="store_true", help="take prices that fit nothing in this project too"
    )
    into.add_argument("--dry-run", action="store_true", help="report only; the project file stays as it is")
    into.set_defaults(run=commands.import_table)


def add_drill(group: Any, project: Any, epilog: str) -> None:
    """The parser of `drill`; `project` adds the argument PROJECT."""
    drill = group.add_parser("drill", help="drilling and marking list of the rails", epilog=epilog)
    project(drill)
    drill.add_argument("--rail", metavar="KEY", help="only this rail (x_low, y_left, …); all without it")
    drill.add_argument("--from-end", action="store_true", help="count from the rail's other end")
    drill.add_argument("--csv", metavar="FILE", help="write the list as CSV; - for standard output")
    drill.add_argument("--dxf", metavar="FILE", help="write a drawing in DXF, in the project's unit")
    drill.add_argument("--pdf", metavar="FILE", help="write strips at full size, to be printed at 100 %%")
    drill.set_defaults(run=commands.drill)


def add_joints(group: Any, project: Any, epilog: str) -> None:
    """The parser of `joints`; `project` adds the argument PROJECT."""
    joints = group.add_parser(
        "joints", help="every joint of the frame: screws, torque, margins, T-nuts by slot", epilog=epilog
    )
    _table_arguments(joints, project, JOINT_TABLES)
    joints.set_defaults(run=commands.joints)


def add_interim(group: Any, project: Any, epilog: str) -> None:
    """The parser of `interim`."""
    interim = group.add_parser(
        "interim", help="which holes to fill and what may be moved with what has arrived", epilog=epilog
    )
    _table_arguments(interim, project, INTERIM_TABLES)
    interim.set_defaults(run=commands.interim)


def _table_arguments(command: Any, project: Any, tables: Sequence[str]) -> None:
    project(command)
    command.add_argument("--csv", metavar="FILE", help="write a table as CSV; - for standard output")
    command.add_argument(
        "--table",
        choices=tables,
        default=tables[0],
        help=f"which table the CSV holds; {tables[0]} without it",
    )
    command.add_argument("--json", action="store_true", help="print the whole answer as JSON in SI")


def add_cutlist(group: Any, project: Any, epilog: str) -> None:
    """The parser of `cutlist`; `project` adds the argument PROJECT."""

    def seconds(text: str) -> float:
        try:
            found = float(text)
        except ValueError:
            found = -1.0
        if not 0.0 <= found <= MOST_SECONDS:
            raise ArgumentTypeError(f"{text!r} is no time to search; 0 to {MOST_SECONDS:g} seconds")
        return found

    cuts = group.add_parser(
        "cutlist", help="bars to buy and how each is cut, fewest bars first, then least waste", epilog=epilog
    )
    project(cuts)
    cuts.add_argument(
        "--csv", metavar="FILE", help="write the order of cutting as CSV; - for standard output"
    )
    cuts.add_argument("--json", action="store_true", help="print the cut list as JSON in SI instead of text")
    cuts.add_argument(
        "--seconds",
        metavar="N",
        type=seconds,
        help="longest time to search (1.5 without it); what is not proven by then is told",
    )
    cuts.set_defaults(run=commands.cutlist)
