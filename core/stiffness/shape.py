"""The machine's deflected shape under a load case, as lines to be drawn: places and how far they move."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame.batch import cross
from core.model.place import SolvedPlace

Floats = npt.NDArray[np.float64]
GROUPS = ("beam", "uprights", "foot_plates", "side_beams", "stand", "saddle", "head_plate", "cutter")


@dataclass(frozen=True, slots=True)
class ShapeLine:
    """One member's middle line: points (k, 3) and their movement (k, 3), m, table coordinates."""

    name: str
    points: Floats
    moved: Floats


@dataclass(frozen=True, slots=True)
class DeflectedShape:
    """All members' lines, and the tip (3,) with its movement (3,)."""

    lines: tuple[ShapeLine, ...]
    tip: Floats
    tip_moved: Floats


def find_shape(place: SolvedPlace, force: Floats) -> DeflectedShape:
    """Shape under `force` (3,) N at a solved place.

    Lines run straight between a member's ends, which is enough for a drawing as the beam is in several pieces.
    """
    frame, node = place.frame, place.tip
    moved = (place.moved @ force).reshape(-1, 6)
    m = frame.members
    ends, arms = np.stack([m.i, m.j], axis=-1), np.stack([m.offset_i, m.offset_j], axis=-2)
    points = frame.nodes[ends] + arms
    shifts = moved[ends, :3] + cross(moved[ends, 3:], arms)
    lines = [
        ShapeLine(component, points[k], shifts[k])
        for k, component in enumerate(m.component)
        if component in GROUPS
    ]
    lines.append(_head_line(frame.nodes, frame.node_names, moved))
    return DeflectedShape(tuple(lines), frame.nodes[node], moved[node, :3])


def _head_line(nodes: Floats, names: tuple[str, ...], moved: Floats) -> ShapeLine:
    wanted = [n for n in ("saddle", "head", "head plate end", "spindle nose", "tool tip") if n in names]
    numbers = [names.index(n) for n in wanted]
    return ShapeLine("head", nodes[numbers], moved[numbers, :3])
