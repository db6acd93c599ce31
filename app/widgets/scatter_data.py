"""What a chart of points shows, as plain data, and where everything of it goes within an area: no painting here."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QRectF

from app.widgets.marks import Mark
from app.widgets.plot_data import Level
from app.widgets.scale import Scale, scale_for

Array = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Kind:
    """Points of one kind: words for the legend (none when empty), mark, palette role, filled or hollow."""

    label: str
    mark: Mark
    role: str
    filled: bool = True
    size: float = 4.0


@dataclass(frozen=True, eq=False, slots=True)
class ScatterData:
    """Points, their figures in the units of the axis labels.

    Attributes:
        x, y: (n,), NaN is not drawn. kinds: what kinds there are, painted in this order; kind: (n,) which each point is.
        steps: numbers of points joined by a step line, from left to right; steps_label: its words.
        framed: number of the point with a frame around it, -1 for none; framed_label: its words.
        low, high: (n,) ends of the band of y, shown for the picked point. limit: a level across.
        empty: words in place of the points when there are none.
    """

    x_label: str = ""
    y_label: str = ""
    x: Array = field(default_factory=lambda: np.empty(0))
    y: Array = field(default_factory=lambda: np.empty(0))
    kinds: tuple[Kind, ...] = ()
    kind: Ints = field(default_factory=lambda: np.empty(0, dtype=np.int64))
    steps: Ints = field(default_factory=lambda: np.empty(0, dtype=np.int64))
    steps_label: str = ""
    framed: int = -1
    framed_label: str = ""
    low: Array | None = None
    high: Array | None = None
    limit: Level | None = None
    empty: str = ""

    def drawn(self) -> npt.NDArray[np.bool_]:
        """(n,) which points are drawn."""
        return np.asarray(np.isfinite(self.x) & np.isfinite(self.y))

    def scales(self) -> tuple[Scale, Scale]:
        """Scales of both axes."""
        drawn = self.drawn()
        also = () if self.limit is None else (self.limit.at,)
        return scale_for(self.x[drawn]), scale_for(self.y[drawn], also)

    def neighbour(self, now: int, across: int) -> int:
        """The next point along the step line, to the right (1) or to the left (-1); -1 when there is none."""
        if not self.steps.size:
            return -1
        if now < 0 or not self.drawn()[now]:
            return int(self.steps[0] if across > 0 else self.steps[-1])
        along = np.flatnonzero(self.steps == now)
        if along.size:
            place = int(along[0]) + across
        else:
            right = int(np.searchsorted(self.x[self.steps], self.x[now], side="right"))
            place = right if across > 0 else right - 1
        return int(self.steps[place]) if 0 <= place < self.steps.size else -1

    def next_in_y(self, now: int, up: int) -> int:
        """Of all points drawn the next one up (1) or down (-1)."""
        rows = np.flatnonzero(self.drawn())
        if not rows.size:
            return -1
        order = rows[np.lexsort((rows, self.y[rows]))]
        along = np.flatnonzero(order == now)
        place = int(along[0]) + up if along.size else (0 if up > 0 else order.size - 1)
        return int(order[place]) if 0 <= place < order.size else -1


@dataclass(frozen=True, eq=False, slots=True)
class Placed:
    """Points in pixels within a frame, with the scales that brought them there."""

    frame: QRectF
    x_scale: Scale
    y_scale: Scale
    x: Array
    y: Array

    def nearest(self, x: float, y: float, reach: float) -> int:
        """Number of the point nearest to a place, within a reach in pixels; -1 when there is none."""
        if not self.x.size:
            return -1
        away = (self.x - x) ** 2 + (self.y - y) ** 2
        away = np.where(np.isfinite(away), away, np.inf)
        near = int(away.argmin())
        return near if away[near] <= reach * reach else -1

    def down(self, y: float) -> float:
        """Pixels of a figure on the upright axis."""
        share = float(self.y_scale.share(np.array([y]))[0])
        return self.frame.bottom() - share * self.frame.height()


def place(data: ScatterData, frame: QRectF) -> Placed:
    """Where every point goes; NaN for those that are not drawn."""
    x_scale, y_scale = data.scales()
    drawn = data.drawn()
    x = np.where(drawn, frame.left() + x_scale.share(data.x) * frame.width(), np.nan)
    y = np.where(drawn, frame.bottom() - y_scale.share(data.y) * frame.height(), np.nan)
    return Placed(frame, x_scale, y_scale, x, y)
