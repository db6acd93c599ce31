"""What a motor feels of an axis: inertia of all that moves, torque for a push and an acceleration, torque it has.

Everything is referred to the motor's shaft; a gear divides speed by its ratio. SI with turns in rev/s.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.drives.screw import DENSITY
from core.fields import Band
from core.machine.drives import BallScrew, Drive, KnownStiffness, RackPinion
from core.machine.motion import AxisMotion, Motor

Floats = npt.NDArray[np.float64]
SIDES = ("low", "likely", "high")


def round_inertia(diameter: float, length: float) -> float:
    """Inertia of a round steel bar about its axis, kg m2. Source: pi rho L d^4 / 32."""
    return math.pi * DENSITY * length * diameter**4 / 32.0


def moved_inertia(mass: float, travel_per_turn: float) -> float:
    """Inertia that a moved mass shows at the shaft, kg m2. Source: equal kinetic energy, m (p / 2 pi)^2."""
    return mass * (travel_per_turn / (2.0 * math.pi)) ** 2


def drive_inertia(drive: Drive, length: float) -> float:
    """Inertia of what turns with the drive's shaft, kg m2; a pinion counts as a full disc of its pitch diameter."""
    if isinstance(drive, KnownStiffness):
        return drive.inertia
    if isinstance(drive, BallScrew):
        return drive.nut_inertia if drive.turns == "nut" else round_inertia(drive.outer, length)
    if isinstance(drive, RackPinion):
        return round_inertia(drive.module * drive.teeth, drive.face_width)
    # The whole belt moves with the carriage, two strands of the drive's length.
    return drive.pulley_inertia + moved_inertia(2.0 * length * drive.linear_mass, drive.travel_per_turn)


def ratio_of(motion: AxisMotion, drive: Drive) -> float:
    """Turns of the motor for one turn of the drive's shaft; automatic: rack 5, belt 3, others 1 (common practice)."""
    if motion.gear_ratio is not None:
        return motion.gear_ratio
    return {"RackPinion": 5.0, "ToothedBelt": 3.0}.get(type(drive).__name__, 1.0)


@dataclass(frozen=True, slots=True)
class Train:
    """From the motor's shaft to the travel.

    Attributes:
        travel: travel in one turn of the motor, m. efficiency: (3,) of drive and gear, low, likely, high.
        own: inertia on the motor's shaft (rotor, gear), kg m2. shaft: inertia on the drive's shaft, at the motor, kg m2.
        mass: moved mass, kg.
    """

    travel: float
    efficiency: Floats
    own: float
    shaft: float
    mass: float

    @property
    def inertia(self) -> float:
        """All of it at the motor's shaft, kg m2."""
        return self.own + self.shaft + moved_inertia(self.mass, self.travel)

    @property
    def felt_mass(self) -> float:
        """Mass that would carry as much energy at the same speed, kg."""
        return self.inertia * (2.0 * math.pi / self.travel) ** 2

    def torque(self, push: Floats, acceleration: float) -> Floats:
        """Motor torque (3,), low, likely and high, for a push (3,) beside the masses' own and an acceleration.

        Source: T = J alpha + (F + m a) p / (2 pi eta); low needs meet the high efficiency.
        """
        spin = 2.0 * math.pi * acceleration / self.travel
        pushing = (push + self.mass * acceleration) * self.travel / (2.0 * math.pi * self.efficiency[::-1])
        # Inertia behind the gear is counted without its loss, which is small beside the bands.
        return np.asarray((self.own + self.shaft) * spin + pushing)

    def acceleration(self, push: float, torque: float, side: int = 1) -> float:
        """Acceleration that a motor torque leaves beside a push, m/s2; below zero when it cannot even push."""
        per_force = self.travel / (2.0 * math.pi * float(self.efficiency[::-1][side]))
        per_unit = (self.own + self.shaft) * 2.0 * math.pi / self.travel + self.mass * per_force
        return (torque - push * per_force) / per_unit


def train(motion: AxisMotion, drive: Drive, length: float, mass: float) -> Train:
    """The train of one axis; length of its screw or belt and moved mass of one drive."""
    ratio = ratio_of(motion, drive)
    gear = motion.gear_efficiency
    eta = np.array(
        [getattr(drive.efficiency, s) * (getattr(gear, s) if ratio != 1.0 else 1.0) for s in SIDES]
    )
    own = motion.motor.rotor_inertia + motion.gear_inertia
    shaft = drive_inertia(drive, length) / ratio**2
    return Train(drive.travel_per_turn / ratio, eta, own, shaft, mass)


def torque_at(motor: Motor, speed: Floats) -> Floats:
    """Torque (3, n) that the motor has at turning speeds (n,) rev/s, low, likely and high, N m.

    Straight between the two entered points; beyond the second it falls as one over the speed, as at constant power
    (common practice).
    """
    beyond = motor.fast_speed / np.maximum(speed, motor.fast_speed)
    share = np.minimum(speed / motor.fast_speed, 1.0)
    slow, fast = (
        np.array([[getattr(b, s)] for s in SIDES]) for b in (motor.standstill_torque, motor.fast_torque)
    )
    return np.asarray((slow + (fast - slow) * share) * beyond)


def values(b: Band) -> Floats:
    """(3,) low, likely, high."""
    return np.array([b.low, b.likely, b.high])
