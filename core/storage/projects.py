"""Reads and writes project files, and says of a damaged one which line and field is at fault.

A file that an older version wrote is brought up by its step in `steps`; one from a newer version is refused unread.
"""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import msgspec

from core.errors import BadEntry
from core.machine.project import Project
from core.storage.errors import BadFile
from core.storage.positions import Path as Steps
from core.storage.positions import Places, dotted, find_places, line_and_column, path_of
from core.storage.steps import STEPS, BadStep
from core.storage.writer import write_whole

FORMAT = "gantrywright-project"
VERSION = 2
MOST_BYTES = 5_000_000

_POINTER = re.compile(r" - at `(?:key in )?(\$.*)`$", re.DOTALL)
_UNKNOWN = re.compile(r"unknown field `(.*?)`")
_MISSING = re.compile(r"missing required field `(.*?)`")


class _File(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    format: str
    version: int
    project: Project


def project_bytes(project: Project) -> bytes:
    """The file's content: UTF-8 JSON with every field, indented by two."""
    return msgspec.json.format(msgspec.json.encode(_File(FORMAT, VERSION, project)), indent=2) + b"\n"


def save_project(path: str | Path, project: Project) -> None:
    """Write a project file, whole or not at all.

    Raises:
        BadFile: it cannot be written there; an existing file is as it was before.
    """
    try:
        data = project_bytes(project)
    except (UnicodeEncodeError, msgspec.MsgspecError) as error:
        raise BadFile(
            str(path), "A name or note holds a character that no file can hold; take it out."
        ) from error
    write_whole(path, data)


def load_project(path: str | Path) -> Project:
    """Read a project file.

    Raises:
        BadFile: it cannot be read, is no project file, is from a newer version, or holds something that is
            not accepted; the error carries line and field.
    """
    return read_project(_read(Path(path)), str(path))


def read_project(data: bytes, name: str) -> Project:
    """The project in a file's content; `name` is what errors call it. Raises BadFile as `load_project`."""
    text = _decode(data, name)
    content, places = _parse(text, name)
    _check_header(content, text, places, name)
    try:
        if content["version"] in STEPS:
            return _older(msgspec.json.decode(text))  # refuses what is no text, such as half a letter
        return msgspec.json.decode(text, type=_File).project
    except BadStep as step:
        raise _located(step.error, text, places, name, ("project", *step.path)) from step
    except msgspec.MsgspecError as error:
        raise _located(error, text, places, name) from error
    except (ValueError, OverflowError, RecursionError) as error:
        raise BadFile(name, f"It holds something that cannot be used: {error}") from error


def _older(content: dict[str, Any]) -> Project:
    """The project in the file of an older version."""
    unknown = set(content) - set(_File.__struct_fields__)
    if unknown:
        raise msgspec.ValidationError(f"Object contains unknown field `{sorted(unknown)[0]}`")
    if "project" not in content:
        raise msgspec.ValidationError("Object missing required field `project`")
    if not isinstance(content["project"], dict):
        raise msgspec.ValidationError("Expected `object` - at `$.project`")
    return STEPS[content["version"]](content["project"])


def _read(path: Path) -> bytes:
    name = str(path)
    if path.is_dir():
        raise BadFile(name, "This is a folder, not a file. Give a project file.")
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except FileNotFoundError as error:
        raise BadFile(name, "There is no such file. Look at the name and the folder.") from error
    except PermissionError as error:
        raise BadFile(name, "You have no permission to read this file.") from error
    except (OSError, ValueError) as error:
        words = getattr(error, "strerror", None) or str(error)
        raise BadFile(name, f"It could not be read: {words}.") from error
    if len(data) > MOST_BYTES:
        raise BadFile(name, f"It is larger than {MOST_BYTES // 1_000_000} MB, so it is no project file.")
    return data


def _decode(data: bytes, name: str) -> str:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise BadFile(name, "This is not UTF-8 text, so it is no project file.", line) from error
    if not text.strip():
        raise BadFile(name, "The file is empty; a project file holds JSON text.")
    return text


def _parse(text: str, name: str) -> tuple[Any, Places]:
    try:
        content = json.loads(text)
    except json.JSONDecodeError as error:
        ended = error.pos >= len(text.rstrip()) or "Unterminated" in error.msg
        problem = (
            "The file ends too early; the rest of it is missing."
            if ended
            else f"The JSON text is damaged here: {error.msg[0].lower()}{error.msg[1:]}."
        )
        raise BadFile(name, problem, error.lineno, error.colno) from error
    except RecursionError as error:
        raise BadFile(name, "It is nested too deeply for a project file.") from error
    except ValueError as error:  # an integer of thousands of digits
        raise BadFile(name, "It holds a number with too many digits to be used.") from error
    places = find_places(text)
    for path, problem in _structural(places):
        raise _at(path, problem, text, places, name)
    return content, places


def _structural(places: Places) -> list[tuple[Steps, str]]:
    faults: list[tuple[Steps, str]] = []
    if places.too_deep is not None:
        return [(places.too_deep[:8], "It is nested too deeply for a project file.")]
    for path in places.repeated:
        faults.append((path, "This field stands twice in one place; keep one of the two."))
    for path in places.no_numbers:
        faults.append((path, "This is not a number that can be used. Accepted: a finite number."))
    return faults


def _check_header(content: Any, text: str, places: Places, name: str) -> None:
    if not isinstance(content, dict) or content.get("format") != FORMAT:
        found = content.get("format") if isinstance(content, dict) else None
        said = f'its format is "{found}"' if isinstance(found, str) else "it names no format"
        problem = f'This is not a Gantrywright project: {said}, where "{FORMAT}" is accepted.'
        raise _at(("format",), problem, text, places, name)
    version = content.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        problem = f"The version must be a whole number from 1 to {VERSION}."
        raise _at(("version",), problem, text, places, name)
    if version > VERSION:
        problem = (
            f"It was written by a newer program (file version {version}; this one reads up to {VERSION}). "
            "Update Gantrywright to open it."
        )
        raise _at(("version",), problem, text, places, name)


def _located(error: Exception, text: str, places: Places, name: str, above: Steps = ()) -> BadFile:
    """The decoder's complaint with the place it means, in our words where we know better ones.

    `above` is where what was decoded stands in the file.
    """
    message = str(error)
    pointer = _POINTER.search(message)
    path = (*above, *(path_of(pointer.group(1)) if pointer else ()))
    said = message[: pointer.start()] if pointer else message
    cause = error.__cause__
    if isinstance(cause, BadEntry):
        path = _deeper(path, cause.where, places)
        said = f"{cause.value} {cause.problem}. Accepted: {cause.accepted}"
    elif unknown := _UNKNOWN.search(said):
        path = (*path, unknown.group(1))
        said = "This program knows no such field; look at the spelling or take it out"
    elif missing := _MISSING.search(said):
        said = f'The field "{missing.group(1)}" is missing here'
    return _at(path, said.rstrip(".") + ".", text, places, name)


def _deeper(path: Steps, where: str, places: Places) -> Steps:
    """The path with the entry that the check named, when the file holds one there."""
    steps: Steps = tuple(int(s) if s.isdigit() else s for s in where.split("."))
    for count in range(len(steps), 0, -1):
        if (*path, *steps[:count]) in places.offset:
            return (*path, *steps[:count])
    first = where.split(",")[0].strip()
    return (*path, first) if (*path, first) in places.offset else path


def _at(path: Steps, problem: str, text: str, places: Places, name: str) -> BadFile:
    """An error at a path, or at the nearest enclosing value that the file holds."""
    known = path
    while known and known not in places.offset:
        known = known[:-1]
    line, column = line_and_column(text, places.offset.get(known, 0))
    return BadFile(name, problem, line, column, dotted(path))
