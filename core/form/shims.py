"""From measured heights to shims: the best line (or one plane for two rails), lifted so that no shim is negative."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from core.fasteners import RailAnswer
from core.form.results import Shim, ShimRail, Survey
from core.machine.form import Across, Heights, Reading

Floats = npt.NDArray[np.float64]


def usable(readings: tuple[Reading, ...], rail: RailAnswer) -> tuple[Floats, Floats]:
    """Places and heights, rising along the rail; readings at one place are averaged, those off the rail left out."""
    spots: dict[float, list[float]] = {}
    for reading in readings:
        if reading.hole is not None:
            if reading.hole > len(rail.holes):
                continue
            place = rail.holes[reading.hole - 1]
        else:
            place = reading.place or 0.0
            if place > rail.length:
                continue
        spots.setdefault(round(place, 7), []).append(reading.height)
    places = np.array(sorted(spots), float)
    return places, np.array([np.mean(spots[place]) for place in sorted(spots)], float)


def find_survey(
    axis: str, heights: Heights, rails: tuple[RailAnswer, ...], step: float, across: Across
) -> Survey | None:
    """Shims for each hole of the rails that have readings at two places or more; None when no rail has.

    Source: least squares over the readings; holes in between take the straight line between the nearest readings.
    """
    measured = []
    for rail, readings in zip(rails, (heights.first, heights.second), strict=False):
        places, values = usable(readings, rail)
        if len(places) >= 2:
            measured.append((rail, places, values))
    if not measured:
        return None
    slope, offsets = _fit([p for _, p, _ in measured], [v for _, _, v in measured], across)
    out = [
        values - (offset + slope * places)
        for (_, places, values), offset in zip(measured, offsets, strict=True)
    ]
    at_holes = [
        np.interp(rail.holes, places, left) for (rail, places, _), left in zip(measured, out, strict=True)
    ]
    lift = max(float(left.max()) for left in at_holes)
    shimmed = tuple(
        _rail(rail, places, values, left, (slope, offset), lift, step)
        for (rail, places, values), left, offset in zip(measured, at_holes, offsets, strict=True)
    )
    own = [float(np.polyfit(places, values, 1)[0]) for _, places, values in measured]
    shims = [shim for rail in shimmed for shim in rail.shims]
    return Survey(
        axis, shimmed, slope,
        tilt=float(offsets[1] - offsets[0]) if len(offsets) == 2 else 0.0,
        twist=(own[1] - own[0]) * measured[0][0].length if len(own) == 2 else 0.0,
        before=max(float(np.abs(left).max()) for left in out),
        thickest=max(shim.shim for shim in shims),
        worst_left=max(abs(shim.left) for shim in shims),
    )  # fmt: skip


def _fit(places: list[Floats], values: list[Floats], across: Across) -> tuple[float, list[float]]:
    """One slope for all rails, and an offset for each (or for all when they shall come to one height)."""
    groups = 1 if across == "one height" else len(places)
    columns = np.zeros((sum(len(p) for p in places), 1 + groups))
    columns[:, 0] = np.concatenate(places)
    row = 0
    for number, p in enumerate(places):
        columns[row : row + len(p), 1 + min(number, groups - 1)] = 1.0
        row += len(p)
    best = np.linalg.lstsq(columns, np.concatenate(values), rcond=None)[0]
    return float(best[0]), [float(best[1 + min(n, groups - 1)]) for n in range(len(places))]


def _rail(
    rail: RailAnswer, places: Floats, values: Floats, left: Floats, line: tuple[float, float], lift: float, step: float
) -> ShimRail:  # fmt: skip
    shims = []
    for number, (place, off) in enumerate(zip(rail.holes, left, strict=True), start=1):
        target = line[1] + line[0] * place + lift
        height = target - lift + float(off)
        shim = max(0.0, round((target - height) / step) * step)
        shims.append(Shim(number, place, height, target, shim, height + shim - target))
    readings = tuple(zip(places.tolist(), values.tolist(), strict=True))
    return ShimRail(rail.key, rail.label, readings, line, tuple(shims))
