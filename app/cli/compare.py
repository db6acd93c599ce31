"""The compare command: every variant answered whole, what differs first, one sentence for each."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from typing import TYPE_CHECKING, Any

import msgspec

from app.cli.solving import with_sections
from core.comparison import By, ComparisonAnswer, fair_pair, find_comparison
from core.errors import BadEntry
from core.machine.layout import layout
from core.plan import Plan, make_plan
from core.report import comparison_lines, csv_text
from core.report.study.comparison import comparison_json, variants_json, variants_table
from core.storage import load_project, write_whole

if TYPE_CHECKING:
    from core.machine.project import Project
    from core.sections import PropertyBook


def compare(arguments: Namespace) -> int:
    """Print the comparison or write it as CSV. 1 when the machine itself breaks a limit."""
    project = load_project(arguments.project)
    plan, answer = with_sections(lambda book: _answer(project, book, arguments.builds))
    against = _against(answer, arguments.against, arguments.builds is not None)
    units = project.units
    if arguments.json:
        print(json.dumps(_json(plan, answer, against), indent=2, allow_nan=False))
    elif arguments.csv == "-":
        sys.stdout.write(csv_text(variants_table(answer, units)))
    elif arguments.csv is not None:
        write_whole(arguments.csv, csv_text(variants_table(answer, units)).encode("utf-8"))
        print(f"Written: {arguments.csv}")
    else:
        print("\n".join(comparison_lines(answer, units, against)))
    return 1 if any(finding.severity == "limit" for finding in plan.findings) else 0


def _answer(project: Project, book: PropertyBook, builds: str | None) -> tuple[Plan, ComparisonAnswer]:
    if builds is not None:
        by: By = "mass" if builds == "mass" else "outer size"
        pair = fair_pair(project, layout(project.machine, book), by, book)
        project = msgspec.structs.replace(project, variants=(*project.variants, *pair))
    plan = make_plan(project, book)
    answer = find_comparison(plan, book)
    assert answer is not None  # only a comparison that may be overtaken can stop
    return plan, answer


def _against(answer: ComparisonAnswer, name: str | None, pair: bool) -> int:
    """The row of the machine to compare with; of a ready pair, which stands last, its first."""
    if name is None:
        return len(answer.names) - 2 if pair else 0
    if name not in answer.names:
        raise BadEntry("--against", repr(name), "is no variant of this project", ", ".join(answer.names))
    return answer.names.index(name)


def _json(plan: Plan, answer: ComparisonAnswer, against: int) -> dict[str, Any]:
    return {
        "format": "gantrywright-comparison",
        "version": 1,
        "project": plan.project.name,
        "against": answer.names[against],
        "variants": variants_json(answer, plan.project.units, against),
        **comparison_json(answer),
    }
