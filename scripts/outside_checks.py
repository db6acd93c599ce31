"""Writes the table of checks against the outside world from the `outside` marks of the tests.

Reads the marks from the source text, so that nothing has to be imported. `--check` writes nothing and fails
when the table is out of date. Results that no outside check covers are named, with the reason, in
tests/validation/unchecked.csv (columns what, why).
"""

from __future__ import annotations

import argparse
import ast
import csv
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FIELDS = ("what", "source", "status", "tolerance")
STATUSES = {
    "found": "seen in a public source",
    "computed": "recomputed with independent code",
    "memory high": "from memory, sure",
    "reference library": "a general-purpose library run beside ours in the test",
}


class BadMark(Exception):
    """A mark that the table cannot be made from; the text names file, line and remedy."""


@dataclass(frozen=True)
class OutsideCheck:
    """One check against the outside world, as its mark describes it."""

    what: str
    source: str
    status: str
    tolerance: str
    test: str
    path: str


def is_outside_mark(node: ast.AST) -> bool:
    """Whether the expression is pytest.mark.outside, bare or called."""
    target = node.func if isinstance(node, ast.Call) else node
    return (
        isinstance(target, ast.Attribute)
        and target.attr == "outside"
        and isinstance(target.value, ast.Attribute)
        and target.value.attr == "mark"
    )


def read_mark(node: ast.AST, path: str, test: str) -> OutsideCheck:
    """The check that one mark describes.

    Raises:
        BadMark: if a keyword is missing, unknown, empty or no plain string, or the status is none of ours.
    """
    place = f"{path}:{getattr(node, 'lineno', 0)}"
    if not isinstance(node, ast.Call) or node.args:
        raise BadMark(f"{place}: the outside mark takes exactly the keywords {', '.join(FIELDS)}")
    values: dict[str, str] = {}
    for keyword in node.keywords:
        value = keyword.value.value if isinstance(keyword.value, ast.Constant) else None
        if keyword.arg not in FIELDS or not isinstance(value, str) or not value.strip():
            raise BadMark(
                f"{place}: {keyword.arg} must be one of {', '.join(FIELDS)} and a plain, filled string"
            )
        values[keyword.arg] = value
    missing = [field for field in FIELDS if field not in values]
    if missing:
        raise BadMark(f"{place}: the outside mark lacks {', '.join(missing)}")
    if values["status"] not in STATUSES:
        raise BadMark(f"{place}: status {values['status']!r} is not one of {', '.join(STATUSES)}")
    return OutsideCheck(test=test, path=path, **values)


def marks_in(tree: ast.Module) -> Iterator[tuple[ast.expr, str]]:
    """Every outside mark of a module with the name of what it marks, in the order of the source."""
    owners: dict[int, str] = {}
    for owner in ast.walk(tree):
        if isinstance(owner, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            # ast.walk goes from the outside in, so an inner owner's name replaces the outer one's.
            for decorator in owner.decorator_list:
                owners.update((id(part), owner.name) for part in ast.walk(decorator))
    called = {id(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
    found = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Call | ast.Attribute) and is_outside_mark(node) and id(node) not in called
    ]
    for node in sorted(found, key=lambda mark: (mark.lineno, mark.col_offset)):
        yield node, owners.get(id(node), "the whole module")


def collect(root: Path) -> list[OutsideCheck]:
    """All outside checks under root/tests, by file and then by line.

    Raises:
        BadMark: if a mark is faulty or stands outside tests/validation.
    """
    checks = []
    for file in sorted((root / "tests").rglob("*.py")):
        path = file.relative_to(root).as_posix()
        for node, test in marks_in(ast.parse(file.read_text(encoding="utf-8"), filename=path)):
            if not path.startswith("tests/validation/"):
                raise BadMark(f"{path}:{node.lineno}: outside checks live in tests/validation")
            checks.append(read_mark(node, path, test))
    return checks


def unchecked(root: Path) -> list[tuple[str, str]]:
    """Results that no outside check covers, each with the reason."""
    file = root / "tests" / "validation" / "unchecked.csv"
    if not file.exists():
        return []
    with file.open(encoding="utf-8", newline="") as text:
        return [(row["what"], row["why"]) for row in csv.DictReader(text)]


def cell(text: str) -> str:
    """Text made fit for one cell of a Markdown table."""
    return " ".join(text.split()).replace("|", "\\|")


def table(checks: list[OutsideCheck], without: list[tuple[str, str]]) -> str:
    """The whole Markdown document."""
    counts = Counter(check.status for check in checks)
    lines = [
        "# Checks against the outside world",
        "",
        "Generated from the tests by `make docs`; do not edit. Each row is one test that holds our",
        "figures against a published value or an independent library.",
        "",
        "| status | meaning | checks |",
        "| --- | --- | --- |",
        *(f"| {status} | {meaning} | {counts[status]} |" for status, meaning in STATUSES.items()),
        "",
        "| what | source | status | tolerance | test |",
        "| --- | --- | --- | --- | --- |",
    ]
    for check in checks:
        name = Path(check.path).name
        cells = [cell(check.what), cell(check.source), check.status, cell(check.tolerance)]
        lines.append(f"| {' | '.join(cells)} | [{name}]({name}) {check.test} |")
    if without:
        lines += ["", "## Results without an outside check", "", "| what | why |", "| --- | --- |"]
        lines += [f"| {cell(what)} | {cell(why)} |" for what, why in without]
    return "\n".join(lines) + "\n"


def main(arguments: list[str] | None = None) -> int:
    """Entry point; returns the exit status."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument(
        "--check", action="store_true", help="write nothing; fail when the table is out of date"
    )
    parser.add_argument("--root", type=Path, default=ROOT, help="the project's folder")
    chosen = parser.parse_args(arguments)
    target = chosen.root / "tests" / "validation" / "CHECKS.md"
    try:
        text = table(collect(chosen.root), unchecked(chosen.root))
    except BadMark as problem:
        print(problem, file=sys.stderr)
        return 1
    if not chosen.check:
        target.write_text(text, encoding="utf-8", newline="\n")
        return 0
    if target.exists() and target.read_text(encoding="utf-8") == text:
        return 0
    print("tests/validation/CHECKS.md is out of date; write it again with: make docs", file=sys.stderr)
    return 1


if __name__ == "__main__":
    sys.exit(main())
