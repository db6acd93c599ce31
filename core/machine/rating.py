"""What a carriage of a profiled rail may carry, how far it shall run, and how fast on average.

Ratings by size are low figures from memory for whoever has no datasheet yet; the maker's datasheet wins.
"""

from __future__ import annotations

from typing import Annotated, Literal

from core.fields import Described, Spec

RatedDistance = Literal["100 km", "50 km"]

# Dynamic rating for 100 km and static rating of one carriage, N, by rail size. Low figures of the trade, from memory, low
# certainty: most carriages of that size carry more.
TYPICAL_RATINGS: dict[int, tuple[float, float]] = {
    15: (7.5e3, 12e3),
    20: (12e3, 20e3),
    25: (17e3, 28e3),
    30: (24e3, 40e3),
    35: (33e3, 52e3),
    45: (52e3, 85e3),
}


class CarriageRating(Described, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Ratings of one carriage and what is wanted of it; all carriages of one axis are alike."""

    dynamic: Annotated[
        float | None,
        Spec(
            "force",
            100.0,
            1e6,
            "Dynamic load rating C",
            "Of one carriage, from the datasheet. Automatic: low for the size, from memory.",
        ),
    ] = None
    rated_for: Annotated[
        RatedDistance,
        Spec(
            "count",
            None,
            None,
            "C is stated for",
            "The travel for which the datasheet states C (ISO 14728-1: 100 km; some state 50 km).",
        ),
    ] = "100 km"
    static: Annotated[
        float | None,
        Spec(
            "force",
            100.0,
            2e6,
            "Static load rating C0",
            "Of one carriage, from the datasheet. Automatic: low for the size, from memory.",
        ),
    ] = None
    preload: Annotated[
        float,
        Spec(
            "share",
            0.0,
            0.2,
            "Preload",
            "Share of C: 0 to 2 % light, 5 to 8 % medium (common practice; the datasheet is better).",
        ),
    ] = 0.02
    wanted_life: Annotated[
        float,
        Spec(
            "distance_run",
            1e3,
            1e9,
            "Wanted life",
            "Distance to run before one carriage in ten shows fatigue. The default is an assumption.",
        ),
    ] = 5.0e6
    wanted_static_safety: Annotated[
        float,
        Spec(
            "ratio",
            0.5,
            20.0,
            "Wanted static safety",
            "C0 over the largest load. 3 for light shocks is common practice.",
        ),
    ] = 3.0
    mean_speed: Annotated[
        float,
        Spec("speed", 0.0001, 5.0, "Mean speed", "While running, to turn the life into hours."),
    ] = 0.1
