"""Opens a drawing for the engine, which takes bytes and knows no files."""

from __future__ import annotations

from pathlib import Path

from core.sections.dxf_reading import MOST_BYTES
from core.storage import BadFile


def read_bytes(file: Path) -> bytes:
    """The file's bytes, no more than the engine takes and one. Raises BadFile."""
    try:
        with file.open("rb") as stream:
            return stream.read(MOST_BYTES + 1)
    except OSError as error:
        words = error.strerror or str(error)
        raise BadFile(str(file), f"The drawing cannot be opened: {words}.") from error
