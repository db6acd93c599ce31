"""Has a section analysed by another process, so that the window lives on, and keeps the figures on disk."""

from __future__ import annotations

import sys
from typing import Any

import msgspec
from PySide6.QtCore import QElapsedTimer, QObject, QProcess, QTimer, Signal

from app.cache import section_cache
from core.sections import PropertyBook, SectionProperties
from core.sections.book import load_cache, save_cache, stock_book

ARGUMENTS = ("-m", "core.sections.analyse_cli")


class SectionAnalysis(QObject):
    """One analysis at a time; the newest wish wins.

    Signals:
        done(): the book holds the section now.
        failed(sentence): it could not be analysed.
        ticked(): another second has gone by.
    """

    done = Signal()
    failed = Signal(str)
    ticked = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._since = QElapsedTimer()
        self._clock = QTimer(self)
        self._clock.setInterval(1000)
        self._clock.timeout.connect(self._tick)
        self._book: PropertyBook = load_cache(section_cache(), stock_book())
        self._section: Any = None
        self._process: QProcess | None = None

    @property
    def running(self) -> bool:
        return self._process is not None

    @property
    def seconds(self) -> int:
        """How long the one under way has taken."""
        return int(self._since.elapsed() / 1000) if self.running else 0

    def book(self) -> PropertyBook:
        """Every section known so far."""
        return self._book

    def start(self, section: Any) -> None:
        """Analyse a section, giving up the one under way unless it is the same."""
        if self._process is not None:
            if section == self._section:
                return
            self.close()
        self._section = section
        self._since.start()
        self._clock.start()
        process = self._process = QProcess(self)
        process.finished.connect(self._finished)
        process.errorOccurred.connect(self._broken)
        process.start(sys.executable, list(ARGUMENTS))
        process.write(msgspec.json.encode(section))
        process.closeWriteChannel()

    def close(self) -> None:
        """Give up what is under way; nothing is told afterwards."""
        process, self._process = self._process, None
        self._clock.stop()
        if process is not None:
            process.blockSignals(True)
            process.kill()
            process.waitForFinished(3000)
            process.deleteLater()

    def _tick(self) -> None:
        self.ticked.emit()

    def _finished(self, code: int, _status: object) -> None:
        process, self._process = self._process, None
        self._clock.stop()
        if process is None:
            return
        output = bytes(process.readAllStandardOutput().data())
        errors = bytes(process.readAllStandardError().data()).decode("utf-8", "replace").strip()
        process.deleteLater()
        if code != 0:
            # the process's own last line says what is wrong with the section
            last = errors.splitlines()[-1] if errors else "The section could not be analysed."
            self.failed.emit(last)
            return
        try:
            found = msgspec.json.decode(output, type=SectionProperties)
        except msgspec.MsgspecError as error:
            self.failed.emit(f"The section's analysis gave no figures: {error}")
            return
        self._book = self._book.with_entry(self._section, found)
        save_cache(section_cache(), self._book)
        self.done.emit()

    def _broken(self, error: QProcess.ProcessError) -> None:
        if error == QProcess.ProcessError.FailedToStart and self._process is not None:
            self._process.deleteLater()
            self._process = None
            self._clock.stop()
            self.failed.emit("The analysis of the section could not be started.")
