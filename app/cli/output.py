"""Writes a plan into a folder: verdict, JSON, tables as CSV, plots as SVG and PNG, each of them whole."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

from core.report import all_tables, csv_text, plan_json, verdict_lines
from core.storage import BadFile, write_whole

if TYPE_CHECKING:
    from core.study import Study


def write_plan(study: Study, folder: Path) -> list[Path]:
    """Write everything; gives the files in the order they were written.

    Raises:
        BadFile: the folder cannot be made or written to.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        words = error.strerror or str(error)
        raise BadFile(str(folder), f"This folder cannot be made: {words}. Choose another.") from error
    plan = study.plan
    contents: dict[str, bytes] = {
        "verdict.txt": ("\n".join(verdict_lines(plan, study)) + "\n").encode("utf-8"),
        "plan.json": (json.dumps(plan_json(plan, study), indent=2, allow_nan=False) + "\n").encode("utf-8"),
    }
    for name, table in all_tables(plan, study, study.findings).items():
        contents[f"{name}.csv"] = csv_text(table).encode("utf-8")
    from app.plots import plot_files  # the plotting library takes a moment to load

    contents.update(plot_files(plan))
    for name, data in contents.items():
        write_whole(folder / name, data)
    return [folder / name for name in contents]
