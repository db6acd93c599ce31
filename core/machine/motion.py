"""How each axis is to move and what turns it: acceleration, rapid speed, motor, gear and friction.

Defaults are typical figures from memory, invented for no product; a datasheet is better. `core.drives` answers from these.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.errors import BadEntry
from core.fields import Band, Described, Spec, band

_TORQUE_HELP = "Known within limits: datasheets differ with voltage and driver (typical, from memory)."


class StepMotor(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="step_motor"
):
    """A motor that turns step by step; its torque falls with the speed."""

    standstill_torque: Annotated[
        Band, Spec("torque", None, None, "Holding torque", f"At standstill. {_TORQUE_HELP}")
    ] = band(2.4, 3.0, 3.3)
    fast_torque: Annotated[
        Band,
        Spec(
            "torque", None, None, "Torque at a speed", f"Pull-out torque at the speed below. {_TORQUE_HELP}"
        ),
    ] = band(1.0, 1.5, 2.0)
    fast_speed: Annotated[
        float, Spec("rotation_speed", 0.1, 500.0, "That speed", "The second point of the torque's curve.")
    ] = 10.0
    rotor_inertia: Annotated[float, Spec("inertia", 0.0, 1.0, "Rotor inertia")] = 0.8e-4
    steps: Annotated[int, Spec("count", 4, 5000, "Full steps in one turn")] = 200
    microsteps: Annotated[int, Spec("count", 1, 1024, "Microsteps in a full step")] = 8

    @property
    def counts(self) -> int:
        """Commanded places in one turn of the motor."""
        return self.steps * self.microsteps

    @property
    def lasting_torque(self) -> Band:
        """Torque that may last at low speed, N m."""
        return self.standstill_torque


class ServoMotor(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="servo_motor"
):
    """A motor held to its place by an encoder: more torque for a moment than it can keep up."""

    standstill_torque: Annotated[
        Band, Spec("torque", None, None, "Short-time torque, slow", f"For a moment. {_TORQUE_HELP}")
    ] = band(3.2, 3.6, 3.8)
    fast_torque: Annotated[
        Band,
        Spec("torque", None, None, "Short-time torque at a speed", f"At the speed below. {_TORQUE_HELP}"),
    ] = band(2.5, 3.0, 3.5)
    fast_speed: Annotated[
        float, Spec("rotation_speed", 0.1, 500.0, "That speed", "The second point of the torque's curve.")
    ] = 50.0
    rated_torque: Annotated[
        Band, Spec("torque", None, None, "Rated torque", f"What it can keep up. {_TORQUE_HELP}")
    ] = band(1.2, 1.27, 1.3)
    rotor_inertia: Annotated[float, Spec("inertia", 0.0, 1.0, "Rotor inertia")] = 0.3e-4
    encoder_counts: Annotated[
        int, Spec("count", 4, 100_000_000, "Encoder counts in one turn", "After quadrature.")
    ] = 10_000

    @property
    def counts(self) -> int:
        """Commanded places in one turn of the motor."""
        return self.encoder_counts

    @property
    def lasting_torque(self) -> Band:
        """Torque that may last, N m."""
        return self.rated_torque


Motor = StepMotor | ServoMotor


class AxisMotion(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How one axis is to move, and with which motor; on Y one such motor drives each side."""

    acceleration: Annotated[
        float, Spec("acceleration", 0.001, 100.0, "Acceleration", "Wanted, from standstill to rapid speed.")
    ] = 1.0
    deceleration: Annotated[
        float | None,
        Spec("acceleration", 0.001, 100.0, "Deceleration to stop", "Automatic: the acceleration."),
    ] = None
    rapid: Annotated[float, Spec("speed", 0.0001, 10.0, "Rapid speed", "Wanted, without cutting.")] = 0.1
    feed: Annotated[
        float,
        Spec(
            "speed",
            0.00001,
            5.0,
            "Feed under cutting force",
            "For load cases given as a force; a cut brings its own feed.",
        ),
    ] = 0.05
    motor: Annotated[Motor, Spec("count", None, None, "Motor")] = StepMotor()
    gear_ratio: Annotated[
        float | None,
        Spec(
            "ratio",
            0.05,
            200.0,
            "Gear ratio",
            "Turns of the motor for one turn of the drive. Automatic: rack 5, belt 3, others 1 (common practice).",
        ),
    ] = None
    gear_efficiency: Annotated[
        Band, Spec("ratio", None, None, "Gear efficiency", "Counts where the ratio is not 1 (from memory).")
    ] = band(0.9, 0.94, 0.97)
    gear_inertia: Annotated[
        float, Spec("inertia", 0.0, 1.0, "Gear or coupling inertia", "As felt at the motor's shaft.")
    ] = 0.1e-4
    friction: Annotated[
        Band,
        Spec(
            "force",
            None,
            None,
            "Friction of one drive",
            "Carriages, seals and cables along the travel, the part one motor carries (estimate, wide).",
        ),
    ] = band(10.0, 25.0, 60.0)
    balance: Annotated[
        float,
        Spec("force", 0.0, 1e5, "Balancing force", "Gas spring or weight that carries the head; Z only."),
    ] = 0.0
    brake: Annotated[
        bool, Spec("count", None, None, "Brake that holds without power", "On the motor or the drive.")
    ] = False

    def check(self) -> None:
        if self.gear_efficiency.high > 1.0:
            raise BadEntry(
                "gear_efficiency", f"{self.gear_efficiency.high:g}", "gives more than it takes", "up to 1"
            )

    @property
    def stopping(self) -> float:
        """Deceleration used, m/s2."""
        return self.acceleration if self.deceleration is None else self.deceleration


class Motion(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Motion of the three axes, and how far one side of the gantry is taken to lag."""

    x: Annotated[AxisMotion, Spec("count", None, None, "Motion along X")] = AxisMotion()
    y: Annotated[AxisMotion, Spec("count", None, None, "Motion along Y, motor of each side")] = AxisMotion(
        acceleration=0.8
    )
    z: Annotated[AxisMotion, Spec("count", None, None, "Motion along Z")] = AxisMotion(
        acceleration=0.5, rapid=0.05, feed=0.01, friction=band(8.0, 20.0, 50.0)
    )
    lag: Annotated[
        float,
        Spec(
            "deflection",
            0.0,
            0.1,
            "One side of the gantry lags by",
            "Lost steps or unequal home switches; what it does to squareness is worked out.",
        ),
    ] = 0.0005


Axis = Literal["x", "y", "z"]
