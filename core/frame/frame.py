"""A general 3D frame as frozen arrays, and a builder that puts one together name by name.

Every numeric array may carry leading batch axes (...), which broadcast against each other: one object holds
one design or ten thousand. Nothing is solved here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from core.errors import BadEntry
from core.frame import checks
from core.frame.batch import cross, rigid_arm, stack
from core.frame.checks import Bools, Floats
from core.frame.element import lever, local_axes
from core.frame.parts import MATERIAL_FIELDS, SECTION_FIELDS, Members, Springs

__all__ = ["DOFS", "Frame", "FrameBuilder", "Members", "Springs"]

DOFS = ("x", "y", "z", "turn x", "turn y", "turn z")
"""Names of a node's six degrees of freedom, in order: three displacements (m), three rotations (rad)."""

NOWHERE = (0.0, 0.0, 0.0)


@dataclass(frozen=True, eq=False)
class Frame:
    """Nodes, members, springs, supports and lumped masses.

    Args:
        nodes: (..., n, 3) m.
        node_names: (n,) each once.
        members, springs: see there.
        held: (n, 6) True where a degree of freedom is fixed to the ground.
        node_mass: (..., n) lumped masses, kg.

    Errors: BadEntry for wrong shapes, numbers of nodes that do not exist, values that are not finite, a
        member without length or whose `up` runs along it, a spring whose ends lie apart across its direction
        (it would resist a rigid turn).
    """

    nodes: Floats
    node_names: tuple[str, ...]
    members: Members
    springs: Springs
    held: Bools
    node_mass: Floats

    def __post_init__(self) -> None:
        count = len(self.node_names)
        keep = object.__setattr__
        keep(self, "node_names", checks.unique_names("node names", self.node_names, count))
        keep(self, "nodes", checks.numbers("nodes", self.nodes, (count, 3)))
        checks.finite_vectors("place", self.nodes, self.node_names)
        keep(self, "held", checks.flags("held", self.held, (count, 6)))
        keep(self, "node_mass", checks.numbers("node_mass", self.node_mass, (count,)))
        checks.in_range("mass", self.node_mass, self.node_names, zero=True)
        for which, part in (("members", self.members), ("springs", self.springs)):
            lowest = 0 if which == "members" else -1
            size = len(part.names)
            checks.whole_numbers(f"{which}.i", part.i, size, 0, count)
            checks.whole_numbers(f"{which}.j", part.j, size, lowest, count)
            if size and np.any(same := part.i == part.j):
                raise BadEntry(
                    which, part.names[int(np.argmax(same))], "joins a node to itself", "two different nodes"
                )
        try:
            self.batch  # noqa: B018  shapes that do not broadcast fail here
        except ValueError as problem:
            raise BadEntry("frame", str(problem), "is not possible", "batch axes that broadcast") from problem
        with np.errstate(over="ignore", invalid="ignore"):  # what overflows is refused
            self._check_members()
            self._check_springs()

    def _check_members(self) -> None:
        start, end = self.member_ends()
        axis = end - start
        length = np.linalg.norm(axis, axis=-1)
        names = self.members.names
        checks.require(
            "length",
            length,
            (length > 0.0) & np.isfinite(length),
            names,
            "is no length",
            "ends apart from each other",
        )
        across = np.linalg.norm(cross(axis, self.members.up), axis=-1)
        up_length = np.linalg.norm(self.members.up, axis=-1)
        good = across > 1e-9 * length * up_length
        text = ("runs along the member", "a vector across its axis")
        checks.require("up", np.broadcast_to(self.members.up, axis.shape), good, names, *text)

    def _check_springs(self) -> None:
        springs = self.springs
        start = self.nodes[..., springs.i, :] + springs.arm_i
        end = self.nodes[..., springs.j, :] + springs.arm_j
        apart = np.linalg.norm(cross(end - start, springs.direction), axis=-1)
        size = 1.0 + np.linalg.norm(start, axis=-1)
        good = (apart <= 1e-9 * size) | (springs.j < 0) | springs.turning
        text = (
            "m apart across the spring's direction",
            "ends at one point, or apart along the direction only",
        )
        checks.require("distance of ends", apart, good, springs.names, *text)

    @property
    def batch(self) -> tuple[int, ...]:
        """Batch axes of all arrays together."""
        own = (self.nodes.shape[:-2], self.node_mass.shape[:-1])
        return np.broadcast_shapes(*own, self.members.batch, self.springs.batch)

    @property
    def dofs(self) -> int:
        """Degrees of freedom, six per node, the held ones included."""
        return 6 * len(self.node_names)

    def node(self, name: str) -> int:
        """Number of the node of this name. Errors: BadEntry."""
        return _find("node", name, self.node_names)

    def member(self, name: str) -> int:
        """Number of the member of this name. Errors: BadEntry."""
        return _find("member", name, self.members.names)

    def spring(self, name: str) -> int:
        """Number of the spring of this name. Errors: BadEntry."""
        return _find("spring", name, self.springs.names)

    def member_ends(self) -> tuple[Floats, Floats]:
        """Start and end points of the members' axes, each (..., m, 3), m."""
        m = self.members
        start = self.nodes[..., m.i, :] + m.offset_i
        end = self.nodes[..., m.j, :] + m.offset_j
        both = np.broadcast_arrays(start, end)
        return both[0], both[1]

    # A frame never changes, so its geometry is worked out once; the arrays are closed against writing.
    @cached_property
    def axes(self) -> Floats:
        """Rows x, y, z of each member's local axes, (..., m, 3, 3)."""
        return _closed(local_axes(*self.member_ends(), self.members.up))

    @cached_property
    def lengths(self) -> Floats:
        """(..., m), m."""
        start, end = self.member_ends()
        return _closed(np.asarray(np.linalg.norm(end - start, axis=-1)))

    @property
    def transform(self) -> Floats:
        """Members' end movements in local axes from their nodes' movements in global axes, (..., m, 12, 12).

        Movements are those of `element.lever`: along x of the centroid, across it of the shear centre.
        """
        m = self.members
        one = (
            self.nodes.ndim
            == m.up.ndim
            == m.offset_i.ndim
            == m.offset_j.ndim
            == m.centroid.ndim
            == m.shear_centre.ndim
            == 2
        )
        return self._kept_transform if one else self._transform()  # a batch's would be too large to keep

    @cached_property
    def _kept_transform(self) -> Floats:
        return _closed(self._transform())

    def _transform(self) -> Floats:
        axes, m = self.axes, self.members
        turned = np.zeros((*axes.shape[:-2], 6, 6))
        turned[..., :3, :3] = turned[..., 3:, 3:] = axes
        if m.off_axis:
            turned = lever(m.centroid, m.shear_centre) @ turned
        batch = np.broadcast_shapes(turned.shape[:-3], m.offset_i.shape[:-2], m.offset_j.shape[:-2])
        out = np.zeros((*batch, len(m.names), 12, 12))
        for first, arm in ((0, m.offset_i), (6, m.offset_j)):
            out[..., first : first + 6, first : first + 6] = turned @ rigid_arm(arm)
        return out


