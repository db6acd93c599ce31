"""Unsaved work in a file of its own, apart from the user's: which project, of which file, and when it was put aside.

The project stands in it as the text of a whole project file, so that an older one is brought up like any other.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

import msgspec

from core.machine.project import Project
from core.storage.errors import BadFile
from core.storage.projects import project_bytes, read_project

FORMAT = "gantrywright-recovery"
VERSION = 1


class _File(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    format: str
    version: int
    file: str | None
    put_aside: datetime
    content: str


@dataclass(frozen=True, slots=True)
class PutAside:
    """Unsaved work.

    Attributes:
        project: as it was. file: the project's own file, None when it had none. when: of the last change kept.
    """

    project: Project
    file: Path | None
    when: datetime


def recovery_bytes(kept: PutAside) -> bytes:
    """Content of a recovery file: UTF-8 JSON. Raises msgspec.MsgspecError or UnicodeEncodeError as `project_bytes`."""
    content = project_bytes(kept.project).decode("utf-8")
    file = None if kept.file is None else str(kept.file)
    return msgspec.json.encode(_File(FORMAT, VERSION, file, kept.when, content))


def read_recovery(data: bytes, name: str) -> PutAside:
    """The work in a recovery file's content; `name` is what errors call it.

    Raises:
        BadFile: it is damaged, no recovery file, or from a newer program.
    """
    try:
        found = msgspec.json.decode(data, type=_File)
    except (msgspec.MsgspecError, UnicodeDecodeError) as error:
        raise BadFile(name, f"This is no readable recovery file: {error}.") from error
    if found.format != FORMAT or found.version != VERSION:
        raise BadFile(name, "This recovery file is of another format or from a newer program.")
    project = read_project(found.content.encode("utf-8"), name)
    return PutAside(project, None if found.file is None else Path(found.file), found.put_aside)
