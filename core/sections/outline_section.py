"""A section given by its outline, as a drawing holds it: one outer ring and any number of holes.

How a drawing file becomes one is in `dxf_reading`.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Annotated

from core.errors import BadEntry
from core.fields import Described, Spec
from core.sections.figures import Moments, moments_of
from core.sections.outlines import Ring

MOST_POINTS = 3000
"""More would be analysed for minutes."""

LEAST_SIZE, MOST_SIZE = 1e-3, 2.0
"""Allowed width and height of the whole outline, m."""


class Outline(
    Described, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind", tag="outline"
):
    """Any closed outline of one material; points (y, z) in m from the middle of its outer box."""

    name: Annotated[str, Spec("count", None, None, "Name")]
    rings: Annotated[
        tuple[Ring, ...],
        Spec("points", None, None, "Points", "Outer ring anticlockwise, then the holes clockwise; m"),
    ]
    wall: Annotated[
        float, Spec("length", 0.0, 0.1, "Wall", "Thinnest wall that a screw meets; 0 if not known")
    ] = 0.0

    def check(self) -> None:
        if not self.name.strip():
            raise BadEntry("name", repr(self.name), "is empty", "a name for the section")
        if not self.rings or any(len(ring) < 3 for ring in self.rings):
            raise BadEntry("rings", "the outline", "has a ring of fewer than three points", "closed rings")
        if not all(math.isfinite(v) for ring in self.rings for point in ring for v in point):
            raise BadEntry("rings", "the outline", "has a point that is not a number", "finite figures in m")
        count = sum(len(ring) for ring in self.rings)
        if count > MOST_POINTS:
            raise BadEntry("rings", f"{count} points", "are too many", f"up to {MOST_POINTS}")
        sound_rings(self.rings)

    def size(self) -> tuple[float, float]:
        """Width and height, m."""
        y, z = zip(*self.rings[0], strict=True)
        return max(y) - min(y), max(z) - min(z)


@lru_cache(maxsize=256)
def sound_rings(rings: tuple[Ring, ...]) -> None:
    """Check that rings bound one piece of metal of a possible size. Raises BadEntry."""
    from shapely import Polygon
    from shapely.validation import explain_validity

    shape = Polygon(rings[0], rings[1:])
    if not shape.is_valid:
        raise BadEntry(
            "rings",
            "the outline",
            f"crosses or touches itself: {explain_validity(shape).lower()}, in m",
            "rings that stay clear of themselves and of each other",
        )
    left, low, right, high = shape.bounds
    for size in (right - left, high - low):
        if not LEAST_SIZE <= size <= MOST_SIZE:
            raise BadEntry(
                "rings",
                f"a size of {size:g} m",
                "is not that of a beam's section",
                f"{LEAST_SIZE:g} to {MOST_SIZE:g} m",
            )
    if max(abs(left + right), abs(low + high)) > 1e-6:
        raise BadEntry("rings", "the outline", "is off its middle", "points from the middle of the outer box")


def moments(section: Outline) -> Moments:
    """Area, centroid and second moments, exact for the points."""
    return moments_of(section.rings)