def _closed(array: Floats) -> Floats:
    array.setflags(write=False)
    return array


def _find(kind: str, name: str, names: Sequence[str]) -> int:
    try:
        return names.index(name)
    except ValueError:
        known = ", ".join(names[:8]) + (", ..." if len(names) > 8 else "")
        raise BadEntry(kind, name, "is not in this frame", known or "none, the frame has none") from None


class FrameBuilder:
    """Puts a frame together entry by entry; values may be numbers or arrays with batch axes."""

    def __init__(self) -> None:
        self._nodes: dict[str, tuple[ArrayLike, ArrayLike]] = {}
        self._numbers: dict[str, int] = {}
        self._held: dict[int, set[int]] = {}
        self._members: list[dict[str, object]] = []
        self._springs: list[dict[str, object]] = []

    def add_node(self, name: str, xyz: ArrayLike, mass: ArrayLike = 0.0) -> int:
        """Add a node at xyz (..., 3), m, with a lumped mass (...), kg; returns its number."""
        if name in self._nodes:
            raise BadEntry("node", name, "is used more than once", "a different name for each")
        number = self._numbers[name] = len(self._nodes)
        self._nodes[name] = (xyz, mass)
        return number

    def place(self, name: str) -> ArrayLike:
        """Place of a node that was added before, as it was given."""
        self.node(name)  # names what is missing
        return self._nodes[name][0]

    def node(self, name: int | str) -> int:
        """Number of a node that was added before."""
        if not isinstance(name, str):
            return int(name)
        number = self._numbers.get(name)
        return _find("node", name, tuple(self._nodes)) if number is None else number

    def add_member(
        self,
        name: str,
        i: int | str,
        j: int | str,
        up: ArrayLike,
        properties: object = None,
        component: str = "",
        offset_i: ArrayLike = NOWHERE,
        offset_j: ArrayLike = NOWHERE,
        linear_weight: ArrayLike = 0.0,
        centroid: ArrayLike = (0.0, 0.0),
        shear_centre: ArrayLike = (0.0, 0.0),
        **values: ArrayLike,
    ) -> int:
        """Add a member; returns its number.

        Args:
            name, i, j, up, component, offset_i, offset_j, linear_weight, centroid, shear_centre: see Members, without the axis of
            members. properties: any object with some of young, shear, area, iyy, izz, it, avy, avz.
            values: the same by keyword; they stand before those of `properties`.
        """
        wanted = (*MATERIAL_FIELDS, *SECTION_FIELDS)
        if unknown := set(values) - set(wanted):
            raise BadEntry(name, ", ".join(sorted(unknown)), "is no property of a member", ", ".join(wanted))
        found = {key: values[key] if key in values else getattr(properties, key, None) for key in wanted}
        if missing := [key for key, value in found.items() if value is None]:
            raise BadEntry(name, ", ".join(missing), "was not given", "a positive number")
        ends = {"i": self.node(i), "j": self.node(j), "offset_i": offset_i, "offset_j": offset_j, "up": up}
        ends |= {"centroid": centroid, "shear_centre": shear_centre}
        self._members.append(
            {"names": name, "component": component or name, "linear_weight": linear_weight, **ends, **found}
        )
        return len(self._members) - 1

    def add_spring(
        self,
        name: str,
        i: int | str,
        j: int | str,
        direction: ArrayLike,
        stiffness: ArrayLike,
        component: str = "",
        arm_i: ArrayLike = NOWHERE,
        arm_j: ArrayLike = NOWHERE,
        turning: bool = False,
    ) -> int:
        """Add a spring (j = -1 for the ground); see Springs. Returns its number."""
        ends = {"i": self.node(i), "j": self.node(j), "arm_i": arm_i, "arm_j": arm_j, "direction": direction}
        own = {"names": name, "component": component or name, "turning": turning, "stiffness": stiffness}
        self._springs.append({**ends, **own})
        return len(self._springs) - 1

    def hold(self, node: int | str, dofs: Sequence[int] = (0, 1, 2, 3, 4, 5)) -> None:
        """Fix a node's degrees of freedom to the ground: 0 to 2 displacements x, y, z, 3 to 5 turns."""
        if wrong := [dof for dof in dofs if dof not in range(6)]:
            raise BadEntry("hold", str(wrong), "is no degree of freedom", "whole numbers from 0 to 5")
        self._held.setdefault(self.node(node), set()).update(dofs)

    def build(self) -> Frame:
        """The frame. Errors: BadEntry, see Frame."""
        held = np.zeros((len(self._nodes), 6), dtype=np.bool_)
        for node, dofs in self._held.items():
            held[node, list(dofs)] = True
        places, masses = [xyz for xyz, _ in self._nodes.values()], [mass for _, mass in self._nodes.values()]
        springs = Springs.none()
        if self._springs:
            springs = Springs(**_columns(self._springs))
        members = Members.none()
        if self._members:
            members = Members(**_columns(self._members))
        nodes = _stack("nodes", places, (3,))
        return Frame(nodes, tuple(self._nodes), members, springs, held, _stack("masses", masses, ()))


_SIZES = {
    **dict.fromkeys(("arm_i", "arm_j", "direction", "offset_i", "offset_j", "up"), (3,)),
    **dict.fromkeys(("centroid", "shear_centre"), (2,)),
}
"""Shape of one entry, where it is more than a number."""


def _columns(rows: list[dict[str, object]]) -> dict[str, Any]:
    """Rows of a builder as the arrays of Members or Springs."""
    out: dict[str, Any] = {}
    for key in rows[0]:
        values = [row[key] for row in rows]
        if key in ("names", "component"):
            out[key] = tuple(values)
        elif key in ("i", "j", "turning"):
            out[key] = np.array(values)
        else:
            out[key] = _stack(key, values, _SIZES.get(key, ()))
    return out


def _stack(where: str, values: Sequence[object], tail: tuple[int, ...]) -> Floats:
    try:
        return stack(values, tail)
    except (TypeError, ValueError) as problem:
        raise BadEntry(
            where, str(problem), "is not possible", "numbers whose batch axes broadcast"
        ) from problem
