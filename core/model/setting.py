"""What every part of the model is built with: the machine, its layout, and which side of each band is taken."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike

from core.fields import Band
from core.frame import FrameBuilder
from core.machine.layout import Layout
from core.machine.project import Machine
from core.materials import Material, material
from core.model.axis import find_axis
from core.sections import FlatBar, PropertyBook, SectionProperties, properties

Side = Literal["low", "likely", "high"]
# A part held rigid: members this many times stiffer, springs at these figures (N/m, N m/rad). Larger figures would
# cost the solver its digits; these leave the part less than a ten-thousandth of a usual share.
RIGID_FACTOR = 1.0e4
RIGID_SHIFTING = 1.0e13
RIGID_TURNING = 1.0e11
# Members shorter than this (m) are left out: their ends become one node. Shorter ones would cost other people's solvers
# their digits; longer ones would be missed (2 mm left out on a beam shows in the sixth digit of the compliance).
SHORT = 1.0e-4


@dataclass(frozen=True, slots=True)
class Setting:
    """One machine to be modelled.

    Attributes:
        machine, layout: description and derived places.
        side: which side of every band is taken ("high" means the stiffer side).
    """

    machine: Machine
    layout: Layout
    side: Side = "likely"
    book: PropertyBook = field(default_factory=lambda: PropertyBook())

    def is_rigid(self, component: str) -> bool:
        """Whether the user holds this component rigid."""
        return component in self.machine.rigid

    def shifting(self, component: str, stiffness: Band | float) -> float:
        """Spring stiffness to use, N/m."""
        return RIGID_SHIFTING if self.is_rigid(component) else self.pick(stiffness)

    def turning(self, component: str, stiffness: Band | float) -> float:
        """Rotational spring stiffness to use, N m/rad."""
        return RIGID_TURNING if self.is_rigid(component) else self.pick(stiffness)

    def pick(self, value: Band | float) -> float:
        """The side of a band that is asked for."""
        return float(getattr(value, self.side)) if isinstance(value, Band) else value

    def material(self, key: str) -> Material:
        """Material by its key."""
        return material(key)

    def plate(self, height: float, width: float) -> SectionProperties:
        """Properties of a solid rectangle, height along the member's local z."""
        return properties(FlatBar(height=height, width=width), self.book)


def point(x: ArrayLike, y: ArrayLike, z: ArrayLike) -> Any:
    """A place or an arm (3,), m; (..., 3) where an entry is an array of designs (`core.rank`)."""
    if isinstance(y, np.ndarray) or isinstance(z, np.ndarray):
        return np.stack(np.broadcast_arrays(x, y, z), axis=-1)
    return x, y, z


def add_member(
    setting: Setting,
    builder: FrameBuilder,
    name: str,
    ends: tuple[str, str],
    up: tuple[float, float, float],
    section: SectionProperties,
    material_key: str,
    component: str,
    *,
    offsets: tuple[ArrayLike, ArrayLike] = ((0.0, 0.0, 0.0), (0.0, 0.0, 0.0)),
    other_mass: float = 0.0,
    own_mass: bool = True,
    true_axis: bool = False,
    mirrored: bool = False,
) -> None:
    """Add a member of a material and section.

    `other_mass` (kg/m) rides along without stiffening; without `own_mass` the member's own mass is entered elsewhere.
    With `true_axis` it bends about the section's centroid and main axes and twists about its shear centre, while its ends
    stay in the middle of the section's box; `mirrored` changes the section's left and right over.
    """
    stuff = material(material_key)
    factor = RIGID_FACTOR if setting.is_rigid(component) else 1.0
    axis = find_axis(section, mirrored) if true_axis else None
    values: dict[str, Any] = {}
    if axis is not None:
        places = [np.asarray(builder.place(e), np.float64) for e in ends]
        arms = [np.asarray(o, np.float64) for o in offsets]
        values = {
            name: getattr(axis, name) for name in ("centroid", "shear_centre", "iyy", "izz", "avy", "avz")
        }
        turned_up = axis.up(up, places[1] + arms[1] - places[0] - arms[0])
    builder.add_member(
        name,
        ends[0],
        ends[1],
        up if axis is None else turned_up,
        section,
        component,
        offsets[0],
        offsets[1],
        section.linear_mass(stuff.density) * own_mass + other_mass,
        young=stuff.young * factor,
        shear=stuff.shear * factor,
        **values,
    )
