"""Margins of a joint: how many times all its loads together could grow until it slips, opens, or its weld is at its limit."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.fasteners.strength.group import Spread
from core.fasteners.strength.preload import Preload
from core.fasteners.strength.states import States
from core.fasteners.strength.weld import line_load

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Margin:
    """A margin and when it is least.

    Attributes:
        low, likely, high: times that the loads could grow; infinite where nothing pulls that way.
        state, x, y, name: state of work, tool place (m) and joint at the likely figure.
        wrench: there: forces along u, v, pull off (N), moments about u, v and the normal (N m).
    """

    low: float
    likely: float
    high: float
    state: str
    x: float
    y: float
    name: str
    wrench: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Loads:
    """Wrenches (6, k, p, s) of k equal joints at p places in s states; names of the joints; x, y (p,) of the tool, m."""

    wrench: Floats
    names: tuple[str, ...]
    states: States
    x: Floats
    y: Floats


def loads_of(units: Floats, names: tuple[str, ...], states: States, x: Floats, y: Floats) -> Loads:
    """Loads from unit wrenches (k, p, 6, 7)."""
    first = np.moveaxis(units, 2, 0)
    flat = first.reshape(-1, first.shape[-1]) @ states.amounts.T
    return Loads(flat.reshape(*first.shape[:-1], -1), names, states, x, y)


def slip_and_gap(
    loads: Loads, found: Spread, preload: Preload, friction: tuple[float, float, float]
) -> tuple[Margin, Margin]:
    """Margins against slipping and against opening of a joint over whose zones its loads are spread.

    A zone slips when its shear reaches friction times what is left of its preload, and opens when the pull at its edge takes
    all of the preload. Loads are taken off the preload whole (no share of them goes into the screw instead).
    """
    edge = found.edge.max(axis=0)
    slips, opens = [], []
    preloads = (preload.low, preload.likely, preload.high)
    for mu, force in zip(friction, preloads, strict=True):
        asked = (found.shear + mu * found.pull).max(axis=0)
        slips.append(margin_of(mu * force, asked))
        opens.append(margin_of(force, edge))
    return worst_of(loads, slips), worst_of(loads, opens)


def weld_margin(loads: Loads, box: tuple[float, float], length: float, bears: float) -> Margin:
    """Margin of a weld that bears so much, N/m; the band is a quarter either way (common practice)."""
    line = line_load(box, length, loads.wrench)
    return worst_of(loads, [margin_of(part * bears, line) for part in (0.75, 1.0, 1.25)])


def margin_of(bears: float, asked: Floats) -> tuple[float, int]:
    """The least margin and the flat place where it is."""
    worst = int(np.argmax(asked))
    most = float(asked.flat[worst])
    return (bears / most if most > 1e-9 else np.inf), worst


def worst_of(loads: Loads, margins: list[tuple[float, int]]) -> Margin:
    """Low, likely and high margin, each as of `margin_of`, with where and when the likely one is."""
    shape = loads.wrench.shape[1:]
    joint, place, state = np.unravel_index(margins[1][1], shape)
    at = int(place) if shape[1] > 1 else 0
    low, likely, high = (m for m, _ in margins)
    name = loads.names[min(int(joint), len(loads.names) - 1)]
    wrench = tuple(float(v) for v in loads.wrench[:, joint, place, state])
    return Margin(
        low, likely, high, loads.states.names[state], float(loads.x[at]), float(loads.y[at]), name, wrench
    )
