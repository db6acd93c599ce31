"""What a frame is made of: members between nodes with rigid arms at their ends, and scalar springs.

Plain frozen arrays; what joins them to nodes is in frame.py, their stiffness in element.py and assemble.py.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from core.frame import checks
from core.frame.checks import Bools, Floats, Ints

SECTION_FIELDS = ("area", "iyy", "izz", "it", "avy", "avz")
MATERIAL_FIELDS = ("young", "shear")


@dataclass(frozen=True, eq=False)
class Members:
    """Straight uniform Timoshenko members; every numeric array may carry leading batch axes (...).

    The local x axis runs from the end at node i to the end at node j; local z is the part of `up` that is
    perpendicular to x; local y = z x x. Centroid and shear centre may lie beside that axis: pull along x and bending then
    go through the one, shear and torsion through the other, weight and mass hang on the centroid.

    Args:
        i, j: (m,) node numbers.
        offset_i, offset_j: (..., m, 3) rigid arms from the node to the member's end, global axes, m.
        up: (..., m, 3) a vector in the local x-z plane, not along x.
        young, shear: (..., m) moduli, Pa.
        area: (..., m) m2.
        iyy, izz: (..., m) second moments for bending about local y (moves along z) and about local z, m4.
        it: (..., m) torsion constant, m4.
        avy, avz: (..., m) shear areas for shear along local y and z, m2; infinite for no shear deformation.
        linear_weight: (..., m) mass per length, kg/m.
        centroid, shear_centre: (..., m, 2) local y and z from the axis, m; local y and z are main axes of bending.
        names: (m,) each once.
        component: (m,) the group of the compliance budget that the member belongs to.

    Errors: BadEntry for a wrong shape, a value that is not finite or not positive, a name met twice.
    """

    i: Ints
    j: Ints
    offset_i: Floats
    offset_j: Floats
    up: Floats
    young: Floats
    shear: Floats
    area: Floats
    iyy: Floats
    izz: Floats
    it: Floats
    avy: Floats
    avz: Floats
    linear_weight: Floats
    centroid: Floats
    shear_centre: Floats
    names: tuple[str, ...]
    component: tuple[str, ...]

    def __post_init__(self) -> None:
        count = len(self.names)
        keep = object.__setattr__
        keep(self, "names", checks.unique_names("member names", self.names, count))
        keep(self, "component", checks.groups("member components", self.component, count))
        for end in ("i", "j"):
            keep(self, end, checks.whole_numbers(f"members.{end}", getattr(self, end), count, 0))
        for name in ("offset_i", "offset_j", "up"):
            vectors = checks.numbers(f"members.{name}", getattr(self, name), (count, 3))
            checks.finite_vectors(f"members.{name}", vectors, self.names)
            keep(self, name, vectors)
        for name in ("centroid", "shear_centre"):
            points = checks.numbers(f"members.{name}", getattr(self, name), (count, 2))
            checks.finite_vectors(f"members.{name}", points, self.names, "two finite numbers")
            keep(self, name, points)
        for name in (*MATERIAL_FIELDS, *SECTION_FIELDS, "linear_weight"):
            values = checks.numbers(f"members.{name}", getattr(self, name), (count,))
            endless = name in ("avy", "avz")
            checks.in_range(
                f"members.{name}", values, self.names, zero=name == "linear_weight", endless=endless
            )
            keep(self, name, values)

    @staticmethod
    def none() -> Members:
        """No members."""
        ints, vectors, points, floats = np.zeros(0, np.int64), np.zeros((0, 3)), np.zeros((0, 2)), np.zeros(0)
        numbers = dict.fromkeys((*MATERIAL_FIELDS, *SECTION_FIELDS, "linear_weight"), floats)
        return Members(
            i=ints, j=ints, offset_i=vectors, offset_j=vectors, up=vectors, centroid=points, shear_centre=points, names=(),
            component=(), **numbers,
        )  # fmt: skip

    @property
    def off_axis(self) -> bool:
        """Whether centroid or shear centre of any member lies beside its axis."""
        return bool(self.centroid.any() or self.shear_centre.any())

    @property
    def batch(self) -> tuple[int, ...]:
        """Batch axes of all arrays together."""
        vectors = [
            a.shape[:-2] for a in (self.offset_i, self.offset_j, self.up, self.centroid, self.shear_centre)
        ]
        names = (*MATERIAL_FIELDS, *SECTION_FIELDS, "linear_weight")
        return np.broadcast_shapes(*vectors, *(getattr(self, name).shape[:-1] for name in names))


@dataclass(frozen=True, eq=False)
class Springs:
    """Scalar springs between two points that are carried rigidly by nodes, or between such a point and the
    ground.

    The elongation is d.(u_j + th_j x r_j - u_i - th_i x r_i), or d.(th_j - th_i) for a turning spring; the
    ground does not move.

    Args:
        i: (s,) node numbers.
        j: (s,) node numbers, -1 for the ground.
        arm_i, arm_j: (..., s, 3) from the node to the point where the spring holds, global axes, m; arm_j is
            ignored for the ground.
        direction: (..., s, 3) unit vectors d.
        turning: (s,) True for a spring that resists turning about d.
        stiffness: (..., s) N/m, or N m/rad for a turning spring; zero allowed, infinite not.
        names: (s,) each once.
        component: (s,) the group of the compliance budget.

    Errors: BadEntry, as for Members.
    """

    i: Ints
    j: Ints
    arm_i: Floats
    arm_j: Floats
    direction: Floats
    turning: Bools
    stiffness: Floats
    names: tuple[str, ...]
    component: tuple[str, ...]

    def __post_init__(self) -> None:
        count = len(self.names)
        keep = object.__setattr__
        keep(self, "names", checks.unique_names("spring names", self.names, count))
        keep(self, "component", checks.groups("spring components", self.component, count))
        keep(self, "i", checks.whole_numbers("springs.i", self.i, count, 0))
        keep(self, "j", checks.whole_numbers("springs.j", self.j, count, -1))
        keep(self, "turning", checks.flags("springs.turning", self.turning, (count,)))
        for name in ("arm_i", "arm_j", "direction"):
            vectors = checks.numbers(f"springs.{name}", getattr(self, name), (count, 3))
            checks.finite_vectors(f"springs.{name}", vectors, self.names)
            keep(self, name, vectors)
        unit = np.abs(np.linalg.norm(self.direction, axis=-1) - 1.0) < 1e-6
        text = ("is not of length one", "a unit vector")
        checks.require("springs.direction", self.direction, unit, self.names, *text)
        stiffness = checks.numbers("springs.stiffness", self.stiffness, (count,))
        checks.in_range("springs.stiffness", stiffness, self.names, zero=True)
        keep(self, "stiffness", stiffness)

    @staticmethod
    def none() -> Springs:
        """No springs."""
        ints, vectors = np.zeros(0, np.int64), np.zeros((0, 3))
        return Springs(ints, ints, vectors, vectors, vectors, np.zeros(0, np.bool_), np.zeros(0), (), ())

    @property
    def batch(self) -> tuple[int, ...]:
        """Batch axes of all arrays together."""
        vectors = [a.shape[:-2] for a in (self.arm_i, self.arm_j, self.direction)]
        return np.broadcast_shapes(*vectors, self.stiffness.shape[:-1])
