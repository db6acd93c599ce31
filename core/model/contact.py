"""Carriages and drives between bodies that move along each other: a list of scalar springs with their true places.

The whole frame and the condensed answer read the same list, so they cannot disagree about what is connected.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from core.frame.batch import cross
from core.machine.drives import RackPinion
from core.model.base import SIDES
from core.model.setting import Setting

Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Contact:
    """One scalar spring between a lower body and the body that rides it.

    Attributes:
        name, component: as in the frame.
        at: place along the travel where the spring takes hold of the lower body, m.
        rides: place along the travel of the riding body's node (foot plates have several), m.
        point: the contact's place, m (table coordinates for X, gantry datum plus y for Y).
        direction: unit vector.
        stiffness: N/m.
        side: "left", "right" or "".
    """

    name: str
    component: str
    at: float
    rides: float
    point: tuple[float, float, float]
    direction: tuple[float, float, float]
    stiffness: float
    side: str = ""


@dataclass(frozen=True, slots=True)
class ContactTable:
    """The same s contacts at n places: at (n, s), points (n, s, 3), directions (n, s, 3), stiffness (n, s)."""

    at: Floats
    points: Floats
    directions: Floats
    stiffness: Floats

    def stretch(self, centres: Floats) -> Floats:
        """(n, s, 6): stretch of each spring by a body's shift and turn at `centres` (n, s, 3)."""
        turn = cross(self.points - centres, self.directions)
        return np.concatenate([np.broadcast_to(self.directions, turn.shape), turn], axis=-1)


def x_table(setting: Setting, x: Floats) -> ContactTable:
    """`x_contacts` for the tool at every x (n,), the gantry's datum at 0."""
    first = x_contacts(setting, float(x[0]), 0.0)
    drive, joint = setting.machine.x_drive, setting.layout.joint_x
    found = [setting.shifting("x_drive", drive.stiffness_at(float(v) + joint, 2.0 * joint)) for v in x]
    return _moved(first, x - x[0], 0, {"x_drive": np.array(found)})


def y_table(setting: Setting, y: Floats) -> ContactTable:
    """`y_contacts` with the gantry's datum at every y (n,)."""
    lay, drive = setting.layout, setting.machine.y_drive
    start, length = lay.side_y - lay.side_beam_length / 2.0, lay.side_beam_length
    found = [setting.shifting("y_drive", drive.stiffness_at(float(v) - start, length)) for v in y]
    return _moved(y_contacts(setting, float(y[0])), y - y[0], 1, {"y_drive": np.array(found)})


def _moved(first: list[Contact], shift: Floats, axis: int, drives: dict[str, Floats]) -> ContactTable:
    """Contacts moved along by (n,); what is anchored elsewhere than at its own place stays there."""
    one, n = tabulate([first]), shift.size
    travels = one.at == one.points[..., axis]
    points = np.repeat(one.points, n, axis=0)
    points[..., axis] += shift[:, None]
    stiffness = np.repeat(one.stiffness, n, axis=0)
    for c, contact in enumerate(first):
        if contact.component in drives:
            stiffness[:, c] = drives[contact.component]
    return ContactTable(
        one.at + travels * shift[:, None], points, np.repeat(one.directions, n, axis=0), stiffness
    )


def tabulate(lists: list[list[Contact]]) -> ContactTable:
    """The contacts of n places, s at each, as arrays."""
    rows = [[(c.at, *c.point, *c.direction, c.stiffness) for c in row] for row in lists]
    every = np.array(rows)
    return ContactTable(every[..., 0], every[..., 1:4], every[..., 4:7], every[..., 7])


def x_contacts(setting: Setting, x: float, y: float) -> list[Contact]:
    """Springs between beam and saddle with the tool at x and the gantry's datum at y."""
    lay, machine = setting.layout, setting.machine
    guides = machine.x_guides
    normal = setting.shifting("x_guides", guides.normal)
    lateral = setting.shifting("x_guides", guides.lateral)
    front = machine.gantry.beam.rail_face == "front"
    pressing, sideways = ((0.0, 1.0, 0.0), (0.0, 0.0, 1.0)) if front else ((0.0, 0.0, 1.0), (0.0, 1.0, 0.0))
    found = []
    for rail, (rail_y, rail_z) in enumerate(lay.x_carriages):
        for number, place in enumerate(guides.places()):
            point = (x + place, y + rail_y, rail_z)
            for kind, direction, k in (("normal", pressing, normal), ("lateral", sideways, lateral)):
                name = f"X carriage {rail} {number} {kind}"
                found.append(Contact(name, "x_guides", x + place, x, point, direction, k))
    drive_z = sum(z for _, z in lay.x_carriages) / 2.0
    drive_y = sum(y_ for y_, _ in lay.x_carriages) / 2.0
    stiffness = machine.x_drive.stiffness_at(x + lay.joint_x, 2.0 * lay.joint_x)
    anchor = x if isinstance(machine.x_drive, RackPinion) else -lay.joint_x
    k = setting.shifting("x_drive", stiffness)
    found.append(Contact("X drive", "x_drive", anchor, x, (x, y + drive_y, drive_z), (1.0, 0.0, 0.0), k))
    return found


def y_contacts(setting: Setting, y: float) -> list[Contact]:
    """Springs between the side beams and the foot plates with the gantry's datum at y."""
    lay, machine = setting.layout, setting.machine
    guides = machine.y_guides
    normal = setting.shifting("y_guides", guides.normal)
    lateral = setting.shifting("y_guides", guides.lateral)
    top = machine.base.rail_face == "top"
    pressing, sideways = ((0.0, 0.0, 1.0), (1.0, 0.0, 0.0)) if top else ((1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    start = lay.side_y - lay.side_beam_length / 2.0
    stiffness = machine.y_drive.stiffness_at(y - start, lay.side_beam_length)
    k_drive = setting.shifting("y_drive", stiffness)
    anchor = y if isinstance(machine.y_drive, RackPinion) else start
    found = []
    for side, sign in SIDES:
        x = sign * (lay.upright_spacing / 2.0 + lay.y_carriage[0])
        for number, place in enumerate(guides.places()):
            point = (x, y + place, lay.y_carriage[1])
            for kind, direction, k in (("normal", pressing, normal), ("lateral", sideways, lateral)):
                name = f"{side} Y carriage {number} {kind}"
                found.append(Contact(name, "y_guides", y + place, place, point, direction, k, side))
        point = (x, y, lay.y_carriage[1])
        found.append(
            Contact(
                f"{side} Y drive", "y_drive", anchor, lay.upright_y, point, (0.0, 1.0, 0.0), k_drive, side
            )
        )
    return found
