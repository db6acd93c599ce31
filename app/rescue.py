"""Keeps unsaved work in a recovery file of its own, and finds what an earlier window could not save.

The user's file is never touched. The recovery file goes when the work was saved or knowingly given up; a window that
ended in any other way leaves it, and the next one offers it.
"""

from __future__ import annotations

import contextlib
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from uuid import uuid4

import msgspec
from PySide6.QtCore import QLockFile, QObject, QStandardPaths, QTimer, Signal

from app.session import Session
from core.storage import BadFile, write_whole
from core.storage.recovery import PutAside, read_recovery, recovery_bytes

DELAY = 2000
"""Milliseconds from a change to its being kept; a burst of keystrokes is kept once."""


def rescue_folder() -> Path:
    """Where the system wants such files; it need not exist."""
    place = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericDataLocation)
    return Path(place) / "gantrywright" / "recovery"


@dataclass(frozen=True, slots=True)
class Found:
    """Work that an earlier window left, and the file that keeps it."""

    file: Path
    work: PutAside


class Rescue(QObject):
    """Watches a session.

    Signals:
        troubled(sentence): the work cannot be kept; told once.
    """

    troubled = Signal(str)

    def __init__(self, session: Session, folder: Path | None = None, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._folder = folder or rescue_folder()
        self._file = self._folder / f"{uuid4().hex}.json"
        self._lock: QLockFile | None = None
        self._told = False
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(DELAY)
        self._timer.timeout.connect(self.keep)
        session.state_changed.connect(self._watch)

    def _watch(self) -> None:
        if self._session.modified:
            if not self._timer.isActive():
                self._timer.start()
        else:
            self._timer.stop()
            self._file.unlink(missing_ok=True)

    def keep(self) -> None:
        """Write the work down now."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            if self._lock is None:
                self._lock = _lock_of(self._file)
                self._lock.tryLock(0)
            kept = PutAside(self._session.project, self._session.path, datetime.now().astimezone())
            write_whole(self._file, recovery_bytes(kept))
        except (OSError, BadFile, UnicodeEncodeError, msgspec.MsgspecError) as error:
            if not self._told:
                self._told = True
                self.troubled.emit(f"Unsaved work cannot be kept for a recovery: {error}")

    def found(self) -> list[Found]:
        """Work that no running window holds, the newest first; what cannot be read is left where it is."""
        kept = []
        for file in sorted(self._folder.glob("*.json")):
            if file == self._file or not _is_left(file):
                continue
            with contextlib.suppress(OSError, BadFile):
                kept.append(Found(file, read_recovery(file.read_bytes(), str(file))))
        return sorted(kept, key=lambda found: found.work.when, reverse=True)

    def take(self, found: Found) -> None:
        """Go on with the work; it counts as unsaved, and its old file goes once it is kept anew."""
        self._session.resume(found.work.project, found.work.file)
        self.keep()
        if self._file.exists():
            self.throw_away(found)

    @staticmethod
    def throw_away(found: Found) -> None:
        found.file.unlink(missing_ok=True)
        found.file.with_suffix(".lock").unlink(missing_ok=True)

    def close(self) -> None:
        """The window closes of its own will: whatever was to be saved has been, so nothing is kept."""
        self._timer.stop()
        self._file.unlink(missing_ok=True)
        if self._lock is not None:
            self._lock.unlock()


def _lock_of(file: Path) -> QLockFile:
    lock = QLockFile(str(file.with_suffix(".lock")))
    lock.setStaleLockTime(0)  # the lock stays good as long as its program lives, however long that is
    return lock


def _is_left(file: Path) -> bool:
    lock = _lock_of(file)
    free = lock.tryLock(0)  # also when the program that held it is dead
    if free:
        lock.unlock()
    return free
