"""How cold and warm the shop gets, and what the machine is then held against.

The machine is true at the temperature at which it was set up (`Machine.temperature`).
"""

from __future__ import annotations

from typing import Annotated

from core.errors import BadEntry
from core.fields import Described, Spec


class Heat(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Temperatures of the shop and of the screws, and how much growth may be seen."""

    coldest: Annotated[
        float, Spec("temperature", -40.0, 60.0, "Coldest in the shop", "While the machine is at work.")
    ] = 10.0
    warmest: Annotated[
        float, Spec("temperature", -40.0, 60.0, "Warmest in the shop", "While the machine is at work.")
    ] = 30.0
    screw_warming: Annotated[
        float,
        Spec(
            "temperature_difference",
            0.0,
            60.0,
            "Screws warmer than the shop",
            "By friction at work; a few degrees with slow moves, more with fast ones (common practice).",
        ),
    ] = 3.0
    work_expansion: Annotated[
        float,
        Spec(
            "expansion",
            0.0,
            3e-4,
            "Expansion of the work",
            "0 compares with a true length. Aluminium 23, steel 12, acrylic about 70 µm/(m K).",
        ),
    ] = 0.0
    scale_limit: Annotated[
        float,
        Spec(
            "deflection",
            1e-6,
            0.1,
            "Largest growth error",
            "Over the whole travel of an axis, against the work.",
        ),
    ] = 0.0005

    def check(self) -> None:
        if self.warmest < self.coldest:
            raise BadEntry(
                "warmest",
                f"{self.warmest:g} °C",
                "is below the coldest",
                f"{self.coldest:g} °C or more",
            )
