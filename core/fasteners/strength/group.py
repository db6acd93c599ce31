"""How a force and a moment on a joint spread over its screws, elastically: each screw presses a round zone together.

The zones are one area that stays plane: pull and bending add linearly, shear and twist too. The size of a zone is that of the
pressure cone at the joint (30 degrees, common practice), within the face.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.fasteners.joints import FittedJoint
from core.fasteners.joints.tables import hardware

Floats = npt.NDArray[np.float64]
CONE = math.tan(math.radians(30.0))


@dataclass(frozen=True, slots=True)
class Group:
    """n zones of radius r.

    Attributes:
        count: n. radius: r, m. corners (c, 2): u, v of the outermost zones, m, which are the worst ones of a plane spread.
        about_u, about_v: sum of v^2 and of u^2 over the zones with their own n r^2 / 4, m2.
    """

    count: int
    radius: float
    corners: Floats
    about_u: float
    about_v: float

    @property
    def polar(self) -> float:
        """About the joint's normal, m2."""
        return self.about_u + self.about_v


@dataclass(frozen=True, slots=True)
class Spread:
    """Forces on the worst zones under wrenches (6, ...), each (c, ...), N.

    Attributes:
        pull: off the zone, at its middle. edge: the same at its outer edge. shear: along the joint.
    """

    pull: Floats
    edge: Floats
    shear: Floats


def group_of(places: npt.ArrayLike, radius: float) -> Group:
    """The group of zones at (n, 2) places, m."""
    at = np.asarray(places, dtype=np.float64)
    n = len(at)
    own = n * radius**2 / 4.0
    reach = np.abs(at).max(axis=0)
    ends = [(-r, r) if r > 0.0 else (0.0,) for r in reach.tolist()]
    corners = np.array([(u, v) for u in ends[0] for v in ends[1]])
    return Group(n, radius, corners, float((at[:, 1] ** 2).sum()) + own, float((at[:, 0] ** 2).sum()) + own)


def zone_radius(joint: FittedJoint) -> float:
    """Radius of a screw's zone at the joint, m."""
    assert joint.stack is not None
    assert joint.pattern is not None
    ware, layers, pattern = hardware()[joint.size.thread], joint.stack.layers, joint.pattern
    washer = layers[0].kind == "washer"
    head = (ware.washer_outer if washer else ware.bearing) / 2.0
    deep = sum(layer.thickness for layer in layers if layer.kind == "clamped")
    rooms = []
    for count, pitch, face in (
        (pattern.along, pattern.pitch_along, pattern.face[0]),
        (pattern.across, pattern.pitch_across, pattern.face[1]),
    ):
        rooms.append((face - (count - 1) * pitch) / 2.0)
        if count > 1:
            rooms.append(pitch / 2.0)
    return max(min(head + deep * CONE, *rooms), joint.size.diameter / 2.0)


def spread(group: Group, wrench: Floats) -> Spread:
    """Forces on the outermost zones.

    Args:
        wrench: (6, ...): forces along u and v, pull, moments about u, v and the normal, on the joint's middle.
    """
    fu, fv, pull, mu, mv, mn = wrench
    n, r = group.count, group.radius
    tilt_u, tilt_v, twist = mu / group.about_u, mv / group.about_v, mn / group.polar
    edge = r * _length(tilt_u, tilt_v)
    # A zone also turns about itself: its friction acts at two thirds of its radius on the whole.
    own = np.abs(twist) * (2.0 / 3.0 * r)
    fu, fv, pull = fu / n, fv / n, pull / n
    middle, shear = (np.empty((len(group.corners), *pull.shape)) for _ in range(2))
    for k, (u, v) in enumerate(group.corners.tolist()):
        middle[k] = pull + tilt_v * u - tilt_u * v
        shear[k] = _length(fu - twist * v, fv + twist * u) + own
    return Spread(middle, middle + edge, shear)


def _length(a: Floats, b: Floats) -> Floats:
    """Of plane vectors; quicker than `np.hypot`, whose care for huge and tiny figures forces do not need."""
    found: Floats = np.sqrt(a * a + b * b)
    return found
