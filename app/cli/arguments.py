"""What can be typed behind `gantrywright`, and the help for it. Nothing here loads the engine: help has to be there at once."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.cli import commands, shop_arguments

_EXIT = "Exit codes: 0 good, 1 findings that break a limit, 2 bad input."


def parser() -> argparse.ArgumentParser:
    """The parser; each command's namespace holds its function as `run`."""
    top = argparse.ArgumentParser(
        prog="gantrywright",
        description="Plan a moving-gantry router: stiffness at the tool tip, sag, fasteners, parts. "
        "Without a command it opens its window on a demo project.",
        epilog=_EXIT,
    )
    top.set_defaults(run=commands.window_on_demo)
    group = top.add_subparsers(title="commands", metavar="COMMAND")

    opening = group.add_parser("open", help="open a project in the window")
    _project(opening)
    opening.set_defaults(run=commands.open_window)

    plan = group.add_parser("plan", help="verdict, tables and, on request, plots and files", epilog=_EXIT)
    _project(plan)
    plan.add_argument(
        "--out", metavar="DIR", type=Path, help="folder for plots, tables, verdict and plan.json"
    )
    plan.add_argument("--json", action="store_true", help="print the plan as JSON in SI instead of text")
    plan.set_defaults(run=commands.plan)

    shop_arguments.add_parts(group, _project, _EXIT)
    shop_arguments.add_import(group, _project)
    shop_arguments.add_drill(group, _project, _EXIT)
    shop_arguments.add_joints(group, _project, _EXIT)
    shop_arguments.add_interim(group, _project, _EXIT)
    shop_arguments.add_cutlist(group, _project, _EXIT)

    shims = group.add_parser("shims", help="shims under the rails for measured heights")
    _project(shims)
    shims.add_argument(
        "--readings",
        metavar="FILE",
        type=Path,
        help="measured heights: hole (#3) or place, then height; with the rail (1 or 2) in front",
    )
    shims.add_argument("--axis", choices=("x", "y"), default="x", help="whose rails the file is about")
    shims.add_argument("--csv", metavar="FILE", help="write the table as CSV; - for standard output")
    shims.set_defaults(run=commands.shims)

    compare = group.add_parser("compare", help="the variants side by side, what differs first", epilog=_EXIT)
    _project(compare)
    compare.add_argument(
        "--against", metavar="NAME", help="compare with this variant instead of the machine itself"
    )
    compare.add_argument(
        "--builds",
        choices=("size", "mass"),
        help="add two variants, extruded and welded, of near equal outer size or mass, for this once, and compare with the first",
    )
    compare.add_argument("--csv", metavar="FILE", help="write the figures as CSV; - for standard output")
    compare.add_argument(
        "--json", action="store_true", help="print the comparison as JSON in SI instead of text"
    )
    compare.set_defaults(run=commands.compare)

    rank = group.add_parser(
        "rank",
        help="which beam: every section of the catalogue in this machine, and which of them nothing beats",
        epilog=_EXIT,
    )
    _project(rank)
    rank.add_argument(
        "--by",
        choices=("moving-mass", "beam-mass", "height", "price"),
        default="moving-mass",
        help="what to weigh against the deflection; moving-mass without it",
    )
    rank.add_argument("--csv", metavar="FILE", help="write every beam tried as CSV; - for standard output")
    rank.add_argument("--json", action="store_true", help="print every beam tried as JSON in SI")
    rank.set_defaults(run=commands.rank)

    section = group.add_parser("section", help="properties of a closed outline out of a DXF drawing")
    section.add_argument("drawing", metavar="FILE.dxf", type=Path, help="the drawing, text or binary DXF")
    section.add_argument(
        "--unit",
        choices=("mm", "cm", "m", "in", "ft"),
        help="unit of the drawing; without it the drawing's own word counts",
    )
    section.add_argument(
        "--material", metavar="KEY", default="s235", help="for the mass per length; s235 without it"
    )
    section.add_argument(
        "--json", action="store_true", help="print the figures as JSON in SI instead of text"
    )
    section.set_defaults(run=commands.section)

    frame = group.add_parser("frame", help="the solved frame as JSON in SI, to be checked elsewhere")
    _project(frame)
    frame.add_argument(
        "--x", default="0", help="the tool's place along X; a bare number in the project's unit"
    )
    frame.add_argument("--y", default="0", help="the tool's place along Y")
    frame.set_defaults(run=commands.frame)
    return top


def _project(command: argparse.ArgumentParser) -> None:
    command.add_argument("project", metavar="PROJECT", type=Path, help="a project file")
