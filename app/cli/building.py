"""The joints and interim commands: every joint with its screws and T-nuts, and what may be done with what has arrived."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from app.cli.solving import with_sections
from core.report import Table, csv_text, table_lines
from core.storage import load_project, write_whole

if TYPE_CHECKING:
    from core.fasteners.interim import InterimAnswer
    from core.fasteners.slots import SlotsAnswer
    from core.fasteners.strength import JointsAnswer
    from core.findings import Finding
    from core.machine.project import Project
    from core.plan import Plan
    from core.sections import PropertyBook

SHORT = frozenset(
    {
        "Preload",
        "Washers",
        "What the kind wants",
        "Bars",
        "Slots alike",
        "Thread",
        "Holes to fill now",
        "Still to fit",
    }
    | {f"{does} at, {side}" for does in ("Slips", "Opens") for side in ("low", "high")}
    | {
        "The same, likely",
        "The same, high",
        "If rails took none",
        "Least when",
        "Fatigue limit at, low",
        "Plate bends at",
        "In at the start",
        "In at the end",
    }
)
"""Columns that a terminal leaves out; the files hold them."""
WEIGHT = {"limit": "Over a limit", "warning": "Look at", "note": "Note"}
CAUTION = (
    "An interim state, never done: no spindle, no cutting, nobody under a beam or in the gantry's way, a helper at the switch. "
    "What is not listed here is not to be moved."
)


def joints_command(arguments: Namespace) -> int:
    """Print every joint, or write it. 1 when a joint or a T-nut breaks a limit."""
    from core.report.joint_words import joints_headline
    from core.report.study.joints import joints_json, joints_table, limits_table, patterns_table, stacks_table
    from core.report.study.slots import loading_table, slots_json, slots_table

    project = load_project(arguments.project)
    found, slots, told = with_sections(lambda book: _joints(project, book))
    units = project.units
    tables = {
        "joints": lambda: joints_table(found, units),
        "stacks": lambda: stacks_table(found, units),
        "screws": lambda: patterns_table(found, units),
        "limits": lambda: limits_table(found, units),
        "slots": lambda: slots_table(slots, units),
        "nuts": lambda: loading_table(slots, units),
    }
    if arguments.json:
        head = {"format": "gantrywright-joints", "version": 1, "project": project.name}
        print(
            json.dumps({**head, **joints_json(found), "t_nuts": slots_json(slots)}, indent=2, allow_nan=False)
        )
    if arguments.csv is not None:
        _write(arguments, tables[arguments.table]())
    if not arguments.json and arguments.csv is None:
        print(joints_headline(found).words)
        _print([tables["joints"](), *([tables["slots"]()] if slots.slots else [])])
        _tell(told, sys.stdout)
    else:
        _tell(told, sys.stderr)
    return 1 if any(finding.severity == "limit" for finding in told) else 0


def interim_command(arguments: Namespace) -> int:
    """Print the plan for what has arrived, or write it. 1 when a finding breaks a limit."""
    from core.report.study.interim import (
        axes_table,
        interim_headline,
        interim_json,
        interim_table,
        kinds_table,
        offers_table,
        offers_words,
        order_table,
    )

    project = load_project(arguments.project)
    found = with_sections(lambda book: _interim(project, book))
    units = project.units
    tables = {
        "rails": lambda: interim_table(found, units),
        "order": lambda: order_table(found, units),
        "axes": lambda: axes_table(found, units),
        "screws": lambda: kinds_table(found, units),
        "joints": lambda: offers_table(found, units),
    }
    if arguments.json:
        head = {"format": "gantrywright-interim", "version": 1, "project": project.name}
        print(json.dumps({**head, **interim_json(found)}, indent=2, allow_nan=False))
    if arguments.csv is not None:
        _write(arguments, tables[arguments.table]())
    if not arguments.json and arguments.csv is None:
        print(interim_headline(found).words)
        if found.recorded:
            _print([table for name in ("axes", "rails") if (table := tables[name]()).rows])
            print("\nHoles to fill, in this order")
            for rail in found.rails:
                print(f"{rail.label}: {', '.join(str(n) for n in rail.now) or 'none'}")
            some = replace(
                found, offers=tuple(o for o in found.offers if o.shared or any(n > 0 for _, n in o.left))
            )
            _print([tables["screws"](), *([offers_table(some, units)] if some.offers else [])])
            print(f"\n{offers_words(found)}")
            _tell(found.findings, sys.stdout)
            print(f"\n{CAUTION}")
    else:
        _tell(found.findings, sys.stderr)
    return 1 if any(finding.severity == "limit" for finding in found.findings) else 0


def _begun(project: Project, book: PropertyBook) -> tuple[Plan, Any]:
    from core.model.setting import Setting
    from core.plan import begin_plan

    plan = begin_plan(project, book)
    return plan, Setting(project.machine, plan.layout, "likely", book)


def _joints(project: Project, book: PropertyBook) -> tuple[JointsAnswer, SlotsAnswer, tuple[Finding, ...]]:
    """Joints, slots, and all that is found about both."""
    from core.fasteners.slots import find_slots
    from core.fasteners.strength import find_joints

    plan, setting = _begun(project, book)
    stands = plan.stiffness is not None
    found = find_joints(setting, project, plan.joints, plan.rails, stands=stands)
    slots = find_slots(project, plan.layout, plan.rails, plan.joints)
    own = [finding for finding in plan.findings if finding.where.startswith("machine.joints")]
    return found, slots, (*own, *found.findings, *slots.findings)


def _interim(project: Project, book: PropertyBook) -> InterimAnswer:
    from core.fasteners.interim import find_interim

    plan, setting = _begun(project, book)
    solved = plan.stiffness is not None
    return find_interim(
        setting, project, plan.rails, plan.under, solved, joints=plan.joints, parts=plan.parts
    )


def _write(arguments: Namespace, table: Table) -> None:
    if arguments.csv == "-":
        sys.stdout.write(csv_text(table))
        return
    write_whole(arguments.csv, csv_text(table).encode("utf-8"))
    print(f"Written: {arguments.csv}", file=sys.stderr if arguments.json else sys.stdout)


def _print(tables: Sequence[Table]) -> None:
    for table in tables:
        print()
        print("\n".join(table_lines(_short(table))))


def _short(table: Table) -> Table:
    kept = [k for k, column in enumerate(table.columns) if column.header not in SHORT]
    rows = tuple(tuple(row[k] for k in kept) for row in table.rows)
    return replace(table, columns=tuple(table.columns[k] for k in kept), rows=rows)


def _tell(findings: Sequence[Finding], stream: Any) -> None:
    for finding in findings:
        print(f"\n{WEIGHT[finding.severity]}: {finding.message}", file=stream)
