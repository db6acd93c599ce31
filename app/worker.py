"""Work off the window's thread: one background thread that only ever delivers the newest job's result.

The window submits a job for each edit; a job that waits is replaced by a newer one, and the result of a job
that was
overtaken while it ran is dropped. So an outdated result can never be painted over a newer one.
"""

from __future__ import annotations

from collections.abc import Callable
from threading import Condition
from typing import Any

from PySide6.QtCore import QObject, Qt, QThread, Signal, Slot

Stale = Callable[[], bool]


class _Job:
    """A numbered piece of work; `stale` turns True when nobody waits for its result any more."""

    def __init__(self, number: int, work: Callable[..., Any], watches: bool) -> None:
        self.number = number
        self.work = work
        self.watches = watches
        self.stale = False


class _Thread(QThread):
    """Takes the one waiting job, does it, hands over what came of it, and sleeps until there is another."""

    done = Signal(object, object, object)

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self._wake = Condition()
        self._waiting: _Job | None = None
        self._stopping = False

    def put(self, job: _Job) -> None:
        with self._wake:
            self._waiting = job
            self._wake.notify()

    def drop(self) -> None:
        with self._wake:
            self._waiting = None

    def stop(self) -> None:
        with self._wake:
            self._waiting = None
            self._stopping = True
            self._wake.notify()

    def _take(self) -> _Job | None:
        with self._wake:
            while self._waiting is None and not self._stopping:
                self._wake.wait()
            job, self._waiting = self._waiting, None
            return None if self._stopping else job

    def run(self) -> None:
        while (job := self._take()) is not None:
            result: Any = None
            error: Exception | None = None
            try:
                result = job.work(lambda job=job: job.stale) if job.watches else job.work()
            except Exception as caught:  # every failure of a job belongs to whoever asked for it
                error = caught
            self.done.emit(job, result, error)


class LatestRunner(QObject):
    """Runs jobs one after the other in the background and delivers only the newest.

    Signals (always on the owner's thread):
        delivered(number, result): the newest job is done.
        failed(number, error): the newest job raised this exception.
        busy(bool): work began, or nothing is left to do.

    Call `close()` before the window goes; it waits for the running job, which may watch its `stale` argument
    to end early.
    """

    delivered = Signal(int, object)
    failed = Signal(int, object)
    busy = Signal(bool)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._thread: _Thread | None = None
        self._newest: _Job | None = None
        self._closed = False

    @property
    def is_busy(self) -> bool:
        """True while the newest job's result is still awaited."""
        return self._newest is not None

    def submit(self, number: int, work: Callable[..., Any], *, watches: bool = False) -> None:
        """Do `work()` in the background, overtaking whatever was submitted before.

        Args:
            number: handed back with the result.
            work: called without arguments, or, with `watches`, with a function that says whether the job is
                stale.
        """
        if self._closed:
            return
        was_busy = self.is_busy
        self.cancel(quietly=True)
        if self._thread is None:
            self._thread = _Thread(self)
            self._thread.done.connect(self._receive, Qt.ConnectionType.QueuedConnection)
            self._thread.start()
        self._newest = _Job(number, work, watches)
        self._thread.put(self._newest)
        if not was_busy:
            self.busy.emit(True)

    def cancel(self, *, quietly: bool = False) -> None:
        """Forget the newest job: its result will not be delivered."""
        if self._newest is None:
            return
        self._newest.stale = True
        self._newest = None
        if self._thread is not None:
            self._thread.drop()
        if not quietly:
            self.busy.emit(False)

    def close(self) -> None:
        """Cancel, let the running job end, and join the thread. Nothing is delivered afterwards."""
        self._closed = True
        self.cancel(quietly=True)
        thread, self._thread = self._thread, None
        if thread is not None:
            thread.stop()
            thread.wait()
            thread.deleteLater()

    @Slot(object, object, object)
    def _receive(self, job: _Job, result: Any, error: Exception | None) -> None:
        if job is not self._newest or self._closed:
            return
        self._newest = None
        if error is None:
            self.delivered.emit(job.number, result)
        else:
            self.failed.emit(job.number, error)
        if self._newest is None:
            self.busy.emit(False)
