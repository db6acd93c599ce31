"""Writes a file whole or not at all: a temporary file in the same folder, flushed to disk, then put in place.

Whatever fails on the way, the old file stays as it was and the temporary one is removed.
"""

from __future__ import annotations

import contextlib
import os
import stat
from pathlib import Path
from secrets import token_hex

from core.storage.errors import BadFile


def write_whole(path: str | Path, data: bytes) -> None:
    """Put `data` in the file at `path`, replacing it in one step.

    A link is followed, so that the file it names is replaced, and an existing file's permissions are kept.

    Raises:
        BadFile: the folder is missing, may not be written, is full, or the path is a folder.
    """
    named = Path(path)
    target = Path(os.path.realpath(named))
    if target.is_dir():
        raise BadFile(str(named), "This is a folder, not a file. Give a file name.")
    if not target.parent.is_dir():
        raise BadFile(str(named), f"The folder {target.parent} does not exist. Make it or choose another.")
    if target.exists() and not os.access(target, os.W_OK):
        raise BadFile(str(named), "The file is write-protected. Allow writing or choose another name.")
    temporary = target.parent / f".{target.name[:80]}.{token_hex(4)}.part"
    try:
        _write_and_flush(temporary, data, _mode(target))
        os.replace(temporary, target)
    except OSError as error:
        raise BadFile(str(named), _reason(error, target)) from error
    finally:
        with contextlib.suppress(OSError):
            temporary.unlink(missing_ok=True)
    _flush_folder(target.parent)


def _write_and_flush(file: Path, data: bytes, mode: int | None) -> None:
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    with os.fdopen(os.open(file, flags, 0o666), "wb") as stream:
        stream.write(data)
        stream.flush()
        os.fsync(stream.fileno())
    if mode is not None:
        os.chmod(file, mode)


def _mode(target: Path) -> int | None:
    return stat.S_IMODE(target.stat().st_mode) if target.exists() else None


def _flush_folder(folder: Path) -> None:
    """Make the new name itself durable, where the system can; the file is complete either way."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _reason(error: OSError, target: Path) -> str:
    if isinstance(error, PermissionError):
        return f"The folder {target.parent} may not be written to. Choose another folder."
    words = (error.strerror or str(error)).rstrip(".")
    return f"It could not be written: {words}. The file is as it was before."
