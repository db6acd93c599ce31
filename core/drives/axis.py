"""What each axis carries: its drive, moved mass, place of the ends, and the pushes of load cases and weight.

Two motors share Y; the one beside the head, when that stands at the end of its travel, carries the larger part.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

import numpy as np
import numpy.typing as npt

from core.cutting import tip_force
from core.drives.turning import SIDES, values
from core.machine.drives import Drive
from core.machine.layout import Layout
from core.machine.loads import LoadCase
from core.machine.motion import Axis, AxisMotion
from core.machine.project import Machine, Project
from core.parts import moving_mass
from core.parts.masses import saddle_mass

Floats = npt.NDArray[np.float64]
GRAVITY = 9.80665
PLACES = 25


@dataclass(frozen=True, slots=True)
class Setup:
    """One axis ready to be worked out.

    Attributes:
        path: of its motion in the project; drive_path of its drive.
        travel, length: travel; length of screw or belt, m. place: (n,) along the travel; distance: (n,) from the fixed end.
        mass: moved mass of the most loaded drive, kg. hanging: weight left to the drive, N (Z only).
        cuts: (case, push (3,) along the axis without friction, feed).
        room: beyond the travel's end, m, None where not known.
    """

    axis: Axis
    drive: Drive
    motion: AxisMotion
    path: str
    drive_path: str
    drives: int
    travel: float
    length: float
    place: Floats
    distance: Floats
    mass: float
    hanging: float
    cuts: tuple[tuple[str, Floats, float], ...]
    room: float | None

    @property
    def friction(self) -> Floats:
        """(3,) N."""
        return values(self.motion.friction)

    @property
    def accelerating(self) -> Floats:
        """(3,) push at the wanted acceleration, N, moved mass, weight and friction together."""
        return self.friction + self.mass * self.motion.acceleration + abs(self.hanging)

    @property
    def cutting(self) -> tuple[str, Floats, float]:
        """The case that asks for the largest steady push: its name, push with friction (3,) N, and its feed."""
        name, push, feed = max(self.cuts, key=lambda cut: float(cut[1][1]))
        return name, push + self.friction, feed


def head_and_saddle(machine: Machine) -> float:
    """Mass that moves along X, kg."""
    x = machine.x_guides
    riding = 2.0 * x.carriages * x.data.carriage_mass + machine.x_drive.mass_each
    return saddle_mass(machine) + machine.saddle.extra_mass + riding + machine.head.mass


def drive_spacing(lay: Layout) -> float:
    """Distance between the two Y drives, m; they push where the Y carriages run."""
    return lay.upright_spacing + 2.0 * lay.y_carriage[0]


def setups(project: Project, lay: Layout) -> tuple[Setup, Setup, Setup]:
    """The three axes."""
    machine = project.machine
    work, motion = machine.work, machine.motion
    x = np.linspace(-work.travel_x / 2.0, work.travel_x / 2.0, PLACES)
    y = np.linspace(-work.travel_y / 2.0, work.travel_y / 2.0, PLACES)
    z = np.linspace(0.0, machine.head.travel, PLACES)
    riding = head_and_saddle(machine)
    # Share of the drive beside the head at the end of its travel, by the lever between the sides.
    near = 0.5 + work.travel_x / 2.0 / drive_spacing(lay)
    gantry = moving_mass(project, lay) - riding
    start = lay.side_y - lay.side_beam_length / 2.0
    z_length = machine.head.travel + machine.head.guides.spread
    hanging = machine.head.mass * GRAVITY - motion.z.balance
    return (
        Setup(
            "x", machine.x_drive, motion.x, "machine.motion.x", "machine.x_drive", 1, work.travel_x, 2.0 * lay.joint_x,
            x, x + lay.joint_x, riding, 0.0, _cuts(project, "x", 1.0, motion.x), work.margin_x,
        ),
        Setup(
            "y", machine.y_drive, motion.y, "machine.motion.y", "machine.y_drive", 2, work.travel_y, lay.side_beam_length,
            y, y - lay.spindle_y - start, gantry / 2.0 + near * riding, 0.0, _cuts(project, "y", near, motion.y),
            work.margin_y,
        ),
        Setup(
            "z", machine.head.drive, motion.z, "machine.motion.z", "machine.head.drive", 1, machine.head.travel, z_length,
            z, 0.9 * z_length - z, machine.head.mass, hanging, _cuts(project, "z", 1.0, motion.z, hanging), None,
        ),
    )  # fmt: skip


def _cuts(
    project: Project, axis: Axis, share: float, motion: AxisMotion, hanging: float = 0.0
) -> tuple[tuple[str, Floats, float], ...]:
    found = []
    for case in project.cases:
        push = np.array([_along(case, axis, k, hanging) for k in range(3)]) * share
        feed = float(getattr(case.load, "feed", motion.feed))
        found.append((case.name, np.maximum.accumulate(push), feed))
    return tuple(found)


def _along(case: LoadCase, axis: Axis, side: int, hanging: float) -> float:
    """Push that a case asks of an axis, N. A force of any direction may stand along it."""
    fx, fy, fz = (float(v) for v in tip_force(case, SIDES[side]))  # type: ignore[arg-type]
    if axis == "z":
        # The head hangs on its drive whether the tool lifts or not.
        return max(abs(hanging - fz), abs(hanging))
    if case.any_direction:
        return hypot(fx, fy)
    return abs(fx if axis == "x" else fy)
