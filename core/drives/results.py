"""The frozen answers about drives."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.findings import Finding
from core.machine.motion import Axis

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Row:
    """One figure of an axis.

    Attributes:
        key: short name for files. what: words. value, limit: SI; limit None where there is none.
        quantity: name in `core.units`. good: whether it holds, None for information.
        compare: how the figure stands to the limit ("at most", "at least", ""). note: a word more.
        source: where figure and limit come from.
    """

    key: str
    what: str
    value: float
    quantity: str
    limit: float | None = None
    good: bool | None = None
    compare: str = ""
    note: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class AxisDrive:
    """One axis, of its most loaded drive.

    Attributes:
        axis, label: "x" and "X: ball screw". drives: how many motors share the axis.
        ratio: gear ratio used. mass: moved mass of this drive, kg. length: screw or belt, m.
        force_accelerating, force_cutting: largest push (3,) low, likely, high, N.
        rows: figures with their limits.
        place: (n,) along the travel, m. stiffness: (3, n) N/m. parts: likely stiffness (n,) of each part by its words.
        speed: (m,) of the axis, m/s. available: (3, m) motor torque, N m.
        accelerating: (3,) torque wanted up to the rapid speed; cutting: (3,) up to the feed. rapid, feed: m/s.
    """

    axis: Axis
    label: str
    drives: int
    ratio: float
    mass: float
    length: float
    force_accelerating: Floats
    force_cutting: Floats
    rows: tuple[Row, ...]
    place: Floats
    stiffness: Floats
    parts: dict[str, Floats]
    speed: Floats
    available: Floats
    accelerating: Floats
    cutting: Floats
    rapid: float
    feed: float


@dataclass(frozen=True, slots=True)
class Racking:
    """What unequal sides do to the gantry, at the chosen place along Y.

    Attributes:
        lag: how far one side stays behind, m. spacing: between the two drives, m.
        angle: turn of the gantry about Z if only the lag decided, exact geometry, rad.
        offset: by how much a line along X over the whole travel then stands off, m.
        angle_elastic, offset_elastic: the same at the tool tip with drives, carriages and frame giving way.
        strain: force in each drive while the lag is held, N.
        force: cutting force along Y with the head at one end, N; case its name.
        turn_equal, turn_unequal: turn of the gantry under it with equal drives, and with the drive beside the head at its
            soft and the other at its stiff end, rad.
        difference_equal, difference_unequal: difference between the sides along Y, m.
        share_near: share of the force that the drive beside the head takes.
        rows: all of it as figures.
    """

    lag: float
    spacing: float
    angle: float
    offset: float
    angle_elastic: float
    offset_elastic: float
    strain: float
    force: float
    case: str
    turn_equal: float
    turn_unequal: float
    difference_equal: float
    difference_unequal: float
    share_near: float
    rows: tuple[Row, ...] = ()


@dataclass(frozen=True, slots=True)
class DrivesAnswer:
    """Everything about the drives; `racking` is None when the frame cannot be solved."""

    axes: tuple[AxisDrive, ...]
    racking: Racking | None
    findings: tuple[Finding, ...]
