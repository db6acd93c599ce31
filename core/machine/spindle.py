"""The spindle's drive: what power and speed it has to give to a cut."""

from __future__ import annotations

from typing import Annotated

from core.errors import BadEntry
from core.fields import Described, Spec


class Spindle(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Power and speed range of the spindle: constant torque up to the speed of full power, constant power above."""

    power: Annotated[
        float,
        Spec(
            "power",
            10.0,
            50000.0,
            "Rated power",
            "At the shaft, for continuous running; makers often quote what is drawn from the mains.",
        ),
    ] = 1500.0
    full_power_speed: Annotated[
        float,
        Spec(
            "rotation_speed",
            1.0,
            1500.0,
            "Full power from",
            "Below this speed the torque stays the same, so the power falls with the speed.",
        ),
    ] = 300.0
    slowest: Annotated[
        float,
        Spec(
            "rotation_speed",
            1.0,
            1500.0,
            "Slowest speed",
            "Below it a fan on the shaft no longer cools enough.",
        ),
    ] = 100.0
    fastest: Annotated[float, Spec("rotation_speed", 1.0, 1500.0, "Fastest speed")] = 400.0
    usable: Annotated[
        float,
        Spec(
            "share",
            0.1,
            1.0,
            "Power to plan with",
            "Of the rated power; leaves room for blunt edges, 80 % is common practice.",
        ),
    ] = 0.8

    def check(self) -> None:
        if not self.slowest <= self.full_power_speed <= self.fastest:
            text = ", ".join(f"{60 * s:g}" for s in (self.slowest, self.full_power_speed, self.fastest))
            raise BadEntry(
                "full_power_speed",
                f"{text} rpm (slowest, full power, fastest)",
                "do not rise",
                "a speed of full power between the slowest and the fastest",
            )

    def available(self, speed: float) -> float:
        """Power in W to plan with at a speed in rev/s."""
        return self.usable * self.power * min(1.0, speed / self.full_power_speed)
