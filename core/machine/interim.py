"""What is taken for granted while screws are missing: a push by hand, the margin wanted, where head and gantry rest.

Friction and tightening stand with the joints (`core.machine.joints`).
"""

from __future__ import annotations

from typing import Annotated

from core.fields import Described, Spec


class InterimWork(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Figures behind the fitting plan for a half-arrived order."""

    hand_push: Annotated[
        float,
        Spec(
            "force", 0.0, 2000.0, "Push by hand", "At the tool, in the worst level direction (an assumption)."
        ),
    ] = 100.0
    margin: Annotated[
        float,
        Spec(
            "ratio",
            1.0,
            20.0,
            "Slip margin wanted",
            "Friction that is there over what is asked for, with low friction and low preload (an assumption).",
        ),
    ] = 2.0
    most_give: Annotated[
        float,
        Spec(
            "deflection",
            0.00001,
            0.01,
            "Rail may give between screws",
            "More than this and nothing may be moved by motor (an assumption).",
        ),
    ] = 0.0002
    rest_x: Annotated[
        float,
        Spec("length", -10.0, 10.0, "Head rests at X", "Where it is parked meanwhile; 0 is the middle."),
    ] = 0.0
    rest_y: Annotated[
        float, Spec("length", -20.0, 20.0, "Gantry rests at Y", "The tool's place; 0 is the middle.")
    ] = 0.0
