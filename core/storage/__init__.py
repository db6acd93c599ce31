"""Project files: human-readable JSON with a format name and a version, written whole or not at all.

Values are plain SI numbers; the unit of each field stands in its declaration and in DEVELOPERS.md.
"""

from __future__ import annotations

from core.storage.errors import BadFile
from core.storage.projects import FORMAT, VERSION, load_project, project_bytes, read_project, save_project
from core.storage.writer import write_whole

__all__ = [
    "FORMAT",
    "VERSION",
    "BadFile",
    "load_project",
    "project_bytes",
    "read_project",
    "save_project",
    "write_whole",
]
