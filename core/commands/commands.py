"""The commands: each is frozen data, makes a new project and says in words what it does."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Protocol

import msgspec

from core.commands.words import entry_label, row_words, value_at
from core.errors import BadEntry
from core.machine.project import Project, replace_at


class Command(Protocol):
    """A change to a project."""

    @property
    def merge_key(self) -> str | None:
        """Commands in a row with the same key are one step of the history; None always is its own step."""

    def apply(self, project: Project) -> Project:
        """The changed project. Raises BadEntry when the result would not be accepted."""

    def label(self, project: Project) -> str:
        """What the command does to this project, in words without full stop ("Change beam length")."""


@dataclass(frozen=True, slots=True)
class SetEntry:
    """Sets the entry at a dotted path; a new kind of section or drive is set whole."""

    path: str
    value: object

    @property
    def merge_key(self) -> str | None:
        return f"set {self.path}"

    def apply(self, project: Project) -> Project:
        return changed_at(project, self.path, self.value)

    def label(self, project: Project) -> str:
        return f"Change {entry_label(project, self.path)}"


class OwnStep:
    """A command that never merges with the one before it."""

    __slots__ = ()

    @property
    def merge_key(self) -> str | None:
        return None


@dataclass(frozen=True, slots=True)
class SetEntries(OwnStep):
    """Sets several entries that may only fit together: accepted as a whole or not at all.

    `words` is what the step is called, without full stop.
    """

    edits: tuple[tuple[str, object], ...]
    words: str

    def apply(self, project: Project) -> Project:
        changed: Any = project
        for path, value in self.edits[:-1]:
            try:
                changed = _unchecked(changed, path.split("."), value)
            except (AttributeError, TypeError) as error:
                raise _wrong_type(path, error) from error
        return changed_at(changed, *self.edits[-1]) if self.edits else project

    def label(self, project: Project) -> str:
        return self.words


@dataclass(frozen=True, slots=True)
class AddRow(OwnStep):
    """Puts a row into a list (load cases, variants); at the end when `index` is None."""

    path: str
    row: object
    index: int | None = None

    def apply(self, project: Project) -> Project:
        rows = _rows(project, self.path)
        at = len(rows) if self.index is None else min(max(self.index, 0), len(rows))
        return _with_rows(project, self.path, (*rows[:at], self.row, *rows[at:]))

    def label(self, project: Project) -> str:
        return f"Add {row_words(self.path)} {getattr(self.row, 'name', '')}".rstrip()


@dataclass(frozen=True, slots=True)
class RemoveRow(OwnStep):
    """Takes a row out of a list."""

    path: str
    index: int

    def apply(self, project: Project) -> Project:
        rows = _rows(project, self.path)
        check_index(self.path, self.index, rows)
        return _with_rows(project, self.path, rows[: self.index] + rows[self.index + 1 :])

    def label(self, project: Project) -> str:
        return _row_label("Remove", project, self.path, self.index)


@dataclass(frozen=True, slots=True)
class MoveRow(OwnStep):
    """Moves a row of a list to another place."""

    path: str
    index: int
    to: int

    def apply(self, project: Project) -> Project:
        rows = _rows(project, self.path)
        check_index(self.path, self.index, rows)
        check_index(self.path, self.to, rows)
        rest = rows[: self.index] + rows[self.index + 1 :]
        return _with_rows(project, self.path, (*rest[: self.to], rows[self.index], *rest[self.to :]))

    def label(self, project: Project) -> str:
        return _row_label("Move", project, self.path, self.index)


@dataclass(frozen=True, slots=True)
class ReplaceProject(OwnStep):
    """Puts another project in the place of this one, as one step that can be undone."""

    project: Project
    words: str = "Replace the project"

    def apply(self, project: Project) -> Project:
        return self.project

    def label(self, project: Project) -> str:
        return self.words


def changed_at(project: Project, path: str, value: object) -> Project:
    """A copy with one change; every value has its declared type, which copying alone does not see to."""
    try:
        return msgspec.convert(msgspec.to_builtins(replace_at(project, path, value)), Project)
    except msgspec.ValidationError as error:
        if isinstance(error.__cause__, BadEntry):
            raise error.__cause__ from error
        raise _wrong_type(path, error) from error
    except (AttributeError, LookupError, TypeError) as error:
        raise _wrong_type(path, error) from error


def _unchecked(struct: Any, steps: list[str], value: object) -> Any:
    """A copy that is not checked yet; the change that follows reads and checks the whole."""
    inner = value if len(steps) == 1 else _unchecked(getattr(struct, steps[0]), steps[1:], value)
    return msgspec.structs.replace(struct, **{steps[0]: inner})


def _wrong_type(path: str, error: Exception) -> BadEntry:
    return BadEntry(path, "this value", f"has the wrong type ({error})", "a value of the field's own type")


def _rows(project: Project, path: str) -> tuple[object, ...]:
    rows = value_at(project, path)
    if not isinstance(rows, tuple):
        raise BadEntry(path, "this entry", "is no list", "a list of rows, such as cases")
    return rows


def _with_rows(project: Project, path: str, rows: tuple[object, ...]) -> Project:
    return changed_at(project, path, rows)


def check_index(path: str, index: int, rows: tuple[object, ...]) -> None:
    if not 0 <= index < len(rows):
        accepted = f"a row from 0 to {len(rows) - 1}" if rows else "no row, for the list is empty"
        raise BadEntry(path, f"row {index}", "does not exist", accepted)


def _row_label(verb: str, project: Project, path: str, index: int) -> str:
    rows = _rows(project, path)
    name = getattr(rows[index], "name", "") if 0 <= index < len(rows) else ""
    return f"{verb} {row_words(path)} {name}".rstrip()
