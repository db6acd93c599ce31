"""Searches the cut list off the window's thread, for whichever page shows bars; the newest search alone counts."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, Signal

from app.worker import LatestRunner
from core.cuts import SECONDS, CutAnswer, find_cuts
from core.plan import Plan

Find = Callable[..., CutAnswer | None]


class CutSearch(QObject):
    """One search at a time.

    Signals:
        found(cuts): the list that was asked for last. busy(yes): a search began, or none is under way.
        failed(sentence): it could not be worked out.
    """

    found = Signal(object)
    busy = Signal(bool)
    failed = Signal(str)

    def __init__(self, find: Find = find_cuts, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._find = find
        self._number = 0
        self._runner = LatestRunner(self)
        self._runner.delivered.connect(self._delivered)
        self._runner.failed.connect(self._failed)
        self._runner.busy.connect(self.busy)

    @property
    def waiting(self) -> bool:
        """Whether a search is under way."""
        return self._runner.is_busy

    def search(self, plan: Plan, seconds: float = SECONDS) -> None:
        """Look for the list of a plan, in place of whatever is being looked for."""
        find = self._find
        self._number += 1
        self._runner.submit(
            self._number,
            lambda stale: find(plan.project, plan.layout, plan.parts, seconds, stale),
            watches=True,
        )

    def stop(self) -> None:
        """Give up the search."""
        self._runner.cancel()

    def close(self) -> None:
        """End the work in the background; nothing is told afterwards."""
        self._runner.close()

    def _delivered(self, _number: int, cuts: CutAnswer | None) -> None:
        if cuts is not None:
            self.found.emit(cuts)

    def _failed(self, _number: int, error: Exception) -> None:
        self.failed.emit(f"The cut list could not be worked out: {type(error).__name__}: {error}")
