"""States of work that joints are looked at in: weight, each axis speeding up, each cut in every direction, both together."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.cutting import tip_force
from core.guides.forces import COLUMNS, FORCES, SPEEDING, WEIGHT
from core.machine.project import Project

Floats = npt.NDArray[np.float64]
TURNS = 12
"""Directions of a force that may turn; between two of them less than 4 % of it is missed."""


@dataclass(frozen=True, slots=True)
class States:
    """s states: names, and what of each unit load of the chain they hold (s, 7)."""

    names: tuple[str, ...]
    amounts: Floats


def states_of(project: Project) -> States:
    """Weight is in all; cuts with the unfavourable end of their force, alone and while X or Y speeds up or stops."""
    motion = project.machine.motion
    names: list[str] = []
    rows: list[Floats] = []

    def add(name: str, force: Floats | None = None, axis: int | None = None, size: float = 0.0) -> None:
        row = np.zeros(COLUMNS)
        row[WEIGHT] = 1.0
        if force is not None:
            row[FORCES] = force
        if axis is not None:
            row[SPEEDING.start + axis] = size
        names.append(name)
        rows.append(row)

    add("weight alone")
    sizes = [max(m.acceleration, m.stopping) for m in (motion.x, motion.y, motion.z)]
    speeding = [(axis, sign * size) for axis, size in enumerate(sizes) for sign in (1.0, -1.0)]
    for axis, size in speeding:
        add(f"speeding up along {'XYZ'[axis]}", None, axis, size)
    for case in project.cases:
        force = tip_force(case, "high")
        for turn in range(TURNS if case.any_direction else 1):
            angle = 2.0 * math.pi * turn / TURNS
            c, s = math.cos(angle), math.sin(angle)
            at = np.array([c * force[0] - s * force[1], s * force[0] + c * force[1], force[2]])
            add(case.name, at)
            for axis, size in speeding[:4]:
                add(f"{case.name}, speeding up along {'XYZ'[axis]}", at, axis, size)
    return States(tuple(names), np.array(rows))
