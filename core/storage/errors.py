"""What is said of a file that cannot be read or written: which file, which line, which field, and why."""

from __future__ import annotations

from core.errors import GantrywrightError


class BadFile(GantrywrightError):
    """A file that cannot be read or written.

    Args:
        file: the file, as the user named it.
        problem: a full sentence saying what is wrong and what would be accepted.
        line: line of the culprit, from 1, if there is one.
        column: column of the culprit, from 1, if there is one.
        field: dotted path of the culprit inside the file ("project.machine.work.travel_x").
    """

    def __init__(
        self, file: str, problem: str, line: int | None = None, column: int | None = None, field: str = ""
    ) -> None:
        self.file = file
        self.problem = problem
        self.line = line
        self.column = column
        self.field = field
        places = [f"line {line}"] if line is not None else []
        places += [f"column {column}"] if column is not None else []
        places += [f"field {field}"] if field else []
        where = f" ({', '.join(places)})" if places else ""
        super().__init__(f"{file}{where}: {problem}")
